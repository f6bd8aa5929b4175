package read

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// mostBytes bounds a source: about two million members.
const mostBytes = 2 << 30

// Source is a text with the name that its problems carry.
type Source struct {
	Name string
	Text []byte
}

// File is the text of a file. What keeps it from being read is one problem.
func File(path string) (Source, Problems) {
	fail := func(message, fix string) (Source, Problems) {
		return Source{Name: path}, Problems{{File: path, Message: message, Fix: fix}}
	}
	f, err := os.Open(path)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return fail("there is no such file", "check the path")
		}
		return fail("the file cannot be opened: "+cause(err), "check the path and the right to read it")
	}
	defer f.Close()
	info, err := f.Stat()
	if err == nil && info.IsDir() {
		return fail("this is a folder, not a model document", "name a file in it")
	}
	return From(f, path)
}

// From is the text that a stream holds, up to two gibibytes.
func From(r io.Reader, name string) (Source, Problems) {
	text, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	switch {
	case err != nil:
		return Source{Name: name}, Problems{{File: name, Message: "the text cannot be read: " + cause(err), Fix: "try again"}}
	case len(text) > mostBytes:
		return Source{Name: name}, Problems{{File: name, Message: fmt.Sprintf("the text is larger than %d bytes", mostBytes), Fix: "split the model"}}
	}
	return Source{Name: name, Text: text}, nil
}

// cause is the innermost reason, without the path that the problem names already.
func cause(err error) string {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err.Error()
	}
	return err.Error()
}
