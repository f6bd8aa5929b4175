package statics_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
)

// Winds of two names exclude each other; what an area states without a name is all that is known there and acts with either. So
// does snow; an imposed load without a name is one of its own.
func TestSumsWithoutARegion(t *testing.T) {
	cases := []region.Case{
		{ID: "dead", Action: model.Dead, Permanent: true}, {ID: "imposed", Action: model.Imposed}, {ID: "imposed:store", Action: model.Imposed, Name: "store"},
		{ID: "snow", Action: model.Snow}, {ID: "snow:drift", Action: model.Snow, Name: "drift"},
		{ID: "wind", Action: model.Wind}, {ID: "wind:west", Action: model.Wind, Name: "west"}, {ID: "wind:south", Action: model.Wind, Name: "south"},
	}
	sums := map[string][]float64{}
	for _, k := range statics.DefaultCombinations(cases) {
		assert.Equal(t, region.Characteristic, k.State)
		assert.Equal(t, k.ID == "dead + a person", k.Moving == 1, k.ID)
		sums[k.ID] = k.Factors
	}
	assert.Equal(t, map[string][]float64{
		"dead":                 {1, 0, 0, 0, 0, 0, 0, 0},
		"dead + imposed":       {1, 1, 0, 0, 0, 0, 0, 0},
		"dead + imposed:store": {1, 0, 1, 0, 0, 0, 0, 0},
		"dead + snow":          {1, 0, 0, 1, 0, 0, 0, 0},
		"dead + snow:drift":    {1, 0, 0, 1, 1, 0, 0, 0},
		"dead + wind":          {1, 0, 0, 0, 0, 1, 0, 0},
		"dead + wind:west":     {1, 0, 0, 0, 0, 1, 1, 0},
		"dead + wind:south":    {1, 0, 0, 0, 0, 1, 0, 1},
		"dead + imposed + imposed:store + snow + snow:drift": {1, 1, 1, 1, 1, 0, 0, 0},
		"dead + a person": {1, 0, 0, 0, 0, 0, 0, 0},
	}, sums)
}
