package statics

// Listing is a take-down as people and other programs read it: every piece with its reactions and effects per load
// case. All slices over cases are in the order of Cases. N, mm, N mm; reactions up, sagging moments and tension
// positive, deflection down positive.
type Listing struct {
	Cases      []string
	Members    []ListedMember
	Ground     []Arrived
	Applied    []float64 // downwards
	Unresolved []float64 // stopped at members that could not be solved
	Imbalance  float64   // largest over cases and directions, relative to what was applied
	Notes      []string
}

// ListedMember is one mark.
type ListedMember struct {
	Mark, Role, Section, Grade string
	Pieces                     []ListedPiece
}

// ListedPiece is one piece.
type ListedPiece struct {
	Piece      string
	Length     float64
	Applied    []float64 // its own loads and weight, downwards
	Supports   []ListedSupport
	Moment     []Range
	Shear      []Range
	Axial      []Range
	Deflection []Range // nil where the stiffness is not known
	Roller     []float64
	Unsolved   string // why there are no reactions
	NoStiff    string // why there is no deflection
}

// ListedSupport is one support of a piece.
type ListedSupport struct {
	On         string // mark of what it rests on
	OnPiece    string
	At         float64
	Vertical   []float64 // up, on the member
	Horizontal []float64 // push of the support on the member along its plan direction
}

// Range is the largest and the smallest value along a piece, and where.
type Range struct{ Max, MaxAt, Min, MinAt float64 }

// Arrived is what reached one ground member, and from where.
type Arrived struct {
	Mark  string
	Total []float64
	From  []Landed
}

// Landed is one reaction on a ground member.
type Landed struct {
	Piece    string
	At       float64 // along the ground member's path; -1 unknown
	Vertical []float64
}
