package fit

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"foredge/eval"
	"foredge/eval/kind"
	"foredge/eval/model"
	"foredge/eval/opening"
	"foredge/eval/shelf"
	"foredge/lang/ast"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// A Pattern is the known punching pattern that comes nearest to a row.
type Pattern struct {
	Name string
	// Same says that all of the pattern agrees with the row, its form of hole, and
	// each size within the row's 95 % uncertainty; otherwise only the pitch or the gaps do.
	Same bool
	// Pitch is the pattern's, 0 for one of unequal gaps; Along and Across are
	// the sizes of its holes.
	Pitch, Along, Across float64
	Form                 opening.Form // of its holes
}

// A pattern is one of the shelf's, by the names of its dimensions; count only
// where the pattern has one.
type pattern struct {
	name string
	form opening.Form // of its holes
	dims map[string]float64
}

// patterns reads the shelf's punching patterns. A pattern by itself is not
// worked out, so each gets a board large enough to be punched in.
func patterns() []pattern {
	text, ok := shelf.Text("bindings")
	if !ok {
		return nil
	}
	tree, _ := parse.File(source.New("shelf/bindings.fore", text))
	var out []pattern
	boards := string(text)
	for _, stmt := range tree.Stmts {
		d, ok := stmt.(*ast.Decl)
		if !ok || d.Kind.Name != kind.Pattern.String() {
			continue
		}
		out = append(out, pattern{name: d.Name.Name, dims: map[string]float64{}})
		count := "count = 2"
		for _, name := range stated(d) {
			if name == "count" || name == "gaps" {
				count = ""
				out[len(out)-1].dims["count"] = math.NaN()
			}
		}
		boards += fmt.Sprintf("\npanel board-%d { width = 1 m; height = 1 m; row r on spine like %s { %s } }", len(out)-1, d.Name.Name, count)
	}
	tree, _ = parse.File(source.New("shelf/bindings.fore", []byte(boards)))
	built, _ := eval.Build(tree, shelfFiles{})
	for _, n := range built.Things {
		p, ok := n.(*model.Panel)
		if !ok {
			continue
		}
		i, _ := strconv.Atoi(strings.TrimPrefix(p.Name, "board-"))
		for _, part := range p.Parts {
			if r, ok := part.(*model.Row); ok {
				out[i].form = r.Form()
			}
		}
	}
	s, _ := built.Solve()
	for _, d := range s.Dimensions() {
		board, rest, _ := strings.Cut(d.Name, ".")
		dim, inRow := strings.CutPrefix(rest, "r.")
		i, err := strconv.Atoi(strings.TrimPrefix(board, "board-"))
		if err != nil || !inRow {
			continue
		}
		if _, own := out[i].dims[dim]; own || dim != "count" {
			out[i].dims[dim] = d.Value
		}
	}
	return out
}

// shelfFiles lets the shelf use its own parts, and nothing else.
type shelfFiles struct{}

func (shelfFiles) Use(_ *source.File, path string) (*source.File, error) {
	return nil, fmt.Errorf("there is no file %q", path)
}

func (shelfFiles) Read(_ *source.File, path string) ([]byte, error) {
	return nil, fmt.Errorf("there is no file %q", path)
}

func (shelfFiles) Shelf(name string) (*source.File, bool) {
	text, ok := shelf.Text(name)
	return source.New("shelf/"+name+".fore", text), ok
}

func (shelfFiles) ShelfNames() []string { return shelf.Names() }

// stated lists the names on the left sides of a declaration's lines.
func stated(d *ast.Decl) []string {
	var names []string
	if d.Body == nil {
		return nil
	}
	for _, stmt := range d.Body.Stmts {
		if r, ok := stmt.(*ast.Relation); ok {
			if n, ok := r.First.(*ast.Name); ok {
				names = append(names, n.Dotted())
			}
		}
	}
	return names
}

// nearest finds the pattern whose spacing agrees with the row's within its 95 %
// uncertainty; among several, one whose holes agree too, and then the one whose
// spacing and holes are nearest.
func nearest(r *Row, known []pattern) *Pattern {
	var best *Pattern
	miss := math.Inf(1)
	apartBy, dims := spacings(r), map[string]Value{}
	for _, d := range r.Dims {
		if _, first := dims[d.Name]; !first {
			dims[d.Name] = d
		}
	}
	for _, candidate := range known {
		spacing, apart := candidate.agrees(r, dims, apartBy)
		holes, off := candidate.agrees(r, dims, []string{"hole.along", "hole.across", "count"})
		holes = holes && candidate.form == r.Form
		if !spacing || best != nil && best.Same && !holes {
			continue
		}
		if far := apart + off; best == nil || holes && !best.Same || far < miss {
			miss = far
			best = &Pattern{Name: candidate.name, Same: holes, Pitch: candidate.dims["pitch"], Along: candidate.dims["hole.along"],
				Across: candidate.dims["hole.across"], Form: candidate.form}
			if r.Gaps > 0 {
				best.Pitch = 0
			}
		}
	}
	return best
}

// spacings are the dimensions that set a row's holes apart.
func spacings(r *Row) []string {
	if r.Gaps == 0 {
		return []string{"pitch"}
	}
	names := []string{"count"}
	for _, d := range r.Dims {
		if strings.HasPrefix(d.Name, "gap.") {
			names = append(names, d.Name)
		}
	}
	return names
}

// agrees reports whether dimensions of the pattern agree with the row's, and by
// how much they are off in all, in mm. A pattern that leaves its count open
// agrees with any; any other dimension must be there.
func (p pattern) agrees(r *Row, dims map[string]Value, names []string) (ok bool, off float64) {
	ok = true
	for _, name := range names {
		want, has := p.dims[name]
		if !has && name == "count" && r.Gaps == 0 {
			continue
		}
		dim := dims[name]
		miss := math.Abs(dim.Value.Or(math.NaN()) - want)
		if !has || !(miss <= dim.U95+1e-9) {
			ok = false
		}
		off += miss
	}
	return ok, off
}
