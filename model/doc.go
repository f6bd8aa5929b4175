// Package model is the framing document: what a builder or an engineer writes down about a frame, in types.
// It holds quantities with their dimensions, sections, and members with what they rest on and carry; it knows
// nothing of statics, of rules or of codes of practice, and imports no third-party package.
//
// Inside the program every quantity is in mm, N, N/mm2, kg and radians. Other units exist only in text that is
// read or printed.
package model
