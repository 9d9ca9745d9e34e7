package eval_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"foredge/eval"
	"foredge/eval/evaltest"
	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/eval/tell"
	"foredge/lang/diag"
	"foredge/lang/foretest"
)

// A bookRow is a row of a notebook, with what is true of it.
type bookRow struct {
	name, edge                       string
	count                            int
	pitch, along, across, first, end float64
	inset                            float64
}

// A measuredLog is a notebook with rows that are read more often than needed.
type measuredLog struct {
	width, height float64
	rows          []bookRow
}

func randomLog(r *rand.Rand) measuredLog {
	half := func(low, high int) float64 { return float64(low) + float64(r.IntN(2*(high-low)+1))/2 }
	l := measuredLog{width: half(100, 160)}
	for i := range 1 + r.IntN(2) {
		b := bookRow{name: []string{"wire", "thread"}[i], edge: []string{"spine", "head"}[i], count: 4 + r.IntN(12),
			along: half(3, 5), across: half(3, 5), inset: half(4, 8), first: half(6, 12)}
		b.pitch = b.along + half(3, 6)
		size := half(6, 12) + b.first + b.along + float64(b.count-1)*b.pitch
		if i == 0 {
			l.height = size
		} else {
			l.width = max(size, 100)
		}
		l.rows = append(l.rows, b)
	}
	for i := range l.rows {
		b := &l.rows[i]
		size := l.height
		if b.edge == "head" {
			size = l.width
		}
		b.end = size - b.first - b.along - float64(b.count-1)*b.pitch
	}
	return l
}

// reads are the lines that say what was read of a row, each off by no more than
// it promises; with the hole the first three are enough.
func (b bookRow) reads() []struct {
	words string
	value float64
} {
	run := float64(b.count-1) * b.pitch
	return []struct {
		words string
		value float64
	}{
		{"inset", b.inset}, {"pitch", b.pitch}, {"first", b.first},
		{"last", b.end}, {"web", b.pitch - b.along}, {"run", run}, {"run + hole.along", run + b.along}, {"first + run", b.first + run},
		{"3 * pitch", 3 * b.pitch}, {"inset + hole.across", b.inset + b.across},
	}
}

// text writes the notebook as it may have been read.
func (l measuredLog) text(r *rand.Rand) string {
	line := func(words string, value float64) string {
		g := []float64{0.02, 0.05, 0.1}[r.IntN(3)]
		return fmt.Sprintf("  %s = %.3f ± %g\n", words, value+g*(2*r.Float64()-1), g)
	}
	var s strings.Builder
	s.WriteString("notebook log { accuracy = 0.05\n" + line("width", l.width) + line("height", l.height))
	if r.IntN(3) == 0 {
		s.WriteString(line("width + height", l.width+l.height))
	}
	for _, b := range l.rows {
		fmt.Fprintf(&s, " row %s on %s { count = %d; hole = rect %.2f by %.2f\n", b.name, b.edge, b.count, b.along+0.04*(r.Float64()-0.5), b.across)
		for i, x := range b.reads() {
			if i < 3 || r.IntN(2) == 0 {
				s.WriteString(line(x.words, x.value))
			}
		}
		s.WriteString(" }\n")
	}
	s.WriteString("}\n")
	return s.String()
}

// wrong are lines of a cover that can't hold beside what was measured.
func (l measuredLog) wrong(r *rand.Rand) string {
	off := []float64{1, 2, 4, -1}[r.IntN(4)]
	b := l.rows[r.IntN(len(l.rows))]
	near := map[string]string{"spine": "head", "head": "spine"}[b.edge]
	switch r.IntN(12) {
	case 0:
		return fmt.Sprintf("%s.pitch = %.2f", b.name, b.pitch+off)
	case 1:
		return fmt.Sprintf("over-head = 2; over-tail = 2; height = %.2f", l.height+4+off)
	case 2:
		return fmt.Sprintf("over-head = 1; over-tail = 1; region r { head = 20; height = %.2f; tail = 10 }", l.height-28+off)
	case 3:
		return fmt.Sprintf("width <= %.2f; over-spine >= 0; over-foredge >= 0", l.width-1-math.Abs(off))
	case 4:
		return fmt.Sprintf("over-%s = 2; %s.first = %.2f; %s.ease = 0", near, b.name, b.first+2+off, b.name)
	case 5:
		return fmt.Sprintf("%s.ease = 0.4; %s.web = %.2f", b.name, b.name, b.pitch-b.along-0.4+off)
	case 6:
		return fmt.Sprintf("over-%s = 0; %s.ease = 0; %s.first + %s.run <= %.2f", near, b.name, b.name, b.name, b.first+float64(b.count-1)*b.pitch-math.Abs(off))
	case 7:
		return fmt.Sprintf("over-%s = 1; %s.ease = 0; %s.inset = %.2f", b.edge, b.name, b.name, b.inset+1+off)
	}
	// Of the following the overhangs and the ease hold, as nothing speaks of them.
	switch r.IntN(4) {
	case 0:
		return fmt.Sprintf("region r { head = 20; height = %.2f; tail = 10 }", l.height-28)
	case 1:
		return fmt.Sprintf("region r { spine >= 30; width >= %.2f; foredge >= 40 }", l.width-69)
	case 2:
		return fmt.Sprintf("%s.web = %.2f", b.name, b.pitch-b.along+off)
	}
	return fmt.Sprintf("over-spine = 3; over-foredge = 3; region r { spine >= 30; width >= %.2f; foredge >= 40 }", l.width-64+math.Abs(off))
}

// clashingDesign is a notebook with covers, of which one or more can't be as its
// lines say, among lines that don't matter.
func clashingDesign(r *rand.Rand) string {
	l := randomLog(r)
	text := l.text(r)
	idle := []string{"thick >= 1", "region a { head >= 5; width = 20; height = 20; spine >= 3 }", "cutout b { shape = round 8; head = 12; spine = 40 }",
		"thick <= 9", "region c { width <= 30; height = 10 }", "prefer thick = 2", "corners = radius 4"}
	for _, panel := range []string{"front", "back"}[:1+r.IntN(2)] {
		lines := []string{l.wrong(r)}
		for range r.IntN(4) {
			if s := idle[r.IntN(len(idle))]; !slices.Contains(lines, s) {
				lines = append(lines, s)
			}
		}
		r.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
		text += fmt.Sprintf("panel %s covers log { %s }\n", panel, strings.Join(lines, "; "))
	}
	return text
}

// A programme is rows that are to hold together, for testdata/feasible.py.
type programme struct {
	N    int     `json:"n"`
	Free []int   `json:"free"`
	Rows [][]any `json:"rows"`
}

// programmeOf puts relations and readings as the rows of a linear programme. A
// relation that isn't linear without a count says nothing where nothing states
// the count.
func programmeOf(s *eval.Solution, relations []int, readings []solve.ReadingReport) programme {
	p := programme{N: len(s.System.Vars), Free: []int{}}
	for v := range s.System.Vars {
		if s.System.Vars[v].Signed || s.System.Vars[v].Bench != 0 {
			p.Free = append(p.Free, v)
		}
	}
	row := func(f relation.Form, sense string) {
		terms := map[string]float64{}
		for _, t := range f.Terms {
			terms[strconv.Itoa(int(t.Var))] += t.Coef
		}
		p.Rows = append(p.Rows, []any{terms, sense, -f.Const})
	}
	known := map[relation.VarID]float64{}
	lookup := func(v relation.VarID) (float64, bool) { x, ok := known[v]; return x, ok }
	for again := true; again; {
		again = false
		for _, i := range relations {
			f, ok := s.System.Relations[i].Difference(lookup)
			if ok && len(f.Terms) == 1 && s.System.Relations[i].Sign == relation.EQ && s.System.Vars[f.Terms[0].Var].Whole {
				known[f.Terms[0].Var], again = -f.Const/f.Terms[0].Coef, true
			}
		}
	}
	for v, n := range known {
		row(relation.Form{Terms: []relation.Term{{Var: v, Coef: 1}}, Const: -n}, "=")
	}
	for _, i := range relations {
		if f, ok := s.System.Relations[i].Difference(lookup); ok {
			row(f, [...]string{"=", ">", "<"}[s.System.Relations[i].Sign])
		}
	}
	for _, r := range readings {
		if f, ok := s.System.Readings[r.Index].Left.Linear(relation.Nothing); ok {
			f.Const -= r.Adjusted
			row(f, "=")
		}
	}
	return p
}

// Clashes with a notebook: the lines that are shown can't all hold, and without
// any one of them the others can, by SciPy's HiGHS; each is shown once and the
// number said is theirs. A reading counts with what it was adjusted to.
func TestClashesWithNotebooks(t *testing.T) {
	want := foretest.Sample(200, 60)
	var all []programme
	var expect []bool
	var names []string
	found, largest, held := 0, 0, 0
	for seed := uint64(0); found < want; seed++ {
		text := clashingDesign(rand.New(rand.NewPCG(seed, 11)))
		s, ds := evaltest.Solve(text, evaltest.Files{})
		if len(s.Numbers.Clashes) == 0 {
			t.Fatalf("design %d doesn't clash:\n%s", seed, text)
		}
		shownOnce(t, text, ds)
		for k, c := range s.Numbers.Clashes {
			readings := readingsOf(s, c.Carried.Readings)
			lines := slices.Concat(c.Relations, c.Carried.Relations)
			if len(c.Carried.Readings)+len(c.Carried.Relations) == 0 {
				t.Errorf("design %d: the clash %v names nothing that was measured\n%s", seed, c, text)
			}
			found++
			if slices.ContainsFunc(c.Relations, func(i int) bool { return s.System.Relations[i].Role == relation.Held }) {
				held++
			}
			largest = max(largest, len(lines)+len(readings))
			var always []int
			for i := range s.System.Relations {
				if s.System.Relations[i].Role.Background() {
					always = append(always, i)
				}
			}
			add := func(lines []int, readings []solve.ReadingReport, holds bool, what string) {
				all, expect = append(all, programmeOf(s, slices.Concat(always, lines), readings)), append(expect, holds)
				names = append(names, fmt.Sprintf("design %d, clash %d, %s:\n%s", seed, k, what, text))
			}
			add(lines, readings, false, "all lines")
			for i := range lines {
				add(slices.Delete(slices.Clone(lines), i, i+1), readings, true, "without "+s.System.Relations[lines[i]].At.Short())
			}
			for i := range readings {
				add(lines, slices.Delete(slices.Clone(readings), i, i+1), true, "without the reading "+s.System.Readings[readings[i].Index].Text)
			}
		}
	}
	t.Logf("%d clashes, of up to %d lines, %d with defaults that hold; %d programmes", found, largest, held, len(all))
	if held < found/10 {
		t.Errorf("only %d clashes hold a default", held)
	}
	var holds []bool
	foretest.AskScript(t, "testdata/feasible.py", all, &holds, "scipy.optimize")
	for i := range holds {
		if holds[i] != expect[i] {
			t.Errorf("it can hold: %t; %s", holds[i], names[i])
		}
	}
}

// shownOnce holds each clash told against the number that it says.
func shownOnce(t *testing.T, text string, ds diag.List) {
	for _, d := range ds {
		var n int
		if _, err := fmt.Sscanf(d.Message, "these %d lines", &n); d.Code != "clash" || err != nil {
			continue
		}
		lines := map[string]bool{d.Span.String(): true}
		shown := 1
		for _, note := range d.Notes {
			if strings.HasPrefix(note.Message, "the others leave") || strings.HasPrefix(note.Message, "default: ") {
				continue
			}
			shown++
			lines[note.Span.String()+note.Message] = true
		}
		if shown != n || len(lines) != n {
			t.Errorf("%q, and %d are shown, %d of them different\n%s", d.Message, shown, len(lines), text)
		}
	}
}

func readingsOf(s *eval.Solution, indices []int) []solve.ReadingReport {
	var out []solve.ReadingReport
	for _, b := range s.Numbers.Benches {
		for _, r := range b.Readings {
			if slices.Contains(indices, r.Index) {
				out = append(out, r)
			}
		}
	}
	return out
}

// One reading of a notebook that is off by 8 to 12 times its uncertainty, where
// the others check it: if readings are told to disagree it is among those named.
// What can't be told, as its redundancy is small, is not counted.
func TestBlundersAreNamed(t *testing.T) {
	want, told, right, named, alone := foretest.Sample(1000, 200), 0, 0, 0, 0
	for seed := uint64(0); told < want; seed++ {
		r := rand.New(rand.NewPCG(seed, 17))
		m, _ := evaltest.Build(randomLog(r).text(r), evaltest.Files{})
		s, _ := m.Solve()
		b := s.Numbers.Benches[0]
		var checked []int
		for i := range b.Readings {
			if b.Readings[i].Redundancy > 0.001 {
				checked = append(checked, i)
			}
		}
		if len(checked) == 0 {
			continue
		}
		off := checked[r.IntN(len(checked))]
		read := &s.System.Readings[b.Readings[off].Index]
		read.Value += read.U * (8 + 4*r.Float64()) * float64(1-2*r.IntN(2))
		s.Numbers = solve.Solve(s.System)
		b = s.Numbers.Benches[0]
		if len(b.Suspects) == 0 {
			continue
		}
		if slip := tell.SlipOf(s.Solution, &b); slip != nil {
			t.Errorf("seed %d: %s is off, and the unit of %s is blamed", seed, read.Text, s.System.Readings[b.Readings[slip.Reading].Index].Text)
		}
		told++
		named += len(b.Suspects)
		if len(b.Suspects) == 1 {
			alone++
		}
		if slices.Contains(b.Suspects, off) {
			right++
		} else {
			t.Logf("seed %d: %s is off, with a redundancy of %.4f; %s is named", seed, read.Text, b.Readings[off].Redundancy, s.System.Readings[b.Readings[b.Suspects[0]].Index].Text)
		}
	}
	t.Logf("named in %d of %d, %.2f at a time, alone in %d", right, told, float64(named)/float64(told), alone)
	if right*100 < 99*told {
		t.Errorf("the right one is named in %d of %d", right, told)
	}
}
