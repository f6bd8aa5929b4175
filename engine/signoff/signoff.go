// Package signoff keeps the file in which people record what they have accepted. It reads and writes that file, and does
// not know how a sign-off is held against findings.
package signoff

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/rogpeppe/go-internal/lockedfile"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/wholefile"
)

// Version is the version of the file format.
const Version = 1

// mostBytes bounds the file that is read.
const mostBytes = 16 << 20

// file is the file's form.
type file struct {
	Signoffs int     `json:"signoffs"`
	Entries  []entry `json:"entries"`
}

type entry struct {
	Rule      string `json:"rule"`
	Mark      string `json:"mark"`
	Finding   string `json:"finding"`
	Reason    string `json:"reason"`
	Who       string `json:"who"`
	Authority string `json:"authority"`
	Reference string `json:"reference,omitempty"`
	Date      string `json:"date"`
	Until     string `json:"until,omitempty"`
	Digest    string `json:"digest"`
}

// Path is where the sign-offs of a model's file stand: beside it, as NAME.signoffs.json.
func Path(model string) string {
	return strings.TrimSuffix(model, filepath.Ext(model)) + ".signoffs.json"
}

// Load reads the sign-offs of a file; a file that is not there holds none.
func Load(path string) ([]finding.Signoff, error) {
	data, err := read(path)
	if err != nil || data == nil {
		return nil, err
	}
	f, err := parse(path, data)
	if err != nil {
		return nil, err
	}
	out := make([]finding.Signoff, len(f.Entries))
	for i, e := range f.Entries {
		out[i] = finding.Signoff{Rule: e.Rule, Mark: e.Mark, Finding: e.Finding, Reason: e.Reason, Who: e.Who, Authority: e.Authority,
			Reference: e.Reference, Date: e.Date, Until: e.Until, Digest: e.Digest}
	}
	return out, nil
}

// Record adds sign-offs to a file, in place of older ones of the same findings. The file is written whole or not at all;
// of several people who record at once, each one's entries are kept.
func Record(path string, add []finding.Signoff) (err error) {
	unlock, err := lockedfile.MutexAt(path + ".lock").Lock()
	if err != nil {
		return err
	}
	defer func() {
		unlock()
	}()
	data, err := read(path)
	if err != nil {
		return err
	}
	f := &file{Signoffs: Version}
	if data != nil {
		if f, err = parse(path, data); err != nil {
			return err
		}
	}
	for _, s := range add {
		e := entry{Rule: s.Rule, Mark: s.Mark, Finding: s.Finding, Reason: s.Reason, Who: s.Who, Authority: s.Authority,
			Reference: s.Reference, Date: s.Date, Until: s.Until, Digest: s.Digest}
		f.put(e)
	}
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(f); err != nil {
		return err
	}
	return wholefile.Write(path, out.Bytes())
}

// put adds an entry, in place of one of the same finding.
func (f *file) put(e entry) {
	for i := range f.Entries {
		if f.Entries[i].Finding == e.Finding {
			f.Entries[i] = e
			return
		}
	}
	f.Entries = append(f.Entries, e)
}

func read(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s is no file; move it away, sign-offs are kept there", path)
	case info.Size() > mostBytes:
		return nil, fmt.Errorf("%s has more than %d bytes; it is no file of sign-offs", path, mostBytes)
	}
	return os.ReadFile(path)
}

func parse(path string, data []byte) (*file, error) {
	var f file
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&f); err != nil {
		return nil, fmt.Errorf("%s: %w; mend it by hand, or restore it: nothing was changed", path, err)
	}
	if f.Signoffs != Version {
		return nil, fmt.Errorf("%s: \"signoffs\" is %d; this program reads %d", path, f.Signoffs, Version)
	}
	for i, e := range f.Entries {
		if e.Rule == "" || e.Reason == "" || e.Who == "" || e.Authority == "" || e.Date == "" || e.Digest == "" {
			return nil, fmt.Errorf("%s: entry %d lacks a rule, reason, who, authority, date or digest; record it again", path, i+1)
		}
	}
	return &f, nil
}
