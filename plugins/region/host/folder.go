package host

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// folder is a program's private folder for one region. The program holds a lock on it as long as it lives, which the
// system lets go of however it ends: a folder that can be locked is nobody's any more.
type folder struct {
	path string
	lock *os.File // nil where folders cannot be locked
}

// folderName begins the names of these folders, and of nothing else; a number follows.
const folderName = "scantling-region-"

// newFolder makes a folder. One that another program takes for left behind, before it is locked, is made anew.
func newFolder(in string) (folder, error) {
	const tries = 10
	var f folder
	var err error
	for range tries {
		if f.path, err = os.MkdirTemp(in, folderName); err != nil {
			return folder{}, err
		}
		if f.lock, err = lock(f.path); err == nil || errors.Is(err, errors.ErrUnsupported) {
			return f, nil
		}
		_ = os.Remove(f.path)
	}
	return folder{}, err
}

// remove removes the folder with all that is in it.
func (f folder) remove() {
	_ = os.RemoveAll(f.path)
	if f.lock != nil {
		_ = f.lock.Close()
	}
}

// removeAbandoned removes the folders of programs that were killed before their region could clear up after them.
func removeAbandoned(in string) {
	entries, _ := os.ReadDir(in) // as many as can be read
	for _, e := range entries {
		number, named := strings.CutPrefix(e.Name(), folderName)
		if !named || strings.Trim(number, "0123456789") != "" || !e.IsDir() {
			continue
		}
		path := filepath.Join(in, e.Name())
		info, err := os.Lstat(path)
		if err != nil || !private(info) {
			continue
		}
		if held, err := lock(path); err == nil {
			folder{path, held}.remove()
		}
	}
}

// lock locks a folder, unless a program that lives has it, or has removed it meanwhile.
func lock(path string) (*os.File, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	err = tryLock(file)
	if err == nil {
		err = stillAt(path, file)
	}
	if err != nil {
		_ = file.Close()
		return nil, err
	}
	return file, nil
}

// stillAt says whether an open folder is the one that has the path now.
func stillAt(path string, file *os.File) error {
	opened, err := file.Stat()
	if err != nil {
		return err
	}
	there, err := os.Lstat(path)
	if err != nil {
		return err
	}
	if !os.SameFile(opened, there) {
		return fs.ErrNotExist
	}
	return nil
}
