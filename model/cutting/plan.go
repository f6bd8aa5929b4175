package cutting

import (
	"cmp"
	"math"
	"slices"

	"example.com/scantling/model"
)

// Order is what to order of one section and grade.
type Order struct {
	Section, Grade string
	Pieces         int
	Net            float64        // length between end cuts in all, mm
	Mass           model.Quantity // in all, kg; not known where it is not known of a part
	Bars           []Bar          // what each length of stock is cut into, longest first
	Ordered        float64        // length of stock in all, mm
	Bound          float64        // length of stock that no plan can do with less than, mm
	Long           []Long
}

// Bar is one length of stock and what it is cut into.
type Bar struct {
	Length float64 // mm
	Pieces []Piece
	Offcut float64 // mm
}

// Piece is one blank.
type Piece struct {
	Mark   string
	Length float64 // mm
}

// Long is what is not cut from stock, and what to do about it.
type Long struct {
	Mark   string
	Length float64 // mm
	Count  int
	Do     string
}

// Stock is the lengths that timber is usually sold in, mm: 1.8 to 5.4 m by 0.3 m, 6.0 and 7.2 m (guidance note of the
// Institution of Structural Engineers; 6.0 m is common practice), or 8 to 20 ft by 2 ft (common practice).
func Stock(u model.Units) []float64 {
	var out []float64
	if u == model.US {
		for ft := 8; ft <= 20; ft += 2 {
			out = append(out, float64(ft)*304.8)
		}
		return out
	}
	for l := 1800.0; l <= 5400; l += 300 {
		out = append(out, l)
	}
	return append(out, 6000, 7200)
}

func (o *Order) add(p *Part) {
	o.Net += p.Length * float64(p.Count)
	if o.Pieces == 0 || o.Mass.Known {
		o.Mass = model.Quantity{Value: o.Mass.Value + p.Total.Value, Known: p.Total.Known}
		if !o.Mass.Known {
			o.Mass.Value = 0
		}
	}
	o.Pieces += p.Count
}

// plan puts what is too long for the stock aside, and cuts the rest from it.
func (o *Order) plan(pieces []Piece, stock []float64, kerf float64) {
	longest := slices.Max(stock)
	var fits []Piece
	for _, p := range pieces {
		switch n := len(o.Long); {
		case p.Length <= longest:
			fits = append(fits, p)
		case n > 0 && o.Long[n-1].Mark == p.Mark:
			o.Long[n-1].Count++
		default:
			o.Long = append(o.Long, Long{p.Mark, p.Length, 1, "longer than any stock: order it to length, or have the engineer place a splice"})
		}
	}
	o.Bars, o.Bound = Plan(fits, stock, kerf), Bound(fits, stock)
	for _, b := range o.Bars {
		o.Ordered += b.Length
	}
}

// Plan cuts pieces from stock lengths, which may be had in any number, with a saw cut between two pieces (mm
// throughout). It is the best of first-fit, in the order given and longest first, into each length of stock that holds
// the longest piece, each bar then being the shortest stock that holds what is in it. No piece may be longer than the
// longest stock.
func Plan(pieces []Piece, stock []float64, kerf float64) []Bar {
	if len(pieces) == 0 {
		return nil
	}
	stock = slices.Clone(stock)
	slices.Sort(stock)
	longest := slices.MaxFunc(pieces, func(a, b Piece) int { return cmp.Compare(a.Length, b.Length) }).Length
	falling := slices.Clone(pieces)
	slices.SortStableFunc(falling, func(a, b Piece) int { return cmp.Compare(b.Length, a.Length) })
	var best []Bar
	least := math.Inf(1)
	for _, capacity := range stock {
		if capacity < longest {
			continue
		}
		for _, order := range [][]Piece{pieces, falling} {
			bars := firstFit(order, capacity, kerf)
			total := trim(bars, stock, kerf)
			if total < least-1e-6 || total < least+1e-6 && len(bars) < len(best) {
				best, least = bars, total
			}
		}
	}
	slices.SortStableFunc(best, func(a, b Bar) int { return cmp.Compare(b.Length, a.Length) })
	return best
}

// firstFit puts each piece into the first bar that has room for it. Equal pieces in a row begin to look where the last
// one found room, so that long runs cost little.
func firstFit(pieces []Piece, capacity, kerf float64) []Bar {
	var bars []Bar
	var used []float64 // with the cuts between the pieces
	from := 0
	for i, p := range pieces {
		if i == 0 || p.Length != pieces[i-1].Length {
			from = 0
		}
		for from < len(bars) && used[from]+kerf+p.Length > capacity+1e-6 {
			from++
		}
		if from == len(bars) {
			bars, used = append(bars, Bar{Length: capacity}), append(used, -kerf)
		}
		bars[from].Pieces = append(bars[from].Pieces, p)
		used[from] += kerf + p.Length
	}
	return bars
}

// trim makes each bar the shortest stock that holds it, and gives the length in all. The off-cut is what is left after
// the last cut.
func trim(bars []Bar, stock []float64, kerf float64) float64 {
	total := 0.0
	for i := range bars {
		b := &bars[i]
		need := -kerf
		for _, p := range b.Pieces {
			need += kerf + p.Length
		}
		for _, l := range stock {
			if l >= need-1e-6 {
				b.Length = l
				break
			}
		}
		b.Offcut = max(0, b.Length-need-kerf)
		total += b.Length
	}
	return total
}

// Bound is a length of stock that no plan can do with less than, mm: that of the pieces themselves, or of the shortest
// stock for each piece that no other of the same kind can share a bar with.
func Bound(pieces []Piece, stock []float64) float64 {
	sum, alone := 0.0, 0.0
	half := slices.Max(stock) / 2
	for _, p := range pieces {
		sum += p.Length
		if p.Length > half {
			least := math.Inf(1)
			for _, l := range stock {
				if l >= p.Length {
					least = min(least, l)
				}
			}
			alone += least
		}
	}
	return max(sum, alone)
}
