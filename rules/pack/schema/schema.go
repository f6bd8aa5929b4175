// Package schema is the JSON Schema of rule packs, for editors that complete and check them while they are written. It
// must not know what expressions mean: that is for vetting.
package schema

import _ "embed"

// Pack is the schema (JSON Schema 2020-12) of a pack's YAML file.
//
//go:embed pack.schema.json
var Pack []byte
