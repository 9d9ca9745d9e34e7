package parse

import (
	"math"
	"strings"
	"testing"

	"foredge/lang/ast"
	"foredge/lang/ast/asttest"
	"foredge/lang/source"
)

// read reads one statement that must be without fault; before it may stand the
// file's units.
func read(t *testing.T, text string) ast.Stmt {
	t.Helper()
	file, diags := File(source.New("t.fore", []byte(text)))
	for _, d := range diags {
		t.Errorf("%q: %v: %s", text, d.Span, d.Message)
	}
	checkTree(t, file)
	want := 1
	if strings.HasPrefix(text, "units ") {
		want = 2
	}
	if len(file.Stmts) != want {
		t.Fatalf("%q has %d statements", text, len(file.Stmts))
	}
	return file.Stmts[want-1]
}

// TestStatements shows how statements are grouped, in the form of asttest.Dump.
func TestStatements(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		// Operators: the usual rules of arithmetic, from the left in a level.
		{"a = b + c * d", "a = (+ b (* c d))"},
		{"a = b - c - d", "a = (- (- b c) d)"},
		{"a = b / c * d", "a = (* (/ b c) d)"},
		{"a = (b - c) * d", "a = (* (paren (- b c)) d)"},
		{"a = -b * c", "a = (* (- b) c)"},
		{"a = b - -c", "a = (- b (- c))"},
		{"a = 2 * -3 mm", "a = (* 2 (- 3mm))"},
		{"a + b >= c", "(+ a b) >= c"},
		{"3 <= a <= 5", "3 <= a <= 5"},
		{"max(a, b + 1) <= sqrt(2)", "(call max a (+ b 1)) <= (call sqrt 2)"},
		{"(a + b) * 2 = c", "(* (paren (+ a b)) 2) = c"},
		{"-a = b", "(- a) = b"},
		{"10 * pitch = 84.7", "(* 10 pitch) = 84.7"},
		// The version, and the edge of the same name.
		{"foredge 1", "foredge 1"},
		{"foredge newest", "foredge newest"},
		{"foredge = 1", "foredge = 1"},
		{"foredge - 1 >= spine", "(- foredge 1) >= spine"},
		{"foredge.width = 3", "foredge.width = 3"},
		// Conditions.
		{"check a >= b", "check (>= a b)"},
		{"check a = b and not c < d or e != f", "check (or (and (= a b) (not (< c d))) (!= e f))"},
		{"check not a = b and c = d", "check (and (not (= a b)) (= c d))"},
		{"check 3 <= a <= 5 else \"no\"", `check (and (<= 3 a) (<= a 5)) else "no"`},
		{"check (a = b or c = d) and e = f", "check (and (paren (or (= a b) (= c d))) (= e f))"},
		{"check a + 1 > b * 2", "check (> (+ a 1) (* b 2))"},
		{"check -a <= 3", "check (<= (- a) 3)"},
		{"check - a <= 3", "(- check a) <= 3"},
		{"check (a) > 3", "check (> (paren a) 3)"},
		// Numbers.
		{"units in; a = 7/16", "a = 0.4375/16ths"},
		{"units mm; a = 7/16", "a = (/ 7 16)"},
		{"a = 7/16", "a = (/ 7 16)"},
		{"a = 7/16 in", "a = 0.4375/16thsin"},
		{"units in; a = 7/16 in", "a = 0.4375/16thsin"},
		{"units in; a = 12/4 mm", "a = (/ 12 4mm)"},
		{"units in; a = 12 / 4 mm", "a = (/ 12 4mm)"},
		{"a = 12/4 mm", "a = (/ 12 4mm)"},
		{"a = 1/4 deg", "a = (/ 1 4deg)"},
		{"a = -297/2", "a = (/ (- 297) 2)"},
		{"a = 4 3/4 in", "a = 4.75/4thsin"},
		{"a = 4 3/4in", "a = 4.75/4thsin"},
		{"a = b/7/16", "a = (/ (/ b 7) 16)"},
		{"a = b / 7/16", "a = (/ (/ b 7) 16)"},
		{"units in; a = b / 7/16", "a = (/ b 0.4375/16ths)"},
		{"units in; a = 3/8 / 1/2", "a = (/ 0.375/8ths 0.5/2ths)"},
		{"units in; a = 3/8/1/2", "a = (/ 0.375/8ths 0.5/2ths)"},
		{"units in; a = b / -7/16", "a = (/ b (- 0.4375/16ths))"},
		{"a = b / 7/16 in", "a = (/ b 0.4375/16thsin)"},
		{"units in; a = b * 7/16", "a = (* b 0.4375/16ths)"},
		{"units in; a = b / 4 3/4", "a = (/ b 4.75/4ths)"},
		{"a = 7 / 16", "a = (/ 7 16)"},
		{"units in; a = 7/16/2", "a = (/ 0.4375/16ths 2)"},
		{"a = 7/16/2", "a = (/ (/ 7 16) 2)"},
		{"units in; prefer a = 4 3/4 weight 1/2", "prefer a = 4.75/4ths weight 0.5/2ths"},
		{"a = 1.5/2", "a = (/ 1.5 2)"},
		{"a = 10mm/2", "a = (/ 10mm 2)"},
		{"a = 3 m + 2 in", "a = (+ 3m 2in)"},
		{"a = m + in", "a = (+ m in)"},
		{"a = 20 %", "a = 20%"},
		{"a = 010", "a = 10"},
		// Right sides.
		{"a = 203.3, 203.4", "a = (list 203.3 203.4)"},
		{"a = 148.2 ± 0.05", "a = (within 148.2 0.05)"},
		{"a = 148.2 +/- 0.05 mm", "a = (within 148.2 0.05mm)"},
		{"a = 210 exact", "a = (exact 210)"},
		{"a = 4 3/4 in exact", "a = (exact 4.75/4thsin)"},
		{"a = 1, 2 ± 0.1", "a = (within (list 1 2) 0.1)"},
		{"hole = rect 4.02 by 4.05", "hole = (rect 4.02 4.05)"},
		{"hole = rect 4 by 5 radius 1", "hole = (rect 4 5 radius 1)"},
		{"hole = rect a + 1 by b * 2 exact", "hole = (exact (rect (+ a 1) (* b 2)))"},
		{"hole = slot 4 by 8 ± 0.1", "hole = (within (slot 4 8) 0.1)"},
		{"hole = round (a + 1)", "hole = (round (paren (+ a 1)))"},
		{"corners = radius r", "corners = (radius r)"},
		{"corner head-foredge = chamfer 4", "corner[head-foredge] = (chamfer 4)"},
		{"gap 3 = 70.0, 70.1", "gap[3] = (list 70 70.1)"},
		{"3 <= gap 2 <= 5", "3 <= gap[2] <= 5"},
		{"prefer gap 2 = 5", "prefer gap[2] = 5"},
		{"size = 600 by 300", "size = (by 600 300)"},
		{"offcuts = 9 by 8, 7 by 6 less 5 by 4 at tail-left", "offcuts = (list (by 9 8) (less tail-left (by 7 6) (by 5 4)))"},
		{"less = 3", "less = 3"},
		{"a = less + 2", "a = (+ less 2)"},
		{"grain = along width", "grain = (along width)"},
		{"grain = along", "grain = along"},
		{"x = front.rings.gap.3 + 1", "x = (+ front.rings.gap.3 1)"},
		{"lay = back,\n  joint, # c\n  front", "lay = (list back joint front)"},
		{"lay = back,\n\n # c\n  joint exact", "lay = (exact (list back joint))"},
		// Statements that open with a word of the language.
		{"prefer a = b weight 3", "prefer a = b weight 3"},
		{"prefer weight = 3 weight 2", "prefer weight = 3 weight 2"},
		{"prefer corner head-spine = radius 3", "prefer corner[head-spine] = (radius 3)"},
		{"prefer a >= b", "prefer a >= b"},
		{"let a = b * 2", "let a (* b 2)"},
		{`let a = "x \"y\" \\ z"`, `let a "x \"y\" \\ z"`},
		{"let when = 3", "let when 3"},
		{"let a = when", "let a when"},
		{"let a = slot 9 by 3", "let a (slot 9 3)"},
		{"let a = 3 when b = 1", "let a (choice 3 (when (= b 1)))"},
		{"let a = 3 when b = 1,\n  wide when c, x", "let a (choice 3 (when (= b 1)) wide (when c) x)"},
		{"let a = when when when = 3, 4", "let a (choice when (when (= when 3)) 4)"},
		{"check a >= b else c + \"x\"", "check (>= a b) else (+ c \"x\")"},
		{`use "a.fore"`, `use "a.fore"`},
		{"use bindings", "use bindings"},
		{"panel front covers log when a = b", "decl panel front (covers log) (when (= a b))"},
		{"row a on spine like front.wire when on = like covers b", "decl row a (on spine) (like front.wire) (when (= on like)) (covers b)"},
		{"mark text order.initials", "mark mark text order.initials"},
		{`engrave text "a" `, `mark engrave text "a"`},
		{"pannel front", "decl pannel front"},
		{"thing mark", "decl thing mark"},
		{"gap joint", "decl gap joint"},
	} {
		got, _ := asttest.Head(read(t, c.text))
		if got != c.want {
			t.Errorf("%q is read as\n\t%s, want\n\t%s", c.text, got, c.want)
		}
	}
}

// Numbers keep how fine they were stated: the readings of a rule and of
// calipers have their uncertainty from it.
func TestNumbers(t *testing.T) {
	for _, c := range []struct {
		text        string
		value       float64
		unit        string
		denominator int
		decimals    int
	}{
		{"12", 12, "", 0, 0},
		{"4.10", 4.1, "", 0, 2},
		{".5", .5, "", 0, 1},
		{"210.0 mm", 210, "mm", 0, 1},
		{"2 3/16in", 2 + 3./16, "in", 16, 0},
		{"63/64 in", 63. / 64, "in", 64, 0},
		{"180deg", 180, "deg", 0, 0},
		{"7.5%", 7.5, "%", 0, 1},
		{"9 pt", 9, "pt", 0, 0},
		{"2.54 cm", 2.54, "cm", 0, 2},
	} {
		r := read(t, "a = "+c.text).(*ast.Relation)
		n, ok := r.Rest[0].Value.(*ast.Number)
		if !ok {
			t.Errorf("%q is a %T", c.text, r.Rest[0].Value)
			continue
		}
		if math.Abs(n.Value-c.value) > 1e-15*c.value || n.Unit != c.unit || n.Denominator != c.denominator || n.Decimals != c.decimals {
			t.Errorf("%q is %+v", c.text, *n)
		}
		if n.Span().Text() != c.text {
			t.Errorf("%q stands at %q", c.text, n.Span().Text())
		}
	}
}

// A table of orders has the types of its columns on the right; elsewhere the
// same words are names.
func TestColumns(t *testing.T) {
	d := read(t, "orders \"o.csv\" { name = text; copies = count default 1 + 1\n motif = one of \"fox\",\n \"owl\" from \"Motif?\", \"Bild\" default \"fox\" }").(*ast.Decl)
	for i, want := range []string{"name = (column text)", "copies = (column count default (+ 1 1))",
		`motif = (column one (of "fox" "owl") (from "Motif?" "Bild") default "fox")`} {
		if got, _ := asttest.Head(d.Body.Stmts[i]); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
	if d.Title == nil || d.Title.Value != "o.csv" || d.Name.Name != "" {
		t.Errorf("the table is named %+v", d)
	}
}
