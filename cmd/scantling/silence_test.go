package main

import (
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/rules/pack"
	"example.com/scantling/rules/packs"
	"example.com/scantling/rules/vocabulary"
)

// silences is, for each rule of the neutral packs, what it needs and what is said when the reading room lacks that: the
// rule asks, or says that it could not be checked, or another rule has asked before it. An edit takes a key out of the
// model, or sets it; none of them may pass without a word.
var silences = []struct {
	rule  string
	edits []string
	found string
}{
	{"load-path/supports-needed", []string{"members/RB2/supports/1"}, "RB2: stop load-path/supports-needed"},
	{"load-path/names-exist", []string{"members/L3"}, "GJ2: stop load-path/names-exist"},
	{"load-path/role-known", []string{`members/GJ1/role="flor joist"`}, "GJ1: stop load-path/role-known"},
	{"load-path/ground-role", []string{"members/GJ1/ground=true", "members/GJ1/supports"}, "GJ1: stop load-path/ground-role"},
	{"load-path/support-stands", []string{`members/RN/supports/2={"against": "RS"}`}, "RN on RS: ask load-path/support-stands"},
	{"load-path/connection-stated", []string{"members/TR1/supports/0/by"}, "TR1 on GT1: ask load-path/connection-stated"},
	{"load-path/connection-stated", []string{"members/RB2/supports/1/by"}, "RB2 on P3: ask load-path/connection-stated"},
	{"load-path/connection-stated", []string{"members/H1/supports/1/by"}, "H1 on RB1: ask load-path/connection-stated"},
	{"load-path/reaches-ground", []string{"members/WX3/ground"}, "WX3: stop load-path/reaches-ground"},
	{"load-path/meets-in-plan", []string{"members/OW1/path"}, "OR1 on OW1: unchecked (note) load-path/meets-in-plan"},
	{"load-path/meets-in-level", []string{"members/OW1/path"}, "OR1 on OW1: unchecked (note) load-path/meets-in-plan"},
	{"load-path/place-on-member", []string{"members/GJ1/path"}, "GJ1: stop load-path/supports-needed"},
	{"load-path/lands-within", []string{"members/OW1/path"}, "OR1 on OW1: unchecked (note) load-path/meets-in-plan"},
	{"load-path/bed-under-load", []string{"members/WPN/supports/1"}, "WPN: stop load-path/bed-under-load"},
	{"load-path/bed-under-load", []string{"members/WPS2/supports/0/to=1000"}, "WPS2: stop load-path/bed-under-load"},
	{"load-path/bed-under-load", []string{"members/WN/path/1/0=8000"}, "WPN: stop load-path/bed-under-load"},
	{"load-path/bed-under-load", []string{"members/WPS2/supports"}, "WPS2: stop load-path/reaches-ground"},
	{"load-path/bed-under-load", []string{"members/WPS2/supports/0/continuous"}, "WPS2: stop load-path/solved"},
	{"load-path/post-on-axis", []string{"members/P3/path", "members/P3/length=2434"}, "P3 on GB1: ask load-path/post-place"},
	{"load-path/post-place", []string{"members/P3/path", "members/P3/length=2434"}, "P3 on GB1: ask load-path/post-place"},
	{"load-path/post-on-light-member", []string{`members/P3/supports/0/on="GJ3"`, "members/GJ3/section"}, "P3 on GJ3: unchecked (ask) load-path/post-on-light-member"},
	{"load-path/block-under-post", []string{
		`members/SPX={"role": "sole plate", "section": "47x97", "flat": true, "grade": "C24", "path": [[5000, 600, 2718.5], [5000, 1000, 2718.5]], "supports": [{"on": "GJ2", "continuous": true}]}`,
		`members/PX={"role": "post", "section": "97x97", "grade": "C24", "path": [[5000, 800, 2742], [5000, 800, 4000]], "supports": [{"on": "SPX", "bearing": 97}]}`},
		"PX on SPX: ask load-path/block-under-post"},
	{"load-path/load-over-opening", []string{`members/WX1/openings=[{"from": 2200, "to": 2700}]`}, "P1 on WX1: ask load-path/load-over-opening"},
	{"load-path/opening-spanned", []string{"members/WN/openings/0/lintel"}, "WN: ask load-path/opening-spanned"},
	{"load-path/opening-spanned", []string{`members/WE/openings=[{"from": 2000, "to": 2900}]`}, "WE: ask load-path/opening-spanned"},
	{"load-path/opening-spanned", []string{`members/L3/phase="removed"`}, "WX3: ask load-path/opening-spanned"},
	{"load-path/opening-spanned", []string{"members/L3"}, "WX3: stop load-path/names-exist"},
	{"load-path/load-by-opening", []string{`members/WX1/openings=[{"from": 2500, "to": 3200}]`, "members/P1/supports/0/seat"}, "P1 on WX1: ask load-path/load-by-opening"},
	{"load-path/through-unverified", []string{`members/GB1/phase="existing"`, `members/GB1/condition="unverified"`}, "P3: stop load-path/through-unverified"},
	{"load-path/more-load-on-unverified", []string{`members/GB1/phase="existing"`, `members/GB1/condition="unverified"`}, "GB1: stop load-path/more-load-on-unverified"},
	{"load-path/rafter-thrust", []string{"members/RS1/tied_by"}, "RS1: stop load-path/rafter-thrust"},
	{"load-path/tie-low-enough", []string{"members/RS1/supports/1", "members/RS2/supports/1"}, "RS1: stop load-path/supports-needed"},
	{"load-path/tie-joint-stated", []string{"members/RS1/tied_by/0/capacity"}, "RS1: ask load-path/tie-joint-stated"},
	{"load-path/tie-joint-holds", []string{"members/RS1/tied_by/0/capacity/basis"}, "RS1: unchecked (stop) load-path/tie-joint-holds"},
	{"load-path/hip-head", []string{"members/H1/supports/1"}, "H1: stop load-path/supports-needed"},
	{"load-path/hip-foot", []string{"members/H1/path"}, "H1: stop load-path/supports-needed"},
	{"load-path/serves-something", []string{"members/WPN/supports/1"}, "L2: note load-path/serves-something"},
	{"load-path/solved", []string{"members/BP1/grade"}, "BP1: stop load-path/solved"},
	{"load-path/solved", []string{"members/ST1/joints/0/kind"}, "ST1: stop load-path/solved"},
	{"load-path/loads-counted", []string{"members/WX2U/weight"}, "WX2U: stop load-path/loads-counted"},
	{"load-path/moving-load-below", []string{"members/GB1/movable_load=2"}, "GB1: ask load-path/moving-load-below"},
	{"load-path/uplift-stated", []string{"members/BJ1/supports/1/capacity/up", "members/BJ1/straps"}, "BJ1 on ST1: ask load-path/uplift-stated"},
	{"load-path/uplift-held", []string{"members/BJ1/supports/1/capacity/basis", "members/BJ1/straps"}, "BJ1 on ST1: unchecked (stop) load-path/uplift-held"},
	{"load-path/uplift-passed-on", []string{"members/WPB1/straps/0/capacity"}, "BJ1 on WPB1: ask load-path/uplift-passed-on"},
	{"load-path/uplift-balanced", []string{"members/WB1/weight"}, "BJ1 on WPB1: ask load-path/uplift-balanced"},
	{"load-path/push-resisted", []string{"members/L2/supports/0/holds", "members/L2/supports/1/holds"}, "L2 on WN: stop load-path/push-resisted"},
	{"load-path/strut-head-held", []string{"members/P3/path=[[5100, 1800, 2717], [5400, 1800, 5151.4]]"}, "P3: stop load-path/strut-head-held"},
	{"load-path/fixed-end", []string{"members/GJ1/supports/0/fixed=true"}, "GJ1 on WX3: stop load-path/fixed-end"},
	{"load-path/push-fixing-stated", []string{"members/ST1/thrust=true", `members/ST1/supports/0/holds="horizontal"`}, "ST1 on WB3: ask load-path/push-fixing-stated"},
	{"load-path/push-fixing-holds", []string{"members/ST1/thrust=true", `members/ST1/supports/0/capacity={"along": 40}`}, "ST1 on WB3: unchecked (stop) load-path/push-fixing-holds"},
	{"load-path/strut-head-fixing-stated", []string{"members/P3/path=[[5100, 1800, 2717], [5400, 1800, 5151.4]]", `members/P3/straps=[{"kind": "lateral", "to": "RB1"}]`}, "P3: ask load-path/strut-head-fixing-stated"},
	{"load-path/strut-head-fixing-holds", []string{"members/P3/path=[[5100, 1800, 2717], [5400, 1800, 5151.4]]", `members/P3/straps=[{"kind": "lateral", "to": "RB1", "capacity": {"along": 4}}]`}, "P3: unchecked (stop) load-path/strut-head-fixing-holds"},
	{"load-path/roller-slides", []string{"members/ST1/grade"}, "ST1: unchecked (ask) load-path/roller-slides"},
	{"load-path/crank-joint", []string{"members/ST1/joints"}, "ST1: ask load-path/crank-joint"},
	{"load-path/bend-in-plan", []string{"members/ST1/path"}, "ST1: unchecked (ask) load-path/bend-in-plan"},
	{"load-path/area-carried", []string{"areas/gallery/extent"}, "gallery: unchecked (note) load-path/area-carried"},
	{"load-path/area-has-carriers", []string{"members/BJ1/carries", "members/BJ2/carries"}, "bay roof: ask load-path/area-has-carriers"},
	{"load-path/area-pitch", []string{"areas/tiles/pitch=60"}, "tiles: ask load-path/area-pitch"},
	{"load-path/area-imposed", []string{"areas/gallery/imposed=0"}, "gallery: ask load-path/area-imposed"},
	{"load-path/load-downwards", []string{`members/GJ1/loads=[{"action": "dead", "line": -0.5}]`}, "GJ1: ask load-path/load-downwards"},
	{"load-path/strip-width", []string{"areas/gallery/extent", `members/GJ1/carries=[{"area": "gallery", "width": 40}]`}, "GJ1: ask load-path/strip-width"},
	{"load-path/new-load-on-old-work", []string{`members/WX3/phase="existing"`}, "GJ1 on WX3: ask load-path/new-load-on-old-work"},
	{"load-path/supports-apart", []string{"members/L1/section"}, "L1: unchecked (ask) load-path/supports-apart"},
	{"load-path/cantilever", []string{"members/GJ1/path"}, "GJ1: stop load-path/supports-needed"},
	{"load-path/connection-holds", []string{"members/TR1/supports/0/capacity/basis"}, "TR1 on GT1: unchecked (stop) load-path/connection-holds"},
	{"load-path/fixing-along-stated", []string{`members/WPB1/supports/0/by="bolted"`}, "WPB1 on WB1: ask load-path/fixing-along-stated"},
	{"load-path/fixing-along-holds", []string{`members/WPB1/supports/0/by="bolted"`, `members/WPB1/supports/0/capacity={"down": 40}`}, "WPB1 on WB1: ask load-path/fixing-along-stated"},
	{"load-path/stated-total", []string{"members/L1/supports/0"}, "L1: unchecked (stop) load-path/stated-total"},
	{"load-path/stated-moment", []string{`members/L1/stated={"moment": 9, "by": "maker's table"}`, "members/L1/supports/0"}, "L1: unchecked (stop) load-path/stated-moment"},
	{"load-path/joint-holds", []string{"members/ST1/joints/0/capacity=9", "members/ST1/joints/0/kind"}, "ST1: unchecked (stop) load-path/joint-holds"},
	{"load-path/stated-line", []string{`members/L1/stated={"line_load": 20, "by": "maker's table"}`, "members/L1/supports/0"}, "L1: unchecked (stop) load-path/stated-line"},

	{"practice/bearing-on-timber", []string{"members/RN/supports/0/bearing"}, "RN on WPN: unchecked (stop) practice/bearing-on-timber"},
	{"practice/bearing-on-masonry", []string{"members/GJ1/supports/0/bearing"}, "GJ1 on WX3: unchecked (stop) practice/bearing-on-masonry"},
	{"practice/bearing-on-masonry", []string{"members/WX3/material"}, "GJ1 on WX3: unchecked (stop) practice/bearing-on-masonry"},
	{"practice/hanger-capacity", []string{"members/TR1/supports/0/capacity"}, "TR1 on GT1: ask practice/hanger-capacity"},
	{"practice/fixing-stated", []string{`members/TR1/supports/0/by="nailed"`, "members/TR1/supports/0/capacity"}, "TR1 on GT1: ask practice/fixing-stated"},
	{"practice/fixing-stated", []string{"members/BJ1/supports/0/bearing"}, "BJ1 on WPB1: ask practice/fixing-stated"},
	{"practice/fixing-stated", []string{"members/BJ1/supports/0/bearing=20"}, "BJ1 on WPB1: stop practice/fixing-stated"},
	{"practice/steel-bearing", []string{"members/ST1/supports/1/bearing"}, "ST1 on WL3: unchecked (stop) practice/steel-bearing"},
	{"practice/steel-seat", []string{"members/ST1/supports/1/bearing", "members/ST1/supports/1/seat"}, "ST1 on WL3: unchecked (ask) practice/steel-seat"},
	{"practice/lintel-bearing", []string{"members/L1/supports/0/bearing"}, "L1 on WL1: unchecked (stop) practice/lintel-bearing"},
	{"practice/birdsmouth", []string{"members/RN/supports/0/notch/depth"}, "RN on WPN: unchecked (stop) practice/birdsmouth"},
	{"practice/birdsmouth-stated", []string{"members/RN/supports/0/notch"}, "RN on WPN: ask practice/birdsmouth-stated"},
	{"practice/bearing-fits", []string{"members/RN/supports/0/bearing"}, "RN on WPN: unchecked (stop) practice/bearing-on-timber"},
	{"practice/birdsmouth-seat", []string{"members/RN/supports/0/bearing"}, "RN on WPN: unchecked (stop) practice/bearing-on-timber"},
	{"practice/notch-depth", []string{`members/GJ3/notches=[{"at": 400, "face": "top"}]`}, "GJ3: unchecked (stop) practice/notch-depth"},
	{"practice/notch-place", []string{`members/GJ3/notches=[{"depth": 20, "face": "top"}]`}, "GJ3: unchecked (stop) practice/notch-place"},
	{"practice/notch-face", []string{`members/GJ3/notches=[{"at": 400, "depth": 20}]`}, "GJ3: unchecked (stop) practice/notch-face"},
	{"practice/hole-size", []string{`members/GJ3/holes=[{"at": 800}]`}, "GJ3: unchecked (stop) practice/hole-size"},
	{"practice/hole-place", []string{`members/GJ3/holes=[{"diameter": 40}]`}, "GJ3: unchecked (stop) practice/hole-place"},
	{"practice/hole-on-centre-line", []string{`members/GJ3/holes=[{"at": 800, "diameter": 40}]`, "members/GJ3/section"}, "GJ3: unchecked (stop) practice/hole-on-centre-line"},
	{"practice/hole-spacing", []string{`members/GJ3/holes=[{"at": 800, "diameter": 40}, {"diameter": 40}]`}, "GJ3: unchecked (stop) practice/hole-spacing"},
	{"practice/notch-to-hole", []string{`members/GJ3/holes=[{"at": 800, "diameter": 40}]`, `members/GJ3/notches=[{"depth": 20}]`}, "GJ3: unchecked (stop) practice/notch-to-hole"},
	{"practice/deep-joist-cut", []string{`members/GJ3/holes=[{"at": 800, "diameter": 40}]`, "members/GJ3/section"}, "GJ3: unchecked (stop) practice/deep-joist-cut"},
	{"practice/never-cut", []string{"members/RN/section", "members/RN/grade"}, "RN: unchecked (stop) practice/never-cut"},
	{"practice/deeper-than-cut", []string{"members/RB1/section"}, "RB1: unchecked (stop) practice/deeper-than-cut"},
	{"practice/deeper-than-cut", []string{`members/SR1/section="38x150"`}, "SR1: stop practice/deeper-than-cut"},
	{"practice/deeper-than-cut", []string{"members/SR1/section"}, "SR1: ask practice/section-stated"},
	{"practice/trimmer-doubled", []string{"members/TR1/section"}, "TR1: unchecked (ask) practice/trimmer-doubled"},
	{"practice/plies-joined", []string{"members/GB1/plies_joined"}, "GB1: ask practice/plies-joined"},
	{"practice/plies-alike", []string{"members/GB1/section"}, "GB1: stop practice/section-stated"},
	{"practice/slender", []string{"members/GB1/section"}, "GB1: unchecked (ask) practice/slender"},
	{"practice/very-slender", []string{"members/GB1/section"}, "GB1: unchecked (ask) practice/very-slender"},
	{"practice/centres", []string{"members/RN/centres", "members/RN/repeat/step=[750, 0, 0]"}, "RN: stop practice/centres"},
	{"practice/deck-thickness", []string{"areas/gallery/deck"}, "GJ1: unchecked (ask) practice/deck-thickness"},
	{"practice/deck-centres", []string{"areas/gallery/deck"}, "GJ1: unchecked (ask) practice/deck-thickness"},
	{"practice/strutting", []string{"members/GJ2/supports/0"}, "GJ2: unchecked (ask) practice/strutting"},
	{"practice/plate-straps", []string{"members/WPN/straps"}, "WPN: ask practice/plate-straps"},
	{"practice/wall-straps", []string{"members/WG/straps", "members/RW/straps", "members/RE/straps"}, "WG: ask practice/wall-straps"},
	{"practice/material-known", []string{`members/WX3/material="masonary"`}, "WX3: ask practice/material-known"},
	{"practice/nominal-size", []string{"members/GJ1/section"}, "GJ1: stop practice/section-stated"},
	{"practice/unverified", []string{"members/OR1/condition"}, "OR1: stop practice/grade-stated"},
	{"practice/grade-stated", []string{"members/RN/grade"}, "RN: stop practice/grade-stated"},
	{"practice/grade-stated", []string{"members/WPN/grade"}, "WPN: ask practice/grade-stated"},
	{"practice/section-stated", []string{"members/RN/section"}, "RN: stop practice/section-stated"},
	{"practice/section-stated", []string{"members/SR1/section"}, "SR1: ask practice/section-stated"},
	{"practice/grades-mixed", []string{"members/RN/grade"}, "RN: stop practice/grade-stated"},
	{"practice/wet-timber-treated", []string{"members/BJ1/service_class=3", "members/BJ1/treated"}, "BJ1: ask practice/wet-timber-treated"},
	{"practice/steel-ends", []string{"members/ST1/end_fixing", "members/ST1/supports/0/by", "members/ST1/supports/1/by"}, "ST1: ask practice/steel-ends"},
	{"practice/steel-weld", []string{"members/ST1/weld", "members/ST1/joints/0/detail"}, "ST1: ask practice/steel-weld"},
	{"practice/steel-finish", []string{"members/ST1/finish"}, "ST1: ask practice/steel-finish"},
	{"practice/steel-protection", []string{"members/ST1/fire_protection"}, "ST1: ask practice/steel-protection"},
	{"practice/steel-protection", []string{"members/ST1/corrosion_protection"}, "ST1: ask practice/steel-protection"},
	{"practice/timber-lift", []string{"members/RB1/grade"}, "RB1: stop practice/grade-stated"},
	{"practice/steel-lift", []string{"members/ST1/section", "members/ST1/finish"}, "ST1: stop practice/section-stated"},
	{"practice/depths-meet", []string{"members/GJ1/section"}, "GJ1: stop practice/section-stated"},
	{"practice/padstone-on-leaf", []string{"members/WX3/width"}, "GB1 on WX3: unchecked (ask) practice/padstone-on-leaf"},
	{"practice/padstone-on-leaf", []string{"members/GB1/supports/0/seat/size"}, "GB1 on WX3: unchecked (ask) practice/padstone-on-leaf"},
	{"practice/padstone-on-leaf", []string{"members/GB1/supports/0/seat/kind", "members/WX3/width"}, "GB1 on WX3: unchecked (ask) practice/padstone-on-leaf"},
	{"practice/padstone-spreads", []string{"members/GB1/supports/0/bearing"}, "GB1 on WX3: unchecked (ask) practice/padstone-spreads"},
	{"practice/built-up-post", []string{`members/P1/section="2/60x120"`}, "P1: note practice/built-up-post"},
	{"practice/stability", []string{breast, "site/stability"}, "frame: ask practice/stability"},
	{"practice/temporary-support", []string{breast, "site/temporary_work"}, "frame: ask practice/temporary-support"},
	{"practice/roof-bracing", []string{breast, "members/RW/straps", "members/RE/straps", "members/RS1/straps", "members/RS2/straps"}, "frame: ask practice/roof-bracing"},
	{"practice/old-footings", []string{"members/OW1/footing",
		`members/BX={"role": "beam", "section": "2/47x195", "grade": "C24", "path": [[3000, 5600, 3397.5], [3000, 7600, 3397.5]], "supports": [{"on": "OW1", "at": 0, "bearing": 100, "by": "seat"}, {"on": "OW2", "at": 2000, "bearing": 100, "by": "seat"}], "loads": [{"action": "dead", "line": 5}]}`},
		"frame: ask practice/old-footings"},
	{"practice/snow-drift", []string{"site/snow_drift"}, "frame: ask practice/snow-drift"},

	{"paperwork/drawing-named", []string{"members/RN/drawing"}, "frame: ask paperwork/drawing-named"},
	{"paperwork/drawing-named", []string{"members/WN/drawing"}, "frame: ask paperwork/drawing-named"},
	{"paperwork/drawing-named", []string{"members/WPN/drawing"}, "frame: ask paperwork/drawing-named"},
	{"paperwork/drawing-named", []string{"members/SR1/drawing"}, "frame: ask paperwork/drawing-named"},
	{"paperwork/drawing-listed", []string{"drawings/S-101"}, "RN: ask paperwork/drawing-listed"},
	{"paperwork/engineers-details-open", []string{`members/RN/drawing={"S-101": {"to": "engineer"}}`, "site/stage"}, "RN: ask paperwork/engineers-details-open"},
	{"paperwork/engineers-details-open", []string{`members/WN/drawing={"S-100": {"to": "engineer"}}`}, "WN: ask paperwork/engineers-details-open"},
	{"paperwork/drawings-agree", []string{`members/RN/drawing={"S-101": {"section": "47x170"}}`, "members/RN/section"}, "RN: ask paperwork/drawings-agree"},
	{"paperwork/see-before-covered", []string{"members/RB2/seen"}, "RB2: note paperwork/see-before-covered"},
	{"paperwork/see-before-covered", []string{"members/RB2/seen/photo"}, "RB2: note paperwork/see-before-covered"},
	{"paperwork/statement-signed", []string{"members/L1/stated/by"}, "L1: ask paperwork/statement-signed"},
	{"paperwork/region-named", []string{"site/region"}, "frame: ask paperwork/region-named"},
	{"paperwork/region-served", []string{`site/region="GB-EMG"`}, "frame: stop paperwork/region-served"},
	{"paperwork/region-assumptions", []string{"site/masonry_class"}, "frame: note paperwork/region-assumptions"},
}

// breast is a chimney breast that goes, by which the house stood square.
const breast = `members/XB={"role": "wall", "material": "masonry", "width": 215, "phase": "removed", "ground": true, "path": [[1000, 3000, 4000], [2000, 3000, 4000]]}`

// neverLacking are the rules that need nothing which a document could leave out, each with why.
var neverLacking = map[string]string{
	"load-path/no-circle":         "whether supports go round is known of any that are named",
	"load-path/balance":           "it is worked out of every run",
	"load-path/heaviest-on-walls": "it lists what arrives, whatever that is",
	"load-path/centres-and-step":  "it holds two figures for one thing against each other; where one is left out the other is used",
	"paperwork/weight-counted":    "it asks about a switch that someone has set",
}

func TestNoRuleIsSilentAboutWhatItLacks(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped: one check after another, with nothing beside it")
	}
	documents := []map[string]any{document(t, demo("quillmere.json"))}
	for _, c := range silences {
		doc := document(t, demo("quillmere.json"))
		for _, e := range c.edits {
			edit(t, doc, e)
		}
		documents = append(documents, doc)
	}
	results, _ := checkAll(t, documents)
	for i, c := range silences {
		t.Run(c.rule+" without "+strings.Join(c.edits, ", "), func(t *testing.T) {
			assert.NotContains(t, results[0].lines(), c.found)
			assert.Contains(t, results[i+1].lines(), c.found)
		})
	}
}

func TestEveryNeutralRuleHasItsSilenceTried(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	var list []*pack.Pack
	for _, name := range packs.Shipped() {
		p, err := pack.Read(packs.Files(), name, pack.Shipped)
		require.NoError(t, err)
		list = append(list, p)
	}
	set, err := pack.Compile(book, list...)
	require.NoError(t, err)
	tried := map[string]bool{}
	for _, c := range silences {
		tried[c.rule] = true
	}
	for _, r := range set.Rules {
		_, never := neverLacking[r.ID]
		assert.True(t, tried[r.ID] != never, "%s: take out of the model what it needs, or say why it lacks nothing", r.ID)
	}
}

// edit takes one thing out of a document, or sets it where the edit says to what.
func edit(t *testing.T, doc map[string]any, e string) {
	t.Helper()
	pointer, text, set := strings.Cut(e, "=")
	path := strings.Split(pointer, "/")
	if !set {
		take(t, doc, path)
		return
	}
	var value any
	require.NoError(t, json.Unmarshal([]byte(text), &value))
	put(t, doc, path, value)
}

// put sets one thing of a document; the place after the last of a list adds to it.
func put(t *testing.T, at any, path []string, value any) any {
	t.Helper()
	switch at := at.(type) {
	case map[string]any:
		if len(path) > 1 {
			value = put(t, at[path[0]], path[1:], value)
		}
		at[path[0]] = value
		return at
	case []any:
		i, err := strconv.Atoi(path[0])
		require.NoError(t, err)
		if i == len(at) {
			return append(at, value)
		}
		if len(path) > 1 {
			value = put(t, at[i], path[1:], value)
		}
		at[i] = value
		return at
	}
	require.Fail(t, "nothing is there", "%v", path)
	return nil
}
