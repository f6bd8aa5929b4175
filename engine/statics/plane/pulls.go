package plane

import "slices"

// Pulls appends to dst the pulls of the ties on one rafter, as point loads in its own coordinates, in the order of the
// ties.
func (c *Couple) Pulls(dst []Load, rafter int, f CoupleForces) []Load {
	return c.acting(dst, rafter, nil, f)
}

// Reach is the largest and the smallest of a force that a load of 1 N brings wherever it stands or stands not, N.
type Reach struct{ Largest, Smallest float64 }

// Reach appends to dst the tension of each tie under a load of 1 N, straight down, that may stand anywhere on one rafter, 0 or
// 1. Errors are those of Forces.
func (c *Couple) Reach(dst []Reach, rafter int) ([]Reach, error) {
	tensions := func(dst []Load, at float64) ([]Load, error) {
		var loads [2][]Load
		loads[rafter] = []Load{Force(at, 0, -1)}
		f, err := c.Forces(loads)
		if err != nil {
			return dst, err
		}
		for i, tension := range f.Ties {
			dst = append(dst, Force(c.ties[i].At[rafter], tension, 0))
		}
		return dst, nil
	}
	var in Influence
	if err := c.Rafters[rafter].Influence(&in, tensions); err != nil {
		return dst, err
	}
	for i := range c.ties {
		dst = append(dst, in.level(i))
	}
	return dst, nil
}

// Way is where the runs of a load's way along a rafter end, mm: its ends, kinks, foot and ties, in order.
func (c *Couple) Way(rafter int) []float64 {
	way := slices.Clone(c.Rafters[rafter].stations)
	for i := range c.ties {
		way = append(way, c.ties[i].At[rafter])
	}
	slices.Sort(way)
	return slices.Compact(way)
}
