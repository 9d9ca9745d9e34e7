package compile

import (
	"fmt"
	"strconv"
	"strings"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/source"
)

// A fieldAxis is what a field has in one of its two directions.
type fieldAxis struct {
	count, size, gap, pitch dim.Name
	near, far               dim.Name
}

func across() fieldAxis {
	return fieldAxis{dim.Across, dim.Width, dim.GapAcross, dim.PitchAcross, dim.Spine, dim.Foredge}
}

func down() fieldAxis {
	return fieldAxis{dim.Down, dim.Height, dim.GapDown, dim.PitchDown, dim.Head, dim.Tail}
}

// field adds what holds of a field, where each is what it repeats, beside what
// holds of every box:
//
//	pitch-across = each.width + gap-across
//	width = each.width + (across - 1) * pitch-across
//
// and the same down. Where no line speaks of how many there are, there is one.
func (c *compiler) field(d *draft, field *model.Field, lines lineIndex) {
	each := c.each(d, field)
	if each == nil {
		return
	}
	c.need(d, dim.Across, dim.Down)
	for _, a := range []fieldAxis{across(), down()} {
		id, _ := d.Dim(a.count)
		several := lines.spoken[id] || c.System.Vars[id].Most
		_, gap := d.Dim(a.gap)
		_, pitch := d.Dim(a.pitch)
		if several || gap || pitch {
			c.own(d, c.spacing(d, a.pitch), relation.Add(each.V(a.size), c.spacing(d, a.gap)), "")
		}
		if several {
			more := relation.Minus(d.V(a.count), relation.C(1))
			c.own(d, d.V(a.size), relation.Add(each.V(a.size), relation.Mul(more, d.V(a.pitch))), "")
			if c.System.Vars[id].Most { // one at least, which others that are most must leave room for
				c.ownLeast(d, d.V(a.size), each.V(a.size), "one at least")
			}
			continue
		}
		c.own(d, d.V(a.count), relation.C(1), "one where nothing else is stated")
		c.own(d, d.V(a.size), each.V(a.size), "")
	}
}

// spacing is a gap or a pitch of a field, which it only has if it has several
// members that way or a line speaks of it.
func (c *compiler) spacing(d *draft, n dim.Name) relation.Expr {
	if _, ok := d.Dim(n); !ok {
		c.addDim(d, n)
	}
	return d.V(n)
}

// each is what a field repeats; nil for what it reports.
func (c *compiler) each(d *draft, field *model.Field) *model.Thing {
	switch {
	case len(field.Each) == 1:
		return field.Each[0].Base()
	case len(field.Each) > 1:
		second := field.Each[1].Base()
		c.Diags.Errorf("two-each", second.At, "%s repeats one thing, and here is a second", d.Path).
			Note(field.Each[0].Base().At, "the first is here").WithHelp("give it a field of its own, which may be like this one")
	case len(d.thing.Children) > 0:
		c.Diags.Errorf("no-each", d.At, "nothing is left of what %s repeats: its `when` doesn't hold", d.Path).
			WithHelp("put the `when` on the field itself")
	case !c.Diags.HasErrors(): // what it repeats may stand in a broken line
		c.Diags.Errorf("no-each", d.At, "nothing says what %s repeats", d.Path).
			WithHelp("put a cutout or a region into its braces, as in cutout each { shape = rect 20 by 15 }")
	}
	return nil
}

// memberDim finds a dimension of one of a field's members, which the design has
// as soon as a line speaks of it.
func (c *compiler) memberDim(d *draft, s resolve.Symbol, at source.Span) (relation.VarID, bool) {
	field := d.node.(*model.Field)
	i, okI := memberNumber(s.Cell.Across)
	j, okJ := memberNumber(s.Cell.Down)
	if !okI || !okJ {
		c.Diags.Errorf("no-member", at, "there is no %s.%s.%s: the members of a field are counted from 1", d.Path, s.Cell.Across, s.Cell.Down).
			WithHelp("%s.1.1 is the one next to spine and head", d.Path)
		return 0, false
	}
	if field.Panel == nil {
		c.Diags.Errorf("no-member", at, "%s stands on no panel, so its members lie nowhere", d.Path).
			WithHelp("speak of those of a field that is like it")
		return 0, false
	}
	each := c.repeated(d)
	if each == nil {
		return 0, false // reported of the field
	}
	name := fmt.Sprintf("%s.%d.%d.%s", d.Path, i, j, s.Dim)
	if id, ok := c.Design.Dimension(name); ok {
		return id, true
	}
	v := c.newVar(d, s.Dim, fmt.Sprintf("%d.%d.%s", i, j, s.Dim))
	v.Member, v.Signed = true, true // one that isn't there moves nothing
	id := c.Add(v, d.node)
	c.Cells = append(c.Cells, model.Cell{Field: field, Across: i, Down: j, Var: id, At: at})
	c.own(d, relation.V(id), c.memberExpr(d, each, s.Dim, i, j), "")
	return id, true
}

// ask notes that somebody asks for a dimension: one that stays open is to be told, and
// one of a field's member is added.
func (c *compiler) ask(name string) {
	if id, known := c.Design.Dimension(name); known {
		c.System.Vars[id].Needed = true
		return
	}
	n := &ast.Name{}
	for _, part := range strings.Split(name, ".") {
		n.Parts = append(n.Parts, ast.Ident{Name: part})
	}
	sym, problem := c.info.Main.Scope().Lookup(n)
	if problem != nil || sym.Cell == (resolve.Cell{}) || c.drafts[sym.Thing] == nil || c.drafts[sym.Thing].absent {
		return // whoever asks is told that it isn't there
	}
	c.memberDim(c.drafts[sym.Thing], sym, c.drafts[sym.Thing].At)
}

// memberExpr is a dimension of a field's member by those of the field.
func (c *compiler) memberExpr(d, each *draft, n dim.Name, i, j int) relation.Expr {
	a, k := across(), i
	if n == dim.Height || n == dim.Head || n == dim.Tail {
		a, k = down(), j
	}
	if n == a.size {
		return each.V(a.size)
	}
	near := d.V(a.near)
	if k > 1 {
		near = relation.Add(near, relation.Mul(relation.C(float64(k-1)), c.spacing(d, a.pitch)))
	}
	if n == a.near {
		return near
	}
	return relation.Minus(d.node.(*model.Field).Panel.V(a.size), relation.Add(near, each.V(a.size)))
}

// repeated is the draft of what a field repeats; nil if it has none.
func (c *compiler) repeated(d *draft) *draft {
	for _, t := range d.thing.Children {
		if each := c.draft(t); !each.absent {
			return each
		}
	}
	return nil
}

// memberNumber reads which member across or down is meant.
func memberNumber(word string) (int, bool) {
	n, err := strconv.Atoi(word)
	return n, err == nil && n >= 1 && n <= model.MaxMembers && word == strconv.Itoa(n)
}
