// Package packs holds the rule packs that ship, as data. It must not know how a pack is read, nor any region.
package packs

import "embed"

//go:embed load-path practice paperwork changes
var files embed.FS

// Files holds each shipped pack in its own folder, with its tables beside it.
func Files() embed.FS { return files }

// Shipped lists the shipped packs' files in the order of their layers. Changes is not among them: it judges what differs
// between drawn and built, and is used when two models are compared.
func Shipped() []string {
	return []string{"load-path/load-path.yaml", "practice/practice.yaml", "paperwork/paperwork.yaml"}
}

// Changes is the file of the pack that judges what differs between drawn and built.
const Changes = "changes/changes.yaml"
