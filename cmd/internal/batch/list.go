package batch

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"iter"
	"maps"
	"os"
	"slices"
	"strconv"
	"strings"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/eval/design"
	"foredge/eval/orders"
	"foredge/lang/data"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"
	"foredge/layout/advise"
)

const (
	// listName is what the lists of what was made are called, and ticketExt how
	// the name of a job ticket ends.
	listName  = "made"
	ticketExt = ".txt"
	// What they begin with, by which they are known.
	ticketBegins = "Order "
	tableBegins  = "order,line,copies,ticket,files"
	dataBegins   = "{\n  \"schema\": "
)

// A Made is an order that was made.
type Made struct {
	Order  string      `json:"order"`
	At     *data.Place `json:"at"` // its row in the table
	Copies int         `json:"copies"`
	Files  []string    `json:"files"`
	Ticket string      `json:"ticket"`
	Parts  []Part      `json:"parts"`
	// Materials are what its parts are cut from.
	Materials []Material `json:"materials"`
}

// A Material is what parts are cut from, as far as anybody has said it.
type Material struct {
	Name     string `json:"name"`
	Stock    string `json:"stock,omitempty"`
	GivesOff string `json:"gives-off,omitempty"`
	Burns    string `json:"burns,omitempty"`
	// Never is why it must not be cut, Ask why a workshop is to be asked about it,
	// Allowed why it is cut all the same.
	Never   string `json:"never,omitempty"`
	Ask     string `json:"ask,omitempty"`
	Allowed string `json:"allowed,omitempty"`
}

// A Part is one piece of an order, in mm.
type Part struct {
	Name   string      `json:"name"`
	Width  data.Number `json:"width"`
	Height data.Number `json:"height"`
	Stock  string      `json:"stock,omitempty"` // where parts are cut from different ones
	// Copies is how many of it each making of the order needs, where that is more
	// than one; it is drawn once.
	Copies int `json:"copies,omitempty"`
	// Recesses are what is engraved in it to a depth, by the maker's own power and
	// passes.
	Recesses []Recess `json:"recesses,omitempty"`
}

// A Recess is an area that is engraved to a depth, in mm.
type Recess struct {
	Name   string      `json:"name"`
	Depth  data.Number `json:"depth"`
	Inside bool        `json:"inside,omitempty"` // on the inner face
}

// A lister writes what was made, as a table and as data, while it is made. Both
// take their places at the end.
type lister struct {
	run   *run
	table *disk.Stream
	data  *disk.Stream
	rows  *csv.Writer
	some  bool
}

// newLister begins the lists; the folder must be there.
func newLister(r *run) (*lister, error) {
	l := &lister{run: r}
	var err error
	if l.table, err = disk.Create(r.ctx, r.path(listName+".csv")); err != nil {
		return nil, err
	}
	if l.data, err = disk.Create(r.ctx, r.path(listName+".json")); err != nil {
		l.table.Close()
		return nil, err
	}
	fmt.Fprint(l.table, tableBegins, ",allowed\n")
	l.rows = csv.NewWriter(l.table)
	fmt.Fprintf(l.data, dataBegins+"%d,\n  \"design\": %s,\n  \"orders\": %s,\n  \"safety\": %s,\n  \"made\": [",
		data.Schema, asJSON(driver.Name(r.design), "  "), asJSON(r.shown, "  "), asJSON(advise.Safety(), "  "))
	return l, nil
}

// allowed are the names of the materials that an order was allowed to be cut from
// and must not be, or which a workshop was asked about.
func (m Made) allowed() (names []string) {
	for _, x := range m.Materials {
		if x.Allowed != "" {
			names = append(names, spell.Name(x.Name))
		}
	}
	return names
}

func (l *lister) close() {
	l.table.Close()
	l.data.Close()
}

func (l *lister) add(m Made) {
	// Only names that are ours: a customer's text might be taken for a formula.
	l.rows.Write([]string{m.Order, strconv.Itoa(m.At.Line), strconv.Itoa(m.Copies), m.Ticket, strings.Join(m.Files, " "), strings.Join(m.allowed(), " ")})
	if l.some {
		fmt.Fprint(l.data, ",")
	}
	l.some = true
	fmt.Fprintf(l.data, "\n    %s", asJSON(m, "    "))
	for _, f := range m.Files {
		delete(l.run.before, f)
	}
	delete(l.run.before, m.Ticket)
}

// end puts the lists into their places. A file of an earlier batch that this one
// didn't make is told, never removed.
func (l *lister) end() error {
	r := l.run
	l.rows.Flush()
	if l.some {
		fmt.Fprint(l.data, "\n  ")
	}
	bad := r.result.Bad
	if bad == nil {
		bad = []Bad{}
	}
	fmt.Fprintf(l.data, "],\n  \"bad\": %s,\n  \"left-over\": %s\n}\n", asJSON(bad, "  "), asJSON(r.leftOver(), "  "))
	for _, s := range []*disk.Stream{l.table, l.data} {
		if err := s.Commit(); err != nil {
			return err
		}
	}
	r.result.Lists = []string{r.path(listName + ".csv"), r.path(listName + ".json")}
	return nil
}

// asJSON is a value as indented data. Values of ours can always be written so.
func asJSON(v any, prefix string) []byte {
	data, _ := json.MarshalIndent(v, prefix, "  ")
	return data
}

// mostLeft is how many files of an earlier batch are told one by one.
const mostLeft = 20

// leftOver finds and tells the files of an earlier batch that are still there.
func (r *run) leftOver() []string {
	left := []string{}
	for _, f := range slices.Sorted(maps.Keys(r.before)) {
		if _, err := os.Lstat(r.path(f)); err == nil {
			left = append(left, f)
		}
	}
	for _, f := range left[:min(len(left), mostLeft)] {
		r.result.Diagnostics.Warnf("left-over", source.Span{}, "%q is of an earlier batch, and this one didn't make it", r.path(f)).
			WithHelp("remove it if it isn't needed any more, so that it isn't cut by mistake")
	}
	if more := len(left) - mostLeft; more > 0 {
		r.result.Diagnostics.Warnf("left-over", source.Span{}, "%d more files in %q are of an earlier batch, and this one didn't make them", more, r.path(".")).
			WithHelp("%s.json there lists them all under left-over; remove them, or make this batch in a folder of its own", listName)
	}
	return left
}

// earlier are the files that batches have made in the folder: by the last list,
// and by the tickets of one that was stopped before it had a list. Each ticket is
// written before the files that it names.
func (r *run) earlier() map[string]bool {
	files := map[string]bool{}
	add := func(names ...string) {
		for _, name := range names {
			if name != "" && !strings.ContainsAny(name, `/\`) {
				files[name] = true
			}
		}
	}
	if f, err := os.Open(r.path(listName + ".json")); err == nil {
		defer f.Close()
		for m := range madeIn(f) {
			add(m.Ticket)
			add(m.Files...)
		}
	}
	entries, _ := os.ReadDir(r.path(".")) // none if it isn't there
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ticketExt) || !e.Type().IsRegular() {
			continue
		}
		if names, ok := ticketFiles(r.path(e.Name())); ok {
			add(e.Name())
			add(names...)
		}
	}
	return files
}

// ticketFiles reads from a job ticket which files it goes with; not ok if the
// file is none.
func ticketFiles(path string) (names []string, ok bool) {
	f, err := os.Open(path)
	if err != nil {
		return nil, false
	}
	defer f.Close()
	s := bufio.NewScanner(f)
	if !s.Scan() || !strings.HasPrefix(s.Text(), ticketBegins) {
		return nil, false
	}
	for s.Scan() {
		if rest, is := strings.CutPrefix(s.Text(), ticketMakes); is {
			_, list, _ := strings.Cut(rest, ": ")
			return strings.Split(list, ", "), true
		}
	}
	return nil, false
}

// ticketMakes begins the line of a ticket that names its files; what the table
// holds is indented.
const ticketMakes = "To make "

// madeIn reads the orders of a list one by one, as far as it is one.
func madeIn(f io.Reader) iter.Seq[Made] {
	return func(yield func(Made) bool) {
		dec := json.NewDecoder(bufio.NewReader(f))
		for at := json.Token(nil); at != "made"; {
			var err error
			if at, err = dec.Token(); err != nil {
				return
			}
		}
		if at, err := dec.Token(); err != nil || at != json.Delim('[') {
			return
		}
		for dec.More() {
			var m Made
			if dec.Decode(&m) != nil || !yield(m) {
				return
			}
		}
	}
}

// A ticket goes with an order to the bench.
type ticket struct {
	order, from string
	line        int
	cells       [][2]string
	copies      int
	files       []string
	parts       []Part
	texts       []string
	materials   []Material
	hazards     []string // what is said of each material
	inside      bool
	together    bool
}

func (r *run) ticket(i int, solved *design.Design, sheets []driver.Sheet) ticket {
	row := &r.table.Rows[i]
	t := ticket{order: row.Number, from: r.shown, line: row.Line, copies: r.table.Copies(i), together: r.opts.Together,
		materials: materials(solved), hazards: advise.Hazards(solved)}
	for k, c := range r.table.Columns {
		cell := row.Cells[k]
		text := cell.Text
		switch c.Kind {
		case unit.Text:
		case unit.Length:
			text = unit.FormatNumber(cell.Number, 3) + " mm"
		case unit.Angle:
			text = unit.FormatNumber(cell.Number, 3) + " deg"
		default:
			text = unit.FormatNumber(cell.Number, 4)
		}
		if c.Name != orders.CopiesColumn {
			t.cells = append(t.cells, [2]string{c.Name, line(text)})
		}
	}
	for _, s := range sheets {
		inside := s.Suffix != "" && strings.HasPrefix(s.Suffix, driver.InsideSuffix)
		t.inside = t.inside || inside
		for _, p := range s.Drawing.Parts {
			if !inside {
				part := Part{Name: p.Name, Width: round(p.Bounds.Width()), Height: round(p.Bounds.Height())}
				if !s.Drawing.OneStock() {
					part.Stock = p.Stock
				}
				if p.Copies > 1 {
					part.Copies = p.Copies
				}
				for _, x := range p.Recesses {
					part.Recesses = append(part.Recesses, Recess{x.Name, round(x.Depth), x.Inside})
				}
				t.parts = append(t.parts, part)
			}
		}
		for _, x := range s.Drawing.Texts {
			t.texts = append(t.texts, fmt.Sprintf("%s.%s: %s, capitals %s mm high", x.Panel, x.Region, line(x.Text), unit.FormatNumber(x.Cap, 2)))
		}
	}
	return t
}

// materials are what a design is cut from.
func materials(solved *design.Design) []Material {
	all := []Material{}
	for _, s := range solved.Stocks() {
		m := Material{Name: s.Material.Name, Stock: s.Name, GivesOff: s.Material.GivesOff, Burns: s.Material.Burns, Never: s.Material.Never, Ask: s.Material.Ask}
		if m.Never != "" || m.Ask != "" {
			m.Allowed = s.Allow
		}
		all = append(all, m)
	}
	return all
}

// round gives a length at the resolution of the cut files, 0.1 µm.
func round(mm float64) data.Number {
	v, _ := strconv.ParseFloat(strconv.FormatFloat(mm, 'f', 4, 64), 64)
	return data.Number(v)
}

// line is a text on one line, with nothing in it that could steer a terminal or
// turn what follows round.
func line(text string) string {
	return strings.Map(func(c rune) rune {
		switch {
		case c == '\n':
			return '⏎'
		case c < ' ' || c >= 0x7f && c < 0xa0 || c >= 0x202a && c <= 0x202e || c >= 0x2066 && c <= 0x2069:
			return '�'
		}
		return c
	}, text)
}

func (t ticket) text() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, ticketBegins+"%s (line %d of %s)\n\n", t.order, t.line, t.from)
	wide := 0
	for _, c := range t.cells {
		wide = max(wide, len([]rune(c[0])))
	}
	for _, c := range t.cells {
		fmt.Fprintf(&b, "  %-*s  %s\n", wide, c[0], c[1])
	}
	times := "once"
	switch {
	case t.copies > 1 && t.together:
		times = fmt.Sprintf("%d times, all of them on", t.copies)
	case t.copies > 1:
		times = fmt.Sprintf("%d times", t.copies)
	}
	fmt.Fprintf(&b, "\n%s%s: %s\n", ticketMakes, times, strings.Join(t.files, ", "))
	for _, p := range t.parts {
		of := ""
		if p.Stock != "" {
			of = ", of " + p.Stock
		}
		switch all := p.Copies * t.copies; {
		case p.Copies > 1 && t.together:
			of += fmt.Sprintf(", %d of them in all", all)
		case p.Copies > 1:
			of += fmt.Sprintf(", %d times", p.Copies)
		}
		fmt.Fprintf(&b, "  %s, %.4g by %.4g mm%s\n", p.Name, p.Width, p.Height, of)
		for _, x := range p.Recesses {
			face := ""
			if x.Inside {
				face = " on the inside"
			}
			fmt.Fprintf(&b, "    %s: engrave%s to a depth of %.4g mm\n", x.Name, face, x.Depth)
		}
	}
	for _, x := range t.texts {
		fmt.Fprintf(&b, "  %s\n", x)
	}
	switch {
	case t.inside && t.together:
		b.WriteString("\nThe inside comes first, of the whole sheet: lay it with its inner side up against the stops at the head and\n" +
			"at the right edge of the page, and run the -inside file. Then turn it like a page, its head up, so that the\n" +
			"same edge lies against the stop at the left, and run the sheet's own file.\n")
	case t.inside:
		b.WriteString("\nThe inside: turn the board like a page, its head up, push it into the jig's head corner at the left\n" +
			"and run the -inside file from the jig's own origin.\n")
	}
	b.WriteString("\nBefore you cut:\n")
	for _, h := range t.hazards {
		fmt.Fprintf(&b, "  %s\n", line(h))
	}
	for _, s := range advise.Safety() {
		fmt.Fprintf(&b, "%s\n", strings.TrimRight("  "+s, " "))
	}
	return b.Bytes()
}
