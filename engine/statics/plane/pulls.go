package plane

// Pulls appends to dst the pulls of the ties on one rafter, as point loads in its own coordinates, in the order of the
// ties.
func (c *Couple) Pulls(dst []Load, rafter int, f CoupleForces) []Load {
	return c.acting(dst, rafter, nil, f)
}
