package advice

import (
	"math"
	"slices"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/outcome"
	"foredge/eval/relation"
	"foredge/eval/word"
	"foredge/lang/unit"
)

// bare warns of boards without holes for a row of the notebook that they cover: their own row isn't
// there, as a condition that they state for it doesn't hold.
func (a *adviser) bare() {
	for _, n := range a.Things {
		p, ok := n.(*model.Panel)
		if !ok || !p.Built || outcome.Quiet(a.Solution, p).Has("bare-row") {
			continue
		}
		for _, b := range p.Bare {
			a.diags.Warnf("bare-row", b.At, "%s has no holes for %s: its row is there only when %s", p.Path, b.Row.Path, b.At.Short()).
				Note(b.Row.At, "this row is there").
				WithHelp("let the condition stand in what the row is to have only then, as in a let that chooses; or, if it is meant, quiet = bare-row in the panel silences this")
		}
	}
}

// shortBoard is by how much a board may be smaller than its notebook before that
// is told, in mm: less is nothing that anybody sees (common practice, no source).
const shortBoard = 0.3

// wideBoard is by how much a board may stand out past an edge of its notebook of which no line speaks
// before that is told, in mm (common practice, no source).
const wideBoard = 20

// wide warns of boards that reach far past an edge of the notebook which they cover, though no line
// says so: what states their size is of another one.
func (a *adviser) wide() {
	for _, n := range a.Things {
		p, ok := n.(*model.Panel)
		if !ok || !p.Built || p.Covers == nil || outcome.Quiet(a.Solution, p).Has("wide-board") {
			continue
		}
		a.widePast(p, dim.Width, word.Spine, word.Foredge)
		a.widePast(p, dim.Height, word.Head, word.Tail)
	}
}

// widePast tells it of the edge, of two, past which the board reaches farther.
func (a *adviser) widePast(p *model.Panel, size dim.Name, edges ...word.Edge) {
	past, most := word.NoEdge, wideBoard+nearly
	for _, edge := range edges {
		if id, _ := p.Dim(dim.Over(edge)); !p.Overhangs[edge] && a.Value(id) > most {
			past, most = edge, a.Value(id)
		}
	}
	if past == word.NoEdge {
		return
	}
	id, _ := p.Dim(size)
	at := a.statedAt(id, p.At)
	length := a.Format(most, unit.Length, at)
	a.diags.Warnf("wide-board", at, "%s reaches %s past the %s of %s, which it covers, and no line says how far it is to", p.Path, length, past, p.Covers.Path).
		WithHelp("check what gives %s; if it is to reach so far, say so: %s = %s in %s, or quiet = wide-board",
			p.Path+"."+size.String(), dim.Over(past), length, p.Path)
}

// boards warns of boards that are smaller than the notebook which they cover, where
// no line says that an edge is to be left bare.
func (a *adviser) boards() {
	for _, n := range a.Things {
		p, ok := n.(*model.Panel)
		if ok && p.Built && p.Covers != nil && !outcome.Quiet(a.Solution, p).Has("short-board") {
			a.board(p, dim.Width, "narrower", word.Spine, word.Foredge)
			a.board(p, dim.Height, "lower", word.Head, word.Tail)
		}
	}
}

func (a *adviser) board(p *model.Panel, size dim.Name, less string, near, far word.Edge) {
	bare, least := word.NoEdge, 0.0 // the edge of which most is left bare, and how far it reaches past that
	unsure, said := 0.0, 0.0        // said is by how much lines let it stop short
	for _, edge := range []word.Edge{near, far} {
		id, _ := p.Dim(dim.Over(edge))
		over := a.Value(id)
		if p.Overhangs[edge] && over < 0 && !a.onlyCapped(id) {
			said -= over
			continue
		}
		if over < least-math.Max(shortBoard, 2*a.Numbers.U[id])-nearly {
			least, bare = over, edge
		}
		unsure += a.Numbers.U[id]
	}
	own, book := a.Of(&p.Thing, size), a.Of(&p.Covers.Thing, size)
	short := book - own - said
	small := said == 0 && short > math.Max(shortBoard, 2*unsure)+nearly
	if !small && bare == word.NoEdge {
		return
	}
	if bare == word.NoEdge {
		bare, least = far, -short
	}
	id, _ := p.Dim(size)
	at := a.statedAt(id, p.At)
	length := func(v float64) string { return a.Format(v, unit.Length, at) }
	if small {
		a.diags.Warnf("short-board", at, "%s is %s %s than %s, which it covers: %s against %s, so leaves stand out past its %s",
			p.Path, length(short), less, p.Covers.Path, length(own), length(book), bare)
	} else {
		a.diags.Warnf("short-board", at, "%s stops %s short of the %s of %s, which it covers: leaves stand out there, and what was measured lies as much nearer to that edge",
			p.Path, length(-least), bare, p.Covers.Path)
	}
	a.diags[len(a.diags)-1].WithHelp("check what gives %s; if they are to stand out, say so: %s = %s in %s, or quiet = short-board",
		p.Path+"."+size.String(), dim.Over(bare), length(least), p.Path)
}

// onlyCapped reports whether all that lines say of an overhang is how large it may be
// at the most, which 0 would meet, too: that it is to be below 0 is no such line's wish.
func (a *adviser) onlyCapped(over relation.VarID) bool {
	for i := range a.System.Wishes {
		w := &a.System.Wishes[i]
		if r := (relation.Relation{Left: w.Left, Right: w.Right}); slices.Contains(r.Vars(), over) {
			return false
		}
	}
	for i := range a.System.Relations {
		r := &a.System.Relations[i]
		if r.Role != relation.Stated && r.Role != relation.Pattern || !slices.Contains(r.Vars(), over) {
			continue
		}
		limits, ok := r.Limits(func(v relation.VarID) (float64, bool) { return a.Value(v), v != over })
		if !ok || r.Sign == relation.EQ || slices.ContainsFunc(limits, asksBelow) {
			return false
		}
	}
	return true
}

// asksBelow reports a limit, a form of one overhang that is to be at least 0, that isn't
// one to what this may be at the most, or asks that it be below 0.
func asksBelow(limit relation.Form) bool {
	return slices.ContainsFunc(limit.Terms, func(t relation.Term) bool { return t.Coef > 0 }) || !(limit.Const > -nearly)
}
