// Package draw draws a frame to scale, and where its loads go, from lines and forces that it is given. It does not know
// how they were found.
//
// What state a member is in is drawn by the pattern and the weight of its line, by a word beside its mark and by colour,
// so that none of these is needed to tell.
package draw
