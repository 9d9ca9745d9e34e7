package layout

import (
	"errors"
	"math"
	"slices"
	"sort"
	"strings"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/lang/diag"
	"foredge/lang/diag/codes"
	"foredge/lang/source"
	"foredge/lang/unit"
	"foredge/layout/advise"
	"foredge/layout/geom"
	"foredge/layout/kerf"
)

// Draw lays out a solved design: its panels side by side in the file's order,
// heads level, each case unfolded in its place. Figures are as wanted, before
// kerf. What can't be cut as it stands is reported.
func Draw(d *design.Design) (*Drawing, diag.List) {
	return newDraft(d, nil).draw()
}

func (dr *draft) draw() (*Drawing, diag.List) {
	dr.checkDividers()
	dr.checkWays()
	for _, p := range dr.pieces() {
		switch {
		case p.casing != nil:
			dr.caseOf(p.casing)
		default:
			part := dr.panel(p.panel, geom.Point{})
			dr.place(part)
		}
		dr.placeInlays()
	}
	advise.Unlaid(&dr.notes, dr.design)
	advise.Materials(&dr.notes, dr.design)
	dr.noteDepths()
	dr.finish()
	return dr.drawing, dr.notes.List
}

// checkDividers reports a panel that is called as a divider of a set is.
func (dr *draft) checkDividers() {
	named := map[string]*design.Panel{}
	for i := range dr.design.Panels {
		p := &dr.design.Panels[i]
		if other := named[p.Name]; other != nil {
			dr.notes.Errorf("taken-name", p.At, "two panels are called %s, the name of a divider of a set", p.Name).
				Note(other.At, "the other comes from here").WithHelp("dividers are called by the panel's name and their place: give one of the panels another name")
		}
		named[p.Name] = p
	}
}

// emptyDrawing is the drawing of a design with nothing in it yet.
func emptyDrawing(d *design.Design) *Drawing {
	return &Drawing{Title: d.Name, Unit: d.Unit, Colors: DefaultPalette().For(&d.Laser), LineWidth: d.Laser.LineWidth,
		ScaleX: d.Laser.ScaleX, ScaleY: d.Laser.ScaleY, Pace: d.Laser.Pace, mostLines: MaxLines}
}

// A draft is a drawing that is being made.
type draft struct {
	kept    *Drawer // nil for fonts and pictures that needn't be kept
	design  *design.Design
	drawing *Drawing
	notes   advise.Notes
	spent   spent
	next    float64  // where the next part's left edge goes
	top     float64  // where the head of the next strip goes
	laid    []laidIn // what is laid into the panels drawn last
	marked  map[setting]drawnMark
	times   map[setting]int // how often each mark is to be drawn on a panel
	offset  kerf.Memo       // of what is laid in
}

func newDraft(d *design.Design, kept *Drawer) *draft {
	return &draft{kept: kept, design: d, drawing: emptyDrawing(d), notes: advise.Notes{Unit: d.Unit}}
}

// A piece is a panel that stands by itself, or a case.
type piece struct {
	panel  *design.Panel
	casing *design.Case
	at     int
}

// pieces lists what is drawn, in the file's order.
func (dr *draft) pieces() []piece {
	var all []piece
	for i := range dr.design.Panels {
		if p := &dr.design.Panels[i]; !p.InCase {
			all = append(all, piece{panel: p, at: p.At.Start})
		}
	}
	for i := range dr.design.Cases {
		s := &dr.design.Cases[i]
		all = append(all, piece{casing: s, at: s.At.Start})
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].at < all[j].at })
	return all
}

// place puts a part to the right of those before it.
func (dr *draft) place(p Part) {
	dr.add(p.moved(geom.Pt(dr.next-p.Bounds.Min.X, 0)))
	dr.next = dr.drawing.Size.X + Spacing
}

// strip puts a strip of a proof to the right of those before it, or below them all where
// the bed ends before it would.
func (dr *draft) strip(p Part) {
	w := p.Bounds.Width()
	if bed, ok := dr.design.Laser.Bed.Get(); ok && dr.next > 0 && dr.next+w+p.Want.Or(0) > bed.Width+geom.Tol {
		dr.next, dr.top = 0, dr.drawing.Size.Y+Spacing
	}
	dr.add(p.moved(geom.Pt(dr.next-p.Bounds.Min.X, dr.top-p.Bounds.Min.Y)))
	dr.next += w + Spacing
}

func (dr *draft) add(p Part) {
	dr.drawing.Parts = append(dr.drawing.Parts, p)
	dr.drawing.Size.X = max(dr.drawing.Size.X, p.Bounds.Max.X)
	dr.drawing.Size.Y = max(dr.drawing.Size.Y, p.Bounds.Max.Y)
}

func (p Part) moved(d geom.Point) Part {
	if d == (geom.Point{}) {
		return p
	}
	shapes := make([]Shape, len(p.Shapes))
	for i, s := range p.Shapes {
		s.Figure = s.Figure.Move(d)
		shapes[i] = s
	}
	p.Shapes = shapes
	p.Bounds = geom.Box{Min: p.Bounds.Min.Add(d), Max: p.Bounds.Max.Add(d)}
	return p
}

// finish describes the drawing once all parts are in it.
func (dr *draft) finish() {
	var doing Doing
	doing.Add(dr.drawing, nil)
	dr.notes.Add(doing.Clashes(&dr.design.Laser, dr.drawing.Colors))
	var cut []*design.Stock
	for _, p := range dr.drawing.Parts {
		cut = append(cut, p.Of)
	}
	dr.stocksApart(cut)
	dr.notes.List = firstOfEach(dr.notes.List)
	for _, d := range dr.notes.List {
		// What can be silenced of what is warned of here says so.
		if d.Severity == diag.Warning && !strings.Contains(d.Help, "quiet = ") {
			d.Help += codes.Silence(d.Code, "panel")
		}
	}
	parts := dr.drawing.Parts
	names, several := make([]string, len(parts)), !dr.drawing.OneStock()
	for i, p := range parts {
		names[i] = p.Described(several)
	}
	dr.drawing.Desc = strings.Join(names, ", ") + " mm"
	if len(names) == 0 && len(dr.design.Panels) == 0 && !dr.design.Shared {
		dr.notes.Infof("nothing", source.Span{File: dr.design.At.File}, "no panel is left, so there is nothing to cut").
			WithHelp("see which panels stand under a `when`")
	}
}

// firstOfEach leaves out what was said before of the same lines with the same
// advice: of another hole of the row, or of a panel that mirrors the first.
func firstOfEach(diags diag.List) diag.List {
	type trouble struct {
		code      diag.Code
		at, other source.Span
		help      string
	}
	told := map[trouble]bool{}
	return slices.DeleteFunc(diags, func(d *diag.Diagnostic) bool {
		t := trouble{code: d.Code, at: d.Span, help: d.Help}
		if len(d.Notes) > 0 {
			t.other = d.Notes[0].Span
		}
		before := told[t]
		told[t] = true
		return before
	})
}

func (dr *draft) number(mm float64) string { return unit.FormatNumber(mm, 2) }

// length writes a length for the maker in the design's unit.
func (dr *draft) length(mm float64) string { return dr.notes.Length(mm) }

// fineLength is the same for a length that may be far below what is drawn, and is never
// written as 0.
func (dr *draft) fineLength(mm float64) string {
	if mm < 0.001 {
		return unit.FormatFine(mm, unit.Length, dr.design.Unit)
	}
	return dr.length(mm)
}

// caseOf draws the panels of a case unfolded, with its gaps between them, from the
// first that is cut to the last, then the covering piece that wraps round it and the lining of its inside.
func (dr *draft) caseOf(s *design.Case) {
	x, drawn := dr.next, false
	dr.checkEven(s)
	for _, part := range s.Parts {
		if part.Board != nil {
			dr.checkArched(part.Board, s, part.At)
		}
		if part.Cut {
			dr.add(dr.panel(part.Board, geom.Pt(x, 0)))
			dr.next, drawn = x+part.Width+Spacing, true
		}
		if drawn {
			x += part.Width
		}
	}
	if b, ok := s.Bound.Get(); ok {
		dr.bound(s, b, s.Mitre)
	} else if turnIn, ok := s.TurnIn.Get(); ok {
		dr.place(dr.covering(s, turnIn, s.Mitre))
	}
	if margin, ok := s.Lining.Get(); ok {
		dr.lining(s, margin)
	}
	advise.Case(&dr.notes, s, s.Mitre)
}

// checkEven reports panels of a case that are not as high as its first: those that
// other files declare, which this design doesn't cut, among them.
func (dr *draft) checkEven(s *design.Case) {
	var first *design.CasePart
	for i := range s.Parts {
		part := &s.Parts[i]
		switch {
		case part.Board == nil || math.IsNaN(part.Board.Height):
		case first == nil:
			first = part
		case math.Abs(part.Board.Height-first.Board.Height) > geom.Tol:
			dr.notes.Errorf("uneven-case", part.At, "%s is %s high but %s is %s: the panels of a case must have the same height",
				part.Name, dr.length(part.Board.Height), first.Name, dr.length(first.Board.Height)).
				WithHelp("tie them together, as in height = %s.height", first.Name)
		}
	}
}

// checkArched reports an arched board in a case whose covering or lining is drawn: both
// have straight edges.
func (dr *draft) checkArched(p *design.Panel, s *design.Case, laid source.Span) {
	if p.Arch == nil {
		return
	}
	if s.TurnIn.Present() {
		dr.notes.Errorf("arch", p.Arch.At, "%s has an arched head, but the covering of %s has straight edges", p.Name, s.Name).
			Note(laid, "it is laid here").WithHelp("leave out the arch, or the turn-in, and cut the covering by hand")
	} else if s.Lining.Present() {
		dr.notes.Errorf("arch", p.Arch.At, "%s has an arched head, but the lining of %s is straight and would stand out beside it", p.Name, s.Name).
			Note(laid, "it is laid here").WithHelp("leave out the arch, or the lining, and cut the lining by hand")
	}
}

// sheetPart is a part of cloth or paper that goes with a case. Where its stock
// says nothing of its grain it has to run as that of the boards should: from head
// to tail, according to two lessons in bookbinding.
func (dr *draft) sheetPart(s *design.Case, name string, fig geom.Figure, stock *design.Stock) Part {
	box := fig.Bounds()
	quiet := s.Quiet
	if stock != nil {
		quiet = slices.Concat(quiet, stock.Quiet)
	}
	dr.checkSize(name, "case", box.Width(), box.Height(), stock, quiet, s.At)
	part := Part{Name: name, Stock: stockName(stock), Of: stock, Bounds: box, Want: dr.kerfIn(stock), Grain: word.AlongHeight, At: s.At, Copies: dr.copies(s), Oversize: quiet.Has("too-large"),
		Shapes: []Shape{{ID: name + ".outline", Op: Cut, Figure: fig, At: s.At}}}
	if stock != nil {
		part.Usual = stock.UsualKerf
	}
	dr.checkCutOut(&part, quiet, "case")
	if stock != nil && stock.Grain == word.AlongWidth {
		part.Grain = stock.Grain
		if !advise.Moves(stock) {
			return part
		}
		dr.notes.Warn(quiet, "cross-grain", s.At, "the grain of %s runs across the spine, so it pulls the boards out of shape", name).
			Note(stock.At, "grain = along width of %s", stock.Name).
			WithHelp("the grain of board and cloth runs from head to tail, according to two lessons in bookbinding; turn the sheet, which then has its grain along height%s", advise.Silence("cross-grain", "case"))
	}
	return part
}

// copies is how often a case is made: as often as each of its panels, if they agree.
func (dr *draft) copies(s *design.Case) int {
	n := 0
	for _, part := range s.Parts {
		switch {
		case !part.Cut:
		case n == 0:
			n = part.Board.Copies
		case part.Board.Copies != n:
			return 1
		}
	}
	return max(1, n)
}

// lining is the piece that covers a case's inside with the edges of the
// covering that are turned in: all of it but a margin, along its outer corners too. It
// is drawn as it is seen, from inside.
func (dr *draft) lining(s *design.Case, margin float64) {
	nothingLeft := func() {
		dr.notes.Errorf("nothing-left", s.At, "nothing is left of the lining of %s: it stays %s inside edges that are %s by %s", s.Name,
			dr.length(margin), dr.length(s.Width), dr.length(s.Height)).WithHelp("lining is how far the lining stays inside the edges, as in lining = %s", unit.Example(2, dr.design.Unit))
	}
	if !(min(s.Width, s.Height)-2*margin > smallest) {
		nothingLeft()
		return
	}
	first, last := s.Parts[0], s.Parts[len(s.Parts)-1]
	left, right := outerCorners(first), outerCorners(last)
	edge, err := geom.Board(s.Width, s.Height, [4]geom.Corner{right[geom.UpperRight], left[geom.UpperLeft], left[geom.LowerLeft], right[geom.LowerRight]})
	if tooBig := (geom.CornerError{}); errors.As(err, &tooBig) {
		if first.Cut && last.Cut {
			return // of the board it is an error
		}
		dr.notes.Errorf("corner-large", s.At, "two corners of the lining of %s need %s of a side that is only %s long", s.Name, dr.length(tooBig.Need), dr.length(tooBig.Have)).
			WithHelp("make those of %s and %s smaller", first.Name, last.Name)
		return
	}
	fig, err := kerf.Offset(edge, -margin)
	if err != nil {
		nothingLeft()
		return
	}
	dr.place(dr.sheetPart(s, s.Name+".lining", fig.Move(geom.Pt(0, 0).Sub(fig.Bounds().Min)), s.LiningStock))
}

// outerCorners are those of what lies at an end of a case; a gap's are square.
func outerCorners(part design.CasePart) (corners [4]geom.Corner) {
	if part.Board == nil {
		return corners
	}
	return cornersOf(part.Board.Corners, part.Board.Mirrored)
}

// covering is the piece that wraps round a case, its corners cut off at a
// mitre from those of the boards.
func (dr *draft) covering(s *design.Case, turnIn float64, mitre maybe.Of[float64]) Part {
	w, h := s.Width+2*turnIn, s.Height+2*turnIn
	// The cut stands across the diagonal at the mitre's distance from the board's
	// corner, which lies turn-in from both edges.
	size := 0.0
	if off, known := mitre.Get(); known {
		size = max(0, 2*turnIn-off*sqrt2)
	}
	return dr.sheetPart(s, s.Name+".covering", mitred(w, h, size, size), s.CoveringStock)
}

// stockName is what a stock is called, "" for none.
func stockName(s *design.Stock) string {
	if s == nil {
		return ""
	}
	return s.Name
}

const sqrt2 = 1.4142135623730951
