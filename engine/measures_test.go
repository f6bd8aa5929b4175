package engine

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/finding"
	"example.com/scantling/model/read"
)

// A millimetre anywhere on the member is another member to who signed for it; what is said about it is not.
func TestMeasuresTellAMillimetre(t *testing.T) {
	member := func(body string) string {
		d, problems := read.Document([]byte(`{"framing": 1, "members": {"W": {"role": "wall", "width": 100, "ground": true}, "R": {`+body+`}}}`), "m")
		require.Empty(t, problems, body)
		return finding.Digest(&finding.Finding{Measures: measures(d.Member("R"))})
	}
	whole := func(section, end, at, bearing, notch, hole, more string) string {
		return `"role": "rafter", "section": "` + section + `", "path": [[0, 0, 0], [0, ` + end + `, 1000]], "centres": 400, "repeat": {"count": 2, "step": [400, 0, 0]},
			"supports": [{"on": "W", "at": ` + at + `, "bearing": ` + bearing + `, "notch": {"depth": ` + notch + `}, "seat": {"size": "100x100x10"}}],
			"holes": [{"at": 900, "diameter": ` + hole + `}]` + more
	}
	was := member(whole("47x195", "2000", "0", "50", "20", "30", ""))
	for _, c := range []struct {
		what, body string
		same       bool
	}{
		{"a wider section", whole("48x195", "2000", "0", "50", "20", "30", ""), false},
		{"a longer axis", whole("47x195", "2001", "0", "50", "20", "30", ""), false},
		{"a support that moved", whole("47x195", "2000", "1", "50", "20", "30", ""), false},
		{"a shorter bearing", whole("47x195", "2000", "0", "49", "20", "30", ""), false},
		{"a deeper notch", whole("47x195", "2000", "0", "50", "21", "30", ""), false},
		{"a larger hole", whole("47x195", "2000", "0", "50", "20", "31", ""), false},
		{"a note", whole("47x195", "2000", "0", "50", "20", "30", `, "note": "seen", "covered_by": "plaster"`), true},
		{"a figure beyond six digits", whole("47x195", "2000.00000001", "0", "50", "20", "30", ""), true},
	} {
		assert.Equal(t, c.same, was == member(c.body), c.what)
	}
}
