package main

import (
	"context"
	"go/scanner"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestCoreNamesNoRegion looks for what regions are called, the prefixes of their facts and the codes that they serve in
// the texts that the core's sources hold. The word us is left to the units of that name.
func TestCoreNamesNoRegion(t *testing.T) {
	var names []string
	for _, s := range shipped {
		d, err := s.serve().Describe(context.Background())
		require.NoError(t, err)
		for _, f := range d.Facts {
			prefix, _, _ := strings.Cut(f.Name, ".")
			names = append(names, `\b`+prefix+`\.[a-z]`)
		}
		for _, name := range append(s.codes, s.name) {
			if name != "us" {
				names = append(names, "^"+name+"$")
			}
		}
	}
	slices.Sort(names)
	named := regexp.MustCompile(strings.Join(slices.Compact(names), "|"))
	texts := 0
	for _, room := range []string{"model", "rules", "engine"} {
		require.NoError(t, filepath.WalkDir(filepath.Join("..", "..", room), func(path string, _ fs.DirEntry, err error) error {
			if err != nil || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
				return err
			}
			source, err := os.ReadFile(path)
			require.NoError(t, err)
			for _, text := range literals(t, source) {
				texts++
				assert.Empty(t, named.FindString(text), "%s: %q", path, text)
			}
			return nil
		}))
	}
	assert.Greater(t, texts, 1000)
}

// literals are the string literals of a Go source.
func literals(t *testing.T, source []byte) []string {
	var out []string
	var s scanner.Scanner
	files := token.NewFileSet()
	s.Init(files.AddFile("", files.Base(), len(source)), source, nil, 0)
	for {
		switch _, kind, literal := s.Scan(); kind {
		case token.EOF:
			return out
		case token.STRING:
			text, err := strconv.Unquote(literal)
			require.NoError(t, err)
			out = append(out, text)
		}
	}
}
