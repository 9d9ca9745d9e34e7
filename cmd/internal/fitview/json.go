package fitview

import (
	"encoding/json"
	"io"
	"math"

	"foredge/eval/fit"
	"foredge/eval/maybe"
)

// number is a number of JSON: null for one that is not known or has no bound.
func number(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

// numberIn is a number of JSON: null for an absent one.
func numberIn(m maybe.Of[float64]) *float64 { return number(m.Or(math.NaN())) }

type reportJSON struct {
	File      string         `json:"file"`
	Unit      string         `json:"unit"`
	Notebooks []notebookJSON `json:"notebooks"`
	Turns     []turnJSON     `json:"turns"`
}

type notebookJSON struct {
	Name       string        `json:"name"`
	Kind       string        `json:"kind"`
	At         string        `json:"at"`
	Accuracy   float64       `json:"accuracy"`
	Resolution float64       `json:"resolution"`
	JawFlat    float64       `json:"jaw-flat"`
	Agreement  agreementJSON `json:"agreement"`
	Suspects   []string      `json:"suspects"`
	Readings   []readingJSON `json:"readings"`
	Sizes      []valueJSON   `json:"sizes"`
	Rows       []rowJSON     `json:"rows"`
	Next       *nextJSON     `json:"next"`
}

type agreementJSON struct {
	Verdict   fit.Verdict `json:"verdict"`
	ChiSquare float64     `json:"chi-square"`
	Freedom   int         `json:"freedom"`
	Limit95   float64     `json:"limit-95"`
	Limit999  float64     `json:"limit-99.9"`
}

type readingJSON struct {
	Name       string   `json:"name"`
	Row        string   `json:"row"`
	At         string   `json:"at"`
	Read       float64  `json:"read"`
	Value      float64  `json:"value"`
	U          float64  `json:"u"`
	Repeats    int      `json:"repeats"`
	Accuracy   float64  `json:"accuracy"`
	Adjusted   *float64 `json:"adjusted"`
	AdjustedU  *float64 `json:"adjusted-u"`
	U95        *float64 `json:"adjusted-u-95"`
	Freedom    *float64 `json:"freedom"`
	Redundancy float64  `json:"redundancy"`
	Checked    bool     `json:"checked"`
	Normalised float64  `json:"normalised"`
	Implied    *float64 `json:"implied"`
	ImpliedU   *float64 `json:"implied-u"`
}

type valueJSON struct {
	Name    string   `json:"name"`
	Value   *float64 `json:"value"`
	U       float64  `json:"u"`
	U95     float64  `json:"u-95"`
	Freedom *float64 `json:"freedom"`
}

type rowJSON struct {
	Name    string       `json:"name"`
	Edge    string       `json:"edge"`
	Count   int          `json:"count"`
	Dims    []valueJSON  `json:"dimensions"`
	Pattern *patternJSON `json:"pattern"`
	Wire    *valueJSON   `json:"wire"`
	Pair    float64      `json:"pair"`
	Covers  []coverJSON  `json:"covers"`
}

type patternJSON struct {
	Name   string  `json:"name"`
	Same   bool    `json:"same"`
	Pitch  float64 `json:"pitch"`
	Along  float64 `json:"hole-along"`
	Across float64 `json:"hole-across"`
}

type coverJSON struct {
	Name        string   `json:"name"`
	At          string   `json:"at"`
	Missing     string   `json:"missing"`
	Along       *float64 `json:"opening-along"`
	Across      *float64 `json:"opening-across"`
	RoomAlong   *float64 `json:"room-along"`
	RoomAcross  *float64 `json:"room-across"`
	KerfWithin  float64  `json:"kerf-within"`
	Probability *float64 `json:"probability"`
	Error       float64  `json:"error"`
	Ease        *float64 `json:"ease"`
	Ease99      *float64 `json:"ease-99"`
	More99      *float64 `json:"more-99"`
}

type nextJSON struct {
	Reading   string   `json:"reading"`
	Row       string   `json:"row"`
	Accuracy  float64  `json:"accuracy"`
	Target    string   `json:"target"`
	TargetRow string   `json:"target-row"`
	Before    *float64 `json:"before"`
	After     *float64 `json:"after"`
}

// WriteJSON writes a report as data, file being what the design is called.
// Lengths are in mm and in full precision, null where they are not known.
func WriteJSON(w io.Writer, file string, r *fit.Report) error {
	out := reportJSON{File: file, Unit: "mm", Notebooks: []notebookJSON{}, Turns: turnsOf(r.Turns)}
	for i := range r.Notebooks {
		out.Notebooks = append(out.Notebooks, notebookOf(&r.Notebooks[i]))
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(out)
}

func notebookOf(n *fit.Notebook) notebookJSON {
	kind := "notebook"
	if n.Stock {
		kind = "stock"
	}
	j := notebookJSON{Name: n.Name, Kind: kind, At: n.At.String(), Accuracy: n.Accuracy, Resolution: n.Resolution, JawFlat: n.JawFlat,
		Agreement: agreementJSON(n.Agreement), Suspects: []string{}, Readings: []readingJSON{}, Sizes: valuesOf(n.Sizes), Rows: []rowJSON{}}
	for _, k := range n.Suspects {
		j.Suspects = append(j.Suspects, n.Readings[k].Name)
	}
	for _, r := range n.Readings {
		j.Readings = append(j.Readings, readingJSON{Name: r.Name, Row: r.Row, At: r.At.String(), Read: r.Read, Value: r.Value,
			U: r.U, Repeats: r.Repeats, Accuracy: r.Accuracy, Adjusted: number(r.Adjusted), AdjustedU: number(r.AdjustedU),
			U95: number(r.AdjustedU95), Freedom: number(r.Freedom), Redundancy: r.Redundancy, Checked: r.Checked,
			Normalised: r.Normalised, Implied: numberIn(r.Implied), ImpliedU: numberIn(r.ImpliedU)})
	}
	for i := range n.Rows {
		j.Rows = append(j.Rows, rowOf(&n.Rows[i]))
	}
	if x := n.Next; x != nil {
		j.Next = &nextJSON{Reading: x.Reading, Row: x.Row, Accuracy: x.Accuracy, Target: x.Target, TargetRow: x.TargetRow,
			Before: numberIn(x.Before), After: numberIn(x.After)}
	}
	return j
}

func rowOf(r *fit.Row) rowJSON {
	j := rowJSON{Name: r.Name, Edge: r.Edge.String(), Count: r.Count, Dims: valuesOf(r.Dims), Covers: []coverJSON{}}
	if p := r.Pattern; p != nil {
		j.Pattern = &patternJSON{Name: p.Name, Same: p.Same, Pitch: p.Pitch, Along: p.Along, Across: p.Across}
	}
	if r.Wire != nil {
		wire := valueOf(r.Wire.Dim)
		j.Wire, j.Pair = &wire, r.Wire.Pair
	}
	for _, c := range r.Covers {
		j.Covers = append(j.Covers, coverJSON{Name: c.Name, At: c.At.String(), Missing: c.Missing, Along: number(c.Opening.Along),
			Across: number(c.Opening.Across), RoomAlong: numberIn(c.RoomAlong), RoomAcross: numberIn(c.RoomAcross), KerfWithin: c.KerfWithin,
			Probability: numberIn(c.Probability), Error: c.Error, Ease: numberIn(c.Ease), Ease99: numberIn(c.Ease99), More99: numberIn(c.More99)})
	}
	return j
}

func valueOf(v fit.Value) valueJSON {
	return valueJSON{Name: v.Name, Value: numberIn(v.Value), U: v.U, U95: v.U95, Freedom: number(v.Freedom)}
}

func valuesOf(all []fit.Value) []valueJSON {
	out := []valueJSON{}
	for _, v := range all {
		out = append(out, valueOf(v))
	}
	return out
}
