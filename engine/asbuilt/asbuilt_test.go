package asbuilt_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/scantling/engine/asbuilt"
)

func TestKeysAreNamedForAReader(t *testing.T) {
	assert.Equal(t, "run, fire protection, treatment", asbuilt.KeyWords("repeat, fire_protection, treated"))
}

func TestHowStrongAndStiffAChangeMakesAMember(t *testing.T) {
	known, unknown := asbuilt.Known, asbuilt.Unknown
	for _, row := range []struct {
		of   asbuilt.Change
		want string
	}{
		{asbuilt.Change{Strength: known(0.69), Stiffness: known(0.58)}, "it is 0.69 times as strong and 0.58 times as stiff as drawn"},
		{asbuilt.Change{Strength: known(0.999), Stiffness: known(1)}, "it is 0.999 times as strong and 1.00 times as stiff as drawn"},
		{asbuilt.Change{Strength: known(2), Stiffness: unknown("no E")}, "it is 2.00 times as strong as drawn; how stiff is not known: no E"},
		{asbuilt.Change{Strength: unknown("no region"), Stiffness: known(2)}, "it is 2.00 times as stiff as drawn; how strong is not known: no region"},
		{asbuilt.Change{Strength: unknown("old timber"), Stiffness: unknown("old timber")}, "it is not known how strong and stiff that makes it: old timber"},
		{asbuilt.Change{Strength: known(1), Stiffness: known(1)}, ""},
		{asbuilt.Change{}, ""},
	} {
		assert.Equal(t, row.want, row.of.Ratios())
	}
}
