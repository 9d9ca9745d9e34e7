package expr_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"foredge/eval/dim"
	"foredge/eval/evaltest"
	"foredge/eval/expr"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/lang/parse"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// values are the dimensions that the expressions of these tests speak of, in the
// order of their numbers.
var values = []float64{150, 210, 12, 90}

// dimensions knows p.width, p.height, p.r.count and p.f.turn.
type dimensions struct{}

func (dimensions) Reach(*resolve.Thing) {}

func (dimensions) Dimension(s resolve.Symbol, _ source.Span) (relation.VarID, unit.Kind, bool) {
	id, ok := map[dim.Name]relation.VarID{dim.Width: 0, dim.Height: 1, dim.Count: 2, dim.Turn: 3}[s.Dim]
	return id, s.Dim.Kind(), ok
}

// imperial is a file in inches that each of the designs uses.
const imperial = "units in\nlet quarter = 1 / 4\nlet four = 4\n"

// compiler resolves a design whose only let is x and gives what compiles it.
func compiler(t *testing.T, text string) (*expr.Compiler, *resolve.Info, *diag.List) {
	t.Helper()
	tree, _ := parse.File(source.New("test.fore", []byte("use \"imperial.fore\"\nlet named = 7 mm\n"+
		"panel p { row r on spine { }; lattice f { } }\n"+text+"\n")))
	info, diags := resolve.Resolve(tree, evaltest.Files{"imperial.fore": imperial})
	return &expr.Compiler{Diags: &diags, Dims: dimensions{}}, info, &diags
}

// valueOf compiles `let x = TEXT`.
func valueOf(t *testing.T, text string) (expr.Value, bool, diag.List) {
	t.Helper()
	c, info, diags := compiler(t, "let x = "+text)
	lets := info.Main.Lets
	v, ok := c.Let(lets[len(lets)-1], source.Span{})
	return v, ok, *diags
}

// Each expression has the kind and the value that a maker would expect: lengths
// in mm, angles in degrees.
func TestValues(t *testing.T) {
	for _, c := range []struct {
		text  string
		is    string // what the value is called
		power int
		value float64
	}{
		{"3", "a plain number", 0, 3},
		{"3 mm", "a length", 1, 3},
		{"1 in", "a length", 1, 25.4},
		{"36 pt", "a length", 1, 12.7},
		{"1 1/2 in", "a length", 1, 38.1},
		{"90 deg", "an angle", 0, 90},
		{"80 %", "a ratio", 0, 0.8},
		{`"Ada"`, "text", 0, math.NaN()},
		{"named", "a length", 1, 7},
		{"quarter", "a plain number", 0, 0.25},
		{"(2 cm)", "a length", 1, 20},
		{"-(2 cm)", "a length", 1, -20},
		{"p.width", "a length", 1, 150},
		{"p.r.count", "a count", 0, 12},
		{"p.f.turn", "an angle", 0, 90},
		// Sums: a bare number is of the other side's kind, in the unit of its own file.
		{"p.width + 4", "a length", 1, 154},
		{"4 + p.width", "a length", 1, 154},
		{"p.width + four", "a length", 1, 251.6},
		{"p.width - 1 in", "a length", 1, 124.6},
		{"p.r.count - 1", "a count", 0, 11},
		{"p.r.count + 50 %", "a ratio", 0, 12.5},
		{"p.f.turn - 45", "an angle", 0, 45},
		// Products and quotients.
		{"2 * p.width", "a length", 1, 300},
		{"p.width * 2", "a length", 1, 300},
		{"p.width * 50 %", "a length", 1, 75},
		{"p.r.count * p.width", "a length", 1, 1800},
		{"p.width * p.height", "an area", 2, 31500},
		{"p.width * p.height * p.width", "a length to the power of 3", 3, 4725000},
		{"p.width / p.height", "a ratio", 0, 150. / 210},
		{"p.width * p.height / p.width", "a length", 1, 210},
		{"1 / p.width", "a length to the power of -1", -1, 1. / 150},
		{"p.r.count * p.r.count", "a count", 0, 144},
		{"p.r.count / p.r.count", "a ratio", 0, 1},
		{"p.r.count * 50 %", "a ratio", 0, 6},
		{"4 / 2 mm", "a length to the power of -1", -1, 2},
		// A bare factor among counts and ratios may be the length.
		{"p.r.count / 5", "a plain number", 0, 2.4},
		{"p.r.count * 2", "a plain number", 0, 24},
		{"2 * p.r.count", "a plain number", 0, 24},
		{"2 * 50 %", "a plain number", 0, 1},
		{"2 + p.r.count / 10", "a plain number", 0, 3.2},
		{"p.width + 2 + p.r.count / 10", "a length", 1, 153.2},
		{"2 + p.r.count / 10 + p.width", "a length", 1, 153.2},
		{"p.width + (four + p.r.count * four)", "a length", 1, 150 + 13*101.6},
		{"2 * p.r.count * p.width", "a length", 1, 3600},
		{"2 * p.r.count + p.r.count", "a count", 0, 36},
		{"p.f.turn / 2", "an angle", 0, 45},
		{"p.f.turn / 45 deg", "a ratio", 0, 2},
		{"3 / 4", "a plain number", 0, 0.75},
		// An area that meets a bare number: square inches in a file in inches.
		{"p.width * p.height + four", "an area", 2, 31500 + 4*25.4*25.4},
		// Functions.
		{"min(p.width, 4, 1 in)", "a length", 1, 4},
		{"max(4, p.width)", "a length", 1, 150},
		{"abs(p.width - p.height)", "a length", 1, 60},
		{"sqrt(p.width * p.width)", "a length", 1, 150},
		{"sqrt(2)", "a plain number", 0, math.Sqrt2},
		{"sqrt(p.r.count)", "a ratio", 0, math.Sqrt(12)},
		{"floor(p.width / 40 mm)", "a ratio", 0, 3},
		{"ceil(2.1 cm)", "a length", 1, 21},
		{"nearest(p.width, 4)", "a length", 1, 152},
		{"max(2)", "a plain number", 0, 2},
	} {
		v, ok, diags := valueOf(t, c.text)
		if !ok || len(diags) > 0 {
			t.Errorf("%s: %s", c.text, diagtest.Text(diags))
			continue
		}
		if got := v.Expr.Eval(values); v.Describe() != c.is || v.Power != c.power || !near(got, c.value) && c.is != "text" {
			t.Errorf("%s is %s (power %d), %v; want %s (%d), %v", c.text, v.Describe(), v.Power, got, c.is, c.power, c.value)
		}
	}
}

// Texts are joined as they are, numbers in them written in digits; a let that
// chooses is what it chooses.
func TestTexts(t *testing.T) {
	for _, c := range []struct{ text, want, at string }{
		{`"Ada"`, "Ada", `"Ada"`},
		{`"Ada" + " " + ("Bo" + "!")`, "Ada Bo!", `"Ada" + " " + ("Bo" + "!")`},
		{`text(four) + "/" + text(2 / 3)`, "4/0.666667", `text(four) + "/" + text(2 / 3)`},
		{`text(0 - 2.50)`, "-2.5", `text(0 - 2.50)`},
		{`text(10000000 * 100000000)`, "1000000000000000", `text(10000000 * 100000000)`},
		{`text(25 %)`, "0.25", `text(25 %)`},
		{`"Ada" when named > 8 mm, "Bo" when named = 7, "Cy"`, "Bo", `"Bo"`},
		{`"Ada" when named > 8 mm, "Bo" when named = 6, text(named / 1 mm)`, "7", `text(named / 1 mm)`},
	} {
		v, ok, diags := valueOf(t, c.text)
		if !ok || v.Kind != unit.Text || v.Text != c.want || v.At.Text() != c.at || v.Base != v.At.File || len(diags) > 0 {
			t.Errorf("%s: %q at %q\n%s", c.text, v.Text, v.At.Text(), diagtest.Text(diags))
		}
	}
}

// A let may hold a form; one let leads to another.
func TestForms(t *testing.T) {
	for text, want := range map[string]string{
		"slot 9 by 3": "slot 9 by 3",
		"round 4 when four > 500 mm, slot 9 by named": "slot 9 by named",
		"held":  "rect four by 2",
		"named": "",
	} {
		c, info, diags := compiler(t, "let held = rect four by 2\nlet x = "+text)
		lets := info.Main.Lets
		name := &ast.Name{Parts: []ast.Ident{{At: lets[len(lets)-1].Stmt.Name.At, Name: "x"}}}
		f, ok := c.Form(name, info.Main.Scope())
		got := ""
		if f != nil {
			got = f.Shape.Span().Text()
		}
		if !ok || got != want || len(*diags) > 0 {
			t.Errorf("%s: %q, %v\n%s", text, got, ok, diagtest.Text(*diags))
		}
	}
}

// What lets double again and again ends: numbers are worked out, and what rests
// on dimensions has as many parts as one value may have.
func TestDoubling(t *testing.T) {
	for _, c := range []struct{ first, again, wrong string }{
		{"1", "# + #", ""},
		{"p.width", "# + #", "this value has more than 1000 parts"},
		{"p.width", "-# - #", "this value has more than 1000 parts"},
		{"p.width", "max(#, 2 * #)", "this value has more than 1000 parts"},
		{`"Ada"`, "# + #", "this text has more than 4000 characters"},
	} {
		text := "let a0 = " + c.first + "\n"
		for i := 1; i <= 60; i++ {
			text += fmt.Sprintf("let a%d = %s\n", i, strings.ReplaceAll(c.again, "#", fmt.Sprintf("a%d", i-1)))
		}
		compile, info, diags := compiler(t, text)
		lets := info.Main.Lets
		v, ok := compile.Let(lets[len(lets)-1], source.Span{})
		switch {
		case c.wrong == "" && (!ok || v.Expr.Eval(nil) != 1<<60 || len(*diags) > 0):
			t.Errorf("%s, %s: %v\n%s", c.first, c.again, ok, diagtest.Text(*diags))
		case c.wrong != "" && (ok || len(*diags) != 1 || !strings.Contains((*diags)[0].Message, c.wrong)):
			t.Errorf("%s, %s: %v, want %q, got\n%s", c.first, c.again, ok, c.wrong, diagtest.Text(*diags))
		}
	}
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Max(1, math.Abs(b)) }

// What can't be worked out is reported, once, where it stands.
func TestFaults(t *testing.T) {
	for _, c := range []struct{ text, code, message string }{
		{"p.width + 90 deg", "kind-mismatch", "p.width is a length and 90 deg is an angle: they can't be added"},
		{"p.width - p.width * p.height", "kind-mismatch", "they can't be subtracted"},
		{"p.f.turn * p.f.turn", "kind-mismatch", "they can't be multiplied"},
		{"p.f.turn / p.width", "kind-mismatch", "they can't be divided"},
		{`"Ada" - "Bo"`, "kind-mismatch", "only numbers can be subtracted"},
		{`text("Ada")`, "kind-mismatch", "text takes a plain number, and \"Ada\" is text"},
		{"text(2 mm)", "kind-mismatch", "2 mm is a length"},
		{"text(1, 2)", "arguments", "text takes one value"},
		{"text(p.r.count)", "constant", "must be known before any is worked out"},
		{"3 when p.width > 2, 4", "when", "which value x has can't depend on a dimension"},
		{"3 when 1 > 2", "no-choice", "x has no value"},
		{"3 when named > 1, 4 when named < 9 and four > 2 in", "two-choices", "x has two values where named = 7 mm and four = 4: 3 and 4"},
		{"3 when 1 < 2, nothing", "unknown-name", "nothing"},
		{"3 when x = 3, 4", "let-cycle", "x would be defined by itself"},
		{`slot 9 by "Ada"`, "kind-mismatch", "a size of a slot is a length"},
		{`-"Ada"`, "kind-mismatch", "text can't have a minus sign"},
		{`3 + "Ada"`, "kind-mismatch", "only texts can be joined"},
		{"p.width / (2 - 2)", "impossible", "nothing can be divided by 0"},
		{"3 / 0", "impossible", "nothing can be divided by 0"},
		{"3 + four", "unit-needed", "one of these numbers comes from a file whose unit is mm, the other from one whose unit is in"},
		{"p.width + 3 * four", "unit-needed", "3 * four mixes numbers from files in mm and in inches"},
		{"p.width + 3 * (p.r.count * four)", "unit-needed", "mixes numbers"},
		{"p.width + (3 + 3 * four)", "unit-needed", "mixes numbers"},
		{"p.width + min(3, 3 * four)", "unit-needed", "mixes numbers"},
		{"p.width + p.r.count", "kind-mismatch", "p.width is a length and p.r.count is a count"},
		{"p.width + (2 + p.r.count)", "kind-mismatch", "p.width is a length and (2 + p.r.count) is a count"},
		{"p.width + 12 / 4 mm", "kind-mismatch", "12 / 4 mm is a length to the power of -1"},
		{"p", "kind-mismatch", "p is a panel, not a number"},
		{"nothing", "unknown-name", `nothing is called "nothing" here`},
		{"p.widht", "unknown-name", `the panel p has no "widht"`},
		{"order.name", "no-table", "nothing says where the orders are"},
		{"x + 1", "let-cycle", "x would be defined by itself"},
		{"root(2)", "unknown-function", `there is no function called "root"`},
		{"abs(1, 2)", "arguments", "abs takes one value"},
		{"nearest(1)", "arguments", "nearest takes two values"},
		{"max(1 mm, 90 deg)", "kind-mismatch", "they can't be compared"},
		{`max("Ada")`, "kind-mismatch", "max takes numbers"},
		{"sqrt(2 - 3)", "impossible", "there is no square root of 2 - 3, which is below 0"},
		{"sqrt(p.width)", "kind-mismatch", "there is no square root of a length"},
		{"sqrt(p.f.turn)", "kind-mismatch", "there is no square root of an angle"},
		{"nearest(p.width, 0)", "impossible", "a step must be above 0"},
	} {
		_, ok, diags := valueOf(t, c.text)
		if ok || len(diags) != 1 || string(diags[0].Code) != c.code || !strings.Contains(diags[0].Message, c.message) {
			t.Errorf("%s (%v): want one %s with %q, got\n%s", c.text, ok, c.code, c.message, diagtest.Text(diags))
		}
	}
}

// As wants a kind: a bare number becomes one, anything else must be one.
func TestAs(t *testing.T) {
	for _, c := range []struct {
		text  string
		kind  unit.Kind
		value float64
		wrong string
	}{
		{"3", unit.Length, 3, ""},
		{"four", unit.Length, 101.6, ""},
		{"3", unit.Angle, 3, ""},
		{"3", unit.Count, 3, ""},
		{"3", unit.Ratio, 3, ""},
		{"80 %", unit.Count, 0.8, ""}, // both are numbers without a unit
		{"3 mm", unit.Angle, 0, "size is an angle, but 3 mm is a length"},
		{"p.width * p.width", unit.Length, 0, "size is a length, but p.width * p.width is an area"},
		{"3", unit.Text, 0, "3 is a number, and text is wanted here"},
		{"3 * four", unit.Length, 0, "mixes numbers"},
	} {
		compile, info, diags := compiler(t, "let x = "+c.text)
		x := info.Main.Lets[len(info.Main.Lets)-1]
		e, ok := compile.As(x.Stmt.Value, x.Scope, c.kind, "size")
		switch {
		case c.wrong == "" && (!ok || !near(e.Eval(values), c.value)):
			t.Errorf("%s as %v: %v, %v\n%s", c.text, c.kind, e.Eval(values), ok, diagtest.Text(*diags))
		case c.wrong != "" && (ok || !strings.Contains(diagtest.Text(*diags), c.wrong)):
			t.Errorf("%s as %v: %v, want %q, got\n%s", c.text, c.kind, ok, c.wrong, diagtest.Text(*diags))
		}
	}
}

// A condition is a question about dimensions, named values and texts; a when may
// only ask what is known before anything is solved.
func TestConditions(t *testing.T) {
	for _, c := range []struct {
		text         string
		holds, known bool
	}{
		{"p.width = 15 cm", true, false},
		{"p.width > 150", false, false},
		{"p.width >= 150 and p.height < 211", true, false},
		{"not p.width != 150", true, false},
		{"p.width < 100 or p.r.count = 12", true, false},
		{"(p.width < 100 or p.r.count = 12) and p.f.turn > 90 deg", false, false},
		{"named = 7 mm", true, true},
		{"named <= 6", false, true},
		{`"Ada" = "Ada"`, true, true},
		{`"Ada" != "Ada"`, false, true},
		{"four > 100 mm", true, true},
		{"four < 5 mm", false, true}, // it is 4 in
	} {
		compile, info, diags := compiler(t, "check "+c.text)
		e := info.Main.Lines[0].Stmt.(*ast.Check).Cond
		cond, ok := compile.Condition(e, info.Main.Scope())
		if !ok || len(*diags) > 0 {
			t.Errorf("%s: %s", c.text, diagtest.Text(*diags))
			continue
		}
		if cond.Holds(values) != c.holds || cond.Known() != c.known {
			t.Errorf("%s: %v (known: %v), want %v (%v)", c.text, cond.Holds(values), cond.Known(), c.holds, c.known)
		}
		holds, known := compile.Now(resolve.Condition{Expr: e, Scope: info.Main.Scope()})
		if known != c.known || known && holds != c.holds || known != (len(*diags) == 0) {
			t.Errorf("%s now: %v, %v: %s", c.text, holds, known, diagtest.Text(*diags))
		}
	}
	for _, c := range []struct{ text, code, message string }{
		{"p.width", "condition", "p.width is not a question that can be answered with yes or no"},
		{`"Ada" < "Bo"`, "kind-mismatch", "texts can only be equal or not"},
		{`p.width = "Ada"`, "kind-mismatch", "p.width is a length"},
		{"p.width = 90 deg", "kind-mismatch", "they can't be compared"},
		{"p.widht = 1", "unknown-name", "widht"},
		{"p.width = 1 and p.height", "condition", "p.height is not a question"},
	} {
		compile, info, diags := compiler(t, "check "+c.text)
		_, ok := compile.Condition(info.Main.Lines[0].Stmt.(*ast.Check).Cond, info.Main.Scope())
		if ok || len(*diags) != 1 || string((*diags)[0].Code) != c.code || !strings.Contains((*diags)[0].Message, c.message) {
			t.Errorf("%s (%v): want one %s with %q, got\n%s", c.text, ok, c.code, c.message, diagtest.Text(*diags))
		}
	}
}
