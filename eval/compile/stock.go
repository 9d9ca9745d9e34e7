package compile

import (
	"foredge/eval/kind"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/word"
	"foredge/lang/ast"
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
		stock.Quiet = c.quiet(p, kind.Stock)
	}
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
