package engine

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/rules/pack"
	"example.com/scantling/rules/packs"
	"example.com/scantling/rules/vocabulary"
)

// Regions is where a session finds the region that serves a code.
type Regions interface {
	// Region starts the region that serves a code; nil where none does.
	Region(ctx context.Context, code string) *host.Client
}

// Session is what several runs share: packs, regions that are running, and rules compiled against their vocabularies.
// It serves one goroutine.
type Session struct {
	regions Regions
	shipped []*pack.Pack
	house   []*pack.Pack
	served  map[string]*served // by code
}

// served is a region that is running, or the lack of one, with the rules compiled for it.
type served struct {
	client      *host.Client
	description *region.Description
	failure     error // of Describe
	book        *vocabulary.Book
	set         *pack.Set
	dropped     string // why house packs were left out
}

// NewSession is a session on the packs that ship and the house packs, in the order of the config. Packs are read and
// compiled when a document is first judged, since a region's words may be among theirs, and a take-down needs none.
func NewSession(regions Regions, house []*pack.Pack) *Session {
	return &Session{regions: regions, house: house, served: map[string]*served{}}
}

// Close ends the regions that are running.
func (s *Session) Close() {
	for _, v := range s.served {
		if v.client != nil {
			v.client.Close()
		}
	}
	clear(s.served)
}

// Replace takes other house packs. Regions that are running stay; rules are compiled anew when next they are asked for.
func (s *Session) Replace(house []*pack.Pack) {
	s.house = house
	for _, v := range s.served {
		v.book, v.set, v.dropped = nil, nil, ""
	}
}

// Start begins to start the region of a code, so that it is there when a document has been read.
func (s *Session) Start(ctx context.Context, code string) { s.start(ctx, code) }

func (s *Session) start(ctx context.Context, code string) *served {
	if v := s.served[code]; v != nil {
		return v
	}
	v := &served{}
	if code != "" && s.regions != nil {
		v.client = s.regions.Region(ctx, code)
	}
	s.served[code] = v
	return v
}

// describe is the region of a code with what it says of itself.
func (s *Session) describe(ctx context.Context, code string) *served {
	v := s.start(ctx, code)
	if v.client != nil && v.description == nil && v.failure == nil {
		v.description, v.failure = v.client.Describe(ctx)
	}
	return v
}

// open is the region of a code with its rules compiled. The error is of the packs that ship or of the house: they cannot
// be used. A region whose own packs cannot be used has failed, like any other whose answer is of no use.
func (s *Session) open(ctx context.Context, code string) (*served, error) {
	shipped, err := s.readShipped()
	if err != nil {
		return nil, err
	}
	v := s.describe(ctx, code)
	if v.set != nil {
		return v, nil
	}
	err = v.compile(shipped, s.house)
	if err != nil && v.description != nil {
		if own := v.compile(shipped, nil); own != nil {
			v.failure, v.description = v.client.Reject(own), nil
			err = v.compile(shipped, s.house)
		}
	}
	if err != nil && v.failure != nil && len(s.house) > 0 {
		// A house pack that names the words of a region which failed cannot be compiled: the rest still judges.
		v.dropped = "house packs are left out, because the region whose words they use failed"
		err = v.compile(shipped, nil)
	}
	if err != nil {
		v.book, v.set = nil, nil
		return nil, err
	}
	return v, nil
}

// compile compiles the region's own packs, those that ship and those of the house against the region's words.
func (v *served) compile(shipped, house []*pack.Pack) (err error) {
	var regional []vocabulary.Fact
	var all []*pack.Pack
	if v.description != nil {
		regional = v.description.Facts
		if all, err = regionPacks(v.description); err != nil {
			return err
		}
	}
	if v.book, err = vocabulary.NewBook(regional...); err != nil {
		return err
	}
	v.set, err = pack.Compile(v.book, slices.Concat(all, shipped, house)...)
	return err
}

// readShipped reads the packs that ship, once.
func (s *Session) readShipped() ([]*pack.Pack, error) {
	if s.shipped != nil {
		return s.shipped, nil
	}
	for _, file := range append(packs.Shipped(), packs.Changes) {
		p, err := pack.Read(packs.Files(), file, pack.Shipped)
		if err != nil {
			return nil, err
		}
		s.shipped = append(s.shipped, p)
	}
	return s.shipped, nil
}

// Rules is the rules of a code's region, the packs that ship and the house packs, with the vocabulary they are written in.
func (s *Session) Rules(ctx context.Context, code string) (*pack.Set, *vocabulary.Book, error) {
	v, err := s.open(ctx, code)
	if err != nil {
		return nil, nil, err
	}
	return v.set, v.book, errors.Join(v.failure)
}

// Vet says everything that is wrong with pack files, read as house packs beside those of the session. The error is
// pack.Problems where it is of the packs, and the region's where that has failed: its words cannot be told from mistakes.
func (s *Session) Vet(ctx context.Context, code string, files []string) error {
	v, err := s.open(ctx, code)
	if err != nil {
		return err
	}
	if v.failure != nil {
		return v.failure
	}
	all := append([]*pack.Pack(nil), v.set.Packs...)
	var problems pack.Problems
	for _, file := range files {
		p, err := pack.Open(file, pack.House)
		if p == nil {
			if !errors.As(err, &problems) {
				return err
			}
			continue
		}
		all = append(all, p) // with its problems, which Vet repeats
	}
	if len(problems) > 0 {
		return problems
	}
	return pack.Vet(v.book, all...)
}

// Region is the running region of a code.
func (s *Session) Region(ctx context.Context, code string) (*host.Client, error) {
	v := s.start(ctx, code)
	if v.client == nil {
		return nil, fmt.Errorf("no region serves %q; name one of the codes that `scantling region list` gives", code)
	}
	return v.client, nil
}

// regionPacks reads the packs that a region brings along.
func regionPacks(d *region.Description) ([]*pack.Pack, error) {
	files := packFiles{}
	for _, f := range d.Packs {
		files[f.Name] = f.Data
	}
	var out []*pack.Pack
	for _, f := range d.Packs {
		if !isPack(f.Name) {
			continue
		}
		p, err := pack.Read(files, f.Name, pack.Region)
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

// materials is what is known of every member's grade, and of every grade by its name.
func materials(doc *model.Document, names []region.GradeName, grades []region.Grade, reason string) ([]material, map[string]material) {
	byName := map[string]material{}
	for i, n := range names {
		g := region.Grade{Reason: reason}
		if i < len(grades) {
			g = grades[i]
		}
		if d := n.Declared; d != nil { // what the document declares stands where no region has read it
			if g.Material == "" {
				g.Material = d.Material
			}
			if g.E == 0 {
				g.E = d.E.Value
			}
			if g.G == 0 {
				g.G = d.G.Value
			}
			if g.Density == 0 {
				g.Density = d.Density.Value
			}
		}
		byName[n.Name] = material{E: g.E, G: g.G, Density: g.Density, Kind: g.Material, Reason: g.Reason}
	}
	out := make([]material, len(doc.Members))
	for i := range doc.Members {
		out[i] = byName[doc.Members[i].Grade]
	}
	return out, byName
}
