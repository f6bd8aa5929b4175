package main

import (
	"bytes"
	"context"
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine"
	"example.com/scantling/engine/report"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/testdata/regions/faulty"
)

// failing is the Eurocode region with a fault, from a process of its own, whatever code is asked for.
type failing host.Options

func (f failing) Region(ctx context.Context, _ string) *host.Client {
	return host.Start(ctx, host.Options(f))
}

// nobody serves no code.
type nobody struct{}

func (nobody) Region(context.Context, string) *host.Client { return nil }

// commandWith runs the program with regions of a test's, and without settings or a folder of its own.
func commandWith(t *testing.T, regions engine.Regions, args ...string) (out, errs string, status int) {
	t.Helper()
	t.Setenv("XDG_CONFIG_HOME", "/no/such/home")
	var o, e bytes.Buffer
	status = (&app{in: strings.NewReader(""), out: &o, err: &e, regions: regions}).run(args)
	return o.String(), e.String(), status
}

// whole is a result with everything that a finding says.
type whole struct {
	Region     struct{ ID *string }
	Summary    struct{ Complete bool }
	Incomplete []string
	Findings   []map[string]any
}

func checkWith(t *testing.T, regions engine.Regions, args ...string) (*whole, int) {
	t.Helper()
	out, errs, status := commandWith(t, regions, append([]string{"check", "--format", "json"}, args...)...)
	require.Empty(t, errs)
	told := &whole{}
	require.NoError(t, json.Unmarshal([]byte(out), told), out)
	return told, status
}

// of is the findings of a layer, or of all but one.
func (w *whole) of(layer string) []map[string]any {
	rest, others := strings.CutPrefix(layer, "not ")
	var out []map[string]any
	for _, f := range w.Findings {
		if (f["layer"] == rest) != others {
			out = append(out, f)
		}
	}
	return out
}

func TestCommandOutlivesItsRegion(t *testing.T) {
	const short = 100 * time.Millisecond
	model := demo("quillmere.json")
	sound, status := checkWith(t, failing{Shipped: "sound"}, model)
	require.Equal(t, statusClean, status)
	without, _ := checkWith(t, nobody{}, model)
	for _, row := range []struct {
		region  failing
		because string
		rest    *whole // with which the findings of the other packs are the same
	}{
		{failing{Shipped: "start: hangs", Deadlines: host.Deadlines{Start: short}}, "start: it did not answer within 100ms and was ended", without},
		{failing{Shipped: "start: exits"}, `its process ended (exit status 3); the last it said was "no licence found"`, without},
		{failing{Shipped: "start: garbage"}, `it printed "Welcome!" instead of saying where to connect`, without},
		{failing{Shipped: "start: newer"}, "speaks version 7 of the contract and scantling speaks 1: upgrade scantling", without},
		{failing{Shipped: "start: older"}, "speaks version 0 of the contract and scantling speaks 1: upgrade the region", without},
		{failing{File: model, SHA256: strings.Repeat("0", 64)}, " was pinned; find out why the file changed before you pin it anew", without},
		{failing{Shipped: "describe: stopped", Deadlines: host.Deadlines{Describe: short}}, "describe: it did not answer within 100ms and was ended", without},
		{failing{Shipped: "describe: garbage"}, "describe: its answer breaks the contract", without},
		{failing{Shipped: "prepare: killed"}, "prepare: its process ended (signal: killed)", without},
		{failing{Shipped: "prepare: hangs", Deadlines: host.Deadlines{Prepare: short}}, "prepare: it did not answer within 100ms and was ended", without},
		{failing{Shipped: "derive: killed"}, "derive: its process ended (signal: killed)", sound},
		{failing{Shipped: "derive: stopped", Deadlines: host.Deadlines{Derive: short}}, "derive: it did not answer within 100ms and was ended", sound},
		{failing{Shipped: "derive: hangs", Deadlines: host.Deadlines{Derive: short}}, "derive: it did not answer within 100ms and was ended", sound},
		{failing{Shipped: "derive: garbage"}, "derive: its answer breaks the contract", sound},
	} {
		t.Run(row.region.Shipped, func(t *testing.T) {
			faulty.LeavesNothing(t, func() {
				told, status := checkWith(t, row.region, model)
				assert.Equal(t, statusIncomplete, status)
				assert.False(t, told.Summary.Complete)
				require.Len(t, told.Incomplete, 1)
				assert.Contains(t, told.Incomplete[0], row.because)
				assert.Equal(t, row.rest.of("not eurocode"), told.of("not eurocode"), "the other packs find what they found")
				assert.NotEmpty(t, told.of("not eurocode"))
				owed := told.of("eurocode")
				assert.Equal(t, told.Region.ID != nil, len(owed) > 10, "all that a region which said what it owes did not give")
				for _, f := range owed {
					assert.Equal(t, "unchecked", f["outcome"], f["id"])
					assert.Contains(t, f["reason"], row.because, f["id"])
				}
			})
		})
	}
}

func TestEveryFormatSaysWhyARunIsIncomplete(t *testing.T) {
	for _, format := range report.Checks.Names() {
		t.Run(format, func(t *testing.T) {
			out, _, status := commandWith(t, failing{Shipped: "derive: killed"}, "check", "--format", format, demo("quillmere.json"))
			assert.Equal(t, statusIncomplete, status)
			assert.Contains(t, strings.Join(strings.Fields(out), " "), "its process ended (signal: killed)")
			assert.Contains(t, strings.Join(strings.Fields(out), " "), "This is an aid to checking")
		})
	}
}

func TestEveryVerbSaysThatItsRegionFailed(t *testing.T) {
	model := demo("quillmere.json")
	page, house := filepath.Join(t.TempDir(), "page.html"), demo("house/house.yaml")
	for _, row := range []struct {
		region string
		args   []string
	}{
		{"prepare: killed", []string{"takedown", model}},
		{"prepare: killed", []string{"takedown", "--format", "json", model}},
		{"prepare: killed", []string{"trace", model, "RB1"}},
		{"derive: killed", []string{"facts", model, "RB1"}},
		{"derive: killed", []string{"facts", "--format", "json", model, "RB1"}},
		{"derive: killed", []string{"compare", model, model}},
		{"derive: killed", []string{"check", "--built", model, model}},
		{"derive: killed", []string{"report", "-o", page, model}},
		{"start: exits", []string{"facts", "--region", "GB-ENG"}},
		{"start: exits", []string{"pack", "try", "--region", "GB-ENG"}},
		{"describe: pack", []string{"pack", "explain", "load-path/solved", "--region", "GB-ENG"}},
		{"start: exits", []string{"pack", "vet", "--region", "GB-ENG", house}},
		{"start: exits", []string{"spans", "--region", "GB-ENG", "--use", "floor joist", "--section", "47x195", "--grade", "C24", "--centres", "400", "--load", "dead=0.5"}},
	} {
		t.Run(strings.Join(row.args[:2], " "), func(t *testing.T) {
			faulty.LeavesNothing(t, func() {
				out, errs, status := commandWith(t, failing{Shipped: row.region}, row.args...)
				assert.Equal(t, statusIncomplete, status)
				if row.args[0] != "report" {
					assert.Regexp(t, "its process ended|its answer breaks the contract", strings.Join(strings.Fields(out+errs), " "))
				}
			})
		})
	}
}
