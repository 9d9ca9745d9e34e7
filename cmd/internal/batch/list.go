package batch

import (
	"bufio"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"hash"
	"io"
	"os"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"foredge/cmd/internal/cost"
	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/lang/data"
	"foredge/lang/spell"
	"foredge/layout/advise"
)

const (
	// listName is what the lists of what was made are called, and ticketExt how
	// the name of a job ticket ends.
	listName  = "made"
	ticketExt = ".txt"
	// pageName is how the page is called that shows what lies on which sheet, of orders that
	// lie together.
	pageName = listName + driver.PageExt
	// What they begin with, by which they are known.
	ticketBegins = "Order "
	tableBegins  = "order,line,copies,ticket,files"
	dataBegins   = "{\n  \"schema\": "
	// byteOrderMark comes before the table: without it spreadsheets read UTF-8 as another
	// encoding (common practice, from memory).
	byteOrderMark = "\ufeff"
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
	// Item says which of an order's several rows it is, as in "2 of 3".
	Item string `json:"item,omitempty"`
	// Spoilt are the items of its order that can't be made.
	Spoilt []string `json:"spoilt,omitempty"`
	// Lettered are the texts that are on it, as they are lettered.
	Lettered []string `json:"lettered"`
	// Places are where its parts lie, of orders that lie together.
	Places []Place `json:"places,omitempty"`
	// Cut is a sum of what each of its copies is, of orders that lie together or whose wood is counted: by it a
	// batch that goes on knows which of them are others, and which only lie elsewhere.
	Cut string `json:"cut,omitempty"`
	// Minutes are those of the laser over all copies, and Cost what they cost, where what
	// they rest on is stated.
	Minutes *data.Number `json:"minutes,omitempty"`
	Cost    *data.Number `json:"cost,omitempty"`

	cells [][2]string // what the table says of it
	stock string      // what it is cut from, in words
	cents maybe.Of[int64]
	asked bool // the maker has stated something of time and money
}

// A Place is where a part lies on a sheet.
type Place struct {
	Part   string      `json:"part"`
	Sheet  string      `json:"sheet"` // as its files are called, without ending
	Place  int         `json:"place"` // its number on the sheet: row by row from the head, from the left
	Left   data.Number `json:"left"`  // of its left upper corner, in mm
	Top    data.Number `json:"top"`
	Turned data.Number `json:"turned,omitempty"` // in degrees, clockwise
	// Inside says that something of it is on the inside of the sheet too, which lies
	// turned over then.
	Inside bool `json:"inside,omitempty"`
}

// A Material is what parts are cut from, as far as anybody has said it.
type Material struct {
	Name     string      `json:"name"`
	Stock    string      `json:"stock,omitempty"`
	Thick    data.Number `json:"thick,omitempty"` // mm
	GivesOff string      `json:"gives-off,omitempty"`
	Burns    string      `json:"burns,omitempty"`
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
	Thick  data.Number `json:"thick,omitempty"` // where it is known
	// Copies is how many of it each making of the order needs, where that is more
	// than one; it is drawn once.
	Copies int `json:"copies,omitempty"`
	// Recesses are what is engraved in it to a depth, by the maker's own power and
	// passes.
	Recesses []Recess `json:"recesses,omitempty"`

	grain word.Grain // along which of its sizes it runs; 0 where nothing says it
	knife bool       // a knife cuts it out
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
	sum   hash.Hash // of the table
	some  bool
	asked bool // the maker has stated something of time and money
	// What all orders come to, and whether that is known.
	minutes float64
	cents   int64
	timed   bool
	priced  bool
}

// newLister begins the lists; the folder must be there. They tell time and money if that is
// asked for.
func newLister(r *run, asked bool) (*lister, error) {
	l := &lister{run: r, sum: sha256.New(), asked: asked, timed: true, priced: true}
	var err error
	if l.table, err = disk.Create(r.ctx, r.path(listName+".csv")); err != nil {
		return nil, err
	}
	if l.data, err = disk.Create(r.ctx, r.path(listName+".json")); err != nil {
		l.table.Close()
		return nil, err
	}
	both := io.MultiWriter(l.table, l.sum)
	io.WriteString(both, byteOrderMark) // errors are told by Commit
	l.rows = csv.NewWriter(both)
	header := append(strings.Split(tableBegins, ","), "allowed", "item", "stock", "lettered")
	if asked {
		header = append(header, "minutes", "cost")
	}
	for k, c := range r.table.Columns {
		if !r.table.IsCopies(k) {
			header = append(header, "order."+c.Name)
		}
	}
	l.rows.Write(header)
	fmt.Fprintf(l.data, dataBegins+"%d,\n  \"design\": %s,\n  \"orders\": %s,\n  \"safety\": %s,\n  \"made\": [",
		data.Schema, asJSON(driver.Name(r.design), "  "), asJSON(r.shown, "  "), asJSON(advise.Safety(), "  "))
	return l, nil
}

// minutes and cost are as they stand in the table, "" where they aren't known.
func (m Made) minutes() string {
	if m.Minutes == nil {
		return ""
	}
	return strconv.FormatFloat(float64(*m.Minutes), 'f', 2, 64)
}

func (m Made) cost() string {
	if cents, ok := m.cents.Get(); ok {
		return cost.Money(cents)
	}
	return ""
}

// known and money are numbers of data, nil where they aren't known.
func known(m maybe.Of[float64]) *data.Number {
	v, ok := m.Get()
	if !ok {
		return nil
	}
	n := data.Number(v)
	return &n
}

func money(m maybe.Of[int64]) *data.Number {
	cents, ok := m.Get()
	return known(maybe.If(float64(cents)/100, ok))
}

// charge adds what an order comes to.
func (l *lister) charge(m Made) {
	cents, priced := m.cents.Get()
	l.cents, l.priced = l.cents+cents, l.priced && priced
	if l.timed = l.timed && m.Minutes != nil; l.timed {
		l.minutes += float64(*m.Minutes)
	}
}

// totals are what all orders come to, as data.
func (l *lister) totals() string {
	var all string
	if l.some && l.timed {
		all += fmt.Sprintf("\"minutes\": %s,\n  ", asJSON(data.Number(l.minutes), ""))
	}
	if l.some && l.priced {
		all += fmt.Sprintf("\"cost\": %s,\n  ", asJSON(money(maybe.Is(l.cents)), ""))
	}
	return all
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

// item says which of an order's rows it is, and which of them can't be made.
func (m Made) item() string {
	if len(m.Spoilt) == 0 {
		return m.Item
	}
	return fmt.Sprintf("%s; not made: %s", m.Item, strings.Join(m.Spoilt, " "))
}

// noFormula is a text of a table in which a spreadsheet finds no formula: what might
// begin one, behind blanks too and in wide characters, has an apostrophe before it (OWASP,
// "CSV Injection").
func noFormula(text string) string {
	begins := strings.TrimLeftFunc(text, func(c rune) bool { return unicode.IsSpace(c) || unicode.Is(unicode.Cf, c) })
	first, _ := utf8.DecodeRuneInString(begins)
	if begins != "" && strings.ContainsRune("=+-@＝＋－＠", first) || text != "" && strings.ContainsRune("\t\r\n", rune(text[0])) {
		return "'" + text
	}
	return text
}

func (l *lister) close() {
	l.table.Close()
	l.data.Close()
}

func (l *lister) add(m Made) {
	row := []string{m.Order, strconv.Itoa(m.At.Line), strconv.Itoa(m.Copies), m.Ticket, strings.Join(m.Files, " "), strings.Join(m.allowed(), " "),
		m.item(), m.stock, strings.Join(m.Lettered, " | ")}
	if l.asked {
		row = append(row, m.minutes(), m.cost())
	}
	for _, c := range m.cells {
		row = append(row, c[1])
	}
	for i := range row {
		row[i] = noFormula(row[i])
	}
	l.charge(m)
	l.rows.Write(row)
	if l.some {
		fmt.Fprint(l.data, ",")
	}
	l.some = true
	fmt.Fprintf(l.data, "\n    %s", asJSON(m, "    "))
	for _, f := range m.Files {
		delete(l.run.before, f)
		if strings.HasPrefix(f, sheetBegins) {
			l.run.sheets[stem(f)] = true
		}
	}
	delete(l.run.before, m.Ticket)
}

// end puts the lists into their places. A file of an earlier batch that no order
// has any more is moved aside and told, never removed.
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
	sum := hex.EncodeToString(l.sum.Sum(nil))
	fmt.Fprintf(l.data, "],\n  \"bad\": %s,\n  \"left-over\": %s,\n  %s\"sum\": \"%s\"\n}\n", asJSON(bad, "  "), asJSON(r.moveAside(), "  "), l.totals(), sum)
	kept, err := r.notedList(l.table, sum)
	if err != nil {
		return err
	}
	for _, s := range []*disk.Stream{l.table, l.data} {
		if kept && s == l.table {
			continue
		}
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

// An earlier is what the list of the batch before says of it.
type earlier struct {
	Design string
	Sum    string            // of its packing list
	left   []string          // files of batches before it that it hadn't made
	copies map[string]int    // of each order
	cut    map[string]string // the sums of what they are, where these are known
}

// earlier are the files that batches have made in the folder: by the last list,
// and by the tickets of one that was stopped before it had a list. Each ticket is
// written before the files that it names.
func (r *run) earlier() (last earlier, files map[string]string) {
	files = map[string]string{}
	add := func(ticket string, names ...string) {
		for _, name := range append(names, ticket) {
			if name != "" && !strings.ContainsAny(name, `/\`) {
				files[name] = ticket
			}
		}
	}
	if f, err := os.Open(r.path(listName + ".json")); err == nil {
		defer f.Close()
		copies, cut := map[string]int{}, map[string]string{}
		last = readList(f, func(m Made) {
			add(m.Ticket, m.Files...)
			if copies[m.Order] = m.Copies; m.Cut != "" {
				cut[m.Order] = m.Cut
			}
		})
		last.copies, last.cut = copies, cut
	}
	defer func() { r.addLeft(files, last.left) }() // no ticket names them any more
	entries, _ := os.ReadDir(r.path("."))          // none if it isn't there
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ticketExt) || !e.Type().IsRegular() {
			continue
		}
		if names, ok := ticketFiles(r.path(e.Name())); ok {
			add(e.Name(), names...)
		}
	}
	return last, files
}

// addLeft adds, of files that earlier batches had left over, those that no batch has made since,
// each with the ticket of its order: NUMBER-NAME-PANEL.svg is of NUMBER-NAME.txt.
func (r *run) addLeft(files map[string]string, left []string) {
	r.stayed = map[string]bool{}
	for _, f := range left {
		if _, made := files[f]; made || f == "" || f == pageName || strings.ContainsAny(f, `/\`) {
			continue
		}
		if data, err := os.ReadFile(r.path(f)); err != nil || !ours(data) {
			continue // it was moved aside, or is another's by now
		}
		of := stem(f)
		for name, more := of, true; more; name, more = beforeLast(name) {
			if t := name + ticketExt; files[t] == t {
				of = name
				break
			}
		}
		files[f], r.stayed[f] = of+ticketExt, true
	}
}

// beforeLast is a name without its last part and the hyphen before that; false where it has one part.
func beforeLast(name string) (string, bool) {
	i := strings.LastIndex(name, "-")
	return name[:max(i, 0)], i > 0
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
	head := false
	for above := 0; s.Scan(); {
		if !head {
			head = isTicketLine(s.Text())
			if above += len(s.Bytes()) + 1; !head && above > mostAbove {
				return nil, false
			}
			continue
		}
		rest, alone := strings.CutPrefix(s.Text(), ticketMakes)
		if !alone {
			rest, alone = strings.CutPrefix(s.Text(), ticketRuns)
		}
		if alone {
			_, list, _ := strings.Cut(rest, ": ")
			return strings.Split(list, ", "), true
		}
	}
	return nil, false
}

// ticketMakes begins the line of a ticket that names its files, ticketRuns that of
// orders that lie together; what the table holds is indented, and so is what to look at,
// behind ticketLook.
const (
	ticketMakes = "To make "
	ticketRuns  = "To run once each"
	ticketLook  = "  Look: "
	ticketTime  = "  The laser runs "
	ticketCost  = "  It costs "
)

// readList reads a list, its orders one by one, as far as it is one.
func readList(f io.Reader, order func(Made)) (last earlier) {
	dec := json.NewDecoder(bufio.NewReader(f))
	if at, err := dec.Token(); err != nil || at != json.Delim('{') {
		return last
	}
	for dec.More() {
		key, err := dec.Token()
		if err != nil {
			return last
		}
		switch key {
		case "design":
			err = dec.Decode(&last.Design)
		case "sum":
			err = dec.Decode(&last.Sum)
		case "left-over":
			err = dec.Decode(&last.left)
		case "made":
			err = readMade(dec, order)
		default:
			err = dec.Decode(&json.RawMessage{})
		}
		if err != nil {
			return last
		}
	}
	return last
}

func readMade(dec *json.Decoder, order func(Made)) error {
	if at, err := dec.Token(); err != nil || at != json.Delim('[') {
		return err
	}
	for dec.More() {
		var m Made
		if err := dec.Decode(&m); err != nil {
			return err
		}
		order(m)
	}
	_, err := dec.Token()
	return err
}
