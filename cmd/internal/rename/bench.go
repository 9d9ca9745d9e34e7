package rename

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"foredge/cmd/internal/driver"
	"foredge/eval/mention"
	"foredge/lang/source"
)

// A Bench is the designs among which names are looked for.
type Bench struct {
	// Designs are the absolute paths of those that are to be looked through, saved or not.
	Designs []string
	// Unsaved are texts that take the place of saved ones, by absolute path.
	Unsaved map[string]string
}

// A Place is a stretch of a file, by bytes.
type Place struct {
	Path       string
	Start, End int
}

func (p Place) String() string { return fmt.Sprintf("%s:%d-%d", p.Path, p.Start, p.End) }

func (p Place) compare(q Place) int {
	return cmp.Or(cmp.Compare(p.Path, q.Path), cmp.Compare(p.Start, q.Start), cmp.Compare(p.End, q.End))
}

// session reads the bench's texts, and others in their place.
func (b *Bench) session(instead map[string]string) (*driver.Session, error) {
	s := driver.NewSession(nil)
	s.NameFromFolder()
	for _, texts := range []map[string]string{b.Unsaved, instead} {
		for path, text := range texts {
			if err := s.SetText(path, []byte(text)); err != nil {
				return nil, err
			}
		}
	}
	return s, nil
}

// A reading is a design with what its names stand for.
type reading struct {
	path   string
	result *driver.Result
	index  *mention.Index
	files  map[string]*source.File // by path
}

// read reads a design; nil if there is none to be read.
func read(ctx context.Context, s *driver.Session, path string) *reading {
	r := s.Names(ctx, path)
	if r.Err != nil || r.Prepared == nil {
		return nil
	}
	d := &reading{path: path, result: r, index: r.Prepared.Mentions(), files: map[string]*source.File{}}
	for f, at := range r.Paths {
		d.files[at] = f
	}
	return d
}

// place is where a span lies; false in a part of the shelf.
func (d *reading) place(at source.Span) (Place, bool) {
	path, ok := d.result.Paths[at.File]
	return Place{path, at.Start, at.End}, ok
}

// origin is the mention that gives a name at a place.
func (d *reading) origin(at Place) (mention.Mention, bool) {
	f := d.files[at.Path]
	if f == nil {
		return mention.Mention{}, false
	}
	m, ok := d.index.At(f, at.Start)
	return m, ok && m.Declares && m.At.Start == at.Start
}

// A Found is what is named at a place, wherever it is spoken of.
type Found struct {
	Name string
	// Places are in order, by file; Declared are those among them that give it its name.
	Places, Declared []Place

	designs []*reading // all that were read
	shelf   bool       // some of it is on the shelf
}

// Find finds what is named at a byte offset of a design; false for what is no thing and
// no named value, or where nothing is named. text is the design's text by which the
// offset was counted: another one is not looked at.
func (b *Bench) Find(ctx context.Context, path, text string, offset int) (*Found, bool) {
	s, err := b.session(nil)
	if err != nil {
		return nil, false
	}
	first := read(ctx, s, path)
	if first == nil || first.result.Tree.Source.Text() != text {
		return nil, false
	}
	m, ok := first.index.At(first.result.Tree.Source, offset)
	if !ok || !Nameable(m) {
		return nil, false
	}
	found := &Found{Name: m.At.Text(), designs: []*reading{first}}
	for _, other := range b.Designs {
		if ctx.Err() != nil {
			return nil, false
		}
		if other != path {
			if d := read(ctx, s, other); d != nil {
				found.designs = append(found.designs, d)
			}
		}
	}
	found.spread(m)
	return found, true
}

// Nameable reports whether what is mentioned has a name that a person has given it and
// may change.
func Nameable(m mention.Mention) bool {
	return m.Dimension() == "" && m.Order == "" && (m.Let != nil || m.Thing != nil)
}

// Span is a place as a span of its text, as that was read.
func (f *Found) Span(p Place) source.Span {
	return source.Span{File: f.file(p.Path), Start: p.Start, End: p.End}
}

// spread gathers all that goes by one name with what is mentioned in the first design: a
// design that uses what is declared may have more of it, and so on.
func (f *Found) spread(m mention.Mention) {
	declared, places := map[Place]bool{}, map[Place]bool{}
	take := func(d *reading, m mention.Mention) {
		for _, other := range d.index.All(m) {
			at, ok := d.place(other.At)
			if !ok {
				f.shelf = true
				continue
			}
			places[at] = true
			if other.Declares {
				declared[at] = true
			}
		}
	}
	take(f.designs[0], m)
	for before := -1; before < len(places); {
		before = len(places)
		for _, d := range f.designs {
			for at := range declared {
				if m, ok := d.origin(at); ok && !f.taken(d, m, places) {
					take(d, m)
				}
			}
		}
	}
	f.Places, f.Declared = sorted(places), sorted(declared)
}

// taken reports whether all that a design says of a mention is there already.
func (f *Found) taken(d *reading, m mention.Mention, places map[Place]bool) bool {
	return !slices.ContainsFunc(d.index.All(m), func(other mention.Mention) bool {
		at, ok := d.place(other.At)
		return ok && !places[at]
	})
}

func sorted(set map[Place]bool) []Place {
	var out []Place
	for p := range set {
		out = append(out, p)
	}
	slices.SortFunc(out, Place.compare)
	return out
}
