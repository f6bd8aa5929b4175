// Package elsewhere builds regions as somebody else would: those in Go in a module of their own that only requires this
// one, those in JavaScript by their own build. It serves tests of what runs executables that are not ours, and fetches
// nothing.
package elsewhere

import (
	"crypto/sha256"
	"encoding/hex"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/region/host"
)

// Module is a module in a temporary folder with the sources of Oakshire.
func Module(t testing.TB) string {
	t.Helper()
	const inTree, name = "example.com/scantling/testdata/regions/oakshire", "example.org/oakshire"
	root, module := root(t), t.TempDir()
	require.NoError(t, os.CopyFS(module, os.DirFS(filepath.Join(root, "testdata", "regions", "oakshire"))))
	main := filepath.Join(module, "oakshire-region", "main.go")
	source, err := os.ReadFile(main)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(main, []byte(strings.ReplaceAll(string(source), inTree, name)), 0o600))

	theirs, err := os.ReadFile(filepath.Join(root, "go.mod"))
	require.NoError(t, err)
	mod := strings.Replace(string(theirs), "module example.com/scantling", "module "+name, 1) +
		"\nrequire example.com/scantling v0.0.0\n\nreplace example.com/scantling => " + root + "\n"
	require.NoError(t, os.WriteFile(filepath.Join(module, "go.mod"), []byte(mod), 0o600))
	sum, err := os.ReadFile(filepath.Join(root, "go.sum"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(module, "go.sum"), sum, 0o600))
	return module
}

// Go runs the go command in such a module, without the network, and returns what it prints.
func Go(t testing.TB, module string, arguments ...string) string {
	t.Helper()
	command := exec.Command("go", arguments...)
	command.Dir = module
	command.Env = append(os.Environ(), "GOFLAGS=-mod=mod", "GOPROXY=off", "GOWORK=off")
	var stderr strings.Builder
	command.Stderr = &stderr
	output, err := command.Output()
	require.NoError(t, err, stderr.String())
	return string(output)
}

// Oakshire is the executable of Oakshire, built in such a module.
func Oakshire(t testing.TB, module string) string {
	t.Helper()
	executable := filepath.Join(module, "oakshire-region.exe")
	Go(t, module, "build", "-o", executable, "./oakshire-region")
	return executable
}

// Brackwater is the executable of Brackwater, which is written in JavaScript. Where Node or its modules are missing, the
// test is skipped.
func Brackwater(t testing.TB) string {
	t.Helper()
	folder := filepath.Join(root(t), "testdata", "regions", "node")
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("node is not installed: the region in JavaScript is not tried")
	}
	if _, err := os.Stat(filepath.Join(folder, "node_modules")); err != nil {
		t.Skip("testdata/regions/node has no node_modules (npm ci makes them): the region in JavaScript is not tried")
	}
	executable := filepath.Join(t.TempDir(), "brackwater-region")
	output, err := exec.Command(node, filepath.Join(folder, "build.js"), executable).CombinedOutput()
	require.NoError(t, err, string(output))
	return executable
}

// Pinned is an executable with the digest that it has now.
func Pinned(t testing.TB, path string) host.Options {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	sum := sha256.Sum256(data)
	return host.Options{File: path, SHA256: hex.EncodeToString(sum[:])}
}

// root is the folder of this module, above the package under test.
func root(t testing.TB) string {
	t.Helper()
	folder, err := filepath.Abs(".")
	require.NoError(t, err)
	for {
		if _, err := os.Stat(filepath.Join(folder, "go.mod")); err == nil {
			return folder
		}
		require.NotEqual(t, filepath.Dir(folder), folder, "no go.mod above the package")
		folder = filepath.Dir(folder)
	}
}
