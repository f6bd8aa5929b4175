// Package wire is the region contract as it crosses between two processes: the protobuf package scantling.region.v1,
// what turns its messages into the types of plugins/region and back, and what both sides must agree on before they can
// talk. It does not know who is at either end.
package wire

import (
	"github.com/hashicorp/go-plugin"

	"example.com/scantling/plugins/region"
)

// The generated files are checked in, so that neither users nor CI need protoc. Whoever changes region.proto needs
// protoc 3.21 or later, protoc-gen-go v1.36.12 and protoc-gen-go-grpc v1.6.2 on the PATH.
//go:generate protoc --go_out=. --go_opt=paths=source_relative --go-grpc_out=. --go-grpc_opt=paths=source_relative region.proto

// Handshake tells a region's executable that the program started it. It is a courtesy to whoever runs one by hand, not
// a measure of security.
var Handshake = plugin.HandshakeConfig{MagicCookieKey: "SCANTLING_REGION", MagicCookieValue: "contract"}

// Service is the name under which a region is dispensed.
const Service = "region"

// Window is the size of gRPC's windows for one stream, bytes: a batch crosses without waiting for the other side.
const Window = 4 << 20

// Versions is the set of versions of the contract that a side speaks, each with its plugin.
func Versions(p plugin.Plugin) map[int]plugin.PluginSet {
	return map[int]plugin.PluginSet{region.ContractVersion: {Service: p}}
}
