package draw

// Path is where the load of some pieces goes, and what rests on them, as hops of the frame by index. A hop is in one of
// the two at most once, in the order of the way.
type Path struct {
	Down []int // to ground
	Up   []int // all that rests on the pieces
}

// PathOf follows the load of the pieces of a mark.
func PathOf(f Frame, mark string) Path {
	from, to := map[string][]int{}, map[string][]int{}
	for i, hop := range f.Hops {
		from[hop.From] = append(from[hop.From], i)
		to[hop.To] = append(to[hop.To], i)
	}
	var start []string
	for _, m := range f.Members {
		if m.Mark == mark {
			for _, p := range m.Pieces {
				start = append(start, p.Name)
			}
		}
	}
	return Path{
		Down: follow(start, from, func(hop int) string { return f.Hops[hop].To }),
		Up:   follow(start, to, func(hop int) string { return f.Hops[hop].From }),
	}
}

// follow walks hops breadth first; a circle is walked once.
func follow(start []string, hops map[string][]int, next func(int) string) []int {
	var out []int
	seen := map[string]bool{}
	for _, piece := range start {
		seen[piece] = true
	}
	for queue := start; len(queue) > 0; queue = queue[1:] {
		for _, hop := range hops[queue[0]] {
			out = append(out, hop)
			if piece := next(hop); !seen[piece] {
				seen[piece] = true
				queue = append(queue, piece)
			}
		}
	}
	return out
}

// Flow is the load from one member to another, all pieces together.
type Flow struct {
	From, To string // marks
	Hops     []int  // by index
	Load     []float64
}

// Flows puts hops together by the two members, in the order of the first of each.
func Flows(f Frame, hops []int) []Flow {
	marks := marksOf(f)
	at := map[[2]string]int{}
	var out []Flow
	for _, i := range hops {
		hop := f.Hops[i]
		key := [2]string{marks[hop.From], marks[hop.To]}
		n, ok := at[key]
		if !ok {
			n = len(out)
			at[key] = n
			out = append(out, Flow{From: key[0], To: key[1], Load: make([]float64, len(f.Cases))})
		}
		out[n].Hops = append(out[n].Hops, i)
		for c, load := range hop.Load {
			out[n].Load[c] += load
		}
	}
	return out
}

// marksOf gives the mark of each piece.
func marksOf(f Frame) map[string]string {
	marks := map[string]string{}
	for _, m := range f.Members {
		for _, p := range m.Pieces {
			marks[p.Name] = m.Mark
		}
	}
	return marks
}
