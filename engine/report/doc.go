// Package report prints what a run has found, one file a format: words for people, and formats for machines. It does not
// know how findings are come by.
//
// The drawings are in report/draw, the take-down's formats in report/takedown and the page for the building authority in
// report/page; each has its list of formats of the type that this package declares.
package report
