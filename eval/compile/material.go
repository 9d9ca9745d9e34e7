package compile

import (
	"cmp"
	"slices"
	"strings"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/material"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/orders"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/eval/shelf"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/parse"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// sheetNumbers are the properties of a material that are numbers, of which kind, and
// where a sheet keeps them. They may speak of `thick`, which is that of the sheet.
func sheetNumbers(s *model.Sheet) []struct {
	key  string
	kind unit.Kind
	to   *maybe.Of[relation.Expr]
} {
	return []struct {
		key  string
		kind unit.Kind
		to   *maybe.Of[relation.Expr]
	}{{"kerf", unit.Length, &s.Kerf}, {"thick-over", unit.Length, &s.ThickOver}, {"thick-under", unit.Length, &s.ThickUnder},
		{"least-web", unit.Length, &s.LeastWeb}, {"least-edge", unit.Length, &s.LeastEdge}, {"least-detail", unit.Length, &s.LeastDetail},
		{"least-radius", unit.Length, &s.LeastRadius}, {"movement", unit.Ratio, &s.Movement}}
}

// material finds what a stock is made of: a material by its name, or a text.
func (c *compiler) material(d *draft, stock *model.Stock, p property) {
	stock.MadeOf, stock.MaterialAt, stock.Shelf = p.at().Text(), p.at(), model.Shelf{}
	if n, ok := p.value.(*ast.Name); ok {
		sym, known := c.materialName(n, p)
		switch {
		case !known:
			return
		case sym.Thing != nil:
			c.madeOf(d, stock, sym.Thing)
			return
		}
	}
	v, ok := c.text(p, func(diag.Code) {
		c.Diags.Errorf("word", p.at(), "%s is not a material", p.at().Short()).
			WithHelp("name it, as in material = greyboard")
	})
	if !ok {
		return
	}
	if orders.Empty(v.Text) { // as in an order whose cell is empty: nobody says it
		stock.MadeOf, stock.MaterialAt = "", source.Span{}
		of := d.thing
		if p.from != nil {
			of = p.from
		}
		if said, ok := materialOfLike(of); ok {
			c.material(d, stock, said)
		} else {
			c.byItsName(d, stock)
		}
		return
	}
	stock.MadeOf, stock.Shelf = v.Text, lookOnShelf(v.Text)
	if name := spell.Name(v.Text); c.sight(p.scope.File(), kind.Material).named[name] {
		stock.Quoted = name
	}
}

// materialOfLike is what the things that a stock is like say of what they are made of: the nearest
// that says it.
func materialOfLike(of *resolve.Thing) (property, bool) {
	for like := of.Like; like != nil; like = like.Like {
		for _, l := range like.Lines {
			if r, ok := l.Stmt.(*ast.Relation); ok && isEquation(r) && subjectOf(l) == "material" {
				return property{value: r.Rest[0].Value, line: r, scope: l.Scope, from: like, of: l}, true
			}
		}
	}
	return property{}, false
}

// byItsName judges a stock of which nobody says what it is made of: it may be what it, or what it is
// like, is called.
func (c *compiler) byItsName(d *draft, stock *model.Stock) {
	stock.Shelf = lookOnShelf(stock.Name)
	for like := d.thing.Like; like != nil && stock.Shelf.Never == ""; like = like.Like {
		if named := lookOnShelf(like.Name); named.Never != "" || stock.Shelf.Ask == "" {
			stock.Shelf = named
		}
	}
}

// materialName finds the material that a name means, or what may hold a text. It
// gives false for what it reports: a name of nothing or of something else, and one
// that could mean two things.
func (c *compiler) materialName(n *ast.Name, p property) (sym resolve.Symbol, known bool) {
	sym, problem := p.scope.LookupThing(n)
	switch {
	case problem != nil && problem.Code == "unknown-name" && len(n.Parts) == 1:
		c.unknownMaterial(n, p)
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

// unknownMaterial reports a word that names nothing where a material is to be
// named: one of the shelf that isn't used, one that is misspelt, or words of the
// maker's own that lack their quotes.
func (c *compiler) unknownMaterial(n *ast.Name, p property) {
	name := n.Dotted()
	d := c.Diags.Errorf("unknown-name", n.Span(), "nothing is called %q here", name)
	onShelf := lookOnShelf(name)
	near, nearOnShelf := spell.Nearest(name, c.sight(p.scope.File(), kind.Material).names()), spell.Nearest(name, shelf.Declared("materials", "material"))
	const quotes = `a material of your own words goes in quotes, as in "oak board"`
	const use = "write use materials at the top of the file"
	switch {
	case onShelf.Never != "":
		d.WithHelp("on the shelf %s must not be cut by a laser (%s): use another material", onShelf.Banned, onShelf.Never)
	case near != "":
		d.Meant(name, near).WithHelp("did you mean %s? else: %s", near, quotes)
	case onShelf.Name != "":
		d.WithHelp("the shelf knows %s: %s; %s", onShelf.Name, use, quotes)
		if onShelf.Name == name {
			d.WithUse(n.Span().File, "materials")
		}
	case nearOnShelf != "":
		d.Meant(name, nearOnShelf).WithHelp("did you mean %s? It is on the shelf: %s; %s", nearOnShelf, use, quotes)
	default:
		d.WithHelp("%s; or declare it, as in material %s { gives-off = \"...\" }", quotes, name)
	}
}

// namesMaterial reports whether a let may say what a stock is made of: it holds
// a text, and no material has its name, so that none is passed over for it.
func (c *compiler) namesMaterial(l *resolve.Let, p property) bool {
	v, ok := c.Let(l, p.at())
	if ok && v.Kind != unit.Text || slices.Contains(shelf.Declared("materials", "material"), l.Name) {
		return false
	}
	return !c.sight(p.scope.File(), kind.Material).named[l.Name]
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
		// Nor by another name for it.
		stock.Shelf = lookOnShelf(t.Name)
		met := map[*resolve.Thing]bool{}
		for like := t.Like; like != nil && !like.File.Shelf && stock.Shelf.Never == "" && !met[like]; like = like.Like {
			met[like] = true
			if named := lookOnShelf(like.Name); named.Never != "" {
				stock.Shelf = named
			}
		}
	}
	m := c.draft(t)
	if m.absent {
		return
	}
	stock.Material, _ = m.node.(*model.Material)
	c.sheet = d
	for _, n := range sheetNumbers(&stock.Sheet) {
		c.sheetNumber(m, n.key, n.kind, n.to)
	}
	c.sheet = nil
}

// sheetNumber works out one of the numbers that a material states, for a stock
// that is made of it.
func (c *compiler) sheetNumber(m *draft, key string, k unit.Kind, to *maybe.Of[relation.Expr]) {
	p, stated := m.props[key]
	if !stated {
		return
	}
	x, ok := c.As(p.value, p.scope, k, key)
	if !ok {
		return
	}
	if v, known := x.Constant(); known && v < 0 {
		c.Diags.Errorf("negative", p.at(), "%s can't be less than 0", key).WithHelp("state 0 or more, or take the line out")
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
	case "burns":
		m.Burns = c.words(p, "`burns` takes a text in quotes", `write how it burns, in quotes, as in burns = "readily, and drips"`)
	case "ask":
		m.Ask = c.words(p, "`ask` takes a text in quotes", `write why a workshop is to be asked, in quotes`)
	case "never":
		m.Never = c.words(p, "`never` takes a text in quotes", `write why it must not be cut, in quotes`)
	case "shear-modulus", "allowed-shear":
		c.shearLine(&m.ShearModulus, &m.AllowedShear, key, p)
	default:
		thick, good := c.speaksOfThick(key, p)
		if good && !thick { // else what it comes to depends on the sheet
			_, good = c.As(p.value, p.scope, kindOfSheet(key), key)
		}
		if !good {
			delete(d.props, key)
		}
	}
}

// kindOfSheet is the kind of value of a number that a material states.
func kindOfSheet(key string) unit.Kind {
	for _, n := range sheetNumbers(&model.Sheet{}) {
		if n.key == key {
			return n.kind
		}
	}
	return unit.Length
}

// words reads a property that is said in words, and reports anything else.
func (c *compiler) words(p property, message, help string) string {
	wrong := func(code diag.Code) { c.Diags.Errorf(code, p.at(), "%s", message).WithHelp("%s", help) }
	v, ok := c.text(p, wrong)
	said := strings.TrimSpace(v.Text)
	if ok && orders.Empty(said) {
		wrong("kind-mismatch")
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

// lookOnShelf finds what the shelf says of a material by words as makers write
// them: PVC, "Glass fibre". What must never be cut must not be cut either if a
// design doesn't use the shelf, nor if more words stand beside its name: "PVC
// sheet", and to be safe "vinyl-free" too. Nothing is read but the declarations
// that the words speak of, and what those are like.
func lookOnShelf(words string) (m model.Shelf) {
	if name := spell.Name(words); slices.Contains(shelf.Declared("materials", "material"), name) {
		m.Name = name
	}
	for _, meant := range material.In(words) {
		of := onShelf(meant.Material)
		switch {
		case of.Never != "":
			return model.Shelf{Name: m.Name, Banned: meant.Material, Never: of.Never, Words: meant.Words}
		case of.Ask != "" && m.Ask == "":
			of.Name, of.Asked, of.Words = m.Name, meant.Material, meant.Words
			m = of
		}
	}
	return m
}

// onShelf is why a material of the shelf must not be cut, why workshops differ over it, what it
// gives off and how it burns, each by itself or by what it is like; "" where nothing is said.
func onShelf(name string) (m model.Shelf) {
	for name != "" {
		text, ok := shelf.Declaration("materials", "material", name)
		if !ok {
			break
		}
		tree, _ := parse.File(source.New("materials", []byte(text)))
		name = ""
		for _, s := range tree.Stmts {
			if d, ok := s.(*ast.Decl); ok {
				name = likeOf(d)
				for line, to := range map[string]*string{"never": &m.Never, "ask": &m.Ask, "gives-off": &m.GivesOff, "burns": &m.Burns} {
					*to = cmp.Or(*to, said(d, line))
				}
			}
		}
	}
	return m
}

// said is the text that a line of a declared material states; "" if none does.
func said(d *ast.Decl, line string) string {
	if d.Body == nil {
		return ""
	}
	for _, s := range d.Body.Stmts {
		if r, ok := s.(*ast.Relation); ok && r.First.Span().Text() == line {
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
