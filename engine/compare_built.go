package engine

import (
	"example.com/scantling/engine/finding"
	"example.com/scantling/model/read"
)

// Patched is a frame as built, said as a merge patch (RFC 7396) on what was drawn. Its findings stand in the patch where
// the patch says what they are about, and in the drawn document otherwise.
func Patched(drawn *Source, patch read.Source) (*Source, read.Problems) {
	p, problems := read.Patch(read.Source{Name: drawn.File, Text: drawn.Text}, patch)
	if problems != nil {
		return nil, problems
	}
	return &Source{Document: p.Document, Text: p.Text, File: patch.Name, patched: p, patch: read.NewPlaces(patch.Text)}, nil
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

// inPatch is the place in the patch that a pointer leads to, or that of what is nearest around it: where the patch takes
// something out, the merged text has no place for it.
func (s *Source) inPatch(pointer string) finding.Place {
	p := s.patch.Pointer(pointer)
	return finding.Place{File: s.File, Pointer: pointer, Line: p.Line, Column: p.Column, Offset: p.Offset}
}
