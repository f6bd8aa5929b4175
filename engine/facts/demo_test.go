package facts_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/facts"
	"example.com/scantling/engine/frame"
	"example.com/scantling/model"
	"example.com/scantling/model/read"
	"example.com/scantling/rules/vocabulary"
)

// demos are the models that ship, each with something of everything.
var demos = []string{"quillmere", "quillmere-faulty", "larkrun-porch"}

// demoStates are combinations with every action of the demos.
var demoStates = []string{"strength 1.35 dead + 1.5 imposed + 0.75 snow + 1.05 roof_imposed", "strength 1.35 dead + 1.5 snow", "stability 0.9 dead + 1.5 wind",
	"characteristic 1 dead + 1 imposed + 1 snow", "characteristic 1 dead + 1 wind"}

// demo is a model that ships, read anew so that a test may change it.
func demo(t testing.TB, name string) *model.Document {
	t.Helper()
	src, err := os.ReadFile(filepath.Join("..", "..", "testdata", name+".json"))
	require.NoError(t, err)
	doc, problems := read.Document(src, name)
	require.Empty(t, problems)
	return doc
}

// every calls yield with each fact of each row: its value, or why it is absent.
func every(f *facts.Filled, yield func(fact *vocabulary.Fact, row int32, value any, why string)) {
	for _, subject := range vocabulary.Subjects() {
		if subject == vocabulary.Change {
			continue
		}
		for _, fact := range f.Book.Facts(subject) {
			for row := range f.Tables[subject].Rows {
				value, why := get(f, fact, int32(row))
				yield(fact, int32(row), value, why)
			}
		}
	}
}

// A rule that meets an absence prints its reason: it must say something, in the words of the site.
func TestAbsencesHaveReasonsAndNumbersAreFinite(t *testing.T) {
	for _, name := range demos {
		f := fill(t, demo(t, name), demoStates...)
		every(f, func(fact *vocabulary.Fact, row int32, value any, why string) {
			switch v, number := value.(float64); {
			case why != "":
				if len(why) < 12 || !strings.Contains(why, " ") || strings.Contains(why, "%!") || strings.TrimSpace(why) != why || strings.HasSuffix(why, ":") {
					t.Errorf("%s.%s is absent because %q: that helps nobody", fact.Subject, fact.Name, why)
				}
			case number && (math.IsNaN(v) || math.IsInf(v, 0)):
				t.Errorf("%s %s.%s is %v", name, fact.Subject, fact.Name, v)
			}
		})
	}
}

// numbered is the number of a piece in its run.
var numbered = regexp.MustCompile(`#\d+`)

// named is every fact by the name of what it is of and its own, since rows may come in any order. Texts leave out which
// piece of a run they name.
func named(f *facts.Filled) map[string]any {
	out := map[string]any{}
	fr := f.Source.Down.Frame
	pieceName := fr.Name
	every(f, func(fact *vocabulary.Fact, row int32, value any, why string) {
		place := ""
		switch fact.Subject {
		case vocabulary.Member:
			place = pieceName(row)
		case vocabulary.Support:
			s := &fr.Supports[row]
			place = fmt.Sprintf("%s/%d", pieceName(s.Piece), s.Document)
			if s.Document < 0 {
				place = pieceName(s.Piece) + " on " + pieceName(s.On)
			}
		case vocabulary.Ground:
			place = pieceName(f.Rows.Grounds[row])
		case vocabulary.Area:
			place = fr.Document.Areas[row].ID
		case vocabulary.Frame:
		default:
			return // rows of what members list, held by the facts of the members
		}
		if why != "" {
			value = absent(numbered.ReplaceAllString(why, ""))
		} else if text, is := value.(string); is {
			value = numbered.ReplaceAllString(text, "")
		}
		out[fact.Subject.String()+" "+place+"."+fact.Name] = value
	})
	return out
}

// ofSequence are the facts that tell the order of a document or how it is cut into marks, and nothing of the frame.
var ofSequence = []string{"member.id", "member.piece", "member.pieces", "member.step", "frame.members", "frame.removed", "frame.undrawn",
	"frame.mixed_grades", "frame.heaviest_on_each", "member.circle", "ground.id",
	"ground.heaviest_from", "ground.heaviest_at", "ground.heaviest_on"} // of equally heavy ones the first counts

// agree compares two sets of facts, numbers to a part in a million of what is usual for their size.
func agree(t *testing.T, want, got map[string]any, skip []string) {
	t.Helper()
	differ := 0
	for key, w := range want {
		subject, _, _ := strings.Cut(key, " ")
		if slices.Contains(skip, subject+key[strings.LastIndex(key, "."):]) {
			continue
		}
		g, there := got[key]
		same := there && w == g
		if a, number := w.(float64); number && there {
			if b, is := g.(float64); is {
				same = math.Abs(a-b) <= 1e-6*max(1, math.Abs(a))
			}
		}
		if !same {
			if differ++; differ < 10 {
				t.Errorf("%s: %v, now %v", key, w, g)
			}
		}
	}
	assert.Zero(t, differ)
}

func TestFactsDoNotDependOnTheOrderOfMembers(t *testing.T) {
	for _, name := range demos {
		t.Run(name, func(t *testing.T) {
			doc := demo(t, name)
			turned := demo(t, name)
			slices.Reverse(turned.Members)
			back := &model.Document{Title: turned.Title, Units: turned.Units, Weightless: turned.Weightless, Site: turned.Site,
				Drawings: turned.Drawings, Areas: turned.Areas, Grades: turned.Grades}
			for _, m := range turned.Members {
				require.True(t, back.Add(m))
			}
			a, b := fill(t, doc, demoStates...), fill(t, back, demoStates...)
			agree(t, named(a), named(b), ofSequence)
		})
	}
}

// apart writes every run of a frame out as single members, called as the pieces of the run are.
func apart(t testing.TB, fr *frame.Frame) *model.Document {
	t.Helper()
	doc := fr.Document
	out := &model.Document{Title: doc.Title, Units: doc.Units, Weightless: doc.Weightless, Site: doc.Site, Drawings: doc.Drawings, Areas: doc.Areas, Grades: doc.Grades}
	for i := range doc.Members {
		from, to := fr.PiecesOf(int32(i))
		if from == to { // does not stand after the work
			require.True(t, out.Add(doc.Members[i]))
		}
		for piece := from; piece < to; piece++ {
			require.True(t, out.Add(single(fr, piece)))
		}
	}
	return out
}

// single is one piece as a member of its own, which names the very pieces that it meets.
func single(fr *frame.Frame, piece int32) model.Member {
	m := *fr.Member(piece)
	k := float64(fr.Pieces[piece].Index)
	m.Mark = fr.Name(piece)
	m.Path = slices.Clone(m.Path)
	for i := range m.Path {
		m.Path[i].X += m.Repeat.Step.X * k
		m.Path[i].Y += m.Repeat.Step.Y * k
		m.Path[i].Z += m.Repeat.Step.Z * k
	}
	m.Repeat = model.Repeat{}
	m.Supports, m.Ties = slices.Clone(m.Supports), slices.Clone(m.Ties)
	supports, _ := fr.SupportsOf(piece)
	for _, s := range supports {
		switch {
		case s.Document < 0 || s.On < 0:
		case s.Against:
			m.Supports[s.Document].Against = fr.Name(s.On)
		default:
			m.Supports[s.Document].On = fr.Name(s.On)
		}
	}
	if c := fr.CoupleOf(piece); c != nil {
		side := 0
		if c.Rafters[1] == piece {
			side = 1
		}
		for _, tie := range c.Ties {
			if tie.Named[side] >= 0 && tie.Piece >= 0 {
				m.Ties[tie.Named[side]].On = fr.Name(tie.Piece)
			}
		}
	}
	return m
}

func TestFactsOfARunAreThoseOfItsPiecesWrittenOut(t *testing.T) {
	for _, name := range demos {
		t.Run(name, func(t *testing.T) {
			a := fill(t, demo(t, name), demoStates...)
			b := fill(t, apart(t, a.Source.Down.Frame), demoStates...)
			agree(t, named(a), named(b), append(ofSequence, "support.names", "member.names_nothing"))
		})
	}
}

// homogeneous are the facts that grow as the loads do.
var homogeneous = map[string]bool{
	"support.reaction": true, "support.reaction_service": true, "support.uplift": true, "support.push": true, "support.new_load": true,
	"member.moment": true, "member.shear": true, "member.tension": true, "member.compression": true, "member.deflection": true,
	"member.deflection_ratio": true, "member.total_load": true, "member.line_load": true, "member.thrust": true, "member.head_push": true, "member.head_push_ratio": true,
	"member.tie_force":   true,
	"member.foot_thrust": true, "member.corner_tie_ratio": true, "member.roller_movement": true, "member.kink_moment": true, "member.kink_axial": true,
	"member.kink_shear": true, "member.load_increase": true, "ground.load": true, "ground.load_before": true, "ground.heaviest": true,
	"support.capacity_ratio": true, "support.uplift_ratio": true, "support.uplift_below_ratio": true, "member.tie_ratio": true, "support.bearing_stress": true, "support.weight_below": true,
	"member.piece_mass": true, "frame.unresolved": true, "area.dead": true, "area.imposed": true, "area.imposed_counted": true, "area.roof_imposed": true, "area.snow": true, "area.wind_up": true,
}

func TestFactsOfLoadGrowAsTheLoadsDo(t *testing.T) {
	const k = 2.5
	for _, name := range demos {
		t.Run(name, func(t *testing.T) {
			doc := demo(t, name)
			grow(doc, k)
			want := named(fill(t, demo(t, name), demoStates...))
			for key, v := range want {
				subject, _, _ := strings.Cut(key, " ")
				if n, number := v.(float64); number && homogeneous[subject+key[strings.LastIndex(key, "."):]] {
					want[key] = k * n
				}
			}
			agree(t, want, named(weighing(t, doc, k, demoStates...)), []string{"frame.heaviest_on_each"})
		})
	}
}

// grow makes every load of a document k times as large; what members weigh follows the density.
func grow(doc *model.Document, k float64) {
	for i := range doc.Areas {
		for j := range doc.Areas[i].Loads {
			doc.Areas[i].Loads[j].Value *= k
		}
	}
	heavy := map[*model.Section]*model.Section{}
	for i := range doc.Members {
		m := &doc.Members[i]
		for j := range m.Loads {
			l := &m.Loads[j]
			l.Point, l.First, l.Last = k*l.Point, k*l.First, k*l.Last
		}
		if m.Detail != nil {
			m.Detail.Weight.Value *= k
		}
		if m.Section != nil && m.Section.Mass > 0 {
			if heavy[m.Section] == nil {
				s := *m.Section
				s.Mass *= k
				heavy[m.Section] = &s
			}
			m.Section = heavy[m.Section]
		}
	}
}
