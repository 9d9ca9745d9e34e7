package job

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/lang/diag"
	"foredge/layout/geom"
)

// sameNumber reports whether two numbers are one, lengths in mm: what is worked out in two ways, or
// stated in two units, isn't the same to the last digit.
func sameNumber(a, b float64) bool { return math.Abs(a-b) <= geom.Tol }
func sameCount(a, b int) bool      { return a == b }
func sameSize(a, b design.Size) bool {
	return sameNumber(a.Width, b.Width) && sameNumber(a.Height, b.Height)
}
func sameOffcut(a, b design.Offcut) bool {
	return a.Corner == b.Corner && sameSize(a.Size, b.Size) && sameSize(a.Gone, b.Gone)
}

// A joining joins what a design, or another order of one, says of a stock with what was said of it before.
type joining struct {
	*stock
	of    *design.Stock // what is joined now
	by    sayer         // that says it
	diags *diag.List
}

// all joins all lines; own is what the job's file says.
func (j *joining) all(own *design.Stock) {
	said, k := j.said, j.of
	if a, b := said.Material, k.Material; a.AsName != "" && b.AsName != "" && a.AsName != b.AsName {
		j.isTwo("material", k.Name+" is", "of "+a.Name, "of "+b.Name)
		return
	} else if a.AsName == "" && b.AsName != "" {
		said.Material, said.Allow, j.later["material"] = b, k.Allow, j.by
	}
	if a, b := said.Grain, k.Grain; a != 0 && b != 0 && a != b {
		j.isTwo("grain", "the grain of "+k.Name+" runs", "along its "+a.String(), "along its "+b.String())
		return
	} else if a == 0 && b != 0 {
		said.Grain, j.later["grain"] = b, j.by
	}
	if said.Wood == said.Name && !said.Quantity.Present() && len(said.Offcuts) == 0 {
		said.Wood = k.Wood // of which another is cut, too: it is there once, whichever design comes first
	}
	join(j, "size", &said.Size, k.Size, own.Size, sameSize)
	join(j, "quantity", &said.Quantity, k.Quantity, own.Quantity, sameCount)
	join(j, "price", &said.Price, k.Price, own.Price, sameNumber)
	join(j, "margin", &said.Margin, k.Margin, own.Margin, sameNumber)
	join(j, "spacing", &said.Spacing, k.Spacing, own.Spacing, sameNumber)
	join(j, "cut-speed", &said.Pace.Cut, k.Pace.Cut, own.Pace.Cut, sameNumber)
	join(j, "score-speed", &said.Pace.Score, k.Pace.Score, own.Pace.Score, sameNumber)
	join(j, "passes", &said.Pace.Passes, k.Pace.Passes, own.Pace.Passes, sameCount)
	said.Lines.Quantity = cmp.Or(said.Lines.Quantity, k.Lines.Quantity)
	said.Lines.Margin = cmp.Or(said.Lines.Margin, k.Lines.Margin)
	said.Lines.Spacing = cmp.Or(said.Lines.Spacing, k.Lines.Spacing)
	j.way(&said.Way, k.Way, own.Way)
	offcuts := func(k *design.Stock) maybe.Of[[]design.Offcut] { return maybe.If(k.Offcuts, len(k.Offcuts) > 0) }
	before := offcuts(said)
	join(j, "offcuts", &before, offcuts(k), offcuts(own), sameOffcuts)
	if len(said.Offcuts) == 0 {
		said.Offcuts, said.Lines.Offcuts = k.Offcuts, k.Lines.Offcuts
	}
}

// way joins what is said of how parts are cut out of a stock.
func (j *joining) way(a *design.Way, b, own design.Way) {
	asked := func(a design.Asked) maybe.Of[bool] { return maybe.If(a.Yes, a != design.Asked{}) }
	both := func(what string, a *design.Asked, b, own design.Asked) {
		before := asked(*a)
		join(j, what, &before, asked(b), asked(own), func(a, b bool) bool { return a == b })
		*a = cmp.Or(*a, b)
	}
	if a.BridgeAt.IsZero() {
		a.BridgeAt = b.BridgeAt
	}
	both("knife", &a.Knife, b.Knife, own.Knife)
	both("shared-cuts", &a.Shared, b.Shared, own.Shared)
	join(j, "bridge", &a.Bridge, b.Bridge, own.Bridge, sameNumber)
	join(j, "bridge-below", &a.BridgeBelow, b.BridgeBelow, own.BridgeBelow, sameNumber)
}

// whose is the design that was the first to say something.
func (k *stock) whose(what string) sayer {
	if by, ok := k.later[what]; ok {
		return by
	}
	return k.sayer
}

// isTwo tells once that what is taken for one stock is two: it says of it how it is by what was
// met first and how by what is joined now.
func (j *joining) isTwo(what, of, before, now string) {
	if j.tells(what) {
		return
	}
	first := j.whose(what)
	const told = "%s, and their parts would lie on one sheet"
	if first.from == j.by.from {
		j.diags.Errorf("job-stock", j.by.at, told, fmt.Sprintf("%s %s in one order of %s and %s in another", of, before, first.from, now)).
			WithHelp("let stocks among which orders choose be like ones with names of their own, as in stock board like birch when order.board = \"birch\"")
		return
	}
	j.diags.Errorf("job-stock", j.by.at, told, fmt.Sprintf("%s %s in %s and %s in %s", of, before, first.from, now, j.by.from)).
		Note(first.at, "%s is made here", first.from).WithHelp("give two stocks two names, or correct one of them")
}

// both names two that say something, which may be orders of one design.
func both(a, b string) string {
	if a == b {
		return "two orders of " + a
	}
	return a + " and " + b
}

// differ tells once that two designs, or two orders of one, say two things.
func (j *joining) differ(what string) {
	if j.tells(what) {
		return
	}
	first := j.whose(what)
	where, note := first.at, first.from+" is made here"
	if first.from == j.by.from {
		where, note = j.of.At, "it is stated here"
	}
	j.diags.Errorf("job-stock", j.by.at, "%s say two things of the %s of %s", both(first.from, j.by.from), what, j.said.Name).
		Note(where, "%s", note).WithHelp("say in the file of the job which counts, as in stock %s { %s = ... }", j.said.Plain, what)
}

// tells notes that something is told; is says that it was already.
func (j *joining) tells(what string) (is bool) {
	if is = slices.Contains(j.told, what); !is {
		j.told = append(j.told, what)
	}
	return is
}

// join joins two values of which either may be absent; the job's own settles what differs.
func join[T any](j *joining, what string, a *maybe.Of[T], b, own maybe.Of[T], same func(a, b T) bool) {
	took, differs := meet(a, b, same)
	if took {
		j.later[what] = j.by
	}
	if differs && !own.Present() {
		j.differ(what)
	}
}

// meet takes a value where none was known, and says whether it did, and whether it is another than one that was.
func meet[T any](a *maybe.Of[T], b maybe.Of[T], same func(a, b T) bool) (took, differs bool) {
	x, known := a.Get()
	y, stated := b.Get()
	if !known {
		*a = b
	}
	return !known && stated, known && stated && !same(x, y)
}

// sameOffcuts reports whether two lists hold the same, each as often, in any order.
func sameOffcuts(a, b []design.Offcut) bool {
	if slices.Equal(a, b) {
		return true // as of all orders of a design
	}
	rest := slices.Clone(b)
	for _, x := range a {
		i := slices.IndexFunc(rest, func(y design.Offcut) bool { return sameOffcut(x, y) })
		if i < 0 {
			return false
		}
		rest = slices.Delete(rest, i, i+1)
	}
	return len(rest) == 0
}
