package main

import (
	"maps"
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"example.com/scantling/plugins/eurocode"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/testdata/regions/faulty"
)

// TestMain makes the test binary be the command itself, so that scripts run what a user runs, regions and all. It serves
// regions with faults too.
func TestMain(m *testing.M) {
	if os.Getenv("GOGC") == "" {
		collectLate() // as main does, also where this program is the region
	}
	all := faulty.Around(eurocode.New)
	maps.Copy(all, servers())
	host.ServeIfAsked(all)
	testscript.Main(m, map[string]func(){"scantling": main})
}

// TestScripts runs whole sessions at the command line: testdata/script/*.txtar. Each finds the demo models and house
// packs in testdata, as a clone has them, and a home without any settings.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		WorkdirRoot:         t.TempDir(), // the library's own stays behind where not every script runs
		UpdateScripts:       os.Getenv("UPDATE_SCRIPTS") != "",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"await": await},
		Setup: func(env *testscript.Env) error {
			env.Setenv("XDG_CONFIG_HOME", filepath.Join(env.WorkDir, ".config"))
			env.Setenv("TMPDIR", os.TempDir()) // the script's own is too long for sockets, and what is left in it is not seen
			return copyDemo(filepath.Join("..", "..", "testdata"), filepath.Join(env.WorkDir, "testdata"))
		},
	})
}

// copyDemo copies the demo models and house packs, not the reference values.
func copyDemo(from, to string) error {
	if err := os.MkdirAll(to, 0o755); err != nil {
		return err
	}
	models, err := filepath.Glob(filepath.Join(from, "*.json"))
	if err != nil {
		return err
	}
	for _, m := range models {
		data, err := os.ReadFile(m)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(to, filepath.Base(m)), data, 0o644); err != nil {
			return err
		}
	}
	return os.CopyFS(filepath.Join(to, "house"), os.DirFS(filepath.Join(from, "house")))
}
