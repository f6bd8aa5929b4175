package packs_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// covered is what each point of common practice that the packs are to cover became. A point without a rule says where
// it is dealt with.
var covered = []struct {
	pack, point, about string
	rules              []string
	elsewhere          string
}{
	{"load-path", "1", "supports that the role needs", []string{"supports-needed", "names-exist", "support-stands", "role-known", "ground-role", "fixed-end"}, ""},
	{"load-path", "2", "load reaches ground", []string{"reaches-ground", "solved", "loads-counted", "moving-load-below"}, ""},
	{"load-path", "3", "no circle", []string{"no-circle"}, ""},
	{"load-path", "4", "declared support and geometry agree", []string{"meets-in-plan", "meets-in-level", "place-on-member", "centres-and-step"}, ""},
	{"load-path", "model", "load outside the stretch that is bedded is a finding", []string{"bed-under-load"}, ""},
	{"load-path", "5", "posts on the axis and within the length of what carries them", []string{"lands-within", "post-on-axis", "post-place"},
		"crushing under a post needs the strength of the place: it is a rule of each region, on the common length and width of the contact"},
	{"load-path", "6", "post on a single joist, a rafter or a ridge board", []string{"post-on-light-member"}, ""},
	{"load-path", "7", "block under a post between joists", []string{"block-under-post"}, ""},
	{"load-path", "8", "point load on masonry over an opening", []string{"load-over-opening", "opening-spanned", "stated-total", "stated-line", "stated-moment"}, ""},
	{"load-path", "9", "way through an unverified member", []string{"through-unverified", "more-load-on-unverified"}, ""},
	{"load-path", "10", "thrust under a ridge board", []string{"rafter-thrust"}, ""},
	{"load-path", "11", "ties and their joints", []string{"tie-low-enough", "tie-joint-stated", "tie-joint-holds"}, ""},
	{"load-path", "12", "hips and valleys held at both ends", []string{"hip-head", "hip-foot"}, ""},
	{"load-path", "13", "member that would not be missed", []string{"serves-something"}, ""},
	{"load-path", "14", "load balance", []string{"balance"}, ""},
	{"load-path", "15", "uplift", []string{"uplift-stated", "uplift-held", "uplift-passed-on", "uplift-balanced"}, ""},
	{"load-path", "15a", "horizontal reaction that nothing resists", []string{"push-resisted", "push-fixing-stated", "push-fixing-holds", "strut-head-held", "strut-head-fixing-stated", "strut-head-fixing-holds"}, ""},
	{"load-path", "15b", "cranked members", []string{"roller-slides", "crank-joint", "joint-holds", "bend-in-plan"}, ""},
	{"load-path", "15c", "strips against the extent of an area", []string{"area-carried", "area-has-carriers", "area-pitch", "area-imposed", "load-downwards", "strip-width"}, ""},
	{"load-path", "15d", "new point load on old work", []string{"new-load-on-old-work", "load-by-opening"}, ""},
	{"load-path", "16", "close supports and long cantilevers", []string{"supports-apart", "cantilever"}, ""},
	{"load-path", "17", "heaviest reactions on each wall", []string{"heaviest-on-walls"}, ""},
	{"load-path", "model", "a connection's stated capacity is held against its load", []string{"connection-stated", "connection-holds", "fixing-along-stated", "fixing-along-holds"}, ""},

	{"practice", "1", "bearings", []string{"bearing-on-timber", "bearing-on-masonry", "bearing-fits", "hanger-capacity", "fixing-stated", "steel-bearing", "steel-seat", "lintel-bearing"}, ""},
	{"practice", "2", "birdsmouths and end notches", []string{"birdsmouth", "birdsmouth-stated", "birdsmouth-seat"}, ""},
	{"practice", "3", "notches and holes", []string{"notch-depth", "notch-place", "notch-face", "hole-size", "hole-place", "hole-on-centre-line", "hole-spacing", "notch-to-hole", "deep-joist-cut", "never-cut"}, ""},
	{"practice", "4", "hips, valleys and ridges deeper than the plumb cut", []string{"deeper-than-cut"}, ""},
	{"practice", "5", "trimmers doubled", []string{"trimmer-doubled"}, ""},
	{"practice", "6", "plies", []string{"plies-joined", "plies-alike"}, ""},
	{"practice", "7", "depth to breadth", []string{"slender", "very-slender"}, ""},
	{"practice", "8", "centres", []string{"centres", "deck-thickness", "deck-centres"}, ""},
	{"practice", "9", "strutting", []string{"strutting"}, ""},
	{"practice", "10", "straps", []string{"plate-straps", "wall-straps"}, ""},
	{"practice", "11", "nominal sizes", []string{"nominal-size"}, ""},
	{"practice", "12", "unverified timbers", []string{"unverified"}, ""},
	{"practice", "13", "grades", []string{"grade-stated", "section-stated", "grades-mixed"}, ""},
	{"practice", "14", "wet timber", []string{"wet-timber-treated"}, ""},
	{"practice", "15", "what is stated of a steel", []string{"steel-ends", "steel-weld", "steel-finish", "steel-protection"}, ""},
	{"practice", "16", "weights to lift", []string{"timber-lift", "steel-lift"}, ""},
	{"practice", "17", "depths at a shared support", []string{"depths-meet"}, ""},
	{"practice", "18", "padstones", []string{"padstone-on-leaf", "padstone-spreads"},
		"the 60 degrees in the masonry below belong to the strength of the wall: a rule of the region"},
	{"practice", "19", "built-up posts", []string{"built-up-post"}, ""},
	{"practice", "20", "removing a wall, brace or breast", []string{"stability", "temporary-support", "roof-bracing", "old-footings"}, ""},
	{"practice", "21", "snow drift", []string{"snow-drift"}, ""},

	{"practice", "model", "materials that no rule knows", []string{"material-known"}, ""},

	{"paperwork", "1", "drawing of each member, open details", []string{"drawing-named", "engineers-details-open", "drawing-listed"}, ""},
	{"paperwork", "2", "drawings that disagree", []string{"drawings-agree"}, ""},
	{"paperwork", "3", "what is covered", []string{"see-before-covered"}, ""},
	{"paperwork", "4", "sign-offs", nil, "a sign-off covers a finding, so whether it has lapsed is known only after the rules have run: the engine's"},
	{"paperwork", "5", "assumptions", []string{"region-assumptions", "region-named", "region-served"}, ""},
	{"paperwork", "model", "stated figures are signed, self-weight is counted", []string{"statement-signed", "weight-counted"}, ""},

	{"changes", "1", "no worse", []string{"no-worse"}, ""},
	{"changes", "2", "lower only", []string{"weaker"}, ""},
	{"changes", "3", "some lower, some higher", []string{"some-better-some-worse"}, ""},
	{"changes", "4", "swapped", []string{"swapped"}, ""},
	{"changes", "5", "missing and extra", []string{"missing", "extra"}, ""},
	{"changes", "6", "support moved, bearing shorter, notch added", []string{"support-moved", "bearing-shorter", "notch-deeper"}, ""},
	{"changes", "7", "more load on what stays", []string{"more-load"}, ""},
	{"changes", "8", "rules met as drawn and not as built", []string{"was-met"}, "the two sets of verdicts are compared by the engine; the rule only says what came of it"},
	{"changes", "8a", "unverified for new", []string{"unverified-for-new"}, ""},
	{"changes", "9", "connection, seat or restraint left out", []string{"left-out", "held-otherwise"}, ""},
}

func TestEveryPointOfPracticeHasItsRule(t *testing.T) {
	set := compile(t)
	var named []string
	for _, c := range covered {
		assert.True(t, len(c.rules) > 0 || c.elsewhere != "", "%s %s, %s: a rule, or where it is dealt with", c.pack, c.point, c.about)
		for _, id := range c.rules {
			assert.NotNil(t, set.Rule(c.pack+"/"+id), "%s %s, %s: there is no rule %s", c.pack, c.point, c.about, id)
			named = append(named, c.pack+"/"+id)
		}
	}
	for _, r := range set.Rules {
		assert.Contains(t, named, r.ID, "the rule covers no point")
	}
	slices.Sort(named)
	assert.Equal(t, len(named), len(slices.Compact(named)), "a rule covers one point")
	for packID, last := range map[string]int{"load-path": 17, "practice": 21, "paperwork": 5, "changes": 9} {
		points := map[string]bool{}
		for _, c := range covered {
			if c.pack == packID {
				if c.point != "model" {
					points[strings.TrimRight(c.point, "abcd")] = true
				}
			}
		}
		assert.Len(t, points, last, "points of %s", packID)
	}
}
