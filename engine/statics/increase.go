package statics

import "example.com/scantling/model"

// Increase is what acted down on a piece that stood before the work, and what acts on it after, N, in the order of the cases.
type Increase struct {
	Piece         string
	Before, After []float64
}

// Ratio is how much more acts in a case, over what acted before; not known where nothing did.
func (i *Increase) Ratio(kase int) (ratio float64, known bool) {
	if i.Before[kase] < least {
		return 0, false
	}
	return i.After[kase]/i.Before[kase] - 1, true
}

// least is how much more load counts as more, N; less is rounding.
const least = 0.1

// Increases lists the existing pieces, ground members among them, on which any case acts with more after the work than
// before. before is the take-down of what stood before it, with the same cases; nil where nothing did.
func (t *TakeDown) Increases(before *TakeDown) []Increase {
	if before == nil {
		return nil
	}
	var out []Increase
	for i := range t.Frame.Document.Members {
		if t.Frame.Document.Members[i].Phase != model.Existing {
			continue
		}
		from, to := t.Frame.PiecesOf(int32(i))
		then, _ := before.Frame.PiecesOf(int32(i))
		for piece := from; piece < to; piece++ {
			row, more := Increase{Piece: t.Frame.Name(piece), Before: make([]float64, t.cases), After: make([]float64, t.cases)}, false
			for c := range t.cases {
				row.Before[c], row.After[c] = before.LoadOn(then+piece-from, c), t.LoadOn(piece, c)
				more = more || row.After[c]-row.Before[c] > least
			}
			if more {
				out = append(out, row)
			}
		}
	}
	return out
}
