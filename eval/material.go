package eval

import (
	"strings"

	"foredge/eval/unit"
	"foredge/lang/ast"
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
		return
	case *ast.Name:
		sym, problem := p.scope.Lookup(v)
		if problem != nil || sym.Thing == nil || sym.Dim != "" || sym.Thing.Kind.Name != "material" {
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
func (s *Solution) materialOf(it *item, st *Stock) {
	length := func(key string) float64 { return s.number(it, "material "+key) }
	st.UsualKerf, st.ThickOver, st.ThickUnder = length("kerf"), length("thick-over"), length("thick-under")
	st.LeastWeb, st.LeastDetail = length("least-web"), length("least-detail")
	if it.material == nil {
		return
	}
	words := func(key string) string {
		if t, ok := it.material.props[key].value.(*ast.String); ok {
			return strings.TrimSpace(t.Value)
		}
		return ""
	}
	st.GivesOff, st.Never = words("gives-off"), words("never")
}
