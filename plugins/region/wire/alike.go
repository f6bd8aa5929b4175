package wire

import "fmt"

// sieve leaves combinations that do the same to a piece out of the columns that have an entry for each, and puts them
// back. Most of what crosses is forces, and most combinations differ only in loads that a piece does not carry.
type sieve struct {
	combinations int
	own          []int32 // the combinations that cross, piece by piece
	start        []int32 // of each piece's among them; len = pieces + 1
	place        []int32 // by piece and combination: where among the piece's own its entry stands
}

// newSieve is the sieve of pieces by Alike, which has been checked.
func newSieve(alike []int32, pieces, combinations int) *sieve {
	s := &sieve{combinations: combinations, own: make([]int32, 0, len(alike)), start: make([]int32, 1, pieces+1), place: make([]int32, len(alike))}
	for i := range pieces {
		first := i * combinations
		for k, like := range alike[first : first+combinations] {
			if like > 0 {
				s.place[first+k] = s.place[first+int(like)-1]
				continue
			}
			s.place[first+k] = int32(len(s.own)) - s.start[i]
			s.own = append(s.own, int32(k))
		}
		s.start = append(s.start, int32(len(s.own)))
	}
	return s
}

// pieces is how many there are.
func (s *sieve) pieces() int { return len(s.start) - 1 }

// allDiffer says whether there is nothing to leave out.
func (s *sieve) allDiffer() bool { return len(s.own) == len(s.place) }

// entries is how many a column has that crosses, its rows starting there.
func (s *sieve) entries(starts []int32) int {
	n := 0
	for i := range s.pieces() {
		n += int(starts[i+1]-starts[i]) * int(s.start[i+1]-s.start[i])
	}
	return n
}

// sift is a column as it crosses: nil where all is zero.
func (s *sieve) sift(column []float64, starts []int32) []float64 {
	if s.allDiffer() || packed(column) == nil {
		return packed(column)
	}
	out := make([]float64, 0, s.entries(starts))
	for i := range s.pieces() {
		own := s.own[s.start[i]:s.start[i+1]]
		for r := int(starts[i]); r < int(starts[i+1]); r++ {
			row := column[r*s.combinations : (r+1)*s.combinations]
			for _, k := range own {
				out = append(out, row[k])
			}
		}
	}
	return out
}

// restore is the column that was sifted.
func (s *sieve) restore(sifted []float64, starts []int32) ([]float64, error) {
	if want := s.entries(starts); len(sifted) > 0 && len(sifted) != want {
		return nil, fmt.Errorf("%d entries instead of %d", len(sifted), want)
	}
	whole := int(starts[s.pieces()]) * s.combinations
	if len(sifted) == 0 || s.allDiffer() {
		return unpacked(sifted, whole), nil
	}
	out := make([]float64, whole)
	for i := range s.pieces() {
		own, place := int(s.start[i+1]-s.start[i]), s.place[i*s.combinations:(i+1)*s.combinations]
		for r := int(starts[i]); r < int(starts[i+1]); r++ {
			row := out[r*s.combinations : (r+1)*s.combinations]
			for k, j := range place {
				row[k] = sifted[j]
			}
			sifted = sifted[own:]
		}
	}
	return out, nil
}
