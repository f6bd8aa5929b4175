package sheet

import (
	"fmt"
	"slices"
	"strconv"

	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

// takeSupports makes the lists of supports of the members that have rows. A row with the number of a support that is
// there keeps what its cells do not show.
func (u *update) takeSupports(t *rows) {
	byMark := map[string][]int{}
	var marks []string
	for r := 1; r < len(t.grid.rows); r++ {
		if t.isEmpty(r) {
			continue
		}
		at, name := t.cell(r, "Mark")
		if name == "" {
			u.wrong(at, "the row has no mark", "name the member that is supported, or clear the row")
			continue
		}
		if u.tree.object("members", name) == nil && !u.rowed[name] {
			fix := "add it under Members"
			if near := model.Nearest(name, u.marks()); near != "" {
				fix = fmt.Sprintf("write %q if that is meant, or %s", near, fix)
			}
			u.wrong(at, fmt.Sprintf("no member is called %q", name), fix)
			continue
		}
		if byMark[name] == nil {
			marks = append(marks, name)
		}
		byMark[name] = append(byMark[name], r)
	}
	for _, name := range marks {
		u.supportsOf(t, name, byMark[name])
	}
}

func (u *update) supportsOf(t *rows, name string, from []int) {
	old := u.tree.object("members", name).supports()
	list := make([]any, 0, len(from))
	same := len(from) == len(old)
	used := map[int]bool{}
	for i, r := range from {
		was := tree(nil)
		if at, cell := t.cell(r, "No."); cell != "" {
			k, err := strconv.Atoi(cell)
			switch {
			case err != nil || k < 1:
				u.wrong(at, fmt.Sprintf("%q is no number of a support", cell), "leave the numbers as they are, and empty in new rows")
			case used[k]:
				u.wrong(at, fmt.Sprintf("%s has support %d already", name, k), "leave the number of a new row empty")
			case k <= len(old):
				was = old[k-1]
				same = same && k == i+1
			}
			used[k] = true
		}
		pointer := fmt.Sprintf("%s/supports/%d", read.Pointer("members", name), i)
		u.cells[pointer] = ref{t.grid.name, r, max(0, t.places[0])}
		changes := map[string]any{}
		u.fill(t, r, changes, about{old: was, pointer: pointer})
		same = same && was != nil && len(changes) == 0
		list = append(list, merged(was, changes))
	}
	if same {
		return
	}
	members, _ := u.patch["members"].(map[string]any)
	if members == nil {
		members = map[string]any{}
		u.patch["members"] = members
	}
	one, there := members[name].(ordered)
	if !there {
		one = ordered{map[string]any{}, len(members)}
		members[name] = one
	}
	one.value["supports"] = list
	if u.tree.object("members", name) != nil && !slices.Contains(u.Changed, name) {
		u.Changed = append(u.Changed, name)
	}
}

// merged is an object with changes, nil taking a key away.
func merged(was tree, changes map[string]any) map[string]any {
	out := map[string]any{}
	for k, v := range was {
		out[k] = v
	}
	for k, v := range changes {
		within, isObject := v.(map[string]any)
		switch {
		case v == nil:
			delete(out, k)
		case isObject:
			before, _ := out[k].(map[string]any)
			out[k] = merged(before, within)
		default:
			out[k] = v
		}
	}
	return out
}

// marks are those of the document and of the sheet.
func (u *update) marks() []string {
	var out []string
	if u.old != nil {
		for i := range u.old.Members {
			out = append(out, u.old.Members[i].Mark)
		}
	}
	for mark := range u.rowed {
		out = append(out, mark)
	}
	return out
}
