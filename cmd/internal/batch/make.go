package batch

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/lang/data"
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
	wanted *layout.Drawing // of orders that lie together
	faces  []layout.Face
	ticket ticket
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
	w := &writer{run: r, hold: hold, rows: layout.NewRows(sized(r.sizes))}
	defer w.close()
	err = each(r.ctx, len(todo), func(k int) made { return r.makeOrder(todo[k]) }, func(k int, m made) error {
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

func (r *run) makeOrder(i int) (m made) {
	fault := driver.Guard("making order "+r.table.Rows[i].Number, func() {
		design, diags := r.solved(i)
		if design == nil {
			m.err = fmt.Errorf("order %s was good a moment ago: %s", r.table.Rows[i].Number, diags[0].Message)
			return
		}
		if r.opts.Together {
			m.wanted, _ = r.session.Drawer().Draw(design)
			m.faces, _ = r.session.Drawer().Inside(design)
			sheets := []driver.Sheet{{Drawing: m.wanted}}
			for _, f := range m.faces {
				sheets = append(sheets, driver.Sheet{Suffix: driver.InsideSuffix, Drawing: f.Drawing})
			}
			m.ticket = r.ticket(i, design, sheets)
			return
		}
		sheets, _ := r.session.Draw(design, r.opts.Options)
		for k := range sheets {
			sheets[k].Drawing.Title = fmt.Sprintf("%s, order %s", sheets[k].Drawing.Title, r.table.Rows[i].Number)
		}
		m.files, m.err = r.encode(r.names[i], sheets)
		m.ticket = r.ticket(i, design, sheets)
	})
	if fault != nil {
		m.err = fault
	}
	return m
}

// encode makes the files of an order's or a sheet's drawings.
func (r *run) encode(name string, sheets []driver.Sheet) ([]disk.File, error) {
	return driver.Encode(sheets, r.opts.Encoders, name, r.origin, func(suffix, ext string) string { return r.path(name + suffix + ext) })
}

// A writer gathers what is made, in order, and writes it a chunk at a time.
type writer struct {
	run   *run
	hold  *disk.Hold
	rows  *layout.Rows // of orders that lie together
	files []disk.File
	held  []Made // orders among them
	list  *lister
	anew  anew
}

// order takes an order that was made.
func (w *writer) order(i int, m made) error {
	r := w.run
	row := &r.table.Rows[i]
	var names []string
	for _, f := range m.files {
		names = append(names, filepath.Base(f.Path))
		if r.opts.Resume {
			r.drawn[stem(filepath.Base(f.Path))] = true
		}
	}
	var each []string // what its copies are called on sheets
	if r.opts.Together {
		each = r.copies(i)
		on := w.rows.Where(each, m.wanted, m.faces)
		names = r.sheetFiles(on)
		for _, o := range on {
			m.ticket.places = append(m.ticket.places, Place{o.Part, sheetName(o.Sheet, false), o.Row, o.Place, round(o.At.X), round(o.At.Y), o.Inside})
		}
	}
	t := m.ticket
	t.files = names
	text := t.text()
	r.changedOn(r.names[i]+ticketExt, row.Number, text, t.copies, t.places)
	w.anew.see(r, row.Number, m.files)
	w.anew.count(r, row.Number, t.copies)
	// The ticket comes first, so that no file is ever there which none names.
	w.files = append(append(w.files, disk.File{Path: r.path(r.names[i] + ticketExt), Data: export.Mark(text, r.origin)}), m.files...)
	w.held = append(w.held, Made{Order: row.Number, At: data.At(row.At),
		Copies: r.table.Copies(i), Files: names, Ticket: r.names[i] + ticketExt, Parts: t.parts, Materials: t.materials,
		Item: t.item, Spoilt: r.spoilt[row.Order()], Lettered: t.lettered, Places: t.places, cells: t.cells, stock: strings.Join(t.stocks, "; ")})
	if err := w.lay(each, m); err != nil {
		return err
	}
	return w.flush(false)
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

// lay puts all copies of an order on sheets, and writes those that are full a chunk at
// a time.
func (w *writer) lay(copies []string, m made) error {
	for _, name := range copies {
		_, full := w.rows.Add(name, m.wanted, m.faces)
		for _, sheet := range full {
			if err := w.sheet(sheet); err != nil {
				return err
			}
			if len(w.files) >= sheets {
				if err := w.write(); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// sheetFiles are the files of the sheets on which something lies, each once.
func (r *run) sheetFiles(on []layout.On) (names []string) {
	var sheets []string
	for _, o := range on {
		sheets = append(sheets, sheetName(o.Sheet, false))
		if o.Inside {
			sheets = append(sheets, sheetName(o.Sheet, true))
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

// sheet makes the files of a sheet that is full.
func (w *writer) sheet(s layout.Sheet) error {
	for _, wanted := range []*layout.Drawing{s.Outer, s.Inside} {
		if wanted == nil {
			continue
		}
		cut, _ := wanted.ForLaser()
		cut.Title = fmt.Sprintf("%s, sheet %d", cut.Title, s.Number)
		files, err := w.run.encode(sheetName(s.Number, wanted == s.Inside), []driver.Sheet{{Drawing: cut}})
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
		if w.list, err = newLister(r); err != nil {
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

// write writes the files that are held.
func (w *writer) write() error {
	r := w.run
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
	for _, rest := range w.rows.Rest() {
		if err := w.sheet(rest); err != nil {
			return err
		}
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
