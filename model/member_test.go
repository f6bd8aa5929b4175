package model_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/scantling/model"
)

func TestWhoSawIsSaidAsFarAsItIsStated(t *testing.T) {
	for _, row := range []struct {
		seen model.Seen
		want string
	}{
		{model.Seen{By: "site agent", Date: "2026-04-02", Photo: "P-7"}, "site agent, 2026-04-02, photograph P-7"},
		{model.Seen{Date: "2026-04-02", Photo: "P-7"}, "2026-04-02, photograph P-7"},
		{model.Seen{Photo: "P-7"}, "photograph P-7"},
		{model.Seen{}, ""},
	} {
		assert.Equal(t, row.want, row.seen.String())
	}
}
