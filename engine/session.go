package engine

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

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
	shipped func() ([]*pack.Pack, error) // reads the packs that ship, once
	house   []*pack.Pack
	served  map[string]*served // by code
	ending  sync.WaitGroup     // of regions that are asked nothing more
}

// served is a region that is running, or the lack of one, with the rules compiled for it.
type served struct {
	client      *host.Client
	description *region.Description
	failure     error  // of Describe
	rules       *rules // nil until something is to be judged
	released    bool
}

// rules is what is compiled for a region, on a goroutine of its own: reading and compiling packs takes as long as the
// rest of a small check. What came of it is there when done is closed.
type rules struct {
	book    *vocabulary.Book // nil where the region's own words cannot be used
	done    chan struct{}
	set     *pack.Set
	dropped string // why house packs were left out
	unfit   error  // why the region's own words or packs cannot be used; the set is without them
	err     error  // of the packs that ship or of the house
}

// NewSession is a session on the packs that ship and the house packs, in the order of the config. Packs are read and
// compiled when a document is first judged, since a region's words may be among theirs, and a take-down needs none.
func NewSession(regions Regions, house []*pack.Pack) *Session {
	return &Session{regions: regions, shipped: sync.OnceValues(readShipped), house: house, served: map[string]*served{}}
}

// Close ends the regions that are running, and waits for those that were ended before.
func (s *Session) Close() {
	for code := range s.served {
		s.release(code)
	}
	s.ending.Wait()
	clear(s.served)
}

// release begins to end the region of a code: to end a process takes as long as to judge a small frame.
func (s *Session) release(code string) {
	if v := s.served[code]; v != nil && v.client != nil && !v.released {
		v.released = true
		s.ending.Go(v.client.Close)
	}
}

// Replace takes other house packs. Regions that are running stay; rules are compiled anew when next they are asked for.
func (s *Session) Replace(house []*pack.Pack) {
	s.house = house
	for _, v := range s.served {
		v.rules = nil
	}
}

// start begins to start the region of a code.
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
// be used.
func (s *Session) open(ctx context.Context, code string) (*served, error) {
	v := s.opening(ctx, code)
	return v, v.opened()
}

// opening begins to compile the rules of a code's region as soon as that has said what it is.
func (s *Session) opening(ctx context.Context, code string) *served {
	v := s.start(ctx, code)
	if v.rules != nil {
		return v
	}
	go func() { _, _ = s.shipped() }() // while the region starts
	v = s.describe(ctx, code)
	v.rules = &rules{done: make(chan struct{})}
	v.rules.book, v.rules.unfit = book(v.description)
	go v.rules.compile(v.description, v.failure != nil, s.shipped, s.house)
	return v
}

// opened waits for the rules. A region whose own words or packs cannot be used has failed, like any other whose answer is
// of no use.
func (v *served) opened() error {
	<-v.rules.done
	if v.rules.unfit != nil && v.failure == nil {
		v.failure, v.description = v.client.Reject(v.rules.unfit), nil
	}
	if v.rules.err == nil {
		v.rules.book = v.rules.set.Book
	}
	return v.rules.err
}

// compile compiles the region's own packs, those that ship and those of the house against the region's words.
func (r *rules) compile(d *region.Description, failed bool, shipped func() ([]*pack.Pack, error), house []*pack.Pack) {
	defer close(r.done)
	read, err := shipped()
	if err != nil {
		r.err = err
		return
	}
	words := r.book
	if words != nil {
		if r.set, r.err = compile(words, d, read, house); r.err == nil {
			return
		}
		if d != nil {
			_, r.unfit = compile(words, d, read, nil)
		}
	}
	if r.unfit != nil {
		d, failed = nil, true
		words, _ = book(nil)
		r.set, r.err = compile(words, nil, read, house)
	}
	if r.err != nil && failed && len(house) > 0 {
		// A house pack that names the words of a region which failed cannot be compiled: the rest still judges.
		r.dropped = "house packs are left out, because the region whose words they use failed"
		r.set, r.err = compile(words, d, read, nil)
	}
}

func compile(words *vocabulary.Book, d *region.Description, shipped, house []*pack.Pack) (*pack.Set, error) {
	var own []*pack.Pack
	if d != nil {
		var err error
		if own, err = regionPacks(d); err != nil {
			return nil, err
		}
	}
	return pack.Compile(words, slices.Concat(own, shipped, house)...)
}

// book is the vocabulary with a region's words.
func book(d *region.Description) (*vocabulary.Book, error) {
	if d == nil {
		return vocabulary.NewBook()
	}
	return vocabulary.NewBook(d.Facts...)
}

// readShipped reads the packs that ship, side by side.
func readShipped() ([]*pack.Pack, error) {
	files := append(packs.Shipped(), packs.Changes)
	out, errs := make([]*pack.Pack, len(files)), make([]error, len(files))
	var all sync.WaitGroup
	for i, file := range files {
		all.Go(func() { out[i], errs[i] = pack.Read(packs.Files(), file, pack.Shipped) })
	}
	all.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// Rules is the rules of a code's region, the packs that ship and the house packs, with the vocabulary they are written in.
func (s *Session) Rules(ctx context.Context, code string) (*pack.Set, *vocabulary.Book, error) {
	v, err := s.open(ctx, code)
	if err != nil {
		return nil, nil, err
	}
	return v.rules.set, v.rules.book, errors.Join(v.failure)
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
	all := append([]*pack.Pack(nil), v.rules.set.Packs...)
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
	return pack.Vet(v.rules.book, all...)
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
