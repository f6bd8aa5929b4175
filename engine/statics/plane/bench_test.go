package plane

import "testing"

func BenchmarkReactions(b *testing.B) {
	rows := []struct {
		name     string
		supports []Support
	}{
		{"determinate", ends(0, 9000)},
		{"three spans", ends(0, 3000, 6000, 9000)},
	}
	loads := []Load{{From: 0, To: 9000, Z0: -1, Z1: -1}, {From: 1000, To: 4000, Z0: -1, Z1: -2}, Force(1500, 0, -900)}
	axis := []Point{{}, {9000, 0}}
	for _, r := range rows {
		var m Member
		var out []Reaction
		run := func() {
			var err error
			if out, err = m.Reactions(out[:0], loads); err != nil {
				b.Fatal(err)
			}
		}
		set := func() {
			if err := m.Set(axis, r.supports, Stiffness{EA: 1e8, EI: 3e11}); err != nil {
				b.Fatal(err)
			}
		}
		b.Run(r.name+"/set and one case", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				set()
				run()
			}
		})
		b.Run(r.name+"/one more case", func(b *testing.B) {
			set()
			b.ReportAllocs()
			for b.Loop() {
				run()
			}
		})
	}
}

func BenchmarkDiagram(b *testing.B) {
	m, err := NewMember([]Point{{}, {9000, 0}}, ends(0, 3000, 6000, 9000), Stiffness{EA: 1e8, EI: 3e11})
	if err != nil {
		b.Fatal(err)
	}
	loads := []Load{{From: 0, To: 9000, Z0: -1, Z1: -1}, {From: 1000, To: 4000, Z0: -1, Z1: -2}, Force(1500, 0, -900)}
	var d Diagram
	r, err := m.Solve(&d, nil, loads)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("draw", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if err := m.Diagram(&d, loads, r); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("draw and deflect", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if err := m.Diagram(&d, loads, r); err != nil {
				b.Fatal(err)
			}
			if err := m.Deflect(&d); err != nil {
				b.Fatal(err)
			}
		}
	})
	for _, q := range [...]struct {
		name string
		q    Quantity
	}{{"moment", Moment}, {"deflection", Deflection}} {
		b.Run("extremes of "+q.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				d.Range(q.q)
			}
		})
	}
	e := Envelope{Permanent: []Part{{&d, 1.35}}}
	for _, s := range m.Spans() {
		a := new(Diagram)
		if _, err := m.Solve(a, nil, []Load{{From: s.From, To: s.To, Z0: -1, Z1: -1}}); err != nil {
			b.Fatal(err)
		}
		e.Variable = append(e.Variable, Part{a, 1.5})
	}
	b.Run("envelope of moment, three arrangements", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, _, err := e.Range(Moment, 0, 9000); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkMovingLoad(b *testing.B) {
	m, err := NewMember([]Point{{}, {4000, 0}}, ends(0, 4000), Stiffness{})
	if err != nil {
		b.Fatal(err)
	}
	var in Influence
	e := Envelope{Moving: []Moving{{&in, 0, 1500}}}
	b.ReportAllocs()
	for b.Loop() {
		if err := m.Influence(&in, m.Answer); err != nil {
			b.Fatal(err)
		}
		if _, _, err := e.Range(Moment, 0, 4000); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCouple(b *testing.B) {
	loads := [2][]Load{down(3000, 1), down(3000, 1)}
	for _, r := range []struct {
		name string
		ties []Tie
	}{
		{"one tie", []Tie{{EA: 5e7}}},
		{"tie and collar", []Tie{{EA: 5e7}, {At: [2]float64{1600, 1600}, EA: 5e7}}},
	} {
		b.Run(r.name, func(b *testing.B) {
			var c Couple
			if err := c.Set([2]Rafter{rafter(2500, 2000, 0), rafter(2500, 2000, 0)}, r.ties, CoupleOptions{}); err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := c.Forces(loads); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
