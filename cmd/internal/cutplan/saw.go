package cutplan

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"foredge/lang/data"
	"foredge/lang/unit"
	"foredge/layout"
)

// whole are the sheets and offcuts that are taken, each as the pieces that are sawn from it.
func (p *Plan) whole() (all [][]*Sheet) {
	for i := range p.Sheets {
		s := &p.Sheets[i]
		at := -1
		if s.Sawn != nil {
			at = slices.IndexFunc(all, func(of []*Sheet) bool {
				return (of[0].Stock == s.Stock || s.Sawn.Wood != "") && of[0].Sawn != nil && of[0].Sawn.SameSheet(s.Sawn)
			})
		}
		if at < 0 {
			all = append(all, []*Sheet{s})
		} else {
			all[at] = append(all[at], s)
		}
	}
	return all
}

// taken says how many sheets there are, and as how many pieces they are run.
func taken(whole [][]*Sheet) string {
	pieces := 0
	for _, s := range whole {
		pieces += len(s)
	}
	said := count(len(whole), "sheet")
	if slices.ContainsFunc(whole, func(of []*Sheet) bool { return of[0].Sawn != nil }) {
		said += ", run as " + count(pieces, "piece")
	}
	return said
}

// saw is the list of the sheets that are sawn before they are run, to tick off.
func (p *Plan) saw(w *writer, whole [][]*Sheet) {
	if !slices.ContainsFunc(whole, func(of []*Sheet) bool { return of[0].Sawn != nil }) {
		return
	}
	length := func(mm float64) string { return unit.FormatLength(mm, p.Unit) }
	w.put("<h2>To saw or cut up first</h2>\n<p>These are larger than the bed. Places are from the left edge and from the head, as the stock's size is stated; what is before a line keeps its size, and the saw's width is taken off what is after it.</p>\n<ul class=\"ticks\">\n")
	for _, of := range whole {
		its := of[0].Sawn
		if its == nil {
			continue
		}
		w.put("<li><label><input type=\"checkbox\"><span><b>%s</b>%s. ", of[0].of(), all(of).lines(length))
		for i, s := range of {
			if i > 0 {
				w.put("; ")
			}
			turned := ""
			if s.Sawn.Turned {
				turned = ", turned by 90° clockwise"
			}
			w.put("%s is the piece %s%s", s.Name, s.Sawn.Where(length), turned)
		}
		w.put("</span></label></li>\n")
	}
	w.put("</ul>\n")
}

// all is a sheet with the cuts for all of its pieces, of which some are sawn further than others.
func all(pieces []*Sheet) *Sheet {
	its, sawn := *pieces[0], *pieces[0].Sawn
	sawn.Cuts = slices.Clone(sawn.Cuts)
	for _, p := range pieces[1:] {
		for _, c := range p.Sawn.Cuts {
			if !slices.Contains(sawn.Cuts, c) {
				sawn.Cuts = append(sawn.Cuts, c)
			}
		}
	}
	its.Sawn = &sawn
	return &its
}

// lines says how large the sheet is of which this is a piece, and where it is sawn.
func (s *Sheet) lines(length func(mm float64) string) string {
	return fmt.Sprintf(", %s by %s: %s", length(s.Sawn.Size.X), length(s.Sawn.Size.Y), strings.Join(layout.SawOrder(s.Sawn.Cuts, length), "; "))
}

// HowSawn says how the sheet is sawn of which this is a piece, and which of these it is; "" where it isn't one.
func (s *Sheet) HowSawn(in unit.Unit) string {
	if s.Sawn == nil {
		return ""
	}
	length := func(mm float64) string { return unit.FormatLength(mm, in) }
	said := "; " + s.of() + s.lines(length) + "; this is the piece " + s.Sawn.Where(length)
	if s.Sawn.Turned {
		said += ", turned by 90° clockwise"
	}
	return said
}

// of names the sheet of which this is a piece: sheet 1 of oak.
func (s *Sheet) of() string {
	said := "an offcut"
	if s.Sawn.Number > 0 {
		said = fmt.Sprintf("sheet %d", s.Sawn.Number)
	}
	if of := cmp.Or(s.Sawn.Wood, s.Stock); of != "" {
		said += " of " + of
	}
	return said
}

// A SawnData says of what a sheet is a piece: of which sheet of its stock, how large that is, where the
// piece begins on it, and where that is sawn.
type SawnData struct {
	Sheet int `json:"sheet,omitempty"` // none where it is an offcut
	Size
	Left   data.Number `json:"left"`
	Top    data.Number `json:"top"`
	Turned data.Number `json:"turned,omitempty"`
	Cuts   []CutData   `json:"cuts"`
}

func sawnData(s *layout.Sawn) *SawnData {
	if s == nil {
		return nil
	}
	d := &SawnData{Sheet: s.Number, Size: sizeOf(s.Size), Left: data.Number(s.Piece.Min.X), Top: data.Number(s.Piece.Min.Y), Cuts: cutsOf(s.Cuts)}
	if s.Turned {
		d.Turned = 90
	}
	return d
}
