// Package engine ties the rooms together in a few verbs: it reads nothing and prints nothing, but takes a document
// through frame, statics, region, facts and rules to findings. It alone turns verdicts, a region's assumptions and
// failures into findings, and it knows no region by name.
package engine
