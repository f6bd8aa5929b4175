package statics

// Again takes down the loads of a frame that differs a little from one that is finished. same is the piece there that
// each piece here is surely the same as, in itself, in its loads and in what it rests on; -1 where it must be solved. What
// couples or ties such a piece must be -1 as well. Where something could not be solved, all of it is taken down anew.
func (t *TakeDown) Again(in *Input, same []int32) *TakeDown {
	if len(t.reasons) > 1 {
		return Run(in)
	}
	n := newTakeDown(in, in.ownLoads())
	n.Remarks = n.own.notes
	n.kept = make([]bool, len(same))
	n.frozen = make([]bool, len(same))
	here := make(map[int32]int32, len(same))
	for piece, there := range same {
		n.frozen[piece] = there >= 0
		n.kept[piece] = there >= 0 && !n.bedsOnOther(int32(piece), same)
		if there >= 0 {
			here[there] = int32(piece)
		}
	}
	for piece, there := range same {
		if there >= 0 {
			n.keep(t, int32(piece), there, here)
		}
	}
	n.run()
	return n
}

// bedsOnOther says whether a piece lies along something that must be solved: it passes its load on once more.
func (t *TakeDown) bedsOnOther(piece int32, same []int32) bool {
	supports, _ := t.Frame.SupportsOf(piece)
	bedded, other := false, false
	for k := range supports {
		if on := supports[k].On; on >= 0 {
			bedded = bedded || supports[k].Continuous
			other = other || same[on] < 0
		}
	}
	return bedded && other
}

// keep takes over what a finished take-down holds of a piece.
func (t *TakeDown) keep(from *TakeDown, piece, there int32, here map[int32]int32) {
	if passed := from.passed[there]; passed != nil {
		t.passed[piece] = passed
	}
	if !t.kept[piece] {
		return
	}
	supports, first := t.Frame.SupportsOf(piece)
	_, firstThere := from.Frame.SupportsOf(there)
	size := len(supports) * t.cases
	copy(t.reaction[int(first)*t.cases:int(first)*t.cases+size], from.reaction[int(firstThere)*t.cases:])
	for _, p := range from.pulls[there] {
		if p.tie >= 0 {
			p.tie = here[p.tie]
		}
		t.pulls[piece] = append(t.pulls[piece], p)
	}
	if tension := from.tension[there]; tension != nil {
		t.tension[piece] = tension
	}
	if push := from.headPush[there]; push != nil {
		t.headPush[piece] = push
		for c := range push {
			t.Held[c].add(push[c].minus())
		}
	}
	if ground := from.ground[there]; ground != nil {
		t.ground[piece] = ground
		for c := range ground {
			t.Arrived[c].add(ground[c])
		}
	}
}
