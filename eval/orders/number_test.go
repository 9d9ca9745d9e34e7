package orders

import (
	"encoding/csv"
	"flag"
	"io"
	"math"
	"strings"
	"testing"

	"foredge/lang/ast"
	"foredge/lang/numeral"
	"foredge/lang/parse"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// numbers are texts and what they are in mm, degrees or as a factor; bare
// lengths count as mm. NaN stands for a text that is no number in that place.
// Where the places differ is said in the doc comment of package numeral.
var numbers = []struct {
	text          string
	kind          unit.Kind
	design, alone float64
}{
	{"12", unit.Length, 12, 12},
	{"12.5", unit.Length, 12.5, 12.5},
	{"012.50", unit.Length, 12.5, 12.5},
	{".5", unit.Length, 0.5, 0.5},
	{"0", unit.Length, 0, 0},
	{"12.5mm", unit.Length, 12.5, 12.5},
	{"2.54 cm", unit.Length, 25.4, 25.4},
	{"0.3 m", unit.Length, 300, 300},
	{"1 in", unit.Length, 25.4, 25.4},
	{"9 pt", unit.Length, 3.175, 3.175},
	{"72pt", unit.Length, 25.4, 25.4},
	{"7/16", unit.Length, 0.4375, 0.4375},
	{"297/2", unit.Length, 148.5, 148.5},
	{"7/16in", unit.Length, 11.1125, 11.1125},
	{"4 3/4 in", unit.Length, 120.65, 120.65},
	{"4 3/4in", unit.Length, 120.65, 120.65},
	{"4 12/16 in", unit.Length, 120.65, 120.65},
	{"  3\tmm ", unit.Length, 3, 3},
	{"90 deg", unit.Angle, 90, 90},
	{"22.5deg", unit.Angle, 22.5, 22.5},
	{"20 %", unit.Ratio, 0.2, 0.2},
	{"7.5%", unit.Ratio, 0.075, 0.075},
	{"1/3", unit.Ratio, 1. / 3, 1. / 3},
	{"3", unit.Count, 3, 3},
	{"3.0", unit.Count, 3, 3},
	{"1000000000", unit.Length, 1e9, 1e9},
	{"1/1000000", unit.Ratio, 1e-6, 1e-6},
	{"1/2000000", unit.Ratio, 5e-7, 5e-7},
	// Where a design and a text of its own differ.
	{"4-3/4 in", unit.Length, no, no},
	{"4  3/4 in", unit.Length, 120.65, no},
	{"4\u00a03/4 in", unit.Length, 120.65, no},
	{"5.", unit.Length, no, no},
	{"1000000001", unit.Length, 1000000001, no},
	{"1 / 4", unit.Length, 0.25, no},
	// What is no number anywhere.
	{"", unit.Length, no, no},
	{".", unit.Length, no, no},
	{"1.2.3", unit.Length, no, no},
	{"12,5", unit.Length, no, no},
	{"1e3", unit.Length, no, no},
	{"4 3/4", unit.Length, no, no},
	{"4 3/4 mm", unit.Length, no, no},
	{"1 1/2", unit.Ratio, no, no},
	{"12/4 mm", unit.Length, no, no},
	{"1/4 %", unit.Ratio, no, no},
	{"1/0", unit.Length, no, no},
	{"4 3/4.5", unit.Length, no, no},
	{"4.5 3/4", unit.Length, no, no},
	{"3 ells", unit.Length, no, no},
	{"3 inches", unit.Length, no, no},
	{"3 MM", unit.Length, no, no},
	{"x", unit.Length, no, no},
	{"½", unit.Length, no, no},
}

var no = math.NaN()

// inInches are such texts where bare lengths are inches.
var inInches = []struct {
	text  string
	kind  unit.Kind
	value float64
}{
	{"12", unit.Length, 304.8},
	{"7/16", unit.Length, 11.1125},
	{"4 3/4", unit.Length, 120.65},
	{"4 3/4 in", unit.Length, 120.65},
	{"12.5 mm", unit.Length, 12.5},
	{"1 / 4", unit.Length, no},
	{"12/4 mm", unit.Length, no},
	{"4 3/4 mm", unit.Length, no},
	{"4 3/4 cm", unit.Length, no},
}

// asDesign reads a text as what stands on the right of a sign in a design whose
// bare lengths are in mm: a number or a quotient of two. It is NaN for anything
// else.
func asDesign(text string) float64 {
	switch e := right(text, unit.MM).(type) {
	case *ast.Number:
		return valueOf(e, unit.MM)
	case *ast.Binary:
		a, okA := e.L.(*ast.Number)
		b, okB := e.R.(*ast.Number)
		if okA && okB && e.Op == ast.Div && a.Unit == "" && b.Unit == "" {
			if v := a.Value / b.Value; !math.IsInf(v, 0) {
				return v
			}
		}
	}
	return no
}

// inInchDesign reads a text as a number of a design whose bare lengths are in
// inches, NaN if it is none.
func inInchDesign(text string) float64 {
	if n, ok := right(text, unit.Inch).(*ast.Number); ok {
		return valueOf(n, unit.Inch)
	}
	return no
}

func valueOf(n *ast.Number, bare unit.Unit) float64 {
	if u, ok := unit.Lookup(n.Unit); ok {
		return n.Value * u.Size
	}
	return n.Value * bare.Size
}

// right is what stands on the right of a sign, nil if more or less than the text
// does.
func right(text string, bare unit.Unit) ast.Expr {
	f, diags := parse.File(source.New("t.fore", []byte("units "+bare.Name+"\na = "+text)))
	if len(diags) > 0 || len(f.Stmts) != 2 {
		return nil
	}
	r, ok := f.Stmts[1].(*ast.Relation)
	if !ok || len(r.Rest) != 1 || r.Rest[0].Value.Span().Text() != strings.TrimSpace(text) {
		return nil
	}
	return r.Rest[0].Value
}

// asOrder reads a text as the cell of a table.
func asOrder(text string, kind unit.Kind, bare unit.Unit) float64 {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Write([]string{"name", "size"})
	w.Write([]string{"Ada", text})
	w.Flush()
	nothing := &Cell{Number: no} // of an empty cell
	table, diags := Read("o.csv", []byte(b.String()), Options{
		Columns: []Column{{Name: "name", Kind: unit.Text}, {Name: "size", Kind: kind, Default: nothing}}, Unit: bare})
	if table == nil || diags.HasErrors() || len(table.Rows) != 1 || !table.Rows[0].OK() {
		return no
	}
	return table.Rows[0].Cells[1].Number
}

// asOption reads a text as the value of an option of a command.
func asOption(text string, kind unit.Kind, bare unit.Unit) float64 {
	v := no
	flags := flag.NewFlagSet("t", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	flags.Func("size", "", func(text string) (err error) {
		v, err = numeral.Value(text, kind, bare)
		return err
	})
	if flags.Parse([]string{"--size", text}) != nil {
		return no
	}
	return v
}

// The same text gives the same number in a design, in a table of orders and
// as an option.
func TestNumbersAlike(t *testing.T) {
	for _, c := range numbers {
		if got := asDesign(c.text); !same(got, c.design) {
			t.Errorf("%q in a design is %v, want %v", c.text, got, c.design)
		}
		if got := asOrder(c.text, c.kind, unit.MM); !same(got, c.alone) {
			t.Errorf("%q in an order is %v, want %v", c.text, got, c.alone)
		}
		if got := asOption(c.text, c.kind, unit.MM); !same(got, c.alone) {
			t.Errorf("%q as an option is %v, want %v", c.text, got, c.alone)
		}
	}
	for _, c := range inInches {
		for place, got := range map[string]float64{"in a design": inInchDesign(c.text), "in an order": asOrder(c.text, c.kind, unit.Inch),
			"as an option": asOption(c.text, c.kind, unit.Inch)} {
			if !same(got, c.value) {
				t.Errorf("in inches, %q %s is %v, want %v", c.text, place, got, c.value)
			}
		}
	}
}

func same(a, b float64) bool {
	return math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) <= 1e-12*math.Abs(b)
}

// Whatever the text, where it is a number in two places it is the same number,
// and orders and options take the same texts.
func FuzzNumbersAlike(f *testing.F) {
	for _, c := range numbers {
		f.Add(c.text)
	}
	kinds := []unit.Kind{unit.Length, unit.Angle, unit.Ratio, unit.Count}
	f.Fuzz(func(t *testing.T, text string) {
		design := asDesign(text)
		if design < 0 || math.IsInf(design, 0) {
			t.Errorf("%q in a design is %v", text, design)
		}
		for _, kind := range kinds {
			option := asOption(text, kind, unit.MM)
			if !math.IsNaN(design) && !math.IsNaN(option) && !same(option, design) {
				t.Errorf("%q in a design is %v, and as an option %v", text, design, option)
			}
			if len(text) > MaxCell || !printable(text) {
				continue // other characters may make it no table
			}
			if order := asOrder(text, kind, unit.MM); !same(order, option) {
				t.Errorf("%q as %v is %v in an order, and %v as an option", text, kind, order, option)
			}
		}
	})
}

// printable reports whether a text has only printable characters of ASCII.
func printable(text string) bool {
	for i := range len(text) {
		if text[i] < ' ' || text[i] > '~' {
			return false
		}
	}
	return true
}

// A comma in a count parts thousands: read as a decimal comma, 1,000 would be 1.
func TestNoDecimalCommaInACount(t *testing.T) {
	for kind, advised := range map[unit.Kind]bool{unit.Count: false, unit.Length: true} {
		table := read(t, "n;name\n1,000;Ada\n", Column{Name: "n", Kind: kind}, text("name"))
		if said := told(table.Rows[0].Problems); !strings.Contains(said, "not a comma") || strings.Contains(said, "decimal = comma") != advised {
			t.Errorf("of a %s: %s", kind, said)
		}
	}
}
