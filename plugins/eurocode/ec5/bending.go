package ec5

import (
	"math"

	"example.com/scantling/plugins/eurocode/materials"
	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// Bending are the moments of one combination at one place.
type Bending struct {
	Duration national.Duration
	My, Mz   float64 // N mm, either sign; Mz about the weak axis
	Lateral  Lateral // of the edge that My puts in compression
}

// Bending is demand over capacity in bending: 6.11, 6.12 and, where the compression edge is not held, 6.33.
func (p *Piece) Bending(in *Bending, sheet *working.Sheet) working.Outcome {
	basic, absent := p.basic(in.Duration, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	f, absent := p.flexure(in, basic, sheet)
	if absent != "" {
		return working.Missing(absent)
	}
	ratio := f.ratio()
	sheet.Step("ratio", ratio, "", "EN 1995-1-1 6.11, 6.12, 6.33")
	return working.Found(ratio)
}

// flexure is a state of bending: the parts of the strength about each axis that are used, and k_crit.
type flexure struct {
	y, z  float64 // sigma_m,d / f_m,d
	kcrit float64
}

// ratio is the worst of 6.11, 6.12 and 6.33.
func (f *flexure) ratio() float64 {
	return max(f.y+Km*f.z, Km*f.y+f.z, f.y/f.kcrit)
}

// flexure works the stresses and strengths of bending. An axis about which nothing bends asks for no strength.
func (p *Piece) flexure(in *Bending, basic float64, sheet *working.Sheet) (f flexure, absent working.Absence) {
	f.kcrit = 1
	wy, wz := p.moduli()
	basic *= p.shared(sheet)
	if in.My != 0 {
		if p.Grade.FmK == 0 {
			return f, p.unstated("fm_k")
		}
		size, absent := Kh(p.Grade, p.Depth)
		if absent != "" {
			return f, absent
		}
		sheet.Step("k_h", size, "", "EN 1995-1-1 3.2(3), 3.3(3), 3.4(3)")
		strength := basic * size * p.Grade.FmK
		sheet.Step("f_m,k", p.Grade.FmK, "N/mm2", p.Grade.Source)
		sheet.Step("f_m,y,d", strength, "N/mm2", "EN 1995-1-1 2.14")
		if f.kcrit, absent = p.kcrit(&in.Lateral, sheet); absent != "" {
			return f, absent
		}
		stress := math.Abs(in.My) / wy
		f.y = stress / strength
		sheet.Step("W_y", wy, "mm3", "n b h^2 / 6, n plies")
		sheet.Step("sigma_m,y,d", stress, "N/mm2", "EN 1995-1-1 6.1.6")
	}
	if in.Mz != 0 {
		characteristic, size := p.Grade.FmK, 1.0
		if p.Grade.Kind == materials.LVL {
			characteristic = p.Grade.FmFlatK // no size factor flatwise
		} else if size, absent = Kh(p.Grade, p.Breadth); absent != "" {
			return f, absent
		}
		if characteristic == 0 {
			return f, p.unstated("bending strength flatwise (fm_flat_k of LVL, else fm_k)")
		}
		sheet.Step("M_z,d", in.Mz, "N mm", "EN 1990 6.4.3.2")
		sheet.Step("k_h,z", size, "", "EN 1995-1-1 3.2(3), 3.3(3)")
		strength := basic * size * characteristic
		stress := math.Abs(in.Mz) / wz
		f.z = stress / strength
		sheet.Step("f_m,z,k", characteristic, "N/mm2", p.Grade.Source)
		sheet.Step("f_m,z,d", strength, "N/mm2", "EN 1995-1-1 2.14")
		sheet.Step("W_z", wz, "mm3", "n h b^2 / 6, n plies")
		sheet.Step("sigma_m,z,d", stress, "N/mm2", "EN 1995-1-1 6.1.6")
	}
	return f, ""
}
