package batch

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"foredge/cmd/internal/driver"
	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/orders"
	"foredge/lang/data"
	"foredge/lang/diag"
	"foredge/lang/lookalike"
	"foredge/lang/source"
	"foredge/lang/unit"
	"foredge/layout"
	"foredge/layout/advise"
)

// A Seen is something about an order that a person should look at.
type Seen struct {
	Order string      `json:"order"`
	At    *data.Place `json:"at"` // its row in the table
	Text  string      `json:"text"`
	What  []string    `json:"what"`
}

// checked is what checking an order has found.
type checked struct {
	diags    diag.List
	texts    []layout.Text
	supplies map[string]layout.Supply
	drawing  *layout.Drawing // of orders that lie together, without its parts
	doing    layout.Doing    // on their sheets
	laser    design.Laser
	stocks   []lyingOn // on whose sheets it lies
	err      error
	// cautioned says that it is to be cut with a caution, and hazards what that names.
	cautioned bool
	hazards   []string
}

// check takes every order as far as it goes without being encoded.
func (r *run) check() error {
	r.wood = newWood()
	f := findings{rows: make([]diag.List, len(r.table.Rows)), all: map[same]*finding{}, stocks: map[string][]*lyingOn{}}
	err := each(r.ctx, len(r.table.Rows), r.checkOrder, func(i int, c checked) error {
		if c.err != nil {
			return c.err
		}
		r.look(i, c.texts)
		for stock, size := range c.supplies {
			if _, known := r.supplies[stock]; !known {
				r.supplies[stock] = size
			}
		}
		if r.opts.Together && !c.diags.HasErrors() {
			f.lie(r.table, i, &c)
		}
		r.good[i] = !c.diags.HasErrors()
		f.add(i, c.diags, r.table.Rows[i].OK(), r.good[i])
		if r.good[i] { // what can't lie with others isn't cut
			f.caution(&c)
		}
		r.result.Looked++
		r.progress(i + 1)
		return nil
	})
	if err != nil {
		return err
	}
	r.tell(&f)
	return nil
}

// same tells diagnostics apart.
type same struct {
	severity diag.Severity
	code     diag.Code
	at       source.Span
	message  string
	more     string // its notes and its hint, which may speak of the order's values, too
}

// sameOf are of what is wrong all its words; a note is one by what it says first.
func sameOf(d *diag.Diagnostic) same {
	s := same{d.Severity, d.Code, d.Span, d.Message, ""}
	if d.Severity != diag.Info {
		var more strings.Builder
		for _, n := range d.Notes {
			fmt.Fprintf(&more, "%d %s\n", n.Span.Start, n.Message)
		}
		s.more = more.String() + d.Help
	}
	return s
}

// A finding is a diagnostic with how many orders have it.
type finding struct {
	diag  *diag.Diagnostic
	times int
	good  int // of these, how many can be made
	first int // the order in which it was met
}

// findings are what checking has found of all orders: each diagnostic once, as
// most orders have the same.
type findings struct {
	compiled int // orders whose row could be read
	good     int // orders that can be made
	all      map[same]*finding
	order    []*finding  // as first met
	rows     []diag.List // of each order, but for notes
	// cautioned says that some order is to be cut with a caution, and hazards what
	// that names, of all orders together.
	cautioned bool
	hazards   []string
	// first is the first good order of those that lie together, with its place in the table, and
	// doing what is done on the sheets of all.
	first   maybe.Of[checked]
	firstAt int
	doing   layout.Doing
	// stocks are those on whose sheets they lie, as the first of them takes each to be, and each that
	// says more of it.
	stocks map[string][]*lyingOn
}

// lie takes a good order that is to lie with others, if it is made for the same laser and takes its
// stocks to be what they do.
func (f *findings) lie(t *orders.Table, i int, c *checked) {
	first, ok := f.first.Get()
	if !ok {
		f.first, f.firstAt, first = maybe.Is(*c), i, *c
	}
	if !first.drawing.SameLaser(c.drawing) || first.drawing.Pace != c.drawing.Pace || first.laser.Bed != c.laser.Bed {
		c.diags.Errorf("job-laser", c.laser.At, "it is made for a laser that differs in its scale, colours, line-width, bed or how it runs from that of order %s, and their parts can't lie on one sheet", t.Rows[f.firstAt].Number).
			WithHelp("let the laser be the same for all orders, or leave out --together")
		return
	}
	if f.agree(t.Rows[i].Number, c); !c.diags.HasErrors() {
		f.doing.Join(c.doing)
	}
}

// clashes warns of what is drawn in one colour on sheets of several orders, and in none of these
// alone.
func (f *findings) clashes() (diags diag.List) {
	first, ok := f.first.Get()
	if !ok {
		return nil
	}
	for _, d := range f.doing.Clashes(&first.laser, first.drawing.Colors) {
		if !slices.ContainsFunc(f.order, func(told *finding) bool { return told.diag.Code == d.Code && told.diag.Message == d.Message }) {
			diags.Add(diag.List{d})
		}
	}
	return diags
}

// caution takes in what a good order is to be cut with.
func (f *findings) caution(c *checked) {
	f.cautioned = f.cautioned || c.cautioned
	for _, h := range c.hazards {
		if !slices.Contains(f.hazards, h) {
			f.hazards = append(f.hazards, h)
		}
	}
}

func (f *findings) add(i int, diags diag.List, compiled, good bool) {
	if !compiled {
		f.rows[i] = diags
		return
	}
	f.compiled++
	if good {
		f.good++
	}
	diags = append(diag.List{}, diags...)
	diags.Sort() // drops repeats
	for _, d := range diags {
		k := sameOf(d)
		if f.all[k] == nil {
			f.all[k] = &finding{diag: d, first: i}
			f.order = append(f.order, f.all[k])
		}
		f.all[k].times++
		if good {
			f.all[k].good++
		}
		if d.Severity != diag.Info {
			f.rows[i] = append(f.rows[i], f.all[k].diag)
		}
	}
}

// common reports a diagnostic that is the design's, as every order has it, or every one that can be
// made: what is wrong with another may hide it there.
func (f *findings) common(k same) bool {
	x := f.all[k]
	return x != nil && (x.times == f.compiled && (f.compiled > 1 || k.severity == diag.Info) ||
		x.good == f.good && f.good > 1 && k.severity != diag.Error)
}

func (r *run) checkOrder(i int) (c checked) {
	defer r.wood.pass(i)
	if problems := r.table.Rows[i].Problems; problems.HasErrors() {
		c.diags = problems
		return c
	}
	c.err = driver.Guard("checking order "+r.table.Rows[i].Number, func() {
		var solved *design.Design
		if solved, c.diags = r.solved(i); solved == nil {
			return
		}
		wanted, more := r.session.Drawer().Draw(solved)
		c.diags.Add(more)
		c.texts = append(c.texts, wanted.Texts...)
		kerfed, more := wanted.Kerfed()
		c.diags.Add(more)
		faces, more := r.session.Drawer().Inside(solved)
		c.diags.Add(more)
		c.diags.Add(layout.InsideColours(solved, wanted, faces))
		if !r.opts.Together {
			c.diags.Add(layout.OffBed(solved, faces))
		}
		for _, f := range faces {
			c.texts = append(c.texts, f.Drawing.Texts...)
		}
		supplies := layout.Supplies(solved, wanted)
		if r.opts.Together {
			c.supplies = supplies
			c.lies(solved, kerfed, faces)
			c.stocks = sharedBy(kerfed, supplies)
			c.diags.Add(checkTogether(solved, wanted, supplies))
			c.diags.Add(driver.NotLaid(layout.Tally{}.Add(kerfed, r.table.Copies(i)), solved.At))
		}
		if !r.opts.Together && !r.opts.Each {
			c.diags.Add(driver.UnknownSheets(kerfed, supplies, solved.Unit))
		}
		if r.opts.Together && !c.diags.HasErrors() {
			c.diags.Add(driver.NotLaid(kerfed.Fits(supplies), solved.At))
		}
		if r.opts.Each {
			c.diags.Add(r.checkNames(solved))
		}
		if len(wanted.Parts) == 0 && !c.diags.HasErrors() {
			c.diags.Errorf("nothing", solved.At, "nothing of this order is left to cut").WithHelp("see which panels stand under a `when`")
		}
		if !r.opts.Together && !r.opts.Each && !c.diags.HasErrors() {
			c.diags.Add(r.checkLaid(i, solved, kerfed, supplies))
		}
		if !r.opts.Check && !c.diags.HasErrors() && !solved.Laser.Quiet.Has("caution") {
			c.cautioned, c.hazards = true, advise.Hazards(solved)
		}
	})
	c.diags = driver.Once(r.tree, c.diags)
	return c
}

// lies notes what an order does on sheets that it shares with others, and for which laser it is drawn.
func (c *checked) lies(solved *design.Design, kerfed *layout.Drawing, faces []layout.Face) {
	c.doing.Add(kerfed, faces)
	bare := *kerfed // of the first order it is kept, without its parts
	bare.Parts, bare.Texts = nil, nil
	c.drawing, c.laser = &bare, solved.Laser
}

// checkLaid lays an order that has its own files, and tells what a build of it would of how its
// parts lie.
func (r *run) checkLaid(i int, solved *design.Design, kerfed *layout.Drawing, supplies map[string]layout.Supply) (diags diag.List) {
	laid, err := r.wood.lay(r.ctx, i, r.table.Copies(i), kerfed, supplies, r.opts.Options)
	if err != nil || laid == nil {
		return driver.NotLaid(err, solved.At)
	}
	for _, u := range laid.Stocks {
		diags.Add(driver.NotShared(u))
		diags.Add(driver.Unmeant(u, solved.Unit))
	}
	return diags
}

// checkNames makes sure that the files of an order have different names, also where
// capitals don't tell them apart.
func (r *run) checkNames(solved *design.Design) diag.List {
	var diags diag.List
	sheets, _ := r.session.Draw(r.ctx, solved, r.opts.Options)
	seen := map[string]bool{}
	for _, s := range sheets {
		key := lookalike.Key(s.Suffix)
		if seen[key] {
			diags.Errorf("same-output", solved.At, "two files of each order would be called NUMBER-NAME%s", key).
				WithHelp("rename the panel, or leave out --each")
			return diags
		}
		seen[key] = true
	}
	return diags
}

// checkTogether makes sure that an order's parts can lie on sheets of such sizes.
func checkTogether(solved *design.Design, wanted *layout.Drawing, supplies map[string]layout.Supply) diag.List {
	var diags diag.List
	told := map[string]bool{}
	for _, p := range wanted.Parts {
		if supplies[p.Stock].Known() || told[p.Stock] {
			continue
		}
		told[p.Stock] = true
		sheet, state := "the bed is", fmt.Sprintf("state it, as in laser bench { bed = %s by %s }", unit.Example(600, solved.Unit), unit.Example(400, solved.Unit))
		if p.Stock != "" {
			state += fmt.Sprintf(", or the size of the stock %s", p.Stock)
		}
		diags.Errorf("bed", solved.At, "nothing says how large %s on which %s is to lie with others", sheet, p.Name).
			WithHelp("%s, or leave out --together", state)
	}
	return diags
}

// tell sorts out what is the design's, because every order has it, and what is
// an order's own, which is told at its place in the table.
func (r *run) tell(f *findings) {
	common := func(d *diag.Diagnostic) bool {
		return f.common(sameOf(d)) || f.compiled == 1 && d.Severity == diag.Warning && r.ofDesign(d.Span)
	}
	for _, x := range f.order {
		switch {
		case common(x.diag):
			r.result.Diagnostics.Add(diag.List{x.diag})
		case x.diag.Severity == diag.Info && !(r.opts.Check && ofRow(x.diag)): // once, of the first order that has it
			r.result.Diagnostics.Add(diag.List{r.inTable(x.first, x.diag)})
		}
	}
	r.result.Diagnostics.Add(f.clashes())
	if f.cautioned {
		r.result.Diagnostics.Add(diag.List{advise.CautionOf(f.hazards)})
	}
	for i, diags := range f.rows {
		row := &r.table.Rows[i]
		bad := Bad{Order: row.Number, At: data.At(row.At)}
		for _, d := range diags {
			if r.opts.Check && ofRow(d) {
				continue // it is among what to look at
			}
			if d.Severity == diag.Error {
				bad.Why = append(bad.Why, Trouble{d.Code, data.At(r.prepared.Place(i, d.Span)), d.Message})
			}
			if row.OK() && common(d) {
				continue
			}
			r.result.Diagnostics.Add(diag.List{r.inTable(i, d)})
		}
		if !r.good[i] {
			r.result.Bad = append(r.result.Bad, bad)
		}
	}
}

// ofRow reports what is told of a row of the table that can be made all the same.
func ofRow(d *diag.Diagnostic) bool {
	switch d.Code {
	case "odd-text", "same-name", "same-item", "items-apart", "total-row":
		return true
	}
	return false
}

// inTable is what an order is told, at its place in the table and with its number.
func (r *run) inTable(i int, d *diag.Diagnostic) *diag.Diagnostic {
	own := *d
	if !strings.HasPrefix(d.Message, "order ") {
		own.Message = fmt.Sprintf("order %s: %s", r.table.Rows[i].Number, d.Message)
	}
	own.Span = r.prepared.Place(i, d.Span)
	if own.Span != d.Span && !d.Span.IsZero() {
		own.Notes = append([]diag.Note{{Span: d.Span, Message: "in the design it is here"}}, d.Notes...)
	}
	return &own
}

// quoted reports whether a text is one in quotes and nothing else.
func quoted(text string) bool {
	if !strings.HasPrefix(text, `"`) {
		return false
	}
	for i := 1; i < len(text); i++ {
		switch text[i] {
		case '\\':
			i++
		case '"':
			return i == len(text)-1
		}
	}
	return false
}

// ofDesign reports whether nothing at a span speaks of one cell of an order:
// where there is only one order, what is told there is the design's.
func (r *run) ofDesign(at source.Span) bool {
	i := slices.IndexFunc(r.table.Rows, func(row orders.Row) bool { return row.OK() })
	return i >= 0 && r.prepared.Place(i, at) == r.table.Rows[i].At
}

// oddities say what to look at in a text, with what was meant or what was cleaned.
func oddities(cell orders.Cell) (what []string) {
	if c := cell.Cleaned; c != nil {
		what = append(what, fmt.Sprintf("is %q in the table: %s", c.Was, strings.Join(c.Changes, ", ")))
	}
	for _, o := range orders.Odd(cell.Text) {
		what = append(what, o.String())
	}
	if len(what) == 0 {
		return nil
	}
	if clean, sure := orders.Meant(cell.Text); sure {
		what = append(what, fmt.Sprintf("%q is meant", clean))
	}
	return what
}

// gap reports a text that is joined of an order's with an empty line in it, as one of them
// is empty; not where the design has one itself.
func (r *run) gap(i int, t layout.Text) bool {
	own := t.At.Text()
	return orders.EmptyLine(t.Text) && !quoted(own) && !strings.Contains(own, `\n\n`) &&
		!slices.ContainsFunc(r.table.Rows[i].Cells, func(c orders.Cell) bool { return c.Text == t.Text })
}

// look notes what of an order a person should see before cutting.
func (r *run) look(i int, texts []layout.Text) {
	row := &r.table.Rows[i]
	add := func(text string, what []string) {
		if len(what) > 0 {
			r.result.Seen = append(r.result.Seen, Seen{row.Number, data.At(row.At), text, what})
		}
	}
	for k, c := range r.table.Columns {
		// What the design itself says, in a list or as a default, is no customer's.
		if k < len(row.Cells) && c.Kind == unit.Text && c.Values == nil && (c.Default == nil || row.Cells[k].Text != c.Default.Text || row.Cells[k].Cleaned != nil) {
			add(row.Cells[k].Text, oddities(row.Cells[k]))
		}
	}
	for _, d := range row.Problems {
		if d.Code != "odd-text" && ofRow(d) {
			add(r.table.Label(i), []string{d.Message})
		}
	}
	for _, t := range texts {
		if quoted(t.At.Text()) {
			continue // it is no order's
		}
		var what []string
		if t.Cap < advise.LeastCapital-1e-3 {
			what = append(what, fmt.Sprintf("shrank to capitals of %s mm in %s.%s, less than %d mm", unit.FormatNumber(math.Round(t.Cap*100)/100, 2), t.Panel, t.Region, advise.LeastCapital))
		}
		if r.gap(i, t) {
			what = append(what, fmt.Sprintf("has an empty line between others in %s.%s", t.Panel, t.Region))
		}
		if t.Wrapped {
			what = append(what, fmt.Sprintf("takes %d lines in %s.%s", t.Lines, t.Panel, t.Region))
		}
		if other := t.OtherFonts(); other != "" {
			what = append(what, fmt.Sprintf("is lettered in other fonts in %s.%s: %s", t.Panel, t.Region, other))
		}
		add(t.Text, what)
	}
}
