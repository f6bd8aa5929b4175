package engine

import (
	"bytes"
	"io/fs"
	"path"
	"strings"
	"time"
)

// packFiles is the files of a region's packs as a file system, so that a pack finds its tables beside it.
type packFiles map[string][]byte

// Open is a file by its name.
func (p packFiles) Open(name string) (fs.File, error) {
	data, ok := p[name]
	if !ok || !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &packFile{Reader: bytes.NewReader(data), name: path.Base(name), size: int64(len(data))}, nil
}

func isPack(name string) bool { return strings.HasSuffix(name, ".yaml") }

// packFile is one open file, and says of itself what fs.FileInfo asks.
type packFile struct {
	*bytes.Reader
	name string
	size int64
}

func (f *packFile) Stat() (fs.FileInfo, error) { return f, nil }
func (f *packFile) Close() error               { return nil }
func (f *packFile) Name() string               { return f.name }
func (f *packFile) Size() int64                { return f.size }
func (f *packFile) Mode() fs.FileMode          { return 0o444 }
func (f *packFile) ModTime() time.Time         { return time.Time{} }
func (f *packFile) IsDir() bool                { return false }
func (f *packFile) Sys() any                   { return nil }
