// Package sample holds frames that the tests of drawings and pages share. Its loads are round figures that balance, and
// no calculation.
package sample

import (
	"fmt"

	"example.com/scantling/engine/report/draw"
	"example.com/scantling/model"
)

// Frame is a gabled roof of 7.2 m by 4.8 m: rafters on plates and a ridge beam, which a post props on a floor beam.
func Frame() draw.Frame {
	b := builder{draw.Frame{Cases: []string{"dead", "snow"}}}
	b.wall("W1", p(0, 0, 2300), p(7200, 0, 2300))
	b.wall("W2", p(0, 4800, 2300), p(7200, 4800, 2300))
	b.wall("W3", p(0, 0, 2300), p(0, 4800, 2300))
	b.wall("W4", p(7200, 0, 2300), p(7200, 4800, 2300))
	b.member("WP1", "wall plate", "97x47", "C16", draw.Clear, "S-101", p(0, 0, 2400), p(7200, 0, 2400))
	b.member("WP2", "wall plate", "97x47", "C16", draw.Clear, "S-101", p(0, 4800, 2400), p(7200, 4800, 2400))
	b.member("RB1", "ridge beam", "2/47x220", "C24", draw.Stop, "S-101", p(0, 2400, 3850), p(3600, 2400, 3850), p(7200, 2400, 3850))
	b.run("R1", "rafter", "47x147", draw.Ask, "S-101", 17, 450, p(0, 0, 2450), p(0, 2400, 3850))
	b.run("R2", "rafter", "47x147", draw.Clear, "S-101", 17, 450, p(0, 4800, 2450), p(0, 2400, 3850))
	b.member("PO1", "post", "100x100", "C24", draw.Noted, "S-102", p(3600, 2400, 2600), p(3600, 2400, 3750))
	b.member("B1", "beam", "152x152x23 UC", "S355", draw.Unchecked, "S-102", p(3600, 0, 2500), p(3600, 4800, 2500))
	b.run("J1", "ceiling joist", "47x147", draw.Accepted, "S-102", 8, 450, p(225, 0, 2500), p(225, 4800, 2500))
	b.run("J2", "ceiling joist", "47x147", draw.Unjudged, "S-102", 7, 450, p(4050, 0, 2500), p(4050, 4800, 2500))
	for i := 1; i <= 17; i++ {
		x := float64(i-1) * 450
		b.hop(fmt.Sprintf("R1#%d", i), "WP1", p(x, 0, 2450), 900, 400)
		b.hop(fmt.Sprintf("R1#%d", i), "RB1", p(x, 2400, 3850), 900, 400)
		b.hop(fmt.Sprintf("R2#%d", i), "WP2", p(x, 4800, 2450), 900, 400)
		b.hop(fmt.Sprintf("R2#%d", i), "RB1", p(x, 2400, 3850), 900, 400)
	}
	for _, mark := range []string{"J1", "J2"} {
		count := map[string]int{"J1": 8, "J2": 7}[mark]
		for i := 1; i <= count; i++ {
			x := map[string]float64{"J1": 225, "J2": 4050}[mark] + float64(i-1)*450
			b.hop(fmt.Sprintf("%s#%d", mark, i), "W1", p(x, 0, 2300), 300, 0)
			b.hop(fmt.Sprintf("%s#%d", mark, i), "W2", p(x, 4800, 2300), 300, 0)
		}
	}
	b.hop("WP1", "W1", p(3600, 0, 2400), 15400, 6800)
	b.hop("WP2", "W2", p(3600, 4800, 2400), 15400, 6800)
	b.hop("RB1", "W3", p(0, 2400, 3850), 6000, 2550)
	b.hop("RB1", "PO1", p(3600, 2400, 3750), 19300, 8500)
	b.hop("RB1", "W4", p(7200, 2400, 3850), 6000, 2550)
	b.hop("PO1", "B1", p(3600, 2400, 2600), 19400, 8500)
	b.hop("B1", "W1", p(3600, 0, 2400), 10200, 4250)
	b.hop("B1", "W2", p(3600, 4800, 2400), 10200, 4250)
	return b.frame
}

// Big is a floor of many joists, each a member of its own, on walls: at least the number of pieces asked for.
func Big(pieces int) draw.Frame {
	b := builder{draw.Frame{Cases: []string{"dead", "imposed"}}}
	const row = 250
	rows := (pieces + row - 1) / row
	for r := 0; r <= rows; r++ {
		y := float64(r) * 4000
		b.wall(fmt.Sprintf("W%d", r+1), p(0, y, 2300), p(row*400, y, 2300))
	}
	states := []draw.State{draw.Clear, draw.Clear, draw.Clear, draw.Clear, draw.Noted, draw.Clear, draw.Unchecked, draw.Clear, draw.Ask, draw.Clear, draw.Stop}
	for i := range rows * row {
		r, x := i/row, float64(i%row)*400+200
		y := float64(r) * 4000
		mark := fmt.Sprintf("J%d", i+1)
		b.member(mark, "floor joist", "47x195", "C24", states[(i*7+i/13)%len(states)], fmt.Sprintf("S-%d", 101+r%8), p(x, y, 2400), p(x, y+4000, 2400))
		b.hop(mark, fmt.Sprintf("W%d", r+1), p(x, y, 2400), 1000, 1500)
		b.hop(mark, fmt.Sprintf("W%d", r+2), p(x, y+4000, 2400), 1000, 1500)
	}
	return b.frame
}

func p(x, y, z float64) model.Point { return model.Point{X: x, Y: y, Z: z} }

type builder struct{ frame draw.Frame }

func (b *builder) wall(mark string, axis ...model.Point) {
	b.frame.Members = append(b.frame.Members, draw.Member{Mark: mark, Role: "wall", State: draw.Clear, Ground: true, Width: 140,
		Pieces: []draw.Piece{{Name: mark, Axis: axis}}})
}

func (b *builder) member(mark, role, section, grade string, state draw.State, drawing string, axis ...model.Point) {
	b.frame.Members = append(b.frame.Members, draw.Member{Mark: mark, Role: role, Section: section, Grade: grade, State: state,
		Drawings: []string{drawing}, Pieces: []draw.Piece{{Name: mark, Axis: axis}}})
}

func (b *builder) run(mark, role, section string, state draw.State, drawing string, count int, step float64, from, to model.Point) {
	m := draw.Member{Mark: mark, Role: role, Section: section, Grade: "C24", State: state, Drawings: []string{drawing}}
	for i := range count {
		dx := float64(i) * step
		m.Pieces = append(m.Pieces, draw.Piece{Name: fmt.Sprintf("%s#%d", mark, i+1),
			Axis: []model.Point{p(from.X+dx, from.Y, from.Z), p(to.X+dx, to.Y, to.Z)}})
	}
	b.frame.Members = append(b.frame.Members, m)
}

func (b *builder) hop(from, to string, at model.Point, load ...float64) {
	b.frame.Hops = append(b.frame.Hops, draw.Hop{From: from, To: to, At: at, Load: load})
}
