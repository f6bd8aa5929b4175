package read

// index finds a name among a few that are known beforehand. A hash that tells all of them apart is looked for once,
// so that finding one costs a hash and a comparison.
type index struct {
	names []string
	slots []uint8 // place in names plus one, by hash; 0: none
	seed  uint32
}

func indexOf(names []string) index {
	size := 1
	for size < 4*len(names) {
		size *= 2
	}
	for ; size <= 1<<16; size *= 2 {
		for seed := uint32(1); seed < 5000; seed++ {
			if slots, apart := settle(names, size, seed); apart {
				return index{names, slots, seed}
			}
		}
	}
	panic("read: two keys of an object are alike in length, ends and middle")
}

// settle puts each name into its slot; apart is false when two names share one.
func settle(names []string, size int, seed uint32) (slots []uint8, apart bool) {
	slots = make([]uint8, size)
	for i, name := range names {
		slot := &slots[hash([]byte(name), seed)&uint32(size-1)]
		if *slot != 0 {
			return nil, false
		}
		*slot = uint8(i + 1)
	}
	return slots, true
}

// find is the place of a name.
func (x *index) find(name []byte) (int, bool) {
	i := int(x.slots[hash(name, x.seed)&uint32(len(x.slots)-1)]) - 1
	if i < 0 || x.names[i] != string(name) {
		return 0, false
	}
	return i, true
}

// hash looks at a name's length, ends and middle: enough to tell the keys of one object apart.
func hash(name []byte, seed uint32) uint32 {
	n := len(name)
	if n == 0 {
		return 0
	}
	h := uint32(n)*seed ^ uint32(name[0])
	h = h*seed ^ uint32(name[n/2])
	h = h*seed ^ uint32(name[n-1])
	h = h*seed ^ uint32(name[min(1, n-1)])
	return h ^ h>>13
}
