package region_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
)

func TestGapsAreNamesThatAnAreaLacks(t *testing.T) {
	area := func(id string, loads ...model.AreaLoad) region.Area {
		return region.Area{Area: model.Area{ID: id, Loads: loads}}
	}
	load := func(action model.Action, name string) model.AreaLoad {
		return model.AreaLoad{Action: action, Name: name}
	}
	site := &region.Site{Areas: []region.Area{
		area("house", load(model.Wind, "west"), load(model.Wind, "south"), load(model.Snow, "drift")),
		area("porch", load(model.Wind, "south")),
		area("shed", load(model.Wind, "")),
		area("floor", load(model.Dead, "")),
		area("tower", load(model.Wind, "north"), load(model.Wind, "")),
	}}
	got := map[string][]string{}
	for _, g := range site.Gaps(model.Wind) {
		got[g.Area.ID] = g.Names
	}
	assert.Equal(t, map[string][]string{"house": {"north"}, "porch": {"north", "west"}, "tower": {"south", "west"}}, got)
	assert.Empty(t, site.Gaps(model.Snow), "one area alone names snow")
}
