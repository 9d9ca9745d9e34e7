package job

import (
	"cmp"
	"fmt"
	"slices"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/lang/diag"
	"foredge/lang/lookalike"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"
	"foredge/layout"
)

// A shelf is what there is of each stock of a job. What the job's file says of one goes
// before what its designs say; designs must agree with each other on what it leaves open.
type shelf struct {
	own      *design.Design
	order    []string // the names, as they were met
	of       map[string]*stock
	bed      maybe.Of[design.Size] // what the lasers of all designs reach
	first    *layout.Drawing       // of the first design, with which the others share sheets
	firstOf  string
	supplies map[string]layout.Supply
	before   []*shelf // of the jobs of the file that are made before
}

// A sayer is a design that says something.
type sayer struct {
	from string
	at   source.Span // where the job names it
}

// A stock is what designs say of one.
type stock struct {
	taken []taken
	said  *design.Stock    // all of them together; nil of what has no stock
	sayer                  // the design that said it first
	later map[string]sayer // of lines that this one doesn't have, which did first
	thick maybe.Of[float64]
	told  []string    // what is told that two of them say two things of
	paces []pace      // as the designs' lasers state it
	pace  design.Pace // how its sheets are run, once that is settled
}

func newShelf(own *design.Design) shelf {
	return shelf{own: own, of: map[string]*stock{}, bed: own.Laser.Bed, supplies: map[string]layout.Supply{}}
}

// add takes what a design says of its laser and its stocks; at is where the job names it.
func (s *shelf) add(diags *diag.List, laser *design.Laser, stocks []*design.Stock, kerfed *layout.Drawing, name string, at source.Span) {
	s.laser(diags, kerfed, name, at)
	s.reaches(laser)
	runs := pace{laser.Pace, name, at}
	for _, p := range kerfed.Parts {
		if p.Stock == "" {
			s.met("", nil, name, at, diags)
			s.of[""].runs(runs)
		}
	}
	for _, k := range stocks {
		if slices.ContainsFunc(kerfed.Parts, func(p layout.Part) bool { return p.Stock == k.Name }) {
			s.met(k.Name, k, name, at, diags)
			s.of[k.Name].runs(runs)
		}
	}
}

// reaches notes how far the laser of a design does, where the job's file doesn't say it.
func (s *shelf) reaches(laser *design.Laser) {
	if bed, ok := laser.Bed.Get(); ok && !s.own.Laser.Bed.Present() {
		if other, known := s.bed.Get(); known {
			bed = design.Size{Width: min(bed.Width, other.Width), Height: min(bed.Height, other.Height)}
		}
		s.bed = maybe.Is(bed)
	}
}

// laser sees that designs whose parts may lie on one sheet are drawn for the same laser.
func (s *shelf) laser(diags *diag.List, kerfed *layout.Drawing, name string, at source.Span) {
	if other := s.otherThanOwn(kerfed); other != "" {
		diags.Errorf("job-laser", at, "%s is made for a laser of another %s than that of the job", name, other).
			WithHelp("let both use one file for the laser, as in use \"shop.fore\"")
		return
	}
	if s.first == nil {
		s.first, s.firstOf = kerfed, name
		return
	}
	if !s.first.SameLaser(kerfed) {
		diags.Errorf("job-laser", at, "%s and %s are made for lasers that differ in their scale, colours or line-width, and their parts can't lie on one sheet", s.firstOf, name).
			WithHelp("let both use one file for the laser, as in use \"shop.fore\"")
	}
}

// otherThanOwn says in what a drawing is made for another laser than that of the job's file, as far as
// that states it; "" where it isn't.
func (s *shelf) otherThanOwn(kerfed *layout.Drawing) string {
	own := s.own.Laser
	switch {
	case own.At.IsZero():
	case !sameNumber(own.ScaleX, kerfed.ScaleX) || !sameNumber(own.ScaleY, kerfed.ScaleY):
		return "scale-x or scale-y"
	case kerfed.Colors.For(&own) != kerfed.Colors:
		return "colour"
	case !sameNumber(own.LineWidth.Or(kerfed.WideLines()), kerfed.WideLines()):
		return "line-width"
	}
	return ""
}

// met notes a stock of a design, or what has none, and holds it against what others say.
func (s *shelf) met(stockName string, k *design.Stock, name string, at source.Span, diags *diag.List) {
	var thick maybe.Of[float64]
	if k != nil {
		thick = k.Thick
	}
	before := s.of[stockName]
	if before == nil {
		s.alike(stockName, name, at, diags)
		said := &stock{sayer: sayer{name, at}, later: map[string]sayer{}, thick: thick}
		if k != nil {
			its := *k
			said.said = &its
		}
		s.of[stockName] = said
		s.order = append(s.order, stockName)
		return
	}
	j := joining{stock: before, of: k, by: sayer{name, at}, diags: diags}
	if a, b, differ := differing(before.thick, thick); differ {
		in := s.own.Unit
		j.isTwo("thick", stockName+" is", unit.FormatLength(a, in)+" thick", unit.FormatLength(b, in))
		return
	}
	if !before.thick.Present() && thick.Present() {
		before.thick, before.later["thick"] = thick, j.by
	}
	if k != nil {
		j.all(s.ownStock(k.Name))
	}
}

// alike tells of a stock that can hardly be told from one of another design: they are two, whose
// sheets are counted by themselves.
func (s *shelf) alike(stockName, name string, at source.Span, diags *diag.List) {
	for _, other := range s.order {
		before := s.of[other]
		if before.from == name || lookalike.Key(other) != lookalike.Key(stockName) {
			continue // of one design its own check tells
		}
		how := "only capitals tell %s in %s from %s in %s"
		if lookalike.Composed(other) == lookalike.Composed(stockName) {
			how = "only how its accents are stored tells %s in %s from %s in %s"
		}
		diags.Warnf("names-alike", at, how+", and they are taken for two stocks, with offcuts and sheets of their own", stockName, name, other, before.from).
			Note(before.at, "%s is made here", before.from).WithHelp("write it the same way in both if it is one; else give one of them another name")
		return
	}
}

// differing are two thicknesses that are both known and aren't one.
func differing(a, b maybe.Of[float64]) (float64, float64, bool) {
	x, knownX := a.Get()
	y, knownY := b.Get()
	return x, y, knownX && knownY && !sameNumber(x, y)
}

// ownStock is what the job's file says of a stock, nothing of one of which it doesn't speak.
func (s *shelf) ownStock(name string) *design.Stock {
	for _, k := range s.own.Declared {
		if slices.Contains(s.meant(k), name) {
			return k
		}
	}
	return &design.Stock{}
}

// woodStock is what the job's file says of the stock whose wood another stock is cut from,
// nothing where that is its own.
func (s *shelf) woodStock(said *design.Stock) *design.Stock {
	for _, k := range s.own.Declared {
		if said.Wood != said.Name && (k.Name == said.Wood || slices.Contains(s.meant(k), said.Wood)) {
			return k
		}
	}
	return &design.Stock{}
}

// ofWood reports whether some part is cut from the wood of a stock of the job's file.
func (s *shelf) ofWood(own *design.Stock) bool {
	return slices.ContainsFunc(s.order, func(name string) bool {
		said := s.of[name].said
		return said != nil && s.woodStock(said) == own
	})
}

// meant are the stocks of the designs of which one of the job's file may speak: that of the name
// by which it is declared, else those among which orders choose by this name, as far as they are of its thickness and
// material; where there are none, and it is like another, so those of that one's name. Of several it is those that state
// what it states; if there still are several, it doesn't say which.
func (s *shelf) meant(own *design.Stock) (names []string) {
	var exact []string
	for _, called := range []string{own.Declared, own.Name} {
		if k := s.of[called]; k != nil && len(exact) == 0 {
			exact = []string{called}
			if k.said == nil {
				return exact
			}
		}
		some := len(exact) > 0
		for _, name := range s.order {
			if k := s.of[name]; k.said != nil && k.said.Plain == called {
				some = true
				if speaksOf(own, k.said, k.thick) {
					names = append(names, name)
				}
			}
		}
		if some {
			break
		}
	}
	stating := func(states func(k *stock) bool) {
		if those := slices.DeleteFunc(slices.Clone(names), func(name string) bool { return !states(s.of[name]) }); len(names) > 1 && len(those) > 0 {
			names = those
		}
	}
	if made := own.Material.AsName; made != "" {
		stating(func(k *stock) bool { return k.said.Material.AsName == made })
	}
	if own.Thick.Present() {
		stating(func(k *stock) bool { return k.thick.Present() })
	}
	if len(names) == 0 {
		return exact
	}
	return names
}

// speaksOf reports whether a stock of the job's file may speak of one, so thick, by its name: they are of one
// thickness and material as far as both say it.
func speaksOf(own, k *design.Stock, thick maybe.Of[float64]) bool {
	_, _, differ := differing(own.Thick, thick)
	a, b := own.Material.AsName, k.Material.AsName
	return !differ && (a == "" || b == "" || a == b)
}

// several sees that no stock of the job's file speaks of several of the designs'.
func (s *shelf) several(diags *diag.List) {
	for _, own := range s.own.Declared {
		if meant := s.meant(own); len(meant) > 1 {
			diags.Errorf("job-stock", own.At, "%s go by the name of %s, and this doesn't say of which it speaks", spell.And(meant), own.Name).
				WithHelp("say it by its material or thick; to speak of each, let those of the designs be like stocks with names of their own, as in stock %s like birch when order.board = \"birch\", and speak of birch here", own.Name)
		}
	}
}

// unspoken tells of stocks of a file that speak of none of those from which its jobs, whose
// shelves these are, cut parts.
func unspoken(diags *diag.List, own *design.Design, jobs []*shelf) {
	var order, called []string
	for _, s := range jobs {
		order = append(order, s.order...)
		for _, name := range s.called() {
			if !slices.Contains(called, name) {
				called = append(called, name)
			}
		}
	}
	if len(order) == 0 {
		return
	}
	parts := "no part of the job is"
	if len(jobs) > 1 {
		parts = "no part of these jobs is"
	}
	for _, k := range own.Declared {
		if slices.ContainsFunc(jobs, func(s *shelf) bool { return s.spoken(own, k) }) {
			continue
		}
		d := diags.Warnf("job-stock-unused", k.At, "%s cut from %s, of which this speaks", parts, k.Declared)
		switch near := spell.Nearest(k.Declared, order); {
		case near != "":
			d.WithHelp("did you mean %s?", near)
		case slices.Contains(called, k.Declared):
			others := slices.DeleteFunc(slices.Clone(called), func(name string) bool { return name == k.Declared })
			how := "correct its thick or material: those of " + k.Declared + " in the designs are others"
			if len(others) > 0 {
				how += "; or speak of " + spell.Or(others)
			}
			d.WithHelp("%s", how)
		case len(called) > 0:
			d.WithHelp("take it out, or call it as the designs do: %s", spell.Or(called))
		default:
			d.WithHelp("take it out: the designs name no stock")
		}
	}
}

// spoken reports whether a stock of the job's file speaks of one of the designs, by itself or
// by another that is like it.
func (s *shelf) spoken(file *design.Design, k *design.Stock) bool {
	return s.ofWood(k) || slices.ContainsFunc(file.Declared, func(other *design.Stock) bool {
		return (other == k || other.Name == k.Declared || other.Wood == k.Declared) && len(s.meant(other)) > 0
	})
}

// called are the names by which the job's file may speak of the stocks of its designs.
func (s *shelf) called() (names []string) {
	for _, name := range s.order {
		if k := s.of[name].said; k != nil && !slices.Contains(names, k.Plain) {
			names = append(names, k.Plain)
		}
	}
	return names
}

// settle works out the supplies, once all designs are known.
func (s *shelf) settle(diags *diag.List) {
	for _, name := range s.order {
		s.asWood(s.of[name])
	}
	for _, name := range s.order {
		k := s.of[name]
		if k.said != nil {
			s.over(diags, k)
		}
		s.oneKerf(diags, name, k)
		s.settlePace(diags, k)
		s.supplies[name] = layout.SupplyOf(k.said, s.bed)
		if !s.supplies[name].Known() {
			of := ""
			if name != "" {
				of = fmt.Sprintf(", or the size of the stock %s", name)
			}
			diags.Errorf("bed", k.at, "%s doesn't say how large its sheets are, and nothing says how large the laser's bed is", k.from).
				WithHelp("state it in the file of the job, as in laser bench { bed = %s by %s }%s", unit.Example(600, s.own.Unit), unit.Example(400, s.own.Unit), of)
		}
	}
	s.several(diags)
}

// asWood has a stock that is like another take from that one what only other designs say of its
// sheets: they are the same.
func (s *shelf) asWood(k *stock) {
	if k.said == nil || k.said.Wood == k.said.Name {
		return
	}
	of := s.of[k.said.Wood]
	if of == nil || of.said == nil {
		return
	}
	its, said := k.said, of.said
	_, _, thick := differing(k.thick, of.thick)
	two := func(a, b string) bool { return a != "" && b != "" && a != b }
	if thick || two(its.Material.AsName, said.Material.AsName) || its.Grain != 0 && said.Grain != 0 && its.Grain != said.Grain {
		return
	}
	sameMaterial(its, said)
	its.Grain = cmp.Or(its.Grain, said.Grain)
	its.Size, its.Price = cmp.Or(its.Size, said.Size), cmp.Or(its.Price, said.Price)
	its.Quantity, its.Lines.Quantity = cmp.Or(its.Quantity, said.Quantity), cmp.Or(its.Lines.Quantity, said.Lines.Quantity)
	if len(its.Offcuts) == 0 {
		its.Offcuts, its.Lines.Offcuts = said.Offcuts, said.Lines.Offcuts
	}
}

// over lays what the job's file says of a stock over what the designs say.
func (s *shelf) over(diags *diag.List, k *stock) {
	own := s.supplied(diags, k, s.ownStock(k.said.Name))
	wood := *s.woodStock(k.said)
	if supplies := own.Quantity.Present() || len(own.Offcuts) > 0; supplies && k.said.Wood != k.said.Name {
		// What there is of the other isn't there for this one as well.
		wood.Quantity, wood.Offcuts = maybe.Of[int]{}, nil
		k.said.Quantity, k.said.Offcuts, k.said.Lines.Offcuts = maybe.Of[int]{}, nil, nil
	}
	s.overWood(k, &wood)
	k.said.Quiet = slices.Concat(k.said.Quiet, own.Quiet, s.own.Laser.Quiet)
	if own.Name == "" {
		return
	}
	if a, b, differ := differing(own.Thick, k.thick); differ {
		by := k.whose("thick")
		diags.Errorf("job-stock", own.At, "%s is %s thick here and %s in %s", own.Declared, unit.FormatLength(a, s.own.Unit), unit.FormatLength(b, s.own.Unit), by.from).
			Note(by.at, "%s is made here", by.from).WithHelp("what is laid on a sheet must be made for it: correct one of them")
	}
	if a, b := own.Material.AsName, k.said.Material.AsName; a != "" && b != "" && a != b {
		by := k.whose("material")
		diags.Errorf("job-stock", own.At, "%s is of %s here and of %s in %s", own.Declared, own.Material.Name, k.said.Material.Name, by.from).
			Note(by.at, "%s is made here", by.from).WithHelp("what is laid on a sheet must be made for it: correct one of them")
	}
	s.asTaken(diags, own, k.taken)
	if own.Quantity.Present() || len(own.Offcuts) > 0 {
		k.said.Wood = k.said.Name
		if own.Wood != own.Declared { // there once for both, and for whatever else is like that one
			k.said.Wood = own.Wood
		}
	}
	s.overWood(k, own)
	replace(&k.said.Pace.Cut, own.Pace.Cut)
	replace(&k.said.Pace.Score, own.Pace.Score)
	replace(&k.said.Pace.Passes, own.Pace.Passes)
	ways(k.said, own)
}

// overWood lays what the job's file says of sheets and of what there is of them over what the
// designs say.
func (s *shelf) overWood(k *stock, own *design.Stock) {
	sheets(k.said, own)
	sameMaterial(k.said, own)
	replace(&k.said.Quantity, own.Quantity)
	replace(&k.said.Price, own.Price)
	k.said.Lines.Quantity = cmp.Or(own.Lines.Quantity, k.said.Lines.Quantity)
}

func replace[T any](a *maybe.Of[T], by maybe.Of[T]) {
	if by.Present() {
		*a = by
	}
}
