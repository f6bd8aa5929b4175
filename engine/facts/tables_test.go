package facts_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/rules/vocabulary"
)

// table is one document with facts of it that were worked out by hand. Figures are elementary statics and geometry, worked
// beside each table; densities, moduli and sizes of sections are those of the standards named at material.
type table struct {
	what         string
	document     string
	combinations []string // none: the sums of a run without a region
	want         []want
}

var tables = slices.Concat(documentTables, geometryTables, pathTables, staticsTables, coupleTables, supportTables, fixingTables,
	phaseTables, wholeTables, movingTables, bedTables)

func TestFactsAgainstHand(t *testing.T) {
	for _, c := range tables {
		t.Run(c.what, func(t *testing.T) { hold(t, run(t, c.document, c.combinations...), c.want) })
	}
}

// neverEmpty lists the facts that are there for every row with more than an empty value, and why.
var neverEmpty = map[string]string{
	"member.id": "marks are keys", "member.piece": "marks are keys", "member.role": "a document without it is refused",
	"member.phase": "new is the default", "member.pieces": "at least one", "member.restraint_top": "ends is the default",
	"member.restraint_bottom": "ends is the default", "area.id": "ids are keys", "drawing.id": "a reference is an id",
	"ground.id": "marks are keys", "ground.role": "a document without it is refused", "frame.members": "a frame has members",
	"frame.pieces": "a frame has members",
}

// filledElsewhere lists the facts whose value comes from the source of a run and not from its document.
var filledElsewhere = map[string]bool{"frame.region_served": true, "frame.region_assumptions": true, "frame.imbalance": true}

// Every fact stands in some table with a value, and in another absent or with its empty value.
func TestEveryFactIsHeldAgainstHand(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	full, empty := map[string]bool{}, map[string]bool{}
	for _, c := range tables {
		for _, w := range c.want {
			place, name, _ := strings.Cut(w.fact, ".")
			in := full
			switch v := w.value.(type) {
			case absent:
				in = empty
			default:
				if v == "" || v == false || v == 0 || v == 0.0 {
					in = empty
				}
			}
			in[subjectOf(place)+"."+name] = true
		}
	}
	for _, s := range vocabulary.Subjects() {
		if s == vocabulary.Change {
			continue // differences are filled where two documents are compared
		}
		for _, fact := range book.Facts(s) {
			key := s.String() + "." + fact.Name
			assert.True(t, full[key] || filledElsewhere[key], "%s is nowhere held with a value", key)
			assert.True(t, empty[key] || neverEmpty[key] != "", "%s is nowhere held absent or empty", key)
		}
	}
}

// subjectOf is the subject of an address as want has it.
func subjectOf(place string) string {
	words := strings.Fields(place)
	switch {
	case len(words) == 3:
		return words[1]
	case place == "frame" || len(words) == 2:
		return words[0]
	case strings.Contains(place, "/"):
		return "support"
	}
	return "member"
}
