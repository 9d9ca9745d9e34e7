package eval

import (
	"regexp"
	"strings"

	"foredge/eval/kind"
	"foredge/lang/ast"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

func stockKind() *kind.Kind { return kind.Find("stock") }

// property sees to a line that states a property. Most are read when the
// drawing asks for them; here what is wrong with them is reported.
func (b *builder) property(it *item, key string, s *ast.Relation) {
	side := s.Rest[0]
	if len(s.Rest) != 1 || side.Op != ast.Eq {
		b.diags.Errorf("property", side.OpAt, "%s can only be stated with =", key)
		return
	}
	p, ok := it.props[key]
	if !ok || p.line != s {
		return // replaced by a later line
	}
	if strings.HasPrefix(key, "corner ") {
		b.cornerLine(it, key, p)
		return
	}
	if it.thing.Kind.Name == "material" && (contains(materialLengths(), key) || key == "gives-off" || key == "never") {
		b.materialLine(key, p)
		return
	}
	switch key {
	case "corners":
		b.corner(it, key, p)
	case "copies", "quantity":
		b.constantProp(it, key, p, unit.Count, 1)
	case "kerf":
		b.kerfLine(it, p)
	case "gauge", "resolution", "jaw-flat":
		b.promise(it, key, p)
	case "shear-modulus", "allowed-shear":
		if v, ok := b.constantProp(it, key, p, unit.Ratio, 0); ok && v == 0 {
			b.diags.Errorf("negative", p.at(), "%s can't be 0", key).WithHelp("state it in N/mm² (MPa), or take the line out")
			delete(it.exprs, key)
		}
	case "clear":
		if x, ok := b.expr(p.value, p.scope, unit.Length, key); ok {
			b.needExpr(x)
			it.exprs[key] = x
		}
	case "scale-x", "scale-y":
		if v, ok := b.constantProp(it, key, p, unit.Ratio, 0); ok && (v < 0.9 || v > 1.1) {
			b.diags.Errorf("scale", p.at(), "a scale of %s is no fine correction of an axis", unit.FormatNumber(v, 4)).
				WithHelp("scale-x = 1.002 says that the machine moves 1.002 mm where it should move 1 mm")
		}
	case "size", "bed":
		pair, ok := p.value.(*ast.Pair)
		if !ok {
			b.diags.Errorf("size", p.at(), "%s needs two lengths", key).WithHelp("as in %s = 600 by 300", key)
			return
		}
		b.constantExpr(it, key+" 1", pair.A, p, unit.Length)
		b.constantExpr(it, key+" 2", pair.B, p, unit.Length)
	case "form":
		b.word(p, bindingForms(), "form of a binding")
	case "from":
		b.word(p, kind.Edges(), "edge")
	case "op":
		b.word(p, []string{"score", "mark", "cut"}, "operation of a line")
	case "face":
		b.word(p, []string{"outside", "inside"}, "face of a board")
	case "material":
		b.material(it, p)
	case "open", "neck":
		b.openLine(it, key, p)
	case "grain":
		if g, ok := p.value.(*ast.Grain); !ok || g.Along.Name != "width" && g.Along.Name != "height" {
			b.diags.Errorf("grain", p.at(), "grain runs along width or along height").WithHelp("write grain = along height")
		}
	case "quiet":
		b.quietLine(p)
	case "allow":
		if t, ok := p.value.(*ast.String); !ok || strings.TrimSpace(t.Value) == "" {
			b.diags.Errorf("kind-mismatch", p.at(), "allow says in words why the material may be cut").
				WithHelp(`write the reason in quotes, as in allow = "a test piece, in the chamber that is made for it"`)
		}
	case "price":
		b.constantExpr(it, key, p.value, p, unit.Money)
	case "engrave-colour", "mark-colour", "score-colour", "cut-colour":
		t, ok := p.value.(*ast.String)
		if !ok || !colourForm().MatchString(t.Value) {
			b.diags.Errorf("colour", p.at(), "%s is no colour", short(p.at())).
				WithHelp("write it as six hexadecimal digits in quotes, as in \"#CC79A7\"")
		}
	}
}

func colourForm() *regexp.Regexp { return regexp.MustCompile(`^#[0-9A-Fa-f]{6}$`) }

// cornerLine checks `corner head-foredge = radius 6`.
func (b *builder) cornerLine(it *item, key string, p prop) {
	g := p.line.First.(*ast.Indexed)
	if !contains(kind.Corners(), g.Index.Name) {
		d := b.diags.Errorf("corner", g.Index.At, "a panel has no corner %q", g.Index.Name)
		if near := spell.Nearest(g.Index.Name, kind.Corners()); near != "" {
			d.WithHelp("did you mean %s?", near)
		} else {
			d.WithHelp("the corners are head-spine, head-foredge, tail-spine and tail-foredge")
		}
		return
	}
	b.corner(it, key, p)
}

// corner checks the form of a corner and makes its dimensions needed.
func (b *builder) corner(it *item, key string, p prop) {
	if n, ok := p.value.(*ast.Name); ok && n.Dotted() == "square" {
		return
	}
	sh, ok := p.value.(*ast.Shape)
	if !ok || sh.Word.Name != "radius" && sh.Word.Name != "chamfer" {
		if _, bad := p.value.(*ast.BadExpr); !bad {
			b.diags.Errorf("corner", p.at(), "%s is no form of a corner", short(p.at())).
				WithHelp("write radius 6, chamfer 4 or square")
		}
		return
	}
	x, ok := b.expr(sh.A, p.scope, unit.Length, sh.Word.Name)
	if !ok {
		return
	}
	if c, known := constant(x); known && c < 0 {
		b.diags.Errorf("negative", sh.A.Span(), "a %s can't be less than 0", sh.Word.Name).
			WithHelp("write corners = square for sharp corners")
	}
	b.needExpr(x)
	it.exprs[key] = x
}

// word checks a property that is one of a few words.
func (b *builder) word(p prop, words []string, what string) {
	n, ok := p.value.(*ast.Name)
	if ok && contains(words, n.Dotted()) {
		return
	}
	d := b.diags.Errorf("word", p.at(), "%s is no %s", short(p.at()), what)
	if ok {
		if near := spell.Nearest(n.Dotted(), words); near != "" {
			d.WithHelp("did you mean %s?", near)
			return
		}
	}
	d.WithHelp("it can be %s", either(words))
}

// kerfLine reads the width of cut, with how surely it is known: kerf = 0.18 ± 0.02.
func (b *builder) kerfLine(it *item, p prop) {
	if st, ok := p.value.(*ast.Stated); ok {
		p.value = st.X
		if st.Within != nil {
			if g, ok := b.constantExpr(it, "kerf within", st.Within, p, unit.Length); ok && g <= 0 {
				b.diags.Errorf("gauge", st.Within.Span(), "what stands behind ± must be a number above 0").
					WithHelp("it is by how much the kerf may be off, as in kerf = 0.18 ± 0.02")
			}
		}
	}
	b.constantProp(it, "kerf", p, unit.Length, 0)
}

// constantProp reads a property whose value speaks of no dimension.
func (b *builder) constantProp(it *item, key string, p prop, k unit.Kind, least float64) (float64, bool) {
	v, ok := b.constantExpr(it, key, p.value, p, k)
	if !ok {
		return 0, false
	}
	if v < least || k == unit.Count && v != float64(int(v)) {
		b.diags.Errorf("negative", p.at(), "%s can't be %s", key, short(p.at())).
			WithHelp("%s", map[bool]string{true: "state a whole number from 1 up", false: "state a number that is not below 0"}[k == unit.Count])
		return 0, false
	}
	return v, true
}

func (b *builder) constantExpr(it *item, key string, e ast.Expr, p prop, k unit.Kind) (float64, bool) {
	x, ok := b.expr(e, p.scope, k, key)
	if !ok {
		return 0, false
	}
	v, known := constant(x)
	if !known {
		b.diags.Errorf("property", e.Span(), "%s must be a number here, without the name of a dimension", key).
			WithHelp("a named value (let) may stand here")
		return 0, false
	}
	it.exprs[key] = x
	return v, true
}

// machine finds the laser that the design is cut with: the file's own, or the
// only one that it uses.
func (b *builder) machine() {
	all := b.info.Main.Visible(kind.Find("laser"))
	var own []*item
	for i, t := range all {
		if t.File != b.info.Main && len(own) > 0 {
			break
		}
		it := b.item(t)
		if i == 0 {
			b.laser = it
		}
		own = append(own, it)
	}
	if len(own) > 1 {
		b.diags.Errorf("two-lasers", own[1].thing.At, "there are two lasers here, and nothing says which one is meant").
			Note(own[0].thing.At, "the first is here").WithHelp("keep one laser in a file; a file's own laser wins over those it uses")
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// either lists alternatives: "head, tail or spine".
func either(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}
