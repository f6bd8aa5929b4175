package engine_test

import (
	"context"
	"encoding/json"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine"
	"example.com/scantling/engine/internal/fixture"
	"example.com/scantling/model/read"
	"example.com/scantling/model/schema"
	"example.com/scantling/rules/vocabulary"
)

// The words that a rule may compare with are those that a document may hold.
func TestWordsOfTheVocabularyAreThoseOfTheDocument(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	var document struct {
		Definitions map[string]struct {
			Properties map[string]struct{ Enum []string }
		} `json:"$defs"`
	}
	require.NoError(t, json.Unmarshal(schema.Text(), &document))
	for _, c := range []struct {
		subject    vocabulary.Subject
		fact       string
		object, of string
	}{
		{vocabulary.Member, "phase", "member", "phase"},
		{vocabulary.Member, "condition", "member", "condition"},
		{vocabulary.Member, "finish", "member", "finish"},
		{vocabulary.Member, "stage", "site", "stage"},
		{vocabulary.Member, "carries_kind", "area", "kind"},
		{vocabulary.Support, "by", "support", "by"},
		{vocabulary.Support, "notch_face", "notch", "face"},
		{vocabulary.Support, "capacity_basis", "capacity", "basis"},
		{vocabulary.Area, "kind", "area", "kind"},
		{vocabulary.Frame, "existing", "site", "existing"},
		{vocabulary.Notch, "face", "notch", "face"},
	} {
		t.Run(c.object+" "+c.of, func(t *testing.T) {
			said := document.Definitions[c.object].Properties[c.of].Enum
			require.NotEmpty(t, said)
			assert.ElementsMatch(t, said, book.Fact(c.subject, c.fact).Words.List)
		})
	}
}

// What the facts of the demos are is among the words that the vocabulary gives them.
func TestFactsAreAmongTheirWords(t *testing.T) {
	session := engine.NewSession(nil, nil)
	defer session.Close()
	for _, file := range []string{"quillmere.json", "quillmere-faulty.json", "larkrun-porch.json"} {
		t.Run(file, func(t *testing.T) {
			text := []byte(fixture.Text(t, file))
			doc, problems := read.Document(text, file)
			require.Empty(t, problems)
			run, err := session.Check(context.Background(), &engine.Source{Document: doc, Text: text, File: file}, engine.Options{})
			require.NoError(t, err)
			facts, held := run.Judgement.Facts, 0
			for _, s := range vocabulary.Subjects() {
				for _, f := range facts.Book.Facts(s) {
					if len(f.Words.List) == 0 || f.Words.Joined {
						continue
					}
					for row := range facts.Tables[s].Rows {
						if word, why := facts.Text(f, int32(row)); why == 0 {
							held++
							assert.True(t, slices.Contains(f.Words.List, word), "%s.%s is %q", s, f.Name, word)
						}
					}
				}
			}
			assert.Greater(t, held, 100)
		})
	}
}
