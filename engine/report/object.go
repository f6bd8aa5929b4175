package report

import "example.com/scantling/engine/finding"

// Object is a result as JSON prints it, for verbs that print more beside it.
type Object = jsonResult

// ObjectOf is a result's object.
func ObjectOf(r *finding.Result, working bool) Object { return resultOf(r, working) }

// Location is a place as JSON prints it.
type Location = jsonPlace

// LocationOf is a place's object; nil where nothing is known of it.
func LocationOf(p finding.Place) *Location { return placeOf(p) }
