package tell

import (
	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// noughts tells of what comes out at 0 and is nothing then: no ring of no width holds a book, no
// board of no thickness stands between its holes. Left alone, what is checked by it would pass
// unchecked, as if nobody had stated it.
func (t *teller) noughts() {
	for _, n := range t.Things {
		switch n := n.(type) {
		case *model.Binding:
			t.nought(&n.Thing, dim.Ring, "no book lies in a ring without room")
			t.nought(&n.Thing, dim.Wire, "no wire is as thin as that")
		case *model.Row:
			if n.Binding == nil { // else the wire is that of the binding
				t.nought(&n.Thing, dim.Wire, "no wire is as thin as that")
			}
		case *model.Stock:
			t.nought(&n.Thing, dim.Thick, "no sheet is as thin as that")
		case *model.Panel:
			if n.Stock == nil {
				t.nought(&n.Thing, dim.Thick, "no board is as thin as that")
			}
		}
	}
}

// nought tells of one dimension if it is known and 0.
func (t *teller) nought(of *model.Thing, n dim.Name, why string) {
	id, has := of.Dim(n)
	if !has || !t.Known(id) || t.Value(id) > nothing {
		return
	}
	at := t.givenAt(id)
	t.diags.Errorf("positive", at, "%s comes out at %s: %s", t.System.Vars[id].Name, t.Format(t.Value(id), unit.Length, at), why).
		WithHelp("measure it once more, or take out the line that gives it")
}

// givenAt is the line or the reading that gives a dimension, else where its thing is declared.
func (t *teller) givenAt(id relation.VarID) source.Span {
	switch c := t.Numbers.Cause[id]; {
	case c.Index < 0:
	case c.Kind == solve.ByReadings:
		return t.System.Readings[c.Index].At
	case c.Kind == solve.ByRelation && t.System.Relations[c.Index].Role == relation.Stated:
		return t.System.Relations[c.Index].At
	}
	return t.System.Vars[id].At
}
