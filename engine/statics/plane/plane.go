// Package plane solves one member, or a couple of rafters, in its own
// vertical plane: reactions, internal forces, deflections and their exact
// extremes, linear elastic with small displacements (Euler-Bernoulli bending
// with axial stiffness). It is numbers only and must not know load cases,
// materials, sections, codes of practice or the framing model.
//
// # Coordinates and signs
//
// A point is (u, z): u is the distance along the member's plan direction, z is
// up, both in mm. Draw a member so that u grows along it; a post is drawn
// upwards. Places s are measured along the axis from its first point, in mm.
//
//   - Loads and reactions are what acts on the member: U along +u, Z up (gravity
//     is negative), in N. A moment is positive clockwise, seen with u to the
//     right and z up: it makes the sagging moment jump up as s passes it, N mm.
//   - N is positive in tension. M is positive sagging: tension on the underside,
//     which is the right-hand side of someone who walks along the axis. V is the
//     sum of what acts before s, square to the axis and upwards, so dM/ds = V.
//   - Deflection is square to the axis of a straight member and vertical for a
//     cranked one, down positive. Of an upright straight member it is towards +u.
//
// Input that is not finite is an error, and so is a result that is not.
package plane

// Point is a place in the member's vertical plane, in mm.
type Point struct {
	U float64 // along the plan direction
	Z float64 // up
}

// Support holds the member at one place. It always holds the vertical.
type Support struct {
	At         float64 // mm along the axis
	Horizontal bool    // it holds the plan direction too
	Fixed      bool    // it holds the rotation too
}

// Load acts on the member. With From < To it is a trapezoid spread over the
// axis between the two, in N per mm of axis: U0, Z0 at From and U1, Z1 at To,
// and Moment must be zero. With From == To it is the force U0, Z0 in N and the
// moment Moment in N mm at that point, and U1, Z1 must be zero.
type Load struct {
	From, To float64 // mm along the axis
	U0, U1   float64 // along +u
	Z0, Z1   float64 // up: gravity is negative
	Moment   float64 // N mm, positive makes the sagging moment jump up
}

// Force is a point load of u, z N at a place along the axis in mm.
func Force(at, u, z float64) Load { return Load{From: at, To: at, U0: u, Z0: z} }

// Stiffness of the member's section. Zero is unknown.
type Stiffness struct {
	EA float64 // N
	EI float64 // N mm2
}

// Reaction is the push of a support on the member.
type Reaction struct {
	U, Z   float64 // N
	Moment float64 // N mm
}

// samePlace is how far apart, as a part of the length, two places may be and
// still mean one: places are written with a few decimals.
const samePlace = 1e-6

// negligible is the part of the acting loads below which an out-of-balance, or
// an ordinate that ought to be zero, is taken for rounding.
const negligible = 1e-10
