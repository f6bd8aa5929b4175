package read

import "example.com/scantling/model"

// store holds the document-wide arrays that the members' own slices are cut from: a document of many members is read
// with few allocations.
type store struct {
	points     arena[model.Point]
	carries    arena[model.Carry]
	supports   arena[model.Support]
	loads      arena[model.Load]
	ties       arena[model.TiedBy]
	drawings   arena[model.DrawingRef]
	details    arena[model.Detail]
	notches    arena[model.Notch]
	capacities arena[model.Capacity]
	seats      arena[model.Seat]
}

// arena gives out values and lists from large arrays, which stay where they are.
type arena[V any] struct{ chunk []V }

const (
	firstChunk = 16
	lastChunk  = 4096
)

// one is a fresh value.
func (a *arena[V]) one() *V {
	a.extend(len(a.chunk))
	return &a.chunk[len(a.chunk)-1]
}

// extend adds a value to the list that began at start, and is where the list begins now: a list that does not fit
// moves to the next array.
func (a *arena[V]) extend(start int) int {
	if len(a.chunk) < cap(a.chunk) {
		a.chunk = a.chunk[:len(a.chunk)+1]
		return start
	}
	list := a.chunk[start:]
	size := max(firstChunk, min(lastChunk, 2*cap(a.chunk)), 2*len(list))
	a.chunk = append(make([]V, 0, size), list...)
	a.chunk = a.chunk[:len(list)+1]
	return 0
}

// list is what was added since start.
func (a *arena[V]) list(start int) []V {
	return a.chunk[start:len(a.chunk):len(a.chunk)]
}
