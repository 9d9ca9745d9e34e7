package compile

import (
	"slices"
	"strings"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/eval/shelf"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/parse"
	"foredge/lang/source"
	"foredge/lang/unit"
)

func (c *compiler) stockLine(d *draft, stock *model.Stock, key string, p property) {
	switch key {
	case "size":
		stock.Size = c.pair(key, p)
	case "material":
		c.material(d, stock, p)
	case "grain":
		g, ok := p.value.(*ast.Grain)
		if ok {
			stock.Grain, ok = word.Find(g.Along.Name, word.Grains()...)
		}
		if !ok {
			c.Diags.Errorf("grain", p.at(), "grain runs along width or along height").WithHelp("write grain = along height")
		}
	case "kerf":
		stock.Kerf = c.kerf(p)
	case "quantity":
		c.number(key, p, unit.Count, 1)
	case "price":
		c.constant(key, p.value, p, unit.Money)
	case "allow":
		stock.Allow = c.words(p, "allow says in words why the material may be cut",
			`write the reason in quotes, as in allow = "a test piece, in the chamber that is made for it"`)
	case "quiet":
		stock.Quiet = c.quiet(p, false)
	}
}

// pair reads two lengths: size = 600 by 300.
func (c *compiler) pair(key string, p property) maybe.Of[model.Size] {
	pair, ok := p.value.(*ast.Pair)
	if !ok {
		c.Diags.Errorf("size", p.at(), "%s needs two lengths", key).WithHelp("as in %s = 600 by 300", key)
		return maybe.Of[model.Size]{}
	}
	width, okW := c.constant("the width of "+key, pair.A, p, unit.Length)
	height, okH := c.constant("the height of "+key, pair.B, p, unit.Length)
	return maybe.If(model.Size{Width: width, Height: height}, okW && okH)
}

// kerf reads the width of cut, with how surely it is known: kerf = 0.18 ± 0.02.
func (c *compiler) kerf(p property) (k model.Kerf) {
	if st, ok := p.value.(*ast.Stated); ok {
		p.value = st.X
		if st.Within != nil {
			within, ok := c.constant("what follows ±", st.Within, p, unit.Length)
			if ok && within <= 0 {
				c.Diags.Errorf("positive", st.Within.Span(), "what follows ± must be a number above 0").
					WithHelp("it is by how much the kerf may be off, as in kerf = 0.18 ± 0.02")
			}
			k.Within = maybe.If(within, ok)
		}
	}
	v, ok := c.number("kerf", p, unit.Length, 0)
	k.Width = maybe.If(v, ok)
	return k
}

// sheetLengths are the properties of a material that are lengths, and where a
// sheet keeps them. They may speak of `thick`, which is that of the sheet.
func sheetLengths(s *model.Sheet) []struct {
	key string
	to  *maybe.Of[relation.Expr]
} {
	return []struct {
		key string
		to  *maybe.Of[relation.Expr]
	}{{"kerf", &s.Kerf}, {"thick-over", &s.ThickOver}, {"thick-under", &s.ThickUnder},
		{"least-web", &s.LeastWeb}, {"least-detail", &s.LeastDetail}}
}

// material finds what a stock is made of: a material by its name, or a text. A
// word that is no name of anything is taken as it stands.
func (c *compiler) material(d *draft, stock *model.Stock, p property) {
	stock.MadeOf, stock.MaterialAt = p.at().Text(), p.at()
	if n, ok := p.value.(*ast.Name); ok {
		sym, known := c.materialName(n, p)
		switch {
		case !known:
			stock.Shelf = lookOnShelf(n.Dotted())
			return
		case sym.Thing != nil:
			c.madeOf(d, stock, sym.Thing)
			return
		}
	}
	v, ok := c.text(p, func() {
		c.Diags.Errorf("word", p.at(), "%s is not a material", p.at().Short()).
			WithHelp("name it, as in material = greyboard")
	})
	if ok {
		stock.MadeOf, stock.Shelf = v.Text, lookOnShelf(v.Text)
	}
}

// materialName finds the material that a name means, or what may hold a text. It
// gives false for a word that means nothing; it reports a name of something else,
// and one that could mean two things.
func (c *compiler) materialName(n *ast.Name, p property) (sym resolve.Symbol, known bool) {
	sym, problem := p.scope.LookupThing(n)
	switch {
	case problem != nil && problem.Code == "unknown-name" && len(n.Parts) == 1:
	case problem != nil:
		*c.Diags = append(*c.Diags, problem)
	case sym.Broken:
	case isThing(sym, kind.Material), sym.Order != "", sym.Let != nil && c.namesMaterial(sym.Let, p):
		return sym, true
	default:
		d := c.Diags.Errorf("material", p.at(), "%s is %s, not a material", n.Dotted(), meaning(sym))
		if sym.Let != nil {
			d.Note(sym.Let.Stmt.Name.At, "it is named here")
		} else if sym.Thing != nil {
			d.Note(sym.Thing.At, "it is declared here")
		}
		d.WithHelp("give that another name, or put what the stock is made of in quotes")
	}
	return sym, false
}

// namesMaterial reports whether a let may say what a stock is made of: it holds
// a text, and no material has its name, so that none is passed over for it.
func (c *compiler) namesMaterial(l *resolve.Let, p property) bool {
	v, ok := c.Let(l, p.at())
	if ok && v.Kind != unit.Text || lookOnShelf(l.Name).Name != "" {
		return false
	}
	return !slices.ContainsFunc(p.scope.File().Visible(kind.Material), func(t *resolve.Thing) bool { return t.Name == l.Name })
}

// meaning says what a name stands for.
func meaning(sym resolve.Symbol) string {
	switch {
	case sym.Let != nil:
		return "a named value"
	case sym.Dim != dim.None:
		return "a dimension of the " + sym.Thing.Kind.Name
	}
	return "a " + sym.Thing.Kind.Name
}

// madeOf makes a stock of a material that is declared.
func (c *compiler) madeOf(d *draft, stock *model.Stock, t *resolve.Thing) {
	if !t.File.Shelf {
		// What the shelf says must not be cut must not be by a maker's word either.
		stock.Shelf = lookOnShelf(t.Name)
	}
	m := c.draft(t)
	if m.absent {
		return
	}
	stock.Material, _ = m.node.(*model.Material)
	c.sheet = d
	for _, length := range sheetLengths(&stock.Sheet) {
		c.sheetLength(m, length.key, length.to)
	}
	c.sheet = nil
}

// sheetLength works out one of the lengths that a material states, for a stock
// that is made of it.
func (c *compiler) sheetLength(m *draft, key string, to *maybe.Of[relation.Expr]) {
	p, stated := m.props[key]
	if !stated {
		return
	}
	x, ok := c.As(p.value, p.scope, unit.Length, key)
	if !ok {
		return
	}
	if v, known := x.Constant(); known && v < 0 {
		c.Diags.Errorf("negative", p.at(), "%s can't be less than 0", key)
		return
	}
	*to = maybe.Is(x)
}

// materialLine sees to a line of a material that no sheet needs to be known
// for; what its lengths come to depends on the sheet.
func (c *compiler) materialLine(d *draft, m *model.Material, key string, p property) {
	switch key {
	case "gives-off":
		m.GivesOff = c.words(p, "`gives-off` takes a text in quotes", `write it in quotes, as in gives-off = "formaldehyde"`)
	case "never":
		m.Never = c.words(p, "`never` takes a text in quotes", `write why it must not be cut, in quotes`)
	case "shear-modulus", "allowed-shear":
		c.shearLine(&m.ShearModulus, &m.AllowedShear, key, p)
	default:
		thick, good := c.speaksOfThick(key, p)
		if good && !thick { // else what it comes to depends on the sheet
			_, good = c.As(p.value, p.scope, unit.Length, key)
		}
		if !good {
			delete(d.props, key)
		}
	}
}

// words reads a property that is said in words, and reports anything else.
func (c *compiler) words(p property, message, help string) string {
	wrong := func() { c.Diags.Errorf("kind-mismatch", p.at(), "%s", message).WithHelp("%s", help) }
	v, ok := c.text(p, wrong)
	said := strings.TrimSpace(v.Text)
	if ok && said == "" {
		wrong()
	}
	return said
}

// speaksOfThick tells whether a line of a material speaks of the thickness of
// its sheet. It reports one that speaks of any other dimension.
func (c *compiler) speaksOfThick(key string, p property) (thick, good bool) {
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
			c.Diags.Errorf("constant", name.Span(), "%s of a material can depend only on thick, the thickness of its sheet", key).
				WithHelp("state it as a number, or by thick and named values")
		}
		return true
	})
	return thick, good
}

// lookOnShelf finds a material on the shelf by a word as makers write it: PVC,
// "Glass fibre". Only that one declaration is read, and what it is like. What
// must never be cut must not be cut either if a design doesn't use the shelf.
func lookOnShelf(word string) model.Shelf {
	word = strings.ReplaceAll(strings.ToLower(strings.TrimSpace(word)), " ", "-")
	var m model.Shelf
	for name := word; m.Never == ""; {
		text, ok := shelf.Declaration("materials", "material", name)
		if !ok {
			break
		}
		m.Name = word
		tree, _ := parse.File(source.New("materials", []byte(text)))
		name = ""
		for _, s := range tree.Stmts {
			if d, ok := s.(*ast.Decl); ok {
				m.Never, name = neverOf(d), likeOf(d)
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
