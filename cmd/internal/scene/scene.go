package scene

import (
	"math"
	"path/filepath"
	"slices"
	"strings"

	"foredge/cmd/internal/driver"
	"foredge/eval"
	"foredge/eval/solution"
	"foredge/eval/solve"
	"foredge/lang/data"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A Scene is what a page shows of a design.
type Scene struct {
	data.Head
	Name string `json:"name"` // of the file, as messages call it
	// Good says that the views and values are those of the text as it is now, not
	// of the last one that could be drawn.
	Good     bool      `json:"good"`
	Unit     Unit      `json:"unit"`
	Views    []View    `json:"views"`
	Values   []Value   `json:"values"`
	Problems []Problem `json:"problems"`
	Files    []File    `json:"files"` // into which places point
}

// A Unit is the one in which lengths are told.
type Unit struct {
	Name     string  `json:"name"`
	Size     float64 `json:"size"`     // in mm
	Decimals int     `json:"decimals"` // with which a measured length is told
}

// A File is one in which places lie.
type File struct {
	Name string `json:"name"`
	// Path is where it can be opened, "" for a part of the shelf. The page is not
	// told it.
	Path string `json:"-"`
}

// A Place is where something stands in a text; lines and columns count from 1.
type Place struct {
	File   int    `json:"file"` // the index in [Scene.Files]
	Line   int    `json:"line"`
	Column int    `json:"column"`
	End    int    `json:"end"`  // the column behind it; 0 where it ends in another line
	Text   string `json:"text"` // the line
}

// A Value is a dimension as it came out.
type Value struct {
	Name string `json:"name"`
	Text string `json:"text"` // with its unit
	// Short is Text rounded for the drawing.
	Short string `json:"short"`
	// Within is how far the readings leave it open, 95 times in a hundred; "" where
	// that is nothing, or the readings contradict each other.
	Within string `json:"within"`
	From   string `json:"from"` // stated, reading, derived, wish, default, unknown
	At     *Place `json:"at"`
}

// A Problem is an error, a warning or a note.
type Problem struct {
	Severity string `json:"severity"`
	Code     string `json:"code"`
	Message  string `json:"message"`
	Help     string `json:"help"`
	At       *Place `json:"at"`
	Notes    []Note `json:"notes"`
}

// A Note is a further place of a problem.
type Note struct {
	Message string `json:"message"`
	At      *Place `json:"at"`
}

// The kinds of view.
const (
	Outside = "outside" // the outer faces of all parts
	Inside  = "inside"  // the inner face of one panel
)

// A View is one drawing of a design.
type View struct {
	ID     string  `json:"id"` // unique in the scene, the same from one build to the next
	Title  string  `json:"title"`
	Kind   string  `json:"kind"`
	Width  float64 `json:"width"`
	Height float64 `json:"height"`
	Parts  []Part  `json:"parts"`
	// Drawing is the inside of an SVG element, in groups of one operation each.
	Drawing string `json:"drawing"`
	// Operations are those that it has, in running order.
	Operations []string `json:"operations"`
	// Places are those of its shapes: the number in data-at is the index of one.
	Places     []Place `json:"places"`
	Dimensions []Dim   `json:"dimensions"`
	// Books are the outlines of what is covered, where readings lie.
	Books []Box `json:"books"`
	// Points are what a measurement snaps to, as x, y, x, y.
	Points []float64 `json:"points"`
}

// A Box is a rectangle, with the name of what takes it up.
type Box struct {
	Name   string  `json:"name"`
	X      float64 `json:"x"`
	Y      float64 `json:"y"`
	Width  float64 `json:"width"`
	Height float64 `json:"height"`
}

// A Part is where a board or another part lies.
type Part struct {
	Box
	About string `json:"about"` // its size in words
	At    *Place `json:"at"`
}

// A Dim is where on a view a dimension lies.
type Dim struct {
	Value int        `json:"value"` // the index in [Scene.Values]
	Part  int        `json:"part"`  // the index in [View.Parts]
	From  [2]float64 `json:"from"`
	To    [2]float64 `json:"to"`
	// Away is to which side its line is drawn out of the board: left, right, up or
	// down; "" for one that is drawn where it lies.
	Away string `json:"away"`
	// Level says which of several lines at one side lies nearer to the board.
	Level int `json:"level"`
	// Sort is board for the size of a board, thing for what stands on one, and
	// reading for what was read of what it covers.
	Sort string `json:"sort"`
}

// Of makes the scene of a design. last is the scene before, nil for none: its
// drawings and values stay where the design has errors.
func Of(r *driver.Result, last *Scene) *Scene {
	b := &builder{solved: r.Solution, paths: r.Paths, folder: FolderOf(r.Design), files: map[*source.File]int{}, values: map[string]int{}}
	b.Head, b.Name, b.Good = data.NewHead(), driver.Name(r.Design), r.OK()
	if !b.Good && last != nil {
		b.Files, b.Unit, b.Views, b.Values = last.Files, last.Unit, last.Views, last.Values
	}
	for _, d := range r.Told() {
		b.Problems = append(b.Problems, b.problem(d))
	}
	if b.Good {
		b.Unit = unitOf(r.Solution.Unit)
		b.valuesOf()
		for _, s := range r.Sheets {
			if s.Wanted != nil {
				b.Views = append(b.Views, b.view(s))
			}
		}
	}
	return &b.Scene
}

// FolderOf is what the names of files in the folder of a design begin with, which a
// page leaves out.
func FolderOf(design string) string { return filepath.Dir(design) + string(filepath.Separator) }

func unitOf(in unit.Unit) Unit {
	if in.Imperial() {
		return Unit{in.Name, in.Size, 4}
	}
	return Unit{in.Name, in.Size, 2}
}

// A builder makes a scene.
type builder struct {
	Scene
	solved *eval.Solution
	paths  map[*source.File]string
	folder string
	files  map[*source.File]int // where each stands in Files
	values map[string]int       // where each stands in Values
}

// place is that of a span; nil for none.
func (b *builder) place(at source.Span) *Place {
	if at.IsZero() {
		return nil
	}
	i, ok := b.files[at.File]
	if !ok {
		file := File{Name: source.Plain(strings.TrimPrefix(at.File.Name(), b.folder)), Path: b.paths[at.File]}
		if i = slices.Index(b.Files, file); i < 0 {
			i = len(b.Files)
			b.Files = append(b.Files[:i:i], file)
		}
		b.files[at.File] = i
	}
	p := at.File.Position(at.Start)
	text, _ := at.File.Line(p.Line)
	end := at.File.Position(at.End)
	if end.Line != p.Line {
		end.Column = 0
	}
	return &Place{i, p.Line, p.Column, end.Column, shortened(text)}
}

// mostText is how many letters of a line are shown.
const mostText = 200

func shortened(line string) string {
	if letters := []rune(line); len(letters) > mostText {
		return string(letters[:mostText]) + "…"
	}
	return line
}

func (b *builder) problem(d *diag.Diagnostic) Problem {
	p := Problem{Severity: d.Severity.String(), Code: string(d.Code), Message: d.Message, Help: d.Help, At: b.place(d.Span)}
	for _, n := range d.Notes {
		p.Notes = append(p.Notes, Note{n.Message, b.place(n.Span)})
	}
	return p
}

// least is what counts as nothing, in mm: less than the solver settles.
const least = 1e-5

// valuesOf lists all dimensions by name.
func (b *builder) valuesOf() {
	s := b.solved
	contradict := false
	for _, n := range s.Numbers.Benches {
		contradict = contradict || n.Freedom > 0 && n.ChiSquare > n.Limit999
	}
	for _, d := range s.Dimensions() {
		v := Value{Name: d.Name, Text: "open", Short: "open", From: d.From.String(), At: b.place(d.At)}
		if !math.IsNaN(d.Value) {
			v.Text = s.Format(d.Value, d.Kind, d.At)
			v.Short = v.Text
			if d.Kind == unit.Length {
				in := unitOf(s.UnitOf(d.At))
				v.Short = unit.FormatNumber(d.Value/in.Size, in.Decimals) + " " + in.Name
			}
		}
		if within := 2 * d.Uncertainty; within > least && !contradict && d.From != solve.Unknown {
			v.Within = b.within(within, d)
		}
		b.values[d.Name] = len(b.Values)
		b.Values = append(b.Values, v)
	}
}

// within writes how far a value is left open, rounded up so that it never promises
// more.
func (b *builder) within(by float64, d solution.Dimension) string {
	size, name, digits := 1.0, "", 3
	switch d.Kind {
	case unit.Length:
		in := b.solved.UnitOf(d.At)
		size, name = in.Size, " "+in.Name
		if in.Imperial() {
			digits = 4
		}
	case unit.Angle:
		name = " deg"
	}
	scale := math.Pow(10, float64(digits))
	return unit.FormatNumber(math.Ceil(by/size*scale-1e-6)/scale, digits) + name
}
