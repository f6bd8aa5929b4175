package main

import (
	"context"
	"fmt"
	"slices"

	"example.com/scantling/plugins/eurocode"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/plugins/us"
)

// shippedRegion is a region that this executable serves itself, as a child process.
type shippedRegion struct {
	name  string
	codes []string
	serve func() region.Region
}

// shipped is the regions that ship.
var shipped = []shippedRegion{
	{name: "eurocode", codes: eurocode.Codes, serve: eurocode.New},
	{name: "us", codes: us.Codes(), serve: us.New},
}

// servers is what this executable can serve when it is started as a region.
func servers() map[string]func() region.Region {
	out := map[string]func() region.Region{}
	for _, s := range shipped {
		out[s.name] = s.serve
	}
	return out
}

// directory finds the region that serves a code: someone else's where the user pinned one for it, else one that ships.
type directory struct {
	always   *host.Options // from the command line: serves whatever code is asked for
	external []externalRegion
}

// externalRegion is an entry of the user's own config.
type externalRegion struct {
	File   string   `mapstructure:"file"`
	SHA256 string   `mapstructure:"sha256"`
	Codes  []string `mapstructure:"codes"`
}

// Region starts the region that serves a code.
func (d *directory) Region(ctx context.Context, code string) *host.Client {
	if o := d.find(code); o != nil {
		return host.Start(ctx, *o)
	}
	return nil
}

// find is how the region that serves a code is started; nil where none does.
func (d *directory) find(code string) *host.Options {
	if d.always != nil {
		return d.always
	}
	for _, e := range d.external {
		if slices.Contains(e.Codes, code) {
			return &host.Options{File: e.File, SHA256: e.SHA256}
		}
	}
	for _, s := range shipped {
		if slices.Contains(s.codes, code) {
			return &host.Options{Shipped: s.name}
		}
	}
	return nil
}

// regionFailed says that a region failed, if it did: an answer without its words and rules is incomplete.
func (a *app) regionFailed(err error) {
	if err != nil {
		a.status = statusIncomplete
		fmt.Fprintf(a.err, "scantling: incomplete: %v\n", err)
	}
}
