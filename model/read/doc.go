// Package read turns the text of a framing model into a model.Document, strictly: what it does not know is a problem
// with its place, and all problems are told in one go. One table of keys per object drives reading, writing and the
// schema. It must not know what a frame is: a support that names no member is no mistake of reading.
package read
