package wire_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/proto"

	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/wire"
	"example.com/scantling/rules/vocabulary"
)

// filler gives every field of a value something of its own, so that a field which is not carried over is seen.
type filler struct{ n int }

func (f *filler) fill(v reflect.Value) {
	f.n++
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				f.fill(v.Field(i))
			}
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range 2 {
			f.fill(v.Index(i))
		}
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		f.fill(v.Elem())
	case reflect.String:
		v.SetString(fmt.Sprintf("text %d", f.n))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Float64:
		v.SetFloat(float64(f.n) + 0.25)
	case reflect.Uint8:
		v.SetUint(uint64(1 + f.n%2)) // types, subjects and shapes, of which there are few
	default:
		v.SetInt(int64(f.n % 100))
	}
}

func filled[T any]() *T {
	v := new(T)
	(&filler{}).fill(reflect.ValueOf(v).Elem())
	return v
}

// crossed is a message after it has been bytes.
func crossed[M proto.Message](t *testing.T, m, into M) M {
	data, err := proto.Marshal(m)
	require.NoError(t, err)
	require.NoError(t, proto.Unmarshal(data, into))
	return into
}

func TestEveryFieldCrosses(t *testing.T) {
	t.Run("of a description", func(t *testing.T) {
		want := filled[region.Description]()
		for i := range want.Facts {
			want.Facts[i].Origin = 3                 // FromRegion, whatever a region says
			want.Facts[i].Words = vocabulary.Words{} // of texts, which no region gives
			want.Facts[i].Noun = ""                  // a region's facts go by their names
		}
		got, err := wire.UnpackDescription(crossed(t, wire.PackDescription(want), &wire.Description{}))
		require.NoError(t, err)
		assert.Equal(t, want, got)
	})
	t.Run("of a site", func(t *testing.T) {
		want := filled[region.Site]()
		assert.Equal(t, want, wire.UnpackSite(crossed(t, wire.PackSite(want), &wire.Site{})))
	})
	t.Run("of a preparation", func(t *testing.T) {
		want := filled[region.Preparation]()
		assert.Equal(t, want, wire.UnpackPreparation(crossed(t, wire.PackPreparation(want), &wire.Preparation{})))
	})
	t.Run("of an answer", func(t *testing.T) {
		want := filled[region.Derived]()
		assert.Equal(t, want, wire.UnpackDerived(crossed(t, wire.PackDerived(want), &wire.Derived{})))
	})
	t.Run("of a request for a span", func(t *testing.T) {
		want := filled[region.SpanRequest]()
		assert.Equal(t, want, wire.UnpackSpanRequest(crossed(t, wire.PackSpanRequest(want), &wire.SpanRequest{})))
	})
	t.Run("of a span", func(t *testing.T) {
		want := filled[region.Span]()
		assert.Equal(t, want, wire.UnpackSpan(crossed(t, wire.PackSpan(want), &wire.SpanAnswer{})))
	})
	t.Run("of a batch", func(t *testing.T) {
		want := batch(func(f *filler, v reflect.Value) { f.fill(v) })
		got, err := wire.UnpackBatch(crossed(t, wire.PackBatch(want), &wire.Batch{}), want.Site, want.Preparation)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	})
	t.Run("of a batch that is all zero", func(t *testing.T) {
		want := batch(func(*filler, reflect.Value) {})
		m := wire.PackBatch(want)
		assert.Empty(t, m.GetStations().GetM(), "columns of zeros are left out")
		got, err := wire.UnpackBatch(crossed(t, m, &wire.Batch{}), want.Site, want.Preparation)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	})
}

// batch is a well-formed batch of two pieces, two rows each group, three cases and two combinations, whose plain
// columns are filled by fill.
func batch(fill func(*filler, reflect.Value)) *region.Batch {
	b := &region.Batch{Sequence: 7, Working: true, Cases: 3, Combinations: 2,
		Site:        &region.Site{Sections: make([]region.Section, 1000), Grades: make([]region.GradeName, 1000)},
		Preparation: &region.Preparation{Cases: make([]region.Case, 3), Combinations: make([]region.Combination, 2)}}
	f := &filler{}
	for _, group := range []any{&b.Pieces, &b.Contacts, &b.Stations, &b.Spans, &b.Notches, &b.Holes} {
		v := reflect.ValueOf(group).Elem()
		for i := range v.NumField() {
			field, tag := v.Field(i), v.Type().Field(i).Tag.Get("column")
			n := 2
			switch {
			case tag == "combination":
				n = 4
			case tag == "case":
				n = 6
			case strings.HasPrefix(tag, "start="):
				field.Set(reflect.ValueOf([]int32{0, 1, 2}))
				continue
			}
			field.Set(reflect.MakeSlice(field.Type(), n, n))
			if v.Type().Field(i).Name == "Alike" {
				continue // all differ
			}
			for j := range n {
				fill(f, field.Index(j))
			}
		}
	}
	b.Pieces.ID = []int32{5, -3}
	b.Pieces.Words = make([]string, 100)
	return b
}

func TestBytesIsNeverLessThanTheMessage(t *testing.T) {
	for name, b := range map[string]*region.Batch{"full": batch(func(f *filler, v reflect.Value) { f.fill(v) }), "zero": batch(func(*filler, reflect.Value) {})} {
		size := proto.Size(wire.PackBatch(b))
		assert.LessOrEqual(t, size, b.Bytes(), name)
	}
}

func TestBatchThatIsNotWellFormedIsRefused(t *testing.T) {
	want := batch(func(f *filler, v reflect.Value) { f.fill(v) })
	for _, row := range []struct {
		what  string
		spoil func(*wire.Batch)
		says  string
	}{
		{"a column too short", func(m *wire.Batch) { m.Pieces.Length = m.Pieces.Length[:1] }, "Pieces.Length has 1 entries instead of 2"},
		{"a group left out", func(m *wire.Batch) { m.Stations = nil }, "Pieces.StationStart runs from 0 to 2 instead of 0 to 0"},
		{"more rows than fit a message", func(m *wire.Batch) { m.Stations.At = make([]float64, 1<<20) }, "a batch has 1048576 rows for each of 2 combinations and 3 cases"},
		{"a word too far", func(m *wire.Batch) { m.Pieces.Words = nil }, "Pieces.Role[0] is"},
	} {
		t.Run(row.what, func(t *testing.T) {
			m := crossed(t, wire.PackBatch(want), &wire.Batch{})
			row.spoil(m)
			_, err := wire.UnpackBatch(m, want.Site, want.Preparation)
			assert.ErrorContains(t, err, row.says)
		})
	}
}

func TestDescriptionWithoutAPlaceInTheTypesIsRefused(t *testing.T) {
	for _, row := range []struct {
		what string
		fact *wire.Fact
		says string
	}{
		{"a subject that does not exist", &wire.Fact{Name: "oak.a", Subject: "roof", Type: "number"}, `is about "roof", which is no subject`},
		{"a type that does not exist", &wire.Fact{Name: "oak.a", Subject: "member", Type: "float"}, `is a "float", which is no type`},
		{"an exponent that does not fit", &wire.Fact{Name: "oak.a", Subject: "member", Type: "number", Dimension: &wire.Dimension{Mass: 300}}, "the exponent 300"},
	} {
		t.Run(row.what, func(t *testing.T) {
			_, err := wire.UnpackDescription(&wire.Description{Facts: []*wire.Fact{row.fact}})
			assert.ErrorContains(t, err, row.says)
		})
	}
}

// FuzzUnpackBatch reads bytes as a region would: whatever they are, the batch is refused or can be walked.
func FuzzUnpackBatch(f *testing.F) {
	sound := batch(func(f *filler, v reflect.Value) { f.fill(v) })
	data, err := proto.Marshal(wire.PackBatch(sound))
	require.NoError(f, err)
	f.Add(data)
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, data []byte) {
		m := &wire.Batch{}
		if proto.Unmarshal(data, m) != nil {
			return
		}
		b, err := wire.UnpackBatch(m, sound.Site, sound.Preparation)
		if err != nil {
			return
		}
		for i := range b.Pieces.ID {
			for r := b.Pieces.StationStart[i]; r < b.Pieces.StationStart[i+1]; r++ {
				_ = b.Stations.M[int(r)*2+1]
			}
			for r := b.Pieces.SpanStart[i]; r < b.Pieces.SpanStart[i+1]; r++ {
				_ = b.Spans.CaseMoment[int(r)*3+2]
			}
			if w := b.Pieces.Role[i]; w > 0 {
				_ = b.Pieces.Words[w]
			}
		}
	})
}
