package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"github.com/fsnotify/fsnotify"

	"example.com/scantling/engine/signoff"
)

// reading is what a watched call reads, by absolute paths. Folders are watched and not files, since many editors write
// beside a file and rename.
type reading struct {
	files    []string // models, sign-offs, what was built, an earlier result
	folders  []string // in which every model is read
	settings []string // settings and house packs
	packs    []string // folders of house packs, with their tables
}

func (w *watcher) reading() *reading {
	r := &reading{}
	for _, model := range w.call.models {
		if info, err := os.Stat(model); err == nil && info.IsDir() {
			r.folders = append(r.folders, spelled(model)...)
			continue
		}
		r.files = append(r.files, spelled(model)...)
		r.files = append(r.files, spelled(signoff.Path(model))...)
	}
	for _, file := range []string{w.call.built, w.call.since} {
		r.files = append(r.files, spelled(file)...)
	}
	for _, file := range append(projectFiles(), userFile()) {
		r.settings = append(r.settings, spelled(file)...)
	}
	for _, file := range w.settings.Packs {
		r.settings = append(r.settings, spelled(file)...)
		r.packs = append(r.packs, spelled(filepath.Dir(file))...)
	}
	return r
}

// spelled is a path in full, and the one that it leads to where it is a link; none of an empty path.
func spelled(path string) []string {
	if path == "" {
		return nil
	}
	full, err := filepath.Abs(path)
	if err != nil {
		return nil
	}
	if real, err := filepath.EvalSymlinks(full); err == nil && real != full {
		return []string{full, real}
	}
	return []string{full}
}

// touches says whether a path is read, and whether the settings or the rules hang on it. A folder above something that is
// read counts as both: it may have been put in the place of another.
func (r *reading) touches(path string) (read, settings bool) {
	extension := filepath.Ext(path)
	switch {
	case slices.Contains(r.settings, path), slices.ContainsFunc(r.packs, func(dir string) bool {
		return within(dir, path) && slices.Contains([]string{".yaml", ".csv"}, extension)
	}):
		return true, true
	case slices.Contains(r.files, path), slices.ContainsFunc(r.folders, func(dir string) bool {
		return within(dir, path) && (extension == ".json" || extension == "" || isFolder(path)) // a folder may be gone
	}):
		return true, false
	}
	above := func(below string) bool { return within(path, below) }
	for _, list := range [][]string{r.files, r.folders, r.settings, r.packs} {
		if slices.ContainsFunc(list, above) {
			return true, true
		}
	}
	return false, false
}

// follow watches every folder that something is read from, and no other.
func (r *reading) follow(notes *fsnotify.Watcher) error {
	var needed []string
	for _, file := range r.files {
		needed = append(needed, filepath.Dir(file))
	}
	for _, dir := range append(slices.Clone(r.folders), r.packs...) {
		needed = append(needed, foldersIn(dir)...)
	}
	followed := map[string]bool{}
	for _, dir := range needed {
		got, err := followNearest(notes, dir)
		if err != nil {
			return err
		}
		followed[got] = true
	}
	for _, file := range r.settings { // it need not be there, nor anything above it be readable
		if got, err := followNearest(notes, filepath.Dir(file)); err == nil {
			followed[got] = true
		}
	}
	for _, dir := range notes.WatchList() {
		if !followed[dir] {
			_ = notes.Remove(dir) // it may have gone by itself
		}
	}
	return nil
}

// followNearest watches a folder, or while it is not there the nearest one above it, in which it would appear.
func followNearest(notes *fsnotify.Watcher, dir string) (string, error) {
	for {
		err := notes.Add(dir)
		if err == nil {
			return dir, nil
		}
		parent := filepath.Dir(dir)
		if parent == dir || !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, syscall.ENOTDIR) {
			return "", err
		}
		dir = parent
	}
}

// foldersIn is a folder with all below it, but for hidden ones, which no model is read from. What cannot be read is left
// to whoever reads the models to say.
func foldersIn(dir string) []string {
	folders := []string{dir}
	_ = filepath.WalkDir(dir, func(path string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return fs.SkipDir
		case !entry.IsDir() || path == dir:
			return nil
		case strings.HasPrefix(entry.Name(), "."):
			return fs.SkipDir
		}
		folders = append(folders, path)
		return nil
	})
	return folders
}

// within says whether a path lies below a folder.
func within(dir, path string) bool {
	return strings.HasPrefix(path, strings.TrimSuffix(dir, string(filepath.Separator))+string(filepath.Separator))
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}
