package kit_test

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/region/host"
	"example.com/scantling/plugins/region/kit"
)

// pinned is an executable with the digest that it has now.
func pinned(t *testing.T, path string) host.Options {
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	sum := sha256.Sum256(data)
	return host.Options{File: path, SHA256: hex.EncodeToString(sum[:])}
}

func conforms(t *testing.T, o host.Options, id string) {
	report := kit.Run(context.Background(), o)
	assert.True(t, report.Conforms(), strings.Join(report.Lines(), "\n"))
	assert.Equal(t, id, report.Region)
}

func TestRegionInJavaScriptConforms(t *testing.T) {
	folder := filepath.FromSlash("../../../testdata/regions/node")
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
	conforms(t, pinned(t, executable), "brackwater")
}

// TestRegionOutOfTreeConforms builds the sources of Oakshire as somebody else would have them: in a module of their
// own that only requires this one. Nothing is fetched.
func TestRegionOutOfTreeConforms(t *testing.T) {
	root, err := filepath.Abs(filepath.FromSlash("../../.."))
	require.NoError(t, err)
	module := outOfTree(t, root)
	executable := filepath.Join(module, "oakshire-region.exe")
	inModule(t, module, "build", "-o", executable, "./oakshire-region")

	deps := strings.Fields(inModule(t, module, "list", "-deps", "./oakshire-region"))
	var ours []string
	for _, d := range deps {
		if strings.HasPrefix(d, "example.com/scantling/") {
			ours = append(ours, strings.TrimPrefix(d, "example.com/scantling/"))
		}
	}
	assert.ElementsMatch(t, []string{"model", "rules/vocabulary", "plugins/region", "plugins/region/wire", "plugins/region/serve"}, ours,
		"an author needs the contract and nothing else of ours")
	for _, d := range deps {
		assert.False(t, strings.Contains(d, "viper") || strings.Contains(d, "expr-lang"), "%s has no business in a region", d)
	}
	conforms(t, pinned(t, executable), "oakshire")

	output, err := exec.Command(executable).CombinedOutput()
	assert.Error(t, err, "run by hand, it ends with a status that is not zero")
	assert.Contains(t, string(output), "not meant to be executed directly")
}

// outOfTree is a module in a temporary folder with the sources of Oakshire.
func outOfTree(t *testing.T, root string) string {
	const inTree, name = "example.com/scantling/testdata/regions/oakshire", "example.org/oakshire"
	module := t.TempDir()
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

// inModule runs the go command there, without the network.
func inModule(t *testing.T, module string, arguments ...string) string {
	command := exec.Command("go", arguments...)
	command.Dir = module
	command.Env = append(os.Environ(), "GOFLAGS=-mod=mod", "GOPROXY=off", "GOWORK=off")
	var stderr strings.Builder
	command.Stderr = &stderr
	output, err := command.Output()
	require.NoError(t, err, stderr.String())
	return string(output)
}
