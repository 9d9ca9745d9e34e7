package eval

import (
	"strings"

	"foredge/eval/design"
	"foredge/eval/shelf"
	"foredge/lang/ast"
	"foredge/lang/parse"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// materialLengths are the properties of a material that are lengths. They may
// speak of `thick`, which is that of the sheet made of it.
func materialLengths() []string {
	return []string{"kerf", "thick-over", "thick-under", "least-web", "least-detail"}
}

// material finds what a stock is made of, where the file knows the material; a
// word that it doesn't know is taken as it stands.
func (b *builder) material(it *item, p prop) {
	switch v := p.value.(type) {
	case *ast.String:
		it.onShelf = lookOnShelf(v.Value)
		return
	case *ast.Name:
		sym, problem := p.scope.Lookup(v)
		if problem != nil || sym.Thing == nil || sym.Dim != "" || sym.Thing.Kind.Name != "material" {
			it.onShelf = lookOnShelf(v.Dotted())
			return
		}
		it.material = b.item(sym.Thing)
		if it.material.out {
			it.material = nil
			return
		}
		b.sheet = it
		for _, key := range materialLengths() {
			b.sheetLength(it, key)
		}
		b.sheet = nil
		return
	}
	b.diags.Errorf("word", p.at(), "%s is no material", short(p.at())).
		WithHelp("name it, as in material = greyboard")
}

// sheetLength works out one of the lengths that a material states, for a stock
// that is made of it. It is kept with the stock under "material " and its name.
func (b *builder) sheetLength(it *item, key string) {
	p, stated := it.material.props[key]
	if !stated {
		return
	}
	x, ok := b.expr(p.value, p.scope, unit.Length, key)
	if !ok {
		return
	}
	if v, known := constant(x); known && v < 0 {
		b.diags.Errorf("negative", p.at(), "%s can't be less than 0", key)
		return
	}
	it.exprs["material "+key] = x
}

// materialLine sees to a line of a material that no sheet needs to be known
// for; what its lengths come to depends on the sheet.
func (b *builder) materialLine(key string, p prop) {
	switch key {
	case "gives-off", "never":
		if v, ok := b.value(p.value, p.scope); ok && (v.kind != unit.Text || strings.TrimSpace(v.text) == "") {
			b.diags.Errorf("kind-mismatch", p.at(), "%s is said in words", key).
				WithHelp("%s", map[string]string{
					"gives-off": `write it in quotes, as in gives-off = "formaldehyde"`,
					"never":     `write why it must not be cut, in quotes`,
				}[key])
		}
	default:
		thick, good := b.speaksOfThick(key, p)
		if good && !thick { // else what it comes to depends on the sheet
			_, good = b.expr(p.value, p.scope, unit.Length, key)
		}
		if !good {
			delete(b.byThing[p.scope.Thing()].props, key)
		}
	}
}

// speaksOfThick tells whether a line of a material speaks of the thickness of
// its sheet. It reports one that speaks of any other dimension.
func (b *builder) speaksOfThick(key string, p prop) (thick, good bool) {
	good = true
	ast.Walk(p.value, func(n ast.Node) bool {
		name, ok := n.(*ast.Name)
		if !ok {
			return true
		}
		sym, problem := p.scope.Lookup(name)
		switch {
		case problem != nil || sym.Thing == nil:
		case sym.Thing == p.scope.Thing():
			thick = true
		default:
			good = false
			b.diags.Errorf("property", name.Span(), "%s of a material can speak of thick only, the thickness of its sheet", key).
				WithHelp("state it as a number, or by thick and named values")
		}
		return true
	})
	return thick, good
}

// materialOf is what a stock's material says of it.
func (s *Solution) materialOf(it *item, st *design.Stock) {
	length := func(key string) float64 { return s.number(it, "material "+key) }
	st.UsualKerf, st.ThickOver, st.ThickUnder = known(length("kerf")), known(length("thick-over")), known(length("thick-under"))
	st.LeastWeb, st.LeastDetail = above(length("least-web")), above(length("least-detail"))
	m := &st.Material
	if p, ok := it.props["material"]; ok {
		m.Name, m.At = strings.Trim(p.at().Text(), `"`), p.at()
	}
	if it.material == nil {
		m.OnShelf, m.Never = it.onShelf.name, it.onShelf.never
		return
	}
	m.Known = true
	words := func(key string) string {
		if t, ok := it.material.props[key].value.(*ast.String); ok {
			return strings.TrimSpace(t.Value)
		}
		return ""
	}
	m.GivesOff, m.Never = words("gives-off"), words("never")
}

// A shelfMaterial is a material of the shipped shelf that a design names
// without using the shelf. What must never be cut must not be cut then either.
type shelfMaterial struct{ name, never string }

// lookOnShelf finds a material on the shelf by a word as makers write it: PVC,
// "Glass fibre". Only that one declaration is read, and what it is like.
func lookOnShelf(word string) shelfMaterial {
	word = strings.ReplaceAll(strings.ToLower(strings.TrimSpace(word)), " ", "-")
	var m shelfMaterial
	for name := word; m.never == ""; {
		text, ok := shelf.Declaration("materials", "material", name)
		if !ok {
			break
		}
		m.name = word
		tree, _ := parse.File(source.New("materials", []byte(text)))
		name = ""
		for _, s := range tree.Stmts {
			if d, ok := s.(*ast.Decl); ok {
				m.never, name = neverOf(d), likeOf(d)
			}
		}
	}
	return m
}

// neverOf is why a declared material must not be cut; "" if it may be.
func neverOf(d *ast.Decl) string {
	if d.Body == nil {
		return ""
	}
	for _, s := range d.Body.Stmts {
		if r, ok := s.(*ast.Relation); ok && r.First.Span().Text() == "never" {
			if t, ok := r.Rest[0].Value.(*ast.String); ok {
				return t.Value
			}
		}
	}
	return ""
}

// likeOf is what a declared thing is like; "" if nothing.
func likeOf(d *ast.Decl) string {
	for _, c := range d.Clauses {
		if n, ok := c.Target.(*ast.Name); ok && c.Word.Name == "like" {
			return n.Dotted()
		}
	}
	return ""
}
