package eval_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/eval/dim"
	"foredge/lang/ast"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// A shuffler says a design in another way that means the same: its lines and
// things in another order, its names exchanged, numbers moved into lets and
// back. It works on the text, by the spans of the tree.
type shuffler struct {
	r     *rand.Rand
	names map[string]string // what each name is called now
	lets  int               // how many have been added
}

// shuffled says the files of a design in another way. back gives the names as
// they were.
func shuffled(r *rand.Rand, files map[string]string) (out, back map[string]string) {
	trees := map[string]*ast.File{}
	for _, path := range slices.Sorted(maps.Keys(files)) {
		trees[path], _ = parse.File(source.New(path, []byte(files[path])))
	}
	s := &shuffler{r: r, names: exchanged(r, trees)}
	back = map[string]string{}
	for was, now := range s.names {
		back[now] = was
	}
	out = map[string]string{}
	for _, path := range slices.Sorted(maps.Keys(files)) {
		out[path] = s.file(trees[path])
	}
	return out, back
}

// exchanged gives the things and named values that the files declare each
// other's names. Left as they are: words of the language, a column of a table of
// orders, a let within a thing, names of the shelf.
func exchanged(r *rand.Rand, trees map[string]*ast.File) map[string]string {
	taken := map[string]bool{"square": true, "most": true, "loop": true, "coil": true, "ring": true, "birch-ply": true, "cloth": true}
	for n := range dim.Number {
		taken[n.String()] = true
	}
	declared := map[string]bool{}
	see := func(n string) {
		if n != "" {
			declared[n] = true
		}
	}
	for _, tree := range trees {
		top := map[ast.Node]bool{}
		for _, stmt := range tree.Stmts {
			top[stmt] = true
		}
		walk(tree, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.Decl:
				see(n.Name.Name)
			case *ast.Let:
				if see(n.Name.Name); !top[n] { // in place of a let of what it is like
					taken[n.Name.Name] = true
				}
			case *ast.Name:
				if len(n.Parts) == 2 && n.Parts[0].Name == "order" { // a column
					taken[n.Parts[1].Name] = true
				}
			}
			return true
		})
	}
	maps.DeleteFunc(declared, func(n string, _ bool) bool { return taken[n] })
	names := slices.Sorted(maps.Keys(declared))
	to := slices.Clone(names)
	r.Shuffle(len(to), func(i, j int) { to[i], to[j] = to[j], to[i] })
	out := map[string]string{}
	for i, n := range names {
		out[n] = to[i]
	}
	return out
}

func walk(tree *ast.File, visit func(ast.Node) bool) {
	for _, stmt := range tree.Stmts {
		ast.Walk(stmt, visit)
	}
}

// An edit replaces a stretch of a file.
type edit struct {
	at   source.Span
	text string
}

// A page is one file on the way to being said in another way.
type page struct {
	*shuffler
	tree  *ast.File
	edits []edit
	added []string          // lets for numbers
	known map[string]string // lets at the top that are plain numbers
}

func (s *shuffler) file(tree *ast.File) string {
	p := &page{shuffler: s, tree: tree, known: map[string]string{}}
	counts := map[string]int{}
	walk(tree, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.Decl:
			counts[n.Name.Name]++
		case *ast.Let:
			counts[n.Name.Name]++
		}
		return true
	})
	for _, stmt := range tree.Stmts {
		if l, ok := stmt.(*ast.Let); ok && counts[l.Name.Name] == 1 && s.names[l.Name.Name] != "" {
			if n, ok := l.Value.(*ast.Number); ok {
				p.known[l.Name.Name] = n.At.Text()
			}
		}
	}
	p.rename()
	for _, stmt := range tree.Stmts {
		if d, ok := stmt.(*ast.Decl); ok {
			p.numbers(d)
		}
	}
	slices.SortFunc(p.edits, func(a, b edit) int { return a.at.Start - b.at.Start })
	var b strings.Builder
	rest := tree.Stmts
	for len(rest) > 0 { // the first lines stay first
		switch rest[0].(type) {
		case *ast.Version, *ast.Units:
			b.WriteString(rest[0].Span().Text() + "\n")
			rest = rest[1:]
			continue
		}
		break
	}
	p.statements(&b, rest, p.added)
	return b.String()
}

// rename notes where a name stands that is exchanged.
func (p *page) rename() {
	ident := func(n ast.Ident) {
		if to, ok := p.names[n.Name]; ok && to != n.Name {
			p.edits = append(p.edits, edit{n.At, to})
		}
	}
	walk(p.tree, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.Decl:
			ident(n.Name)
		case *ast.Let:
			ident(n.Name)
		case *ast.Without:
			ident(n.Name)
		case *ast.Name:
			if value, ok := p.known[n.Parts[0].Name]; ok && len(n.Parts) == 1 && p.r.IntN(2) == 0 {
				p.edits = append(p.edits, edit{n.At, value})
				return true
			}
			for _, part := range n.Parts {
				ident(part)
			}
		}
		return true
	})
}

// numbers moves some numbers in the lines of what is made into lets. In what is
// measured a number is a reading.
func (p *page) numbers(d *ast.Decl) {
	switch d.Kind.Name {
	case "panel", "row", "region", "cutout", "lattice", "line", "gap", "case":
	default:
		return
	}
	if d.Body == nil {
		return
	}
	for _, stmt := range d.Body.Stmts {
		var sides []ast.Expr
		switch stmt := stmt.(type) {
		case *ast.Decl:
			p.numbers(stmt)
		case *ast.Relation:
			sides = append(sides, stmt.First)
			for _, side := range stmt.Rest {
				sides = append(sides, side.Value)
			}
		case *ast.Prefer:
			sides = append(sides, stmt.Left, stmt.Right)
		}
		for _, e := range sides {
			ast.Walk(e, func(n ast.Node) bool {
				if x, ok := n.(*ast.Number); ok && p.r.IntN(3) == 0 {
					p.lets++
					name := fmt.Sprintf("moved-%d", p.lets)
					p.added = append(p.added, "let "+name+" = "+x.At.Text())
					p.edits = append(p.edits, edit{x.At, name})
				}
				return true
			})
		}
	}
}

// text is a stretch of the file with the edits in it.
func (p *page) text(from, to int) string {
	all := p.tree.Source.Text()
	var b strings.Builder
	i, _ := slices.BinarySearchFunc(p.edits, from, func(e edit, at int) int { return e.at.Start - at })
	for ; i < len(p.edits) && p.edits[i].at.End <= to; i++ {
		b.WriteString(string(all[from:p.edits[i].at.Start]) + p.edits[i].text)
		from = p.edits[i].at.End
	}
	b.WriteString(string(all[from:to]))
	return b.String()
}

func (p *page) statements(b *strings.Builder, stmts []ast.Stmt, also []string) {
	texts := slices.Clone(also)
	for _, stmt := range stmts {
		var one strings.Builder
		p.statement(&one, stmt)
		texts = append(texts, one.String())
	}
	p.r.Shuffle(len(texts), func(i, j int) { texts[i], texts[j] = texts[j], texts[i] })
	for _, text := range texts {
		b.WriteString(text + "\n")
	}
}

func (p *page) statement(b *strings.Builder, stmt ast.Stmt) {
	at, body := stmt.Span(), (*ast.Block)(nil)
	switch stmt := stmt.(type) {
	case *ast.Decl:
		body = stmt.Body
	case *ast.Mark:
		body = stmt.Body
	}
	if body == nil {
		b.WriteString(p.text(at.Start, at.End))
		return
	}
	b.WriteString(p.text(at.Start, body.At.Start) + "{\n")
	p.statements(b, body.Stmts, nil)
	b.WriteString("}")
}

// folder reads what a design refers to from files in memory, else from a folder.
type folder struct {
	dir   string
	files map[string]string
	read  map[string]*source.File
}

func (f *folder) Use(_ *source.File, path string) (*source.File, error) {
	if got, ok := f.read[path]; ok {
		return got, nil
	}
	text, ok := f.files[path]
	if !ok {
		return nil, fmt.Errorf("there is no file %q", path)
	}
	f.read[path] = source.New(path, []byte(text))
	return f.read[path], nil
}

func (f *folder) Read(_ *source.File, path string) ([]byte, error) {
	return os.ReadFile(filepath.Join(f.dir, path))
}

// filesOf is a design with the files that it uses.
func filesOf(t *testing.T, path string) map[string]string {
	t.Helper()
	out := map[string]string{}
	var add func(name string)
	add = func(name string) {
		text, err := os.ReadFile(filepath.Join(filepath.Dir(path), name))
		if err != nil || out[name] != "" {
			return
		}
		out[name] = string(text)
		tree, _ := parse.File(source.New(name, text))
		for _, stmt := range tree.Stmts {
			if u, ok := stmt.(*ast.Use); ok && u.Path != nil {
				add(u.Path.Value)
			}
		}
	}
	add(filepath.Base(path))
	return out
}
