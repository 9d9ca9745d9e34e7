package compile

import (
	"fmt"

	"foredge/eval/design"
	"foredge/eval/kind"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

func (c *compiler) stockLine(d *draft, stock *model.Stock, key string, p property) {
	switch key {
	case "size":
		stock.Size = c.sheetSize(key, "a size", p)
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
	case "greys":
		stock.Greys = c.greys(p)
	case "kerf":
		stock.Kerf = c.kerf(p)
	case "quantity":
		stock.Lines.Quantity = p.at()
		n, ok := c.number(key, p, unit.Count, 0)
		stock.Quantity = maybe.If(int(n), ok)
	case "price":
		stock.Price = c.money(key, p)
	case "offcuts":
		stock.Offcuts, stock.Lines.Offcuts = c.offcuts(p)
	case "margin":
		stock.Lines.Margin = p.at()
		stock.Margin = c.distance(key, p)
	case "spacing":
		stock.Lines.Spacing = p.at()
		stock.Spacing = c.distance(key, p)
	case "knife", "shared-cuts", "bridge", "bridge-below":
		c.wayLine(&stock.Way, key, p)
	case "cut-speed", "score-speed", "passes":
		c.paceLine(&stock.Pace, &stock.Speeds, key, p)
	case "allow":
		stock.Allow = c.words(p, "allow says in words why the material may be cut",
			`write the reason in quotes, as in allow = "a test piece, in the chamber that is made for it"`)
	case "quiet":
		stock.Quiet = c.quiet(p, kind.Stock)
	}
}

// distance reads how far parts stay from each other or from the edges of a sheet.
func (c *compiler) distance(key string, p property) maybe.Of[float64] {
	v, ok := c.number(key, p, unit.Length, 0)
	return maybe.If(v, ok && c.among(key, v, p, unit.Length))
}

// mostGreys is how many fields a strip of greys may have.
const mostGreys = 101

// greys reads how dark the fields of a strip of greys came out, from the bare board on:
// greys = 8 %, 20 %, 45 %. It is nil after an error.
func (c *compiler) greys(p property) []float64 {
	wrong := func(format string, args ...any) []float64 {
		c.Diags.Errorf("greys", p.at(), format, args...).
			WithHelp("write how dark each field of the strip is, from the bare board to where all of it is engraved, as in greys = 6 %%, 31 %%, 52 %%, 70 %%, 82 %%")
		return nil
	}
	list, ok := p.value.(*ast.List)
	switch {
	case !ok:
		return wrong("greys needs the fields of a strip, two or more")
	case len(list.Elems) > mostGreys:
		return wrong("a strip of greys has at most %d fields, and this one has %d", mostGreys, len(list.Elems))
	}
	var out []float64
	for _, e := range list.Elems {
		v, ok := c.constant("how dark a field is", e, p, unit.Ratio)
		switch {
		case !ok:
			return nil
		case v < 0 || v > 1:
			return wrong("a field of a strip of greys can't be %s dark", e.Span().Short())
		case len(out) > 0 && v <= out[len(out)-1]:
			return wrong("each field of a strip of greys is darker than the one before it, and %s isn't", e.Span().Short())
		}
		out = append(out, v)
	}
	return out
}

// pair reads two lengths: size = 600 by 300.
func (c *compiler) pair(key string, p property) maybe.Of[model.Size] {
	pair, ok := p.value.(*ast.Pair)
	if _, bad := p.value.(*ast.BadExpr); bad {
		return maybe.Of[model.Size]{}
	}
	if !ok {
		c.Diags.Errorf("size", p.at(), "%s needs two lengths", key).WithHelp("as in %s = %s by %s", key, unit.Example(600, c.UnitOf(p.at())), unit.Example(300, c.UnitOf(p.at())))
		return maybe.Of[model.Size]{}
	}
	width, okW := c.constant("the width of "+key, pair.A, p, unit.Length)
	height, okH := c.constant("the height of "+key, pair.B, p, unit.Length)
	return maybe.If(model.Size{Width: width, Height: height}, okW && okH)
}

// wayLine decodes what a stock states of how parts are cut out of it.
func (c *compiler) wayLine(way *design.Way, key string, p property) {
	asked := func() design.Asked {
		answer, _ := choose(c, p, "an answer", word.Answers()...)
		return design.Asked{Yes: answer == word.Yes, At: p.line.Span()}
	}
	switch key {
	case "knife":
		way.Knife = asked()
		return
	case "shared-cuts":
		way.Shared = asked()
		return
	}
	v, ok := c.number(key, p, unit.Length, 0)
	if ok && v == 0 {
		c.Diags.Errorf("positive", p.at(), "%s can't be 0", key).WithHelp("take the line out where no part is to keep bridges")
		return
	}
	if key == "bridge" || way.BridgeAt.IsZero() {
		way.BridgeAt = p.line.Span()
	}
	if key == "bridge" {
		way.Bridge = maybe.If(v, ok)
	} else {
		way.BridgeBelow = maybe.If(v, ok)
	}
}

// offcuts reads what is left of earlier sheets: offcuts = 310 by 200, 250 by 120 less 80 by 60 at head-right.
func (c *compiler) offcuts(p property) (all []model.Offcut, at []source.Span) {
	elems := []ast.Expr{p.value}
	if list, ok := p.value.(*ast.List); ok {
		elems = list.Elems
	}
	for _, e := range elems {
		one := p
		one.value = e
		less, _ := e.(*ast.Less)
		if less != nil {
			one.value = less.Of
		}
		if c.severalOffcuts(one.value) {
			return nil, nil
		}
		size, ok := c.sheetSize("offcuts", "an offcut", one).Get()
		if !ok {
			return nil, nil
		}
		offcut := model.Offcut{Size: size}
		if less != nil && !c.gone(&offcut, less, p) {
			return nil, nil
		}
		all, at = append(all, offcut), append(at, e.Span())
	}
	return all, at
}

// severalOffcuts reports a width of 2 * 300, by which a maker may well mean two pieces of 300.
func (c *compiler) severalOffcuts(e ast.Expr) bool {
	pair, ok := e.(*ast.Pair)
	if !ok {
		return false
	}
	times, ok := bare(pair.A).(*ast.Binary)
	if !ok || times.Op != ast.Mul {
		return false
	}
	help := "state each piece that there is by itself, with its width as one number"
	if n, ok := times.L.(*ast.Number); ok {
		piece := times.R
		if m, ok := times.R.(*ast.Number); n.Unit != "" || ok && m.Unit == "" && m.Value < n.Value {
			piece = times.L
		}
		one := piece.Span().Short() + " by " + pair.B.Span().Short()
		help += fmt.Sprintf(", as in offcuts = %s, %s", one, one)
	}
	c.Diags.Errorf("offcut-times", pair.A.Span(), "this would be one offcut that is %s wide, not several", pair.A.Span().Short()).WithHelp("%s", help)
	return true
}

// gone reads what is gone of an offcut at a corner.
func (c *compiler) gone(o *model.Offcut, less *ast.Less, p property) (ok bool) {
	p.value = less.Gone
	if o.Gone, ok = c.pair("what is gone of an offcut", p).Get(); !ok {
		return false
	}
	if !(o.Gone.Width > 0 && o.Gone.Height > 0 && o.Gone.Width < o.Size.Width && o.Gone.Height < o.Size.Height) {
		c.Diags.Errorf("offcut-corner", less.Gone.Span(), "%s can't be gone at a corner of an offcut of %s", less.Gone.Span().Short(), less.Of.Span().Short()).
			WithHelp("what is gone is narrower and lower than the offcut; of one that lacks a whole side state what is there")
		return false
	}
	if o.Corner, ok = word.Find(less.At.Name, word.SheetCorners()...); !ok {
		c.Diags.Errorf("word", less.At.At, "%s is not a corner of a sheet", less.At.Name).WithHelp("it can be %s", spell.Or(word.Strings(word.SheetCorners()...)))
	}
	return ok
}

// kerf reads the width of cut, with how surely it is known: kerf = 0.18 ± 0.02.
func (c *compiler) kerf(p property) (k model.Kerf) {
	if st, ok := p.value.(*ast.Stated); ok {
		p.value = st.X
		if st.Within != nil {
			within, ok := c.constant("what follows ±", st.Within, p, unit.Length)
			if ok && within <= 0 {
				c.Diags.Errorf("positive", st.Within.Span(), "what follows ± must be a number above 0").
					WithHelp("it is by how much the kerf may be off, as in kerf = %s ± %s", unit.Example(0.18, c.UnitOf(p.at())), unit.Example(0.02, c.UnitOf(p.at())))
			}
			k.Within = maybe.If(within, ok)
		}
	}
	k.At = p.at()
	v, ok := c.number("kerf", p, unit.Length, 0)
	k.Width = maybe.If(v, ok)
	return k
}
