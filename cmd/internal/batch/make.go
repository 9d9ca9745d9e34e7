package batch

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"foredge/cmd/internal/cost"
	"foredge/cmd/internal/cutplan"
	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/eval/design"
	"foredge/export"
	"foredge/lang/data"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/layout"
)

// chunk is how many orders are written together: forcing files to the disk is
// mostly waiting, which they do at the same time.
const chunk = 16

// sheets is how many files are held before they are written where orders lie together,
// of which one may fill any number of sheets.
const sheets = 64

// made is an order that has been made but not yet written.
type made struct {
	files  []disk.File
	kerfed *layout.Drawing // of orders that lie together
	faces  []layout.Face
	cut    string // the sum of what is cut, where it may lie elsewhere another time
	ticket ticket
	charge charge
	shop   design.Shop
	err    error
}

// make makes the good orders and writes them. Of two batches into one folder the
// second waits for the first.
func (r *run) make() error {
	hold, err := disk.HoldFolder(r.ctx, r.path("."))
	if err != nil {
		return err
	}
	defer hold.Release()
	if err := r.ready(); err != nil {
		return err
	}
	var todo []int
	r.spoilt = map[string][]string{}
	for i, good := range r.good {
		if row := &r.table.Rows[i]; good {
			todo = append(todo, i)
		} else if row.Item > 0 {
			r.spoilt[row.Order()] = append(r.spoilt[row.Order()], row.Number)
		}
	}
	w := &writer{run: r, hold: hold, plan: cutplan.Plan{Title: driver.Name(r.design)}}
	defer w.close()
	r.wood = newWood()
	err = each(r.ctx, len(todo), func(k int) made { return r.makeOrder(k, todo[k]) }, func(k int, m made) error {
		if m.err != nil {
			return m.err
		}
		r.progress(len(r.table.Rows) + todo[k] + 1)
		return w.order(todo[k], m)
	})
	if err != nil {
		return err
	}
	return w.end()
}

// makeOrder makes an order, the k-th of the good ones.
func (r *run) makeOrder(k, i int) (m made) {
	defer r.wood.pass(k)
	fault := driver.Guard("making order "+r.table.Rows[i].Number, func() {
		solved, diags := r.solved(i)
		if solved == nil {
			m.err = againBad(r.table.Rows[i].Number, diags)
			return
		}
		if r.opts.Together {
			wanted, _ := r.session.Drawer().Draw(solved)
			m.kerfed, _ = wanted.Kerfed()
			m.faces, _ = r.session.Drawer().Inside(solved)
			m.cut = layout.Sum(m.kerfed.Scaled(), m.faces)
			sheets := []driver.Sheet{{Drawing: wanted}}
			for _, f := range m.faces {
				sheets = append(sheets, driver.Sheet{Inside: true, Drawing: f.Drawing})
			}
			m.ticket = r.ticket(i, solved, sheets)
			m.charge.asked, m.shop = asked(&solved.Laser), solved.Laser.Shop
			return
		}
		sheets, diags := r.session.DrawLaid(r.ctx, solved, r.opts.Options, func(kerfed *layout.Drawing, supplies map[string]layout.Supply) (*layout.Laid, error) {
			if counted(kerfed, supplies) {
				faces, _ := r.session.Drawer().Inside(solved)
				m.cut = layout.Sum(kerfed.Scaled(), faces)
			}
			return r.wood.lay(r.ctx, k, r.table.Copies(i), kerfed, supplies, r.opts.Options)
		})
		switch {
		case r.ctx.Err() != nil:
			m.err = r.ctx.Err()
			return
		case diags.HasErrors():
			m.err = againBad(r.table.Rows[i].Number, diags)
			return
		}
		for k := range sheets {
			sheets[k].Drawing.Title = fmt.Sprintf("%s, order %s", sheets[k].Drawing.Title, r.table.Rows[i].Number)
		}
		sheets = r.session.Sequenced(r.ctx, sheets, r.opts.Options)
		m.files, m.err = r.encode(r.names[i], sheets)
		m.ticket = r.ticket(i, solved, sheets)
		m.charge = chargeEach(solved, sheets, m.ticket.copies)
	})
	if fault != nil {
		m.err = fault
	}
	return m
}

// againBad says that an order can't be made which was found good.
func againBad(number string, diags diag.List) error {
	i := slices.IndexFunc(diags, func(d *diag.Diagnostic) bool { return d.Severity == diag.Error })
	return fmt.Errorf("order %s was good a moment ago: %s", number, diags[max(0, i)].Message)
}

// encode makes the files of an order's or a sheet's drawings.
func (r *run) encode(name string, sheets []driver.Sheet) ([]disk.File, error) {
	return driver.Encode(sheets, r.opts.Encoders, name, r.origin, func(suffix, ext string) string { return r.path(name + suffix + ext) })
}

// A writer gathers what is made, in order, and writes it a chunk at a time.
type writer struct {
	run     *run
	hold    *disk.Hold
	waiting []waiting // orders that will lie together
	parts   int       // how many parts they have
	laid    int       // sheets so far
	files   []disk.File
	held    []Made       // orders among them
	plan    cutplan.Plan // what lies on the sheets
	list    *lister
	anew    anew
	uses    []layout.Use   // of which stocks something was laid, each once
	sawn    []layout.Sheet // pieces of sheets that are larger than the bed
}

// A waiting is an order that waits to be laid on sheets, and what its copies are called
// there.
type waiting struct {
	i     int
	made  made
	names []string
}

// order takes an order that was made.
func (w *writer) order(i int, m made) error {
	r := w.run
	if r.opts.Together {
		names, parts := r.copies(i), 0
		for _, p := range m.kerfed.Parts {
			parts += max(1, p.Copies) * len(names)
		}
		if w.parts+parts > layout.MostLaid {
			if err := w.lay(); err != nil {
				return err
			}
		}
		w.waiting, w.parts = append(w.waiting, waiting{i, m, names}), w.parts+parts
		if w.parts < cmp.Or(r.opts.laidAtOnce, laidAtOnce) {
			return nil
		}
		return w.lay()
	}
	var names []string
	for _, f := range m.files {
		names = append(names, filepath.Base(f.Path))
		if r.opts.Resume {
			r.drawn[stem(filepath.Base(f.Path))] = true
		}
	}
	w.note(i, m, names)
	return w.flush(false)
}

// note notes an order, with the names of the files that make it.
func (w *writer) note(i int, m made, names []string) {
	r := w.run
	row := &r.table.Rows[i]
	t := m.ticket
	t.files, t.charge = names, m.charge
	text := t.text()
	r.changedOn(r.names[i]+ticketExt, row.Number, m.cut, text, t.copies, t.places)
	w.anew.see(r, row.Number, m.cut, m.files)
	w.anew.count(r, row.Number, t.copies)
	// The ticket comes first, so that no file is ever there which none names.
	w.files = append(append(w.files, disk.File{Path: r.path(r.names[i] + ticketExt), Data: export.Mark(text, r.origin)}), m.files...)
	w.held = append(w.held, Made{Order: row.Number, At: data.At(row.At),
		Copies: r.table.Copies(i), Files: names, Ticket: r.names[i] + ticketExt, Parts: t.parts, Materials: t.materials,
		Minutes: known(m.charge.Minutes), Cost: money(m.charge.Total), cents: m.charge.Total, asked: m.charge.asked,
		Item: t.item, Spoilt: r.spoilt[row.Order()], Lettered: t.lettered, Places: t.places, Cut: m.cut, cells: t.cells, stock: strings.Join(t.stocks, "; ")})
}

// laidAtOnce is how many parts are laid at a time where orders lie together: enough that a
// sheet which stays half empty at the end of each counts for little.
const laidAtOnce = 500

// batchEffort is what a batch spends on laying parts, of what a job does: little beside
// what drawing them takes.
const batchEffort = 0.1

// lay lays the orders that wait on sheets, and writes their tickets and the sheets a
// chunk at a time.
func (w *writer) lay() error {
	r := w.run
	var wanted []layout.Wanted
	var of []cutplan.Wanted
	for _, o := range w.waiting {
		for _, name := range o.names {
			wanted = append(wanted, layout.Wanted{Name: name, Drawing: o.made.kerfed, Faces: o.made.faces})
			of = append(of, cutplan.Wanted{Lot: len(w.plan.Lots), Name: name, Drawing: o.made.kerfed, Shop: o.made.shop})
		}
		w.plan.Unit = o.made.kerfed.Unit
		w.plan.Lots = append(w.plan.Lots, cutplan.Lot{Order: r.table.Rows[o.i].Number, Say: r.table.Label(o.i)})
	}
	if len(wanted) == 0 {
		return nil
	}
	laid, err := layout.Lay(r.ctx, wanted, r.supplies, layout.Search{Effort: batchEffort * cmp.Or(r.opts.Effort, 1)})
	var few *layout.StockError
	if errors.As(err, &few) {
		so := fmt.Sprintf("the parts of all orders up to %s find room", r.table.Rows[w.waiting[len(w.waiting)-1].i].Number)
		return &disk.Error{Code: "too-few-sheets", Message: few.Error(), Hint: stated(few.Line) + driver.TooFew(few, so, "") + "; or take orders out of the table"}
	}
	if err != nil {
		return err
	}
	for _, u := range laid.Stocks {
		w.unmeant(u)
		w.used(u)
	}
	for _, s := range laid.Sheets {
		if s.Sawn != nil {
			w.sawn = append(w.sawn, layout.Sheet{Stock: s.Stock, Sawn: s.Sawn})
		}
	}
	var ready []*layout.Drawing // of each sheet, its outside and inside
	what := cutplan.Laid{Laid: laid, Of: of}
	for k, s := range laid.Sheets {
		outer, inner := r.sequenced(s.Outer, w.laid+k+1), r.sequenced(s.Inside, w.laid+k+1)
		ready = append(ready, outer, inner)
		what.Runs = append(what.Runs, cost.RunOf(s.Stock, outer, inner))
		what.Names = append(what.Names, r.sheetNames(w.laid+k+1, inner != nil))
	}
	charges, on := w.plan.Add(what), laid.On
	for _, o := range w.waiting {
		its := slices.Concat(on[:len(o.names)]...)
		for _, p := range its {
			o.made.ticket.places = append(o.made.ticket.places,
				Place{Part: p.Part, Sheet: sheetName(w.laid+p.Sheet+1, false), Place: p.Place, Left: round(p.At.X), Top: round(p.At.Y), Turned: data.Number(p.Turned), Inside: p.Inside})
		}
		for k := range laid.Sheets {
			if slices.ContainsFunc(its, func(p layout.On) bool { return p.Sheet == k }) {
				o.made.ticket.piece(sheetName(w.laid+k+1, false), &laid.Sheets[k])
			}
		}
		o.made.charge.Charge = cost.Nothing()
		for _, c := range charges[:len(o.names)] {
			o.made.charge.Add(c)
		}
		on, charges = on[len(o.names):], charges[len(o.names):]
		w.note(o.i, o.made, r.sheetFiles(its, w.laid))
	}
	for k := range laid.Sheets {
		w.laid++
		if err := w.sheet(w.laid, ready[2*k], ready[2*k+1]); err != nil {
			return err
		}
		if len(w.files) >= sheets {
			if err := w.write(); err != nil {
				return err
			}
		}
	}
	w.waiting, w.parts = nil, 0
	return w.flush(true)
}

// used notes what is to be told in the end of what was laid of a stock.
func (w *writer) used(u layout.Use) {
	i := slices.IndexFunc(w.uses, func(o layout.Use) bool { return o.Stock == u.Stock })
	if i < 0 {
		i = len(w.uses)
		w.uses = append(w.uses, layout.Use{Stock: u.Stock, At: u.At, Shared: u.Shared})
	}
	w.uses[i].Blocks += u.Blocks
}

// tellUses tells of the sheets of each stock that are sawn, and of those none of which parts share cuts.
func (w *writer) tellUses() {
	for _, u := range w.uses {
		w.run.result.Diagnostics.Add(driver.Sawn(u, &layout.Laid{Sheets: w.sawn}, w.plan.Unit))
		w.run.result.Diagnostics.Add(driver.NotShared(u))
	}
}

// stated says which line says how many sheets there are.
func stated(line source.Span) string {
	if line.IsZero() {
		return ""
	}
	at := data.At(line)
	return fmt.Sprintf("%s:%d says %s; ", at.File, at.Line, line.Short())
}

// unmeant warns of how parts of a stock lie, once for all that lies together.
func (w *writer) unmeant(u layout.Use) {
	for _, d := range driver.Unmeant(u, w.plan.Unit) {
		told := &w.run.result.Diagnostics
		if !slices.ContainsFunc(*told, func(t *diag.Diagnostic) bool { return t.Code == d.Code && t.Span == d.Span }) {
			told.Add(diag.List{d})
		}
	}
}

// copies are what the copies of an order are called on sheets.
func (r *run) copies(i int) (names []string) {
	for copy := range r.table.Copies(i) {
		name := r.table.Rows[i].Number
		if copy > 0 {
			name = fmt.Sprintf("%s-%d", name, copy+1)
		}
		names = append(names, name)
	}
	return names
}

// sheetFiles are the files of the sheets on which something lies, each once; before is
// how many sheets were laid before these.
func (r *run) sheetFiles(on []layout.On, before int) (names []string) {
	var sheets []string
	for _, o := range on {
		sheets = append(sheets, sheetName(before+o.Sheet+1, false))
		if o.Inside {
			sheets = append(sheets, sheetName(before+o.Sheet+1, true))
		}
	}
	slices.Sort(sheets)
	for _, sheet := range slices.Compact(sheets) {
		for _, enc := range r.opts.Encoders {
			names = append(names, sheet+enc.Extension())
		}
	}
	return names
}

// sheetNames are how the files of a sheet are called.
func (r *run) sheetNames(number int, inside bool) cutplan.Names {
	n := cutplan.Names{Sheet: sheetName(number, false)}
	for _, enc := range r.opts.Encoders {
		n.Outer = append(n.Outer, n.Sheet+enc.Extension())
		if inside {
			n.Insides = append(n.Insides, sheetName(number, true)+enc.Extension())
		}
	}
	return n
}

// sequenced is one side of a sheet as it is run; nil if there is none.
func (r *run) sequenced(laid *layout.Drawing, number int) *layout.Drawing {
	if laid == nil {
		return nil
	}
	cut := *laid.Scaled()
	cut.Title = fmt.Sprintf("%s, sheet %d", cut.Title, number)
	return r.session.Sequenced(r.ctx, []driver.Sheet{{Drawing: &cut}}, r.opts.Options)[0].Drawing
}

// sheet makes the files of a sheet.
func (w *writer) sheet(number int, outer, inside *layout.Drawing) error {
	for _, cut := range []*layout.Drawing{outer, inside} {
		if cut == nil {
			continue
		}
		files, err := w.run.encode(sheetName(number, cut == inside), []driver.Sheet{{Drawing: cut}})
		if err != nil {
			return err
		}
		w.files = append(w.files, files...)
	}
	return nil
}

// rules let files be replaced that are of a batch, or all by force.
func (r *run) rules() disk.Rules {
	if r.opts.Force {
		return disk.Rules{}
	}
	return disk.Rules{Ours: ours}
}

// sheetBegins begins the names of the files of sheets.
const sheetBegins = "sheet-"

func sheetName(n int, inside bool) string {
	name := fmt.Sprintf(sheetBegins+"%04d", n)
	if inside {
		name += driver.InsideSuffix
	}
	return name
}

// flush writes what is held, once it is worth it or at the end.
func (w *writer) flush(all bool) error {
	if len(w.held) < chunk && !all {
		return nil
	}
	r := w.run
	if err := w.write(); err != nil {
		return err
	}
	if w.list == nil {
		var err error
		if w.list, err = newLister(r, len(w.held) > 0 && w.held[0].asked); err != nil {
			return err
		}
	}
	for _, m := range w.held {
		w.list.add(m)
		if r.opts.Keep {
			r.result.Made = append(r.result.Made, m)
		}
	}
	r.result.Done += len(w.held)
	w.held = nil
	return nil
}

// write writes the files that are held, and sets aside what some of them replace; after an
// error all is where it was.
func (w *writer) write() (err error) {
	r := w.run
	told, replaced, noting, moved := len(r.result.Diagnostics), len(r.replaced), r.noting, len(r.moved)
	defer func() {
		if err == nil {
			return
		}
		r.moveBack(r.moved[moved:])
		r.result.Diagnostics, r.replaced, r.noting, r.moved = r.result.Diagnostics[:told], r.replaced[:replaced], noting, r.moved[:moved]
	}()
	if err := w.hold.Still(); err != nil {
		return err
	}
	rules := r.rules()
	rules.Held = w.hold
	// Nothing is moved for files that are then refused.
	if err := disk.Refused(w.files, rules); err != nil {
		return err
	}
	if err := r.replaceSheets(w.files); err != nil {
		return err
	}
	var files []disk.File
	for _, f := range w.files {
		stays, err := r.noted(f)
		if err != nil {
			return err
		}
		if !stays {
			files = append(files, f)
		}
	}
	w.files = nil
	return disk.WriteSet(r.ctx, files, rules)
}

// end writes the last sheets, what is still held, and the lists.
func (w *writer) end() error {
	if err := w.lay(); err != nil {
		return err
	}
	if w.run.opts.Together {
		w.tellUses()
		w.files = append(w.files, disk.File{Path: w.run.path(pageName), Data: export.Mark(w.plan.Page(), w.run.origin)})
	}
	if err := w.flush(true); err != nil {
		return err
	}
	if err := w.hold.Still(); err != nil {
		return err
	}
	w.anew.tell(w.run)
	if err := w.list.end(); err != nil {
		return err
	}
	w.anew.tellFresh(w.run)
	if err := w.hold.Still(); err != nil {
		return err
	}
	return w.run.there()
}

// there sees that each file is there that the list of what was made names.
func (r *run) there() error {
	f, err := os.Open(r.path(listName + ".json"))
	if err != nil {
		return disk.Gone(r.path(listName + ".json"))
	}
	defer f.Close()
	var gone error
	readList(f, func(m Made) {
		for _, name := range append(m.Files, m.Ticket) {
			if _, err := os.Lstat(r.path(name)); err != nil && gone == nil {
				gone = disk.Gone(r.path(name))
			}
		}
	})
	return gone
}

// close gives up lists that aren't whole.
func (w *writer) close() {
	if w.list != nil {
		w.list.close()
	}
}
