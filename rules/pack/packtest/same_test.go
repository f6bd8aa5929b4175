package packtest

import (
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/scantling/rules/pack"
	"example.com/scantling/rules/packs"
	"example.com/scantling/rules/vocabulary"
)

func TestShippedRulesGiveTheSameAnswersAsTheMachine(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	var all []*pack.Pack
	for _, file := range append(packs.Shipped(), packs.Changes) {
		p, err := pack.Read(packs.Files(), file, pack.Shipped)
		require.NoError(t, err)
		all = append(all, p)
	}
	s, err := pack.Compile(book, all...)
	require.NoError(t, err)
	compared, err := Same(s)
	require.NoError(t, err)
	require.Greater(t, compared, 10*len(s.Rules), "every rule has examples, and several expressions")
}

func TestADifferenceIsSeen(t *testing.T) {
	require.False(t, sameReason("", "why"))
	require.False(t, sameReason("why", ""))
	require.True(t, sameReason(outOfTable+"decks", "thick is below the table decks, which begins at 18 mm"))
	require.False(t, sameReason(outOfTable+"decks", "the document does not say"))
	require.False(t, sameValue(1.0, 1.0000001))
	require.False(t, sameValue(true, false))
	require.False(t, sameValue(1.0, "1"))
}
