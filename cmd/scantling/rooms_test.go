package main

import (
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const module = "example.com/scantling/"

// TestImportsRunOneWay holds the order of the rooms: model, rules, plugins, engine, cmd. Nothing runs back up.
func TestImportsRunOneWay(t *testing.T) {
	rank := map[string]int{"model": 0, "rules": 1, "plugins": 2, "engine": 3, "cmd": 4}
	for path, imports := range imported(t, "{{.ImportPath}} {{join .Imports \" \"}}") {
		room, _, _ := strings.Cut(path, "/")
		require.Contains(t, rank, room, "the top level is fixed")
		for _, i := range imports {
			other, _, _ := strings.Cut(i, "/")
			assert.LessOrEqual(t, rank[other], rank[room], "%s imports %s", path, i)
		}
	}
}

// TestWhatEachRoomMustNotKnow holds the finer walls between rooms.
func TestWhatEachRoomMustNotKnow(t *testing.T) {
	imports := imported(t, "{{.ImportPath}} {{join .Deps \" \"}}")
	under := func(path, room string) bool { return path == room || strings.HasPrefix(path, room+"/") }
	for _, wall := range []struct{ room, mustNot, why string }{
		{"rules/vocabulary", "rules/pack", "facts do not know rules"},
		{"rules/pack", "plugins", "rules know no region"},
		{"plugins/region", "plugins/eurocode", "the contract knows no one region"},
		{"plugins/region", "plugins/us", "the contract knows no one region"},
		{"plugins/eurocode", "plugins/us", "regions do not know each other"},
		{"plugins/us", "plugins/eurocode", "regions do not know each other"},
		{"engine", "plugins/eurocode", "the core knows no region by name"},
		{"engine", "plugins/us", "the core knows no region by name"},
		{"engine/frame", "rules", "geometry knows no rules"},
		{"engine/statics", "rules/pack", "statics knows no rules"},
		{"engine/facts", "rules/pack", "facts do not know expressions"},
		{"engine/report", "rules/pack", "printers do not know how findings are come by"},
		{"engine/report", "engine/facts", "printers do not know how findings are come by"},
	} {
		found := false
		for path, deps := range imports {
			if !under(path, wall.room) {
				continue
			}
			found = true
			for _, d := range deps {
				assert.False(t, under(d, wall.mustNot), "%s reaches %s: %s", path, d, wall.why)
			}
		}
		assert.True(t, found, "%s is there", wall.room)
	}
}

// TestTheModelHasNoThirdParty holds that the document's types need the standard library alone.
func TestTheModelHasNoThirdParty(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", "-f", "{{if not .Standard}}{{.ImportPath}}{{end}}", module+"model").Output()
	require.NoError(t, err)
	assert.Equal(t, module+"model", strings.TrimSpace(string(out)))
}

// imported lists, for every package of the module, what it imports or needs of the module, by paths below its root.
func imported(t *testing.T, format string) map[string][]string {
	t.Helper()
	out, err := exec.Command("go", "list", "-f", format, module+"...").Output()
	require.NoError(t, err)
	all := map[string][]string{}
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		fields := strings.Fields(line)
		path := strings.TrimPrefix(fields[0], module)
		all[path] = nil
		for _, i := range fields[1:] {
			if below, ok := strings.CutPrefix(i, module); ok {
				all[path] = append(all[path], below)
			}
		}
	}
	return all
}
