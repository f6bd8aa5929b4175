package engine

import (
	"crypto/sha256"
	"encoding/hex"

	"example.com/scantling/engine/finding"
	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

// Source is a document with the text that it was read from, so that findings have places.
type Source struct {
	Document *model.Document
	Text     []byte
	File     string

	places  *read.Places
	patched *read.Patched // where a merge patch was laid over what was drawn
	patch   *read.Places  // in the text of that patch
}

// Patched is a frame as built, said as a merge patch (RFC 7396) on what was drawn. Its findings stand in the patch where
// the patch says what they are about, and in the drawn document otherwise.
func Patched(drawn *Source, patch read.Source) (*Source, read.Problems) {
	p, problems := read.Patch(read.Source{Name: drawn.File, Text: drawn.Text}, patch)
	if problems != nil {
		return nil, problems
	}
	return &Source{Document: p.Document, Text: p.Text, File: patch.Name, patched: p, patch: read.NewPlaces(patch.Text)}, nil
}

// Digest is the SHA-256 of the text, in hexadecimal.
func (s *Source) Digest() string {
	sum := sha256.Sum256(s.Text)
	return hex.EncodeToString(sum[:])
}

// Place is the place of what a JSON pointer leads to, or of the nearest around it that the text has.
func (s *Source) Place(pointer string) finding.Place {
	out := finding.Place{File: s.File, Pointer: pointer, Offset: -1}
	if len(s.Text) == 0 {
		return out
	}
	return s.settled(out, s.index().Pointer(pointer))
}

// MemberPlace is the place of what a path such as "/supports/0/bearing" leads to within a member of the document.
func (s *Source) MemberPlace(member int, path string) finding.Place {
	m := &s.Document.Members[member]
	out := finding.Place{File: s.File, Pointer: read.Pointer("members", m.Mark) + path, Offset: -1}
	if len(s.Text) == 0 || m.Offset < 0 {
		return out
	}
	return s.settled(out, s.index().Member(m.Offset, path))
}

// IsPatch says whether the source is a merge patch on what was drawn.
func (s *Source) IsPatch() bool { return s.patched != nil }

// PatchPlace is the place in the patch that a pointer leads to, or that of what is nearest around it: where the patch
// takes something out, the merged text has no place for it. Only a source that is a patch has one.
func (s *Source) PatchPlace(pointer string) finding.Place {
	p := s.patch.Pointer(pointer)
	return finding.Place{File: s.File, Pointer: pointer, Line: p.Line, Column: p.Column, Offset: p.Offset}
}

// settled is a place of the source's text as a person finds it: where a patch was laid over a document, in the one of the
// two that it comes from.
func (s *Source) settled(out finding.Place, p read.Place) finding.Place {
	if s.patched != nil {
		out.File, p = s.patched.Origin(p.Offset)
	}
	out.Line, out.Column, out.Offset = p.Line, p.Column, p.Offset
	return out
}

func (s *Source) index() *read.Places {
	if s.places == nil {
		s.places = read.NewPlaces(s.Text)
	}
	return s.places
}
