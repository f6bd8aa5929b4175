package read

import (
	"slices"

	"example.com/scantling/model"
)

// namedLoads are several loads of an action by name, such as winds or snows.
func namedLoads(load amount) value[[]model.AreaLoad] {
	return named("the load's name", value[model.AreaLoad]{
		read:  func(r *reader, l *model.AreaLoad) { load.into(r, &l.Value) },
		write: func(w *writer, l *model.AreaLoad) { w.amount(l.Value, load.measure) },
		form:  load.form,
	}, func(l *model.AreaLoad) *string { return &l.Name })
}

// areaLoads is the key of an action: one load, or several by name. Wind alone can lift.
func areaLoads(action model.Action, doc string) field[model.Area] {
	load := weight
	if action == model.Wind {
		load = areaLoad
	}
	several := namedLoads(load)
	of := func(a *model.Area) []model.AreaLoad {
		var loads []model.AreaLoad
		for _, l := range a.Loads {
			if l.Action == action {
				loads = append(loads, l)
			}
		}
		return loads
	}
	return field[model.Area]{
		key: string(action), doc: doc, form: &Form{Kind: Either, Choices: []*Form{load.form, several.form}},
		read: func(r *reader, a *model.Area) {
			loads := make([]model.AreaLoad, 0, 1)
			if r.peek() == '{' {
				several.read(r, &loads)
			} else if v, ok := load.read(r); ok {
				loads = append(loads, model.AreaLoad{Value: v})
			}
			for _, l := range loads {
				l.Action = action
				a.Loads = append(a.Loads, l)
			}
		},
		write: func(w *writer, a *model.Area) {
			loads := of(a)
			if len(loads) == 1 && loads[0].Name == "" {
				w.amount(loads[0].Value, load.measure)
				return
			}
			several.write(w, &loads)
		},
		empty: func(a *model.Area) bool { return len(of(a)) == 0 },
	}
}

// sortLoads puts an area's loads into the order of the actions, whatever the order of the keys.
func sortLoads(a *model.Area) {
	slices.SortStableFunc(a.Loads, func(l, m model.AreaLoad) int {
		return slices.Index(model.Actions, l.Action) - slices.Index(model.Actions, m.Action)
	})
}
