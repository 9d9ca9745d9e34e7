package driver

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"foredge/cmd/internal/disk"
	"foredge/eval/design"
	"foredge/export"
	"foredge/lang/diag"
	"foredge/lang/lookalike"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"
	"foredge/layout"
	"foredge/layout/geom"
)

// InsideSuffix tells the files of inner faces.
const InsideSuffix = "-inside"

// A Sheet is one drawing that becomes a file, ready for the laser.
type Sheet struct {
	Suffix  string // by which its file's name is told from the design's others
	Inside  bool   // it has marks of inner faces
	For     Use
	Drawing *layout.Drawing
	// Wanted is the same before kerf and axis scale; nil of what only lies in a file.
	Wanted *layout.Drawing
	// Times is how often its files are run to make the design once, where that is more than
	// once: what they hold of a panel with copies is one board.
	Times int
	// On is the sheet on which its parts are laid; nil where they lie as they are drawn.
	On *layout.Sheet
}

// Runs is how often its files are run to make the design once.
func (s Sheet) Runs() int { return max(1, s.Times) }

// A Use is what a drawing is for.
type Use uint8

const (
	Both Use = iota
	Cutting
	Looking // at a design as a whole, whatever it is cut from
)

// A Laying lays what is cut of a design on the sheets of which it says how many there are; nil if
// it can be cut as it is drawn. The errors are those of [layout.Lay].
type Laying func(kerfed *layout.Drawing, supplies map[string]layout.Supply) (*layout.Laid, error)

// Laid is the usual [Laying].
func Laid(ctx context.Context, kerfed *layout.Drawing, supplies map[string]layout.Supply, opts Options) (*layout.Laid, error) {
	if kerfed.FitsAsDrawn(supplies) {
		return nil, nil
	}
	return OnSheets(ctx, kerfed, supplies, opts)
}

// OnSheets lays what is cut of a design on sheets, as a build does.
func OnSheets(ctx context.Context, kerfed *layout.Drawing, supplies map[string]layout.Supply, opts Options) (*layout.Laid, error) {
	return layout.Lay(ctx, []layout.Wanted{{Drawing: kerfed}}, supplies, layout.Search{Effort: buildEffort * cmp.Or(opts.Effort, 1)})
}

// Draw draws what is asked for of a solved design. After an error among the
// diagnostics there are no drawings.
func (s *Session) Draw(ctx context.Context, solved *design.Design, opts Options) ([]Sheet, diag.List) {
	return s.DrawLaid(ctx, solved, opts, func(kerfed *layout.Drawing, supplies map[string]layout.Supply) (*layout.Laid, error) {
		return Laid(ctx, kerfed, supplies, opts)
	})
}

// DrawLaid is [Session.Draw] where something else lays the parts.
func (s *Session) DrawLaid(ctx context.Context, solved *design.Design, opts Options, lay Laying) ([]Sheet, diag.List) {
	if opts.Jig || opts.Guide || opts.Greys || opts.Card {
		return proofs(solved, opts)
	}
	wanted, diags := s.drawer.Draw(solved)
	kerfed, more := wanted.Kerfed()
	diags.Add(more)
	faces, more := s.drawer.Inside(solved)
	diags.Add(more)
	diags.Add(layout.OffBed(solved, faces))
	diags.Add(layout.InsideColours(solved, wanted, faces))
	if diags.HasErrors() || len(kerfed.Parts) == 0 {
		return nil, diags
	}
	whole := Sheet{Drawing: kerfed.Scaled(), Wanted: wanted}
	var insides []Sheet
	for _, f := range faces {
		suffix := InsideSuffix
		if len(faces) > 1 {
			suffix += "-" + f.Panel
		}
		cut, more := f.Drawing.ForLaser()
		diags.Add(more)
		board := f.Drawing.Parts[0]
		insides = append(insides, Sheet{Suffix: suffix, Inside: true, Drawing: cut, Wanted: f.Drawing, Times: board.Copies})
		if board.Copies > 1 {
			diags.Infof("inside-runs", board.At, "the inside of %s is run %d times: its file holds one board", f.Panel, board.Copies).
				WithHelp("run it in the jig for each of the %d boards", board.Copies)
		}
	}
	var cuts []Sheet
	switch {
	case opts.Each:
		for _, p := range whole.Drawing.Parts {
			cuts = append(cuts, Sheet{Suffix: "-" + p.Name, Drawing: alone(whole.Drawing, p), Times: p.Copies})
		}
		return append(cuts, insides...), diags
	case opts.Whole:
		return append([]Sheet{whole}, insides...), diags
	}
	supplies := layout.Supplies(solved, wanted)
	if more := UnknownSheets(kerfed, supplies, solved.Unit); len(more) > 0 {
		diags.Add(more)
		return nil, diags
	}
	// Inner faces are run in the jig, board by board.
	laid, err := lay(kerfed, supplies)
	switch {
	case err != nil:
		diags.Add(NotLaid(err, solved.At))
		return nil, diags
	case laid == nil:
		return append([]Sheet{whole}, insides...), diags
	}
	whole.For = Looking
	for _, u := range laid.Stocks {
		diags.Add(Sawn(u, laid, solved.Unit))
		if u.Sheets > 1 || u.Count {
			diags.Add(Used(u, solved.Unit))
		}
		diags.Add(NotShared(u))
		diags.Add(Unmeant(u, solved.Unit))
	}
	return slices.Concat(sheetsOf(laid.Sheets), []Sheet{whole}, insides), diags
}

// UnknownSheets reports stocks of a drawing's parts that say how many sheets or which offcuts
// there are, or ask for shared cuts, while nothing says how large their sheets are.
func UnknownSheets(d *layout.Drawing, supplies map[string]layout.Supply, in unit.Unit) (diags diag.List) {
	if d.FitsAsDrawn(supplies) {
		return nil
	}
	told := map[string]bool{}
	for _, p := range d.Parts {
		supply := supplies[p.Stock]
		if supply.Known() || told[p.Stock] {
			continue
		}
		var at source.Span
		what := ""
		switch {
		case len(supply.Offcuts) > 0:
			at, what = supply.Lines.Offcuts[0], "which offcuts there are"
		case supply.Quantity.Present():
			at, what = supply.Lines.Quantity, "how many there are"
		case supply.Way.Shared.Yes:
			at, what = supply.Way.Shared.At, "that parts share their cuts"
		default:
			continue
		}
		told[p.Stock] = true
		diags.Errorf("bed", at, "nothing says how large the sheets of %s are, only %s", p.Stock, what).
			WithHelp("state it, as in size = %s by %s, or how large the laser's bed is; or take this line out", unit.Example(600, in), unit.Example(300, in))
	}
	return diags
}

// buildEffort is what a build spends on laying parts, of what a job does: it is to be
// quick while a design is edited.
const buildEffort = 0.05

// NotLaid tells why parts can't be laid, by an error of [layout.Lay]; nil if that is only the
// end of a context.
func NotLaid(err error, at source.Span) (diags diag.List) {
	var large layout.SheetError
	var few *layout.StockError
	var knife *layout.KnifeError
	var many *layout.ManyError
	switch {
	case err == nil, errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
	case errors.As(err, &large):
		diags.Errorf("too-large", large.Part.At, "%v", err).
			WithHelp("state a larger bed or sheet, or make it smaller; with quiet = too-large it lies alone, on a page of its own")
	case errors.As(err, &knife):
		diags.Errorf("knife-beside", cmp.Or(knife.Supply.Lines.Spacing, knife.Part.At), "%v", err).
			Note(knife.Part.At, "%s is stated here", knife.Part.Name).
			WithHelp("let spacing be as wide as the knife or saw really cuts, here at most %.4g mm, or let the part or the sheet leave at least %.4g mm, or nothing", 2*knife.Rest, knife.Supply.Spacing/2)
	case errors.As(err, &few):
		d := diags.Errorf("too-few-sheets", few.Part.At, "%v", err).WithHelp("%s", TooFew(few, "all of them find room", "; --effort 10 looks longer for a way to lay them"))
		if !few.Line.IsZero() {
			d.Note(few.Line, "this says how many sheets there are")
		}
	case errors.As(err, &many):
		diags.Errorf("not-laid", many.Part.At, "%v", err).
			WithHelp("see how many copies are wanted; if it is right, divide them among several jobs or orders")
	default:
		diags.Errorf("not-laid", at, "the parts can't be laid on sheets: %v", err).
			WithHelp("see how many are wanted, and the numbers of stock and bed: sizes, margin, spacing, price")
	}
	return diags
}

// TooFew says what to do where there are too few sheets: with how many more something is so, where
// that is known, and where it isn't something else.
func TooFew(few *layout.StockError, so, unknown string) string {
	more, known := few.More.Get()
	switch {
	case few.Large:
		return "state an offcut for each of them if there are as many, or a larger sheet, or make fewer or smaller parts"
	case !known:
		return "state in quantity how many sheets there are, or leave it out" + unknown
	case more == 1:
		return fmt.Sprintf("on 1 more sheet %s: raise quantity by 1 if there is one, or make fewer parts", so)
	default:
		return fmt.Sprintf("on %d more sheets %s: raise quantity by %d if there are as many, or make fewer parts", more, so, more)
	}
}

// mostLeftNamed is how many pieces that are left over are named.
const mostLeftNamed = 8

// Used says what laying took of a stock, and how much less would do at best.
func Used(u layout.Use, in unit.Unit) (diags diag.List) {
	of := u.Stock
	if of == "" {
		of = "the stock"
	}
	n := "1 sheet or offcut"
	if u.Sheets != 1 {
		n = fmt.Sprintf("%d sheets or offcuts", u.Sheets)
	}
	said := fmt.Sprintf("%s: %s, of which %.3g %% is used", of, n, 100*u.Used)
	if gap := u.Gap(); gap > 0.005 {
		said += fmt.Sprintf("; at best it could be %.2g %% less", 100*gap/(1+gap))
	}
	d := diags.Infof("sheets-used", u.At, "%s", said)
	largest := slices.Clone(u.Left)
	slices.SortStableFunc(largest, func(a, b layout.Offcut) int { return cmp.Compare(b.Area(), a.Area()) })
	left, more := stated(largest, in), ""
	switch beyond := len(left) - mostLeftNamed; {
	case len(left) == 0:
		d.WithHelp("nothing is left over that is worth keeping")
		return diags
	case beyond == 1:
		more = ", and 1 smaller one"
	case beyond > 1:
		more = fmt.Sprintf(", and %d smaller ones", beyond)
	}
	d.WithHelp("what is left over, for the next time: offcuts = %s%s", strings.Join(left[:min(len(left), mostLeftNamed)], ", "), more)
	return diags
}

// NotShared says that parts of a stock were to share cuts, and none do.
func NotShared(u layout.Use) (diags diag.List) {
	if u.Shared.Yes && u.Blocks == 0 {
		diags.Infof("nothing-shared", u.Shared.At, "no parts of %s share a cut", u.Stock).
			WithHelp("those share one that are equal rectangles with square corners and keep no bridges")
	}
	return diags
}

// Offcuts are pieces that are left over, as the line of a stock that states them; "" where there is nothing to state.
func Offcuts(left []layout.Offcut, in unit.Unit) string {
	if all := stated(left, in); len(all) > 0 {
		return "offcuts = " + strings.Join(all, ", ")
	}
	return ""
}

// leastStated is the least width and height in mm that an offcut can be stated to have.
const leastStated = 1

// stated are offcuts as a stock states them: in whole millimetres, or hundredths of an inch, and no more than there is.
// Of which that leaves too little are left out.
func stated(offcuts []layout.Offcut, in unit.Unit) (all []string) {
	step, digits := 1.0, 0
	if in.Imperial() {
		step, digits = in.Size/100, 2
	}
	bare := func(steps float64) string { return unit.FormatNumber(steps*step/in.Size, digits) }
	const hair = 1e-6 // of a step, by which what is stated in steps may be off
	there := func(mm float64) float64 { return math.Floor(mm/step + hair) }
	gone := func(mm float64) float64 { return max(1, math.Ceil(mm/step-hair)) }
	for _, o := range offcuts {
		w, h, less := there(o.Size.X), there(o.Size.Y), ""
		if o.Gone != (geom.Point{}) {
			// Of a piece of which all of a side is gone but for less than a step the other side is stated.
			switch x, y := gone(o.Gone.X), gone(o.Gone.Y); {
			case x < w && y < h:
				less = fmt.Sprintf(" less %s by %s at %s", bare(x), bare(y), o.At())
			case x >= w:
				h = there(o.Size.Y - o.Gone.Y)
			default:
				w = there(o.Size.X - o.Gone.X)
			}
		}
		if min(w, h)*step >= leastStated {
			all = append(all, fmt.Sprintf("%s by %s%s", bare(w), bare(h), less))
		}
	}
	return all
}

// sheetsOf are the files of sheets.
func sheetsOf(laid []layout.Sheet) (sheets []Sheet) {
	suffixes := Suffixes(laid)
	for i, s := range laid {
		sheets = append(sheets, Sheet{Suffix: suffixes[i], For: Cutting, Drawing: s.Outer.Scaled(), On: &laid[i]})
	}
	return sheets
}

// Suffixes tell the files of sheets from each other, those of each stock by numbers, and of
// stocks whose names a disk takes for one; one alone has none.
func Suffixes(laid []layout.Sheet) []string {
	all := make([]string, len(laid))
	number := map[string]int{}
	for i, s := range laid {
		name := spell.Name(s.Stock)
		number[lookalike.Key(name)]++
		if s.Stock != "" {
			all[i] = "-" + name
		}
		if all[i] += fmt.Sprintf("-%d", number[lookalike.Key(name)]); len(laid) == 1 {
			all[i] = ""
		}
	}
	return all
}

// proofs draws what proves a design, or helps to make it.
func proofs(solved *design.Design, opts Options) (sheets []Sheet, diags diag.List) {
	add := func(suffix string, wanted *layout.Drawing, more diag.List) {
		diags.Add(more)
		cut, more := wanted.ForLaser()
		diags.Add(more)
		if len(cut.Parts) > 0 {
			sheets = append(sheets, Sheet{Suffix: suffix, Drawing: cut, Wanted: wanted})
		}
	}
	switch {
	case opts.Jig:
		all, more := layout.Jig(solved)
		diags.Add(more)
		for _, f := range all {
			suffix := "-jig"
			if len(all) > 1 {
				suffix += "-" + f.Panel
			}
			add(suffix, f.Drawing, nil)
		}
	case opts.Guide:
		wanted, more := layout.Guides(solved)
		add("-guide", wanted, more)
	case opts.Greys:
		wanted, more := layout.Greys(solved)
		add("-greys", wanted, more)
	default:
		wanted, more := layout.Card(solved)
		add("-card", wanted, more)
	}
	if opts.Each && !opts.Jig && len(sheets) > 0 {
		whole := sheets[0]
		sheets = nil
		for _, p := range whole.Drawing.Parts {
			sheets = append(sheets, Sheet{Suffix: whole.Suffix + "-" + p.Name, Drawing: alone(whole.Drawing, p)})
		}
	}
	if diags.HasErrors() {
		return nil, diags
	}
	return sheets, diags
}

// Sequenced gives sheets with the order in which each is run.
func (s *Session) Sequenced(ctx context.Context, sheets []Sheet, opts Options) []Sheet {
	out := slices.Clone(sheets)
	for i, sheet := range out {
		if sheet.For != Looking {
			out[i].Drawing = s.drawer.Sequenced(ctx, sheet.Drawing, cmp.Or(opts.Effort, 1))
		}
	}
	return out
}

// Encode makes the files of drawings, each in every format that it is for. path says
// where the one with a suffix and an ending goes; name is what messages call the whole.
func Encode(sheets []Sheet, encoders []export.Encoder, name string, of export.Origin, path func(suffix, ext string) string) ([]disk.File, error) {
	var files []disk.File
	for _, s := range sheets {
		for _, enc := range encoders {
			if s.For == Cutting && enc.Picture() || s.For == Looking && !enc.Picture() {
				continue
			}
			data, err := encoded(enc, s.Drawing)
			if err != nil {
				return nil, fmt.Errorf("%s can't be written as %s: %w", name, enc.Name(), err)
			}
			files = append(files, disk.File{Path: path(s.Suffix, enc.Extension()), Data: export.Mark(data, of)})
		}
	}
	return files, nil
}
