package driver

import (
	"context"
	"errors"
	"path/filepath"

	"foredge/cmd/internal/disk"
	"foredge/eval"
	"foredge/export"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/parse"
	"foredge/lang/source"
	"foredge/layout/advise"
)

// A Result is what became of a design, as far as it went.
type Result struct {
	Design      string         // as a command named it
	Diagnostics diag.List      // by place
	Solution    *eval.Solution // nil if the design could not be read
	Tree        *ast.File      // likewise
	Prepared    *eval.Prepared // likewise
	Files       []disk.File    // made but not yet written; nil after an error
	Sheets      []Sheet        // kept only by [Session.Look]; nil after an error
	Shared      bool           // it declares no panel and is there for others to use
	Inputs      []disk.Input   // what was read or looked for
	Origin      export.Origin  // what its files say of where they come from
	// Jobs are, of a file that states jobs, what the files of these say that they were made of.
	Jobs []string
	// Paths are those of the files that spans lie in, but for parts of the shelf.
	Paths map[*source.File]string
	// Err is a file that can't be read, a name that can't be used, an
	// [InternalError] or the end of the context. It is no fault of the design's
	// text, whose errors are in Diagnostics.
	Err error
}

// OK reports whether the design went all the way.
func (r *Result) OK() bool { return r.Err == nil && !r.Diagnostics.HasErrors() }

// Told is all there is to tell of it: first what is no fault of the design's text.
func (r *Result) Told() diag.List {
	if r.Err == nil {
		return r.Diagnostics
	}
	d := &diag.Diagnostic{Message: r.Err.Error()}
	var file *disk.Error
	if errors.As(r.Err, &file) {
		d.Code, d.Help = file.Code, file.Hint
	}
	return append(diag.List{d}, r.Diagnostics...)
}

// Options say which files to make of a design.
type Options struct {
	Naming
	Encoders []export.Encoder
	// Card makes the strips of card that prove the rows of holes, in place of
	// the design itself.
	Card bool
	// Guide makes the strips by which rows are punched, in place of the design itself.
	Guide bool
	// Shared lets a file that declares no panel pass in silence: it is there for
	// others to use.
	Shared bool
	// Jig makes, for each panel, the frame that holds it at a known place, in
	// place of the design itself.
	Jig bool
	// Greys makes the strips of greys of the stocks that pictures are engraved on, in
	// place of the drawing.
	Greys bool
	// Whole draws the design as a whole, whatever it is cut from, and not on sheets.
	Whole bool
	// Effort is how many times the usual steps are spent on laying parts on few sheets; 0
	// stands for 1.
	Effort float64
	// Force lets files be replaced that foredge didn't make.
	Force bool
}

// Solve works out the dimensions of a design, and those of members of fields that
// ask names.
func (s *Session) Solve(ctx context.Context, design string, ask ...string) *Result {
	return s.run(ctx, design, "solving", nil, ask...)
}

// Names reads a design and all that it uses as far as its names go: nothing is solved.
func (s *Session) Names(ctx context.Context, design string) *Result {
	r := &Result{Design: design}
	var reader *Reader
	fault := Guard("reading "+Name(design), func() {
		var file *source.File
		if reader, file, r.Err = s.Open(design); r.Err != nil {
			return
		}
		r.Tree, r.Diagnostics = parse.File(file)
		r.Prepared = eval.Prepare(r.Tree, reader, nil)
		r.Diagnostics.Add(r.Prepared.Diagnostics())
	})
	if fault != nil {
		r.Err = fault
	}
	if reader != nil {
		r.Inputs, r.Paths = reader.Inputs(), reader.paths
	}
	if r.Err == nil {
		r.Err = ctx.Err()
	}
	return r
}

// Check takes a design through all stages that may find something wrong with
// it, and makes no files.
func (s *Session) Check(ctx context.Context, design string) *Result {
	return s.run(ctx, design, "checking", func(r *Result) { s.draw(ctx, r, Options{Shared: true}) })
}

// Look is Check, and keeps what was drawn.
func (s *Session) Look(ctx context.Context, design string) *Result {
	return s.run(ctx, design, "drawing", func(r *Result) { r.Sheets = s.draw(ctx, r, Options{Shared: true}) })
}

// Build makes the files of a design; [Session.Write] puts them on the disk.
func (s *Session) Build(ctx context.Context, design string, opts Options) *Result {
	return s.run(ctx, design, "building", func(r *Result) { s.draw(ctx, r, opts) })
}

// Time draws a design as a build does, and keeps its sheets with the order in which each
// is run.
func (s *Session) Time(ctx context.Context, design string, opts Options) *Result {
	return s.run(ctx, design, "timing", func(r *Result) {
		r.Sheets = s.Sequenced(ctx, s.draw(ctx, r, opts), opts)
	})
}

// run solves a design and, if that went well, does what comes last.
func (s *Session) run(ctx context.Context, design, doing string, last func(*Result), ask ...string) *Result {
	r, err := Until(ctx, func() *Result { return s.through(ctx, design, doing, last, ask...) })
	if err != nil {
		return &Result{Design: design, Err: err}
	}
	return r
}

// through is run, however long it takes.
func (s *Session) through(ctx context.Context, design, doing string, last func(*Result), ask ...string) *Result {
	r := &Result{Design: design}
	var reader *Reader
	fault := Guard(doing+" "+Name(design), func() {
		var file *source.File
		if reader, file, r.Err = s.Open(design); r.Err != nil {
			return
		}
		tree, diags := parse.File(file)
		r.Diagnostics.Add(diags)
		r.Origin = Origin(tree, design, "")
		defer func() { r.Diagnostics = Once(tree, r.Diagnostics) }()
		r.Tree, r.Prepared = tree, eval.Prepare(tree, reader, nil)
		model, diags := r.Prepared.First(ask...)
		r.Diagnostics.Add(inPlace(tree, diags))
		if r.Err = ctx.Err(); r.Err != nil {
			return
		}
		r.Solution, diags = model.SolveWithin(ctx)
		r.Diagnostics.Add(inPlace(tree, diags))
		if r.Err = ctx.Err(); r.Err == nil && r.Solution.Sound && last != nil {
			last(r)
		}
	})
	if fault != nil {
		r.Err = fault
	}
	if reader != nil {
		r.Inputs, r.Paths = reader.Inputs(), reader.paths
	}
	if !r.OK() {
		r.Files, r.Sheets = nil, nil
	}
	r.Diagnostics.Sort()
	return r
}

// draw draws what is asked for and encodes it.
func (s *Session) draw(ctx context.Context, r *Result, opts Options) []Sheet {
	solved := r.Solution.Design()
	drawings, diags := s.Draw(ctx, solved, opts)
	r.Diagnostics.Add(diags)
	r.Shared = solved.Shared
	if r.Err = ctx.Err(); r.Err != nil || diags.HasErrors() {
		return nil
	}
	if len(opts.Encoders) > 0 {
		drawings = s.Sequenced(ctx, drawings, opts)
	}
	r.Origin.Made = opts.made()
	path := func(suffix, ext string) string { return opts.Path(r.Design, suffix, ext) }
	if r.Files, r.Err = Encode(drawings, opts.Encoders, Name(r.Design), r.Origin, path); r.Err != nil {
		return nil
	}
	if r.Shared && !opts.Shared && len(r.Files) == 0 { // a guide may be of a notebook alone
		d := r.Diagnostics.Infof("nothing", solved.At, "there is no panel in this file, so there is nothing to make").
			WithHelp("another file brings in what it holds, as in use \"%s.fore\"; or declare a panel: panel front covers log { ... }", solved.Name)
		if jobs := r.Prepared.Jobs(); len(jobs) > 0 {
			d.WithHelp("foredge job makes %s, the job of this file", jobs[0].Name)
		}
	}
	if caution := advise.Caution(solved, opts.Card || opts.Jig); caution != nil && len(r.Files) > 0 {
		r.Diagnostics.Add(diag.List{caution})
	}
	return drawings
}

// Write puts the files of a result on the disk, all or none. What foredge didn't
// make, what was changed since and what was made of another design is replaced only by
// force. The error is a [*disk.Error], or that of ctx.
func (s *Session) Write(ctx context.Context, r *Result, force bool) error {
	rules := disk.Rules{Sweep: s.sweeps(r)}
	if !force {
		rules.Ours, rules.Refuse = export.Ours, s.refuse(r)
	}
	err := disk.WriteSet(ctx, r.Files, rules)
	if err == nil {
		s.noteWritten(r)
	}
	return err
}

// sweeps reports whether the files of a result go into a folder into which the
// session has written none yet.
func (s *Session) sweeps(r *Result) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	fresh := false
	for _, f := range r.Files {
		folder := filepath.Dir(f.Path)
		fresh = fresh || !s.written[folder]
		s.written[folder] = true
	}
	return fresh
}

// CheckOutputs refuses results of which two would write one file, or one a
// file that any of them reads: an error for each such result.
func CheckOutputs(results []*Result) map[*Result]error {
	sets := make([][]disk.File, len(results))
	var inputs []disk.Input
	for i, r := range results {
		sets[i] = r.Files
		inputs = append(inputs, r.Inputs...)
	}
	refused := map[*Result]error{}
	for i, err := range disk.CheckSets(sets, inputs) {
		if err != nil {
			refused[results[i]] = err
		}
	}
	return refused
}
