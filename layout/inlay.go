package layout

import (
	"fmt"
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/lang/source"
	"foredge/layout/advise"
	"foredge/layout/geom"
)

// Lettering and artwork that is laid into a board: the board gets a recess of
// its form, engraved or cut through, and pieces of another stock are cut that
// lie in it, each smaller than the recess by half the ease all round. They are a
// part of their own, in which they lie towards one another as in the board, so
// that tape lifts them over. What is cut through is bridged as cut letters are;
// the pieces are then those of the bridged outline.

// A laidIn is what is laid into one region of a panel.
type laidIn struct {
	panel  *design.Panel
	region *design.Region
	mark   design.Mark
	inlay  *design.Inlay
	frame  Frame
	id     string // of the recess
	recess geom.Outline
}

// layIn notes what is laid into the recess that was drawn of a mark.
func (dr *draft) layIn(p *design.Panel, r *design.Region, m design.Mark, in *design.Inlay, f Frame, recess Shape) {
	dr.laid = append(dr.laid, laidIn{p, r, m, in, f, recess.ID, geom.Paths(recess.Figure)})
}

// layInside notes what is laid into a panel's inner face. The recess itself is
// drawn by [Inside], which also tells what is wrong with it.
func (dr *draft) layInside(p *design.Panel, r *design.Region) {
	if !slices.ContainsFunc(r.Marks, func(m design.Mark) bool { return design.InlayOf(m) != nil }) {
		return
	}
	turned := *p
	turned.Mirrored = !p.Mirrored
	f := Frame{Width: p.Width, Height: p.Height, Mirrored: turned.Mirrored}
	own := newDraft(dr.design, dr.kept)
	own.marks(&turned, r, f, own.outline(&turned, f))
	dr.laid = append(dr.laid, own.laid...)
}

// placeInlays puts down the pieces of all that has been laid in since it was
// last asked, a part for each region's.
func (dr *draft) placeInlays() {
	times := map[likeInlay]int{}
	for _, in := range dr.laid {
		times[in.like()]++
	}
	for _, in := range dr.laid {
		before := len(dr.notes.List)
		part, ok := dr.inlay(in, times[in.like()])
		times[in.like()] = 0
		if ok && !dr.notes.List[before:].HasErrors() {
			dr.place(part)
		}
	}
	dr.laid = nil
}

// A likeInlay is what the inlays of a field's members have in common.
type likeInlay struct {
	mark  design.Mark
	lines int
}

func (in laidIn) like() likeInlay { return likeInlay{in.mark, linesIn(in.recess, Engrave)} }

// inlay draws the pieces of what is laid in, left upper corner at the origin. times is
// how many there are like it, so that too many are told with the first; 0 if it was.
func (dr *draft) inlay(in laidIn, times int) (Part, bool) {
	ease, stock, at := in.inlay.Ease, in.inlay.Stock, in.mark.Place()
	name := in.id + ".inlay"
	quiet := slices.Concat(in.panel.Quiet, stock.Quiet)
	part := Part{Name: name, Bounds: geom.EmptyBox(), Want: dr.kerfIn(stock), Usual: stock.UsualKerf,
		Grain: stock.Grain, Stock: stock.Name, Of: stock, Copies: in.panel.Copies, Oversize: quiet.Has("too-large"), At: at}
	letters := pieces(in.recess)
	if !dr.count(len(letters), at) || dr.spent.lines > MaxLines {
		return part, false
	}
	var figures []geom.Figure
	var of []int                       // which letter each is of
	first := make([]int, len(letters)) // number of each letter's first piece
	for i, l := range letters {
		first[i] = len(figures) + 1
		own, ok := dr.eased(l, ease, !in.bridged())
		if !ok {
			help := "make it larger, or the ease smaller"
			if ease < 0 {
				help = "make it larger, or the ease nearer to 0"
			}
			dr.notes.Errorf("inlay-fine", at, "what is laid into %s is too fine for an ease of %s: a stroke or an opening of piece %d would vanish, %s",
				in.region.Name, dr.length(ease), first[i], dr.at(in.frame, l.Bounds())).
				WithHelp("%s", help)
			return part, false
		}
		for _, fig := range own {
			figures, of = append(figures, fig), append(of, i)
		}
	}
	for i, fig := range figures {
		part.Shapes = append(part.Shapes, Shape{ID: fmt.Sprintf("%s.%d", name, i+1), Op: Cut, Figure: fig, At: at})
		part.Bounds = part.Bounds.Union(fig.Bounds())
	}
	if !dr.countLines(part.Shapes, times, at) {
		return part, false
	}
	before := len(dr.notes.List)
	if dr.crowded(in, figures, of, part.Want.Or(0)); !dr.notes.List[before:].HasErrors() {
		dr.lostInlay(in, letters, first, figures, part.Want.Or(0))
	}
	if !dr.notes.List[before:].HasErrors() {
		dr.boardBeside(in, letters)
	}
	if dr.notes.List[before:].HasErrors() || !dr.oddEase(ease, quiet, at) {
		dr.fine(in, letters, first, quiet)
	}
	dr.checkSize(name, "panel", part.Bounds.Width(), part.Bounds.Height(), stock, quiet, at)
	dr.checkCutOut(&part, quiet, "panel")
	thick, known := stock.Thick.Get()
	board, alsoKnown := in.panel.Thick.Get()
	if !in.inlay.Through && known && alsoKnown && thick > board-geom.Tol {
		dr.notes.Warn(quiet, "thick-inlay", at, "%s is %s thick and %s %s: pieces of it can't be let in flush", stock.Name, dr.length(thick),
			in.panel.Name, dr.length(board)).
			Note(stock.At, "%s is declared here", stock.Name).
			WithHelp("use a thinner sheet for them, or cut the recess through the board: recess = through%s", advise.Silence("thick-inlay", "panel"))
	}
	if in.inlay.Through && known && alsoKnown && math.Abs(thick-board) > flush+geom.Tol {
		dr.notes.Warn(quiet, "thick-inlay", at, "%s is %s thick and %s %s: pieces of it that go through don't lie flush with both faces", stock.Name, dr.length(thick),
			in.panel.Name, dr.length(board)).
			Note(stock.At, "%s is declared here", stock.Name).
			WithHelp("take a sheet as thick as the board, or an engraved recess: recess = engrave%s", advise.Silence("thick-inlay", "panel"))
	}
	return part.moved(part.Bounds.Min.Mul(-1)), true
}

// flush is by how much sheets of one nominal thickness may differ, in mm: what is less is sanded off (common
// practice, no source).
const flush = 0.5

// loosest and tightest are the eases beyond which a piece lies loose in its recess, with a gap to be
// seen all round, or can't be pressed into it, in mm (common practice, no source).
const loosest, tightest = 0.5, -0.2

// oddEase warns of an ease that nobody means, and reports whether it did: a slip of its point or unit,
// which spoils the pieces.
func (dr *draft) oddEase(ease float64, quiet design.Quiet, at source.Span) bool {
	does := ""
	switch {
	case ease > loosest+geom.Tol:
		does = fmt.Sprintf("leaves a gap of %s all round what is laid in, which lies loose", dr.length(ease/2))
	case ease < tightest-geom.Tol:
		does = "makes what is laid in too large to be pressed into its recess"
	}
	if does == "" || quiet.Has("inlay-ease") {
		return false
	}
	dr.notes.Warnf("inlay-ease", at, "an ease of %s %s", dr.length(ease), does).
		WithHelp("check its unit and its decimal point: usual is about %s, and from %s on a gap shows (common practice, no source)%s",
			dr.length(0.1), dr.length(loosest), advise.Silence("inlay-ease", "panel"))
	return true
}

// eased is a letter made smaller by half the ease all round: more than one piece if it falls
// apart where it is narrower than the ease, as a K may whose arms only just meet
// its stem. ok is false if it vanishes, or a stroke of it, or one of its openings does or
// breaks out; of an ease below 0, if a bay of it does. Strokes count where that is asked.
func (dr *draft) eased(letter geom.Outline, ease float64, strokes bool) (own []geom.Figure, ok bool) {
	fig, err := dr.offset.Offset(letter, -ease/2)
	if err != nil {
		return nil, false
	}
	all := pieces(geom.Paths(fig))
	openings := 0
	for _, p := range all {
		openings += len(p) - 1
		// A long strip's breadth is twice its area by its length round.
		if 2*p[0].Area() > crumb*geom.Length(p[0]) {
			own = append(own, p)
		}
	}
	if len(own) == 0 || openings != len(letter)-1 {
		return own, false
	}
	if !strokes {
		return own, true
	}
	_, gone := dr.easedAway(letter, ease)
	return own, !gone
}

// crumb is the breadth in mm below which what splits off doesn't count as a piece:
// narrower than a laser's cut.
const crumb = 0.08

// pieces parts an outline, material clockwise, into its pieces: a path of
// material each, then the openings that lie in it.
func pieces(o geom.Outline) []geom.Outline {
	var out []geom.Outline
	var edges []*geom.Boundary
	var boxes []geom.Box
	for _, p := range o {
		if p.Clockwise() {
			out, edges = append(out, geom.Outline{p}), append(edges, geom.NewBoundary(p))
			boxes = append(boxes, p.Bounds())
		}
	}
	ix := geom.NewIndex(boxes)
	for _, p := range o {
		if p.Clockwise() {
			continue
		}
		// It is an opening of the least that lies round it.
		of, least := -1, math.Inf(1)
		for _, i := range ix.Near(geom.Box{Min: p.Start, Max: p.Start}, 0) {
			if a := out[i][0].Area(); a < least && edges[i].Contains(p.Start) {
				of, least = i, a
			}
		}
		if of >= 0 {
			out[of] = append(out[of], p)
		}
	}
	return out
}

// crowded reports pieces that can't be cut beside one another, or whose own
// bays close, as the laser takes more than there is between them. An ease below
// 0 can make pieces so broad that they run into one another, whatever the cut.
func (dr *draft) crowded(in laidIn, pieces []geom.Figure, of []int, cut float64) {
	at, ease := in.mark.Place(), in.inlay.Ease
	for i, fig := range pieces {
		if cut == 0 {
			break
		}
		// An opening that vanishes is told where all cuts are.
		if grown, err := dr.offset.Offset(fig, cut/2); err == nil && len(geom.Paths(grown)) != len(geom.Paths(fig)) {
			dr.gapCloses(in, i, cut, fig.Bounds())
			return
		}
	}
	if dr.comesApart(in, pieces, of, cut) {
		return
	}
	for _, pair := range geom.NearPairs(pieces, cut) {
		if pair.Gap > max(cut-geom.Tol, 0) || of[pair.I] == of[pair.J] {
			continue
		}
		if pair.Gap <= 0 && ease < 0 {
			dr.notes.Errorf("inlay-overlap", at, "pieces %d and %d of what is laid into %s run into one another, %s: an ease of %s makes each %s broader than its recess", pair.I+1, pair.J+1,
				in.region.Name, dr.at(in.frame, pieces[pair.I].Bounds()), dr.length(ease), dr.length(-ease)).WithHelp("choose an ease nearer to 0, or set what is laid in farther apart")
			return
		}
		help := "move them apart in the drawing, or make it larger"
		if text, ok := in.mark.(*design.Lettering); ok {
			help = fmt.Sprintf("make the letters larger, or set them farther apart, as in spacing = %s", dr.length(text.Spacing+math.Ceil((cut-pair.Gap)*10+0.5)/10))
		}
		dr.notes.Errorf("kerf", at, "pieces %d and %d of what is laid into %s are %s apart, %s: the laser's cut of %s takes more", pair.I+1, pair.J+1, in.region.Name,
			dr.length(math.Round(pair.Gap*1000)/1000), dr.at(in.frame, pieces[pair.I].Bounds()), dr.length(cut)).WithHelp("%s", help)
		return
	}
}

// comesApart reports a letter that has fallen apart into pieces whose edges run side by side nearer than the
// laser's cut, and whether it did. Of a tip alone the cut takes no more than what was too narrow anyway.
func (dr *draft) comesApart(in laidIn, pieces []geom.Figure, of []int, cut float64) bool {
	for i := 0; i < len(pieces); {
		first := i
		var own geom.Outline
		for ; i < len(pieces) && of[i] == of[first]; i++ {
			own = append(own, geom.Paths(pieces[i])...)
		}
		if i == first+1 {
			continue
		}
		if loss, ok := dr.lost(own, -cut); ok {
			dr.notes.Errorf("kerf", in.mark.Place(), "what is laid into %s comes apart by its ease of %s into pieces closer together than the laser's cut of %s, %s", in.region.Name,
				dr.length(in.inlay.Ease), dr.length(cut), dr.at(in.frame, loss.Box())).WithHelp("make it larger, or the ease smaller")
			return true
		}
	}
	return false
}

// fine warns of the narrowest stroke, if that is too narrow to last. A stroke counts
// where a letter falls apart or vanishes, or a stroke of it does, if its edges close in.
func (dr *draft) fine(in laidIn, letters []geom.Outline, first []int, quiet design.Quiet) {
	ease, stock := in.inlay.Ease, in.inlay.Stock
	least, whose := advise.BurnsAway, "two cutting services' guides: what is under 0.5 mm may burn away"
	if asked, ok := stock.LeastDetail.Get(); ok {
		least, whose = asked, "what "+stock.Material.Name+" asks for"
	}
	if quiet.Has("thin-detail") {
		return
	}
	narrowest, at := least+ease, -1
	for i, l := range letters {
		if dr.holds(l, narrowest-geom.Tol) {
			continue
		}
		lo, hi := 0.0, narrowest
		for hi-lo > least/200 {
			if mid := (lo + hi) / 2; dr.holds(l, mid) {
				lo = mid
			} else {
				hi = mid
			}
		}
		narrowest, at = hi, i
	}
	if at < 0 {
		return
	}
	left, where := narrowest-ease, dr.at(in.frame, letters[at].Bounds())
	help := fmt.Sprintf("make it larger, or use bolder letters (%s)%s", whose, advise.Silence("thin-detail", "panel"))
	if left < advise.BurnsAway/100 {
		dr.notes.Warnf("thin-detail", in.mark.Place(), "what is laid into %s falls apart, or nearly, at its narrowest: in piece %d, %s", in.region.Name,
			first[at], where).WithHelp("%s", help)
		return
	}
	dr.notes.Warnf("thin-detail", in.mark.Place(), "what is laid into %s is only %s wide at its narrowest, in piece %d, %s; %s should be at least %s", in.region.Name,
		dr.length(math.Round(left*100)/100), first[at], where, stock.Name, dr.length(least)).WithHelp("%s", help)
}

// holds reports whether a piece is nowhere narrower than a width.
func (dr *draft) holds(fig geom.Figure, width float64) bool {
	shrunk, err := dr.offset.Offset(fig, -width/2)
	if err != nil || len(geom.Paths(shrunk)) != len(geom.Paths(fig)) {
		return false
	}
	_, lost := dr.lost(fig, width)
	return !lost
}
