package ec3

import (
	"math"

	"example.com/scantling/plugins/eurocode/working"
)

// Moments are the equivalent uniform moment factors of EN 1993-1-1 Table B.3; 0 is 1, a constant moment, the worst.
type Moments struct {
	Cmy, Cmz, CmLT float64
}

// Combined is demand over capacity under moments and a force along the piece: the cross-section with its parts added in line
// (6.2.1(7)), and the member by 6.61 and 6.62 with the factors of Annex B in compression, or by 6.54 alone in tension.
func (p *Piece) Combined(in *Forces, held *Held, moments Moments, sheet *working.Sheet) working.Outcome {
	c, absent := p.crossSection(in, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	section := math.Abs(in.N)/c.n + math.Abs(in.My)/c.my + math.Abs(in.Mz)/c.mz
	sheet.Step("ratio 6.2", section, "", "EN 1993-1-1 6.2.1(7)")
	member := 0.0
	l := turning{capacity: c.my}
	if in.My != 0 {
		if l, absent = p.turning(&c, held, sheet); absent != "" {
			return working.Missing(absent)
		}
		member = math.Abs(in.My) / l.capacity
		sheet.Step("ratio 6.54", member, "", "EN 1993-1-1 6.3.2.1(1)")
	}
	if in.N < 0 {
		b, absent := p.flexural(c.fy, held, sheet)
		if absent != "" {
			return working.Missing(absent)
		}
		k, absent := p.interaction(in, &c, &b, l.prone, moments)
		if absent != "" {
			return working.Missing(absent)
		}
		aboutY := -in.N/b.ny + k.yy*math.Abs(in.My)/l.capacity + k.yz*math.Abs(in.Mz)/c.mz
		aboutZ := -in.N/b.nz + k.zy*math.Abs(in.My)/l.capacity + k.zz*math.Abs(in.Mz)/c.mz
		sheet.Step("k_yy", k.yy, "", "EN 1993-1-1 Table B.1, B.2")
		sheet.Step("k_yz", k.yz, "", "EN 1993-1-1 Table B.1, B.2")
		sheet.Step("k_zy", k.zy, "", "EN 1993-1-1 Table B.1, B.2")
		sheet.Step("k_zz", k.zz, "", "EN 1993-1-1 Table B.1, B.2")
		sheet.Step("ratio 6.61", aboutY, "", "EN 1993-1-1 6.3.3(4)")
		sheet.Step("ratio 6.62", aboutZ, "", "EN 1993-1-1 6.3.3(4)")
		member = max(member, aboutY, aboutZ)
	}
	ratio := max(section, member)
	sheet.Step("ratio", ratio, "", "EN 1993-1-1 6.2.1(7), 6.54, 6.61, 6.62")
	return working.Found(ratio)
}

// interaction are the factors of EN 1993-1-1 Annex B.
type interaction struct {
	yy, yz, zy, zz float64
}

func (p *Piece) interaction(in *Forces, c *crossSection, b *buckling, prone bool, m Moments) (k interaction, absent working.Absence) {
	const least = 0.4 // Table B.3: no factor is below it
	for _, factor := range []*float64{&m.Cmy, &m.Cmz, &m.CmLT} {
		if *factor == 0 {
			*factor = 1
		}
		if !(*factor >= least && *factor <= 1) {
			return k, "a factor for the shape of the moment lies outside 0.4 to 1 (EN 1993-1-1 Table B.3)"
		}
	}
	ny, nz := -in.N/b.ny, -in.N/b.nz
	y, z := b.slenderY, b.slenderZ
	if c.class <= 2 {
		k.yy = m.Cmy * (1 + math.Min(y-0.2, 0.8)*ny)
		if p.Section.hollow() {
			k.zz = m.Cmz * (1 + math.Min(z-0.2, 0.8)*nz)
		} else {
			k.zz = m.Cmz * (1 + math.Min(2*z-0.6, 1.4)*nz)
		}
		k.yz, k.zy = 0.6*k.zz, 0.6*k.yy
		if prone {
			k.zy = 1 - 0.1*math.Min(z, 1)/(m.CmLT-0.25)*nz
			if z < 0.4 {
				k.zy = math.Min(0.6+z, k.zy)
			}
		}
		return k, ""
	}
	k.yy = m.Cmy * (1 + 0.6*math.Min(y, 1)*ny)
	k.zz = m.Cmz * (1 + 0.6*math.Min(z, 1)*nz)
	k.yz, k.zy = k.zz, 0.8*k.yy
	if prone {
		k.zy = 1 - 0.05*math.Min(z, 1)/(m.CmLT-0.25)*nz
	}
	return k, ""
}
