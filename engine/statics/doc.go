// Package statics takes loads down through a frame, load case by load case, and works out the effects in every piece
// and in every combination. It knows no code of practice: strengths, factors and limits come from elsewhere.
package statics
