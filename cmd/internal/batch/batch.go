package batch

import (
	"bytes"
	"context"
	"fmt"
	"iter"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/eval"
	"foredge/eval/design"
	"foredge/eval/orders"
	"foredge/export"
	"foredge/lang/ast"
	"foredge/lang/data"
	"foredge/lang/diag"
	"foredge/lang/lookalike"
	"foredge/lang/parse"
	"foredge/lang/source"
	"foredge/layout"
)

// Options say what to make of the orders.
type Options struct {
	driver.Options
	Orders   string // a table in place of the one that the design names; "" for that one
	Together bool   // several covers to a file
	Check    bool   // only look, and write nothing
	Resume   bool   // go on with what an earlier run has left in the folder
	Keep     bool   // what was made, in the result too
	// laidAtOnce is how many parts are laid at a time; 0 stands for the usual number.
	laidAtOnce int
	// Progress, if not nil, is told how many of how many steps are done, in order,
	// from one goroutine.
	Progress func(done, of int)
}

// A Result is what became of a batch.
type Result struct {
	Diagnostics diag.List
	// Err is what stopped the batch; it is no fault of design or orders.
	Err error
	// Looked is how many orders were taken through all stages, good or bad.
	Looked int
	Done   int    // how many orders were made
	Made   []Made // these, where they were to be kept
	Bad    []Bad
	// Seen is what a person should look at before cutting.
	Seen []Seen
	// Lists are the paths of the lists of what was made.
	Lists []string
}

// A Bad is an order that can't be made, with why.
type Bad struct {
	Order string      `json:"order"`
	At    *data.Place `json:"at"` // its row in the table
	Why   []Trouble   `json:"why"`
}

// A Trouble is one error of an order.
type Trouble struct {
	Code    diag.Code   `json:"code"`
	At      *data.Place `json:"at"` // in the table
	Message string      `json:"message"`
}

// run is one batch at work.
type run struct {
	ctx      context.Context
	opts     Options
	design   string
	result   *Result
	session  *driver.Session
	tree     *ast.File // of the design
	origin   export.Origin
	reader   *driver.Reader
	prepared *eval.Prepared
	table    *orders.Table
	names    []string // of the files of each order, without ending
	good     []bool
	shown    string                   // what messages call the table
	supplies map[string]layout.Supply // of the sheets of each stock, of orders that lie together
	wood     *wood                    // of which orders with files of their own have theirs
	// before are files of an earlier batch that no order has had yet, each with the
	// ticket that named it last; sheets are those that this batch has made, without
	// endings.
	before map[string]string
	sheets map[string]bool
	stayed map[string]bool // those of before that an earlier batch told as left over
	// drawn are the files that a batch which goes on has made of single orders, without
	// their ending.
	drawn map[string]bool
	// replaced are sheets of an earlier batch that were moved aside, since this one has
	// others of their names.
	replaced []string
	// changed are, of each sheet, the orders on it that are others than before or are new; unsure
	// are those with orders of which only the tickets tell.
	changed map[string][]string
	unsure  map[string]bool
	others  []other  // all that were made before and are others now
	insides []string // insides that came to sheets which were there
	// spoilt are the items that can't be made, by the number of their order.
	spoilt map[string][]string
	last   earlier // the batch before this one
	noting int     // how many files with notes were moved aside
	moved  []move  // files that were set aside
}

// Run makes all orders of a design.
func Run(ctx context.Context, session *driver.Session, design string, opts Options) *Result {
	r := &run{ctx: ctx, opts: opts, design: design, session: session, result: &Result{}, supplies: map[string]layout.Supply{}, sheets: map[string]bool{}, drawn: map[string]bool{}, changed: map[string][]string{}, unsure: map[string]bool{}}
	err, stopped := driver.Until(ctx, func() error {
		var err error
		if fault := driver.Guard("reading the orders of "+driver.Name(design), func() { err = r.open() }); fault != nil {
			return fault
		}
		return err
	})
	if stopped != nil {
		return &Result{Err: stopped}
	}
	r.result.Err = err
	if r.result.Err == nil && !r.result.Diagnostics.HasErrors() {
		r.result.Err = r.all()
	}
	r.result.Diagnostics.Sort()
	return r.result
}

// shared lets several goroutines ask for files.
type shared struct {
	mu sync.Mutex
	of eval.Files
}

func (s *shared) Use(from *source.File, path string) (*source.File, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.of.Use(from, path)
}

func (s *shared) Read(from *source.File, path string) ([]byte, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.of.Read(from, path)
}

// open reads the design and its orders.
func (r *run) open() error {
	reader, file, err := r.session.Open(r.design)
	if err != nil {
		return err
	}
	r.reader = reader
	var instead *eval.OrdersFile
	if r.opts.Orders != "" {
		data, _, err := disk.Read(r.opts.Orders, filepath.Clean(r.opts.Orders), disk.MaxInput)
		if err != nil {
			return err
		}
		instead = &eval.OrdersFile{Name: filepath.ToSlash(filepath.Clean(r.opts.Orders)), Data: data}
	}
	tree, diags := parse.File(file)
	r.tree, r.origin = tree, driver.Origin(tree, r.design, "order")
	r.result.Diagnostics.Add(diags)
	r.prepared = eval.Prepare(tree, &shared{of: reader}, instead)
	r.result.Diagnostics.Add(r.prepared.Diagnostics())
	if r.result.Diagnostics.HasErrors() {
		return nil
	}
	if !r.prepared.HasOrders() {
		r.result.Diagnostics.Errorf("no-table", source.Span{File: file}, "this design names no orders, so there is only one of it to make").
			WithHelp(`say which columns they have, as in orders "orders.csv" { name = text }, or use foredge build`)
		return nil
	}
	r.table = r.prepared.Orders
	r.shown = r.table.File.Name()
	r.good = make([]bool, len(r.table.Rows))
	r.names = make([]string, len(r.table.Rows))
	for i, row := range r.table.Rows {
		r.names[i] = orders.FileName(row.Number, r.table.Label(i))
	}
	return nil
}

// all checks all orders, then makes the good ones.
func (r *run) all() error {
	if err := r.check(); err != nil {
		return err
	}
	if r.opts.Check || !slices.Contains(r.good, true) {
		return nil
	}
	return r.make()
}

// solved takes an order through all stages before drawing; nil after an error.
func (r *run) solved(row int) (*design.Design, diag.List) {
	model, diags := r.prepared.Build(row)
	diags = diags[len(r.prepared.Diagnostics()):] // told once, for all
	s, more := model.Solve()
	diags.Add(more)
	if !s.Sound {
		return nil, diags
	}
	return s.Design(), diags
}

func (r *run) progress(done int) {
	if r.opts.Progress == nil {
		return
	}
	of := len(r.table.Rows)
	if !r.opts.Check {
		of *= 2
	}
	r.opts.Progress(done, of)
}

// path is where a file of the batch goes.
func (r *run) path(name string) string { return filepath.Join(r.opts.Dir(r.design), name) }

// ready makes sure that nothing is overwritten but what a batch has made.
func (r *run) ready() error {
	inputs := r.reader.Inputs()
	if r.opts.Orders != "" {
		if abs, err := filepath.Abs(r.opts.Orders); err == nil {
			inputs = append(inputs, disk.Input{Path: abs})
		}
	}
	if err := r.distinct(); err != nil {
		return err
	}
	guarded := disk.Guard(inputs)
	for name := range r.files() {
		path := r.path(name)
		if err := guarded.Check(path); err != nil {
			return err
		}
		if _, err := os.Lstat(path); err == nil && !r.opts.Resume {
			return madeBefore(path)
		}
	}
	if r.opts.Together && !r.opts.Resume {
		entries, _ := os.ReadDir(r.path(".")) // how many sheets there will be isn't known yet
		for _, e := range entries {
			if strings.HasPrefix(e.Name(), sheetBegins) {
				return madeBefore(r.path(e.Name()))
			}
		}
	}
	lists := []string{listName + ".csv", listName + ".json"}
	if r.opts.Together {
		lists = append(lists, pageName)
	}
	for _, name := range lists {
		path := r.path(name)
		if data, err := os.ReadFile(path); err == nil && !r.opts.Force && !ours(data) {
			return disk.NotOurs(fmt.Sprintf("%q", path))
		}
	}
	r.last, r.before = r.earlier() // before any of it is written over
	if !r.opts.Resume {
		return nil
	}
	if err := r.roomAside(); err != nil || r.opts.Force {
		return err
	}
	if err := r.sameDesign(); err != nil {
		return err
	}
	return r.sameTable()
}

func madeBefore(path string) error {
	return &disk.Error{Code: "made-before", Message: fmt.Sprintf("%q is there already, from an earlier batch", path),
		Hint: "write --resume to go on with that batch: files that are there already, with the same content, are not made again; or choose another folder with -o"}
}

// ours reports whether a file is as a batch makes them: a cut file, a ticket or a
// list. Tickets and lists may have notes in them (notes.go).
func ours(data []byte) bool {
	return export.Ours(data) || isTicket(data) || isTable(data) || bytes.HasPrefix(data, []byte(dataBegins))
}

// files are the names of those that will be written, as far as they are known.
func (r *run) files() iter.Seq[string] {
	return func(yield func(string) bool) {
		ends := []string{ticketExt}
		fixed := []string{listName + ".csv", listName + ".json"}
		if r.opts.Together {
			fixed = append(fixed, pageName)
		}
		for _, enc := range r.opts.Encoders {
			if !r.opts.Together {
				ends = append(ends, enc.Extension())
				continue
			}
			fixed = append(fixed, sheetName(1, false)+enc.Extension(), sheetName(1, true)+enc.Extension())
		}
		for i, name := range r.names {
			for _, end := range ends {
				if r.good[i] && !yield(name+end) {
					return
				}
			}
		}
		for _, name := range fixed {
			if !yield(name) {
				return
			}
		}
	}
}

// distinct makes sure that no two orders have files of one name. All names of orders
// begin with their numbers, so none is that of a list or sheet.
func (r *run) distinct() error {
	seen := map[string]int{}
	for i, name := range r.names {
		if !r.good[i] {
			continue
		}
		key := lookalike.Key(name)
		if other, ok := seen[key]; ok {
			return disk.CheckSet([]disk.File{{Path: r.path(r.names[other] + ticketExt)}, {Path: r.path(name + ticketExt)}}, nil)
		}
		seen[key] = i
	}
	return nil
}
