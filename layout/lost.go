package layout

import (
	"fmt"
	"math"

	"foredge/eval/design"
	"foredge/layout/advise"
	"foredge/layout/geom"
	"foredge/layout/kerf"
)

// lost is the longest stretch of a figure that is narrower than a width in mm, or than the gap
// -width, as [kerf.Memo.Lost] finds it. What is shorter than what burns away anyway isn't missed.
func (dr *draft) lost(fig geom.Figure, width float64) (kerf.Loss, bool) {
	loss, ok := dr.offset.Lost(fig, width)
	return loss, ok && loss.Reach >= advise.BurnsAway
}

// lostStroke is like lost; but of what lies between two stretches that stay, as the bar of an H,
// both halves count.
func (dr *draft) lostStroke(fig geom.Figure, width float64) (kerf.Loss, bool) {
	loss, ok := dr.offset.Lost(fig, width)
	return loss, ok && (loss.Reach >= advise.BurnsAway || loss.Tie && 2*loss.Reach >= advise.BurnsAway)
}

// lostStrokes tells of the longest stroke of letters cut through the board that the laser's
// cut is too wide for, or that vanishes from their pieces by the ease. letters are whole: what
// bridges leave of a stroke may stay board.
func (dr *draft) lostStrokes(p *design.Panel, m *design.Lettering, r *design.Region, f Frame, letters geom.Outline) {
	cut := dr.kerfOf(p).Or(0)
	if in := m.Inlay; in != nil {
		if loss, ok := dr.easedAway(letters, in.Ease); ok && !loss.Whole {
			dr.notes.Errorf("inlay-fine", m.At, "what is laid into %s is too fine for an ease of %s: a stroke would vanish, %s", r.Name, dr.length(in.Ease), dr.at(f, loss.Box())).
				WithHelp("make it larger, or the ease smaller")
			return
		}
	}
	loss, ok := dr.lostStroke(letters, cut)
	switch {
	case !ok || loss.Whole: // of one that is lost as a whole it is told where all cuts are
	case m.Inlay != nil:
		dr.notes.Errorf("kerf", m.At, "a stroke of the recess in %s is narrower than the laser's cut of %s and stays board, so the piece has no place, %s", r.Name,
			dr.length(cut), dr.at(f, loss.Box())).WithHelp("make it larger")
	default:
		dr.notes.Warn(p.Quiet, "thin-detail", m.At, "a stroke of what is cut in %s is narrower than the laser's cut of %s and stays board, %s", r.Name,
			dr.length(cut), dr.at(f, loss.Box())).
			WithHelp("make the letters larger, or use bolder ones%s", advise.Silence("thin-detail", "panel"))
	}
}

// easedAway is the longest stretch of a letter that vanishes by its ease, or of which only a
// crumb is left; of an ease below 0 the longest bay.
func (dr *draft) easedAway(letter geom.Figure, ease float64) (kerf.Loss, bool) {
	if ease >= 0 {
		ease += crumb
	}
	return dr.lost(letter, ease)
}

// lostInlay reports what has no place: a stroke that a piece keeps and the recess, cut through the
// board, doesn't have; and a bay of a piece that its own laser's cut closes, where the recess
// keeps the tongue of the board that was to lie in it. letters are the recess's, pieces what
// lies in them.
func (dr *draft) lostInlay(in laidIn, letters []geom.Outline, first []int, pieces []geom.Figure, cut float64) {
	at, board := in.mark.Place(), dr.kerfOf(in.panel).Or(0)
	for i, l := range letters {
		if !in.inlay.Through || in.bridged() {
			break
		}
		if loss, ok := dr.lostStroke(l, board); ok && !loss.Whole {
			dr.notes.Errorf("kerf", at, "a stroke of the recess of piece %d in %s is narrower than the laser's cut of %s and stays board, so the piece has no place, %s", first[i],
				in.region.Name, dr.length(board), dr.at(in.frame, loss.Box())).WithHelp("make it larger")
			return
		}
	}
	for i, fig := range pieces {
		if loss, ok := dr.lost(fig, -cut); ok && !loss.Whole { // an opening that closes is told where all cuts are
			dr.gapCloses(in, i, cut, loss.Box())
			return
		}
	}
}

// boardBeside warns of what a recess of artwork that is cut through leaves of the board, between
// two of its outlines or as a tongue, where that is too narrow to last. What bridges leave is as
// broad as they are, of which it is told there. letters are the recess's.
func (dr *draft) boardBeside(in laidIn, letters []geom.Outline) {
	m, ok := in.mark.(*design.Artwork)
	if !ok || !in.inlay.Through {
		return
	}
	least := min(leastDetail(in.panel), m.Bridge.Or(usualBridge(in.panel)))
	warn := func(b geom.Box, what string) { dr.artFine(in.panel, m, ": "+what, dr.at(in.frame, b), least) }
	figures := make([]geom.Figure, len(letters))
	for i, l := range letters {
		figures[i] = l
	}
	for _, pair := range geom.NearPairs(figures, least-geom.Tol) {
		warn(letters[pair.I].Bounds(), fmt.Sprintf("only %s of the board is left between what is laid in through it", dr.length(math.Round(pair.Gap*1000)/1000)))
		return
	}
	for _, l := range letters {
		if loss, ok := dr.lost(l[0], -least+2*geom.Tol); ok {
			warn(loss.Box(), fmt.Sprintf("a tongue of the board beside what is laid in through it is narrower than %s", dr.length(least)))
			return
		}
	}
}

// gapCloses reports a piece of an inlay with a bay or an opening that the laser's cut closes.
func (dr *draft) gapCloses(in laidIn, piece int, cut float64, where geom.Box) {
	dr.notes.Errorf("kerf", in.mark.Place(), "piece %d of what is laid into %s has a gap narrower than the laser's cut of %s, %s", piece+1, in.region.Name,
		dr.length(cut), dr.at(in.frame, where)).WithHelp("make it larger")
}

// bridged says that the recess is of letters with bridges. Of their strokes it is told
// where they are whole.
func (in laidIn) bridged() bool {
	_, text := in.mark.(*design.Lettering)
	return text && in.inlay.Through
}
