package fitview

import (
	"io"
	"math"

	"foredge/eval/fit"
	"foredge/eval/maybe"
	"foredge/lang/data"
)

// number is a number of JSON: null for one that is not known or has no bound.
type number = data.Number

// numberIn is a number of JSON: null for an absent one.
func numberIn(m maybe.Of[float64]) number { return number(m.Or(math.NaN())) }

type reportJSON struct {
	data.Head
	File      string         `json:"file"`
	Unit      string         `json:"unit"`
	Notebooks []notebookJSON `json:"notebooks"`
	Turns     []turnJSON     `json:"turns"`
}

type notebookJSON struct {
	Name       string        `json:"name"`
	Kind       string        `json:"kind"`
	At         *data.Place   `json:"at"`
	Accuracy   number        `json:"accuracy"`
	Resolution number        `json:"resolution"`
	JawFlat    number        `json:"jaw-flat"`
	Agreement  agreementJSON `json:"agreement"`
	Suspects   []string      `json:"suspects"`
	Readings   []readingJSON `json:"readings"`
	Sizes      []valueJSON   `json:"sizes"`
	Rows       []rowJSON     `json:"rows"`
	Next       *nextJSON     `json:"next"`
}

type agreementJSON struct {
	Verdict   fit.Verdict `json:"verdict"`
	ChiSquare number      `json:"chi-square"`
	Freedom   int         `json:"freedom"`
	Limit95   number      `json:"limit-95"`
	Limit999  number      `json:"limit-99.9"`
}

type readingJSON struct {
	Name       string      `json:"name"`
	Row        string      `json:"row"`
	At         *data.Place `json:"at"`
	Read       number      `json:"read"`
	Value      number      `json:"value"`
	U          number      `json:"u"`
	Repeats    int         `json:"repeats"`
	Accuracy   number      `json:"accuracy"`
	Adjusted   number      `json:"adjusted"`
	AdjustedU  number      `json:"adjusted-u"`
	U95        number      `json:"adjusted-u-95"`
	Freedom    number      `json:"freedom"`
	Redundancy number      `json:"redundancy"`
	Checked    bool        `json:"checked"`
	Normalised number      `json:"normalised"`
	Implied    number      `json:"implied"`
	ImpliedU   number      `json:"implied-u"`
}

type valueJSON struct {
	Name    string `json:"name"`
	Value   number `json:"value"`
	U       number `json:"u"`
	U95     number `json:"u-95"`
	Freedom number `json:"freedom"`
}

type rowJSON struct {
	Name    string       `json:"name"`
	Edge    string       `json:"edge"`
	Count   int          `json:"count"`
	Dims    []valueJSON  `json:"dimensions"`
	Pattern *patternJSON `json:"pattern"`
	Wire    *valueJSON   `json:"wire"`
	Pair    number       `json:"pair"`
	Covers  []coverJSON  `json:"covers"`
}

type patternJSON struct {
	Name   string `json:"name"`
	Same   bool   `json:"same"`
	Pitch  number `json:"pitch"`
	Along  number `json:"hole-along"`
	Across number `json:"hole-across"`
}

type coverJSON struct {
	Name        string      `json:"name"`
	At          *data.Place `json:"at"`
	Missing     string      `json:"missing"`
	Along       number      `json:"opening-along"`
	Across      number      `json:"opening-across"`
	RoomAlong   number      `json:"room-along"`
	RoomAcross  number      `json:"room-across"`
	KerfWithin  number      `json:"kerf-within"`
	Probability number      `json:"probability"`
	Bounded     number      `json:"probability-bounded"`
	Error       number      `json:"error"`
	Ease        number      `json:"ease"`
	Ease99      number      `json:"ease-99"`
	More99      number      `json:"more-99"`
}

type nextJSON struct {
	Reading   string `json:"reading"`
	Row       string `json:"row"`
	Accuracy  number `json:"accuracy"`
	Target    string `json:"target"`
	TargetRow string `json:"target-row"`
	Before    number `json:"before"`
	After     number `json:"after"`
}

// WriteJSON writes a report as data, file being what the design is called.
// Lengths are in mm, null where they are not known.
func WriteJSON(w io.Writer, file string, r *fit.Report) error {
	out := reportJSON{Head: data.NewHead(), File: file, Unit: "mm", Notebooks: []notebookJSON{}, Turns: turnsOf(r.Turns)}
	for i := range r.Notebooks {
		out.Notebooks = append(out.Notebooks, notebookOf(&r.Notebooks[i]))
	}
	return data.Write(w, out)
}

func notebookOf(n *fit.Notebook) notebookJSON {
	kind := "notebook"
	if n.Stock {
		kind = "stock"
	}
	j := notebookJSON{Name: n.Name, Kind: kind, At: data.At(n.At), Accuracy: number(n.Accuracy), Resolution: number(n.Resolution), JawFlat: number(n.JawFlat),
		Agreement: agreementOf(n.Agreement), Suspects: []string{}, Readings: []readingJSON{}, Sizes: valuesOf(n.Sizes), Rows: []rowJSON{}}
	for _, k := range n.Suspects {
		j.Suspects = append(j.Suspects, n.Readings[k].Name)
	}
	for _, r := range n.Readings {
		j.Readings = append(j.Readings, readingJSON{Name: r.Name, Row: r.Row, At: data.At(r.At), Read: number(r.Read), Value: number(r.Value),
			U: number(r.U), Repeats: r.Repeats, Accuracy: number(r.Accuracy), Adjusted: number(r.Adjusted), AdjustedU: number(r.AdjustedU),
			U95: number(r.AdjustedU95), Freedom: number(r.Freedom), Redundancy: number(r.Redundancy), Checked: r.Checked,
			Normalised: number(r.Normalised), Implied: numberIn(r.Implied), ImpliedU: numberIn(r.ImpliedU)})
	}
	for i := range n.Rows {
		j.Rows = append(j.Rows, rowOf(&n.Rows[i]))
	}
	if x := n.Next; x != nil {
		j.Next = &nextJSON{Reading: x.Reading, Row: x.Row, Accuracy: number(x.Accuracy), Target: x.Target, TargetRow: x.TargetRow,
			Before: numberIn(x.Before), After: numberIn(x.After)}
	}
	return j
}

func agreementOf(a fit.Agreement) agreementJSON {
	return agreementJSON{a.Verdict, number(a.ChiSquare), a.Freedom, number(a.Limit95), number(a.Limit999)}
}

func rowOf(r *fit.Row) rowJSON {
	j := rowJSON{Name: r.Name, Edge: r.Edge.String(), Count: r.Count, Dims: valuesOf(r.Dims), Covers: []coverJSON{}, Pair: number(math.NaN())}
	if p := r.Pattern; p != nil {
		j.Pattern = &patternJSON{Name: p.Name, Same: p.Same, Pitch: number(p.Pitch), Along: number(p.Along), Across: number(p.Across)}
	}
	if r.Wire != nil {
		wire := valueOf(r.Wire.Dim)
		j.Wire, j.Pair = &wire, number(r.Wire.Pair)
	}
	for _, c := range r.Covers {
		j.Covers = append(j.Covers, coverJSON{Name: c.Name, At: data.At(c.At), Missing: c.Missing, Along: number(c.Opening.Along),
			Across: number(c.Opening.Across), RoomAlong: numberIn(c.RoomAlong), RoomAcross: numberIn(c.RoomAcross), KerfWithin: number(c.KerfWithin),
			Probability: numberIn(c.Probability), Bounded: numberIn(c.Bounded), Error: number(c.Error), Ease: numberIn(c.Ease), Ease99: numberIn(c.Ease99), More99: numberIn(c.More99)})
	}
	return j
}

func valueOf(v fit.Value) valueJSON {
	return valueJSON{Name: v.Name, Value: numberIn(v.Value), U: number(v.U), U95: number(v.U95), Freedom: number(v.Freedom)}
}

func valuesOf(all []fit.Value) []valueJSON {
	out := []valueJSON{}
	for _, v := range all {
		out = append(out, valueOf(v))
	}
	return out
}
