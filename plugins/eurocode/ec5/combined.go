package ec5

import (
	"example.com/scantling/plugins/eurocode/working"
)

// Combined is bending with a force along the piece, both of one combination at one place; the duration is the bending's.
type Combined struct {
	Bending Bending
	Axial   Axial
}

// Combined is demand over capacity under both: 6.17 and 6.18 in tension; 6.19 and 6.20, or 6.23 and 6.24 where it could
// buckle, in compression; 6.33 and 6.35 where it could also turn over. Without a force along it this is bending alone.
func (p *Piece) Combined(in *Combined, sheet *working.Sheet) working.Outcome {
	basic, absent := p.basic(in.Bending.Duration, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	f, absent := p.flexure(&in.Bending, basic, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	pulled, absent := p.tension(&in.Axial, basic, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	c, absent := p.compression(&in.Axial, basic, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	alone := f.ratio()
	sheet.Step("ratio 6.11, 6.12, 6.33", alone, "", "EN 1995-1-1 6.1.6, 6.3.3")
	ratio := alone
	switch {
	case in.Axial.N > 0:
		together := pulled + max(f.y+Km*f.z, Km*f.y+f.z)
		sheet.Step("ratio 6.17, 6.18", together, "", "EN 1995-1-1 6.2.3")
		ratio = max(ratio, together)
	case in.Axial.N != 0: // what is no number comes out as none
		ratio = max(ratio, c.withBending(&f, sheet), in.Axial.netRatio(&c, p))
	}
	sheet.Step("ratio", ratio, "", "EN 1995-1-1 6.2.3, 6.2.4, 6.3.2, 6.3.3")
	return working.Found(ratio)
}

// withBending is the worst of the expressions for compression and bending together.
func (c *squeezed) withBending(f *flexure, sheet *working.Sheet) float64 {
	pressed := c.stress / c.strength
	var worst float64
	if c.stocky {
		worst = pressed*pressed + max(f.y+Km*f.z, Km*f.y+f.z)
		sheet.Step("ratio 6.19, 6.20", worst, "", "EN 1995-1-1 6.2.4")
	} else {
		aboutY := pressed/c.kcy + f.y + Km*f.z
		aboutZ := pressed/c.kcz + Km*f.y + f.z
		sheet.Step("ratio 6.23", aboutY, "", "EN 1995-1-1 6.3.2(3)")
		sheet.Step("ratio 6.24", aboutZ, "", "EN 1995-1-1 6.3.2(3)")
		worst = max(aboutY, aboutZ)
	}
	if f.y > 0 && f.kcrit < 1 {
		turning := (f.y/f.kcrit)*(f.y/f.kcrit) + pressed/c.kcz
		sheet.Step("ratio 6.35", turning, "", "EN 1995-1-1 6.3.3(6)")
		worst = max(worst, turning)
	}
	return worst
}
