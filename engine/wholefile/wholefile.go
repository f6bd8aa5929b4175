// Package wholefile writes files whole or not at all: beside their place first, then in it. It knows nothing of what they
// hold.
package wholefile

import (
	"errors"
	"os"
	"path/filepath"
)

// Write writes a file whole or not at all.
func Write(path string, data []byte) error {
	t, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return err
	}
	defer os.Remove(t.Name())
	if _, err := t.Write(data); err != nil {
		t.Close()
		return err
	}
	if err := errors.Join(t.Chmod(0o644), t.Sync(), t.Close()); err != nil {
		return err
	}
	return os.Rename(t.Name(), path)
}
