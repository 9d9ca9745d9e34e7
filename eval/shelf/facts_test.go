package shelf_test

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"foredge/eval"
	"foredge/eval/evaltest"
	"foredge/eval/shelf"
	"foredge/lang/foretest"
)

// A fact is one row of the ledger of what the trade's sources say.
type fact struct {
	id     string // its table, and its name in that
	fact   string // in words
	thing  string // what on the shelf holds it
	with   string // what a design adds to that
	value  string // what must come out, in mm
	mark   string // source, calc (worked out from a rule), conflict, memory or practice
	source string // names in sources.tsv, parted by semicolons; or how the fact came without one
	test   string // PACKAGE.TEST, with what must stand in it; or none: and why
}

// facts reads the ledger.
func facts(t testing.TB) []fact {
	t.Helper()
	var all []fact
	for _, f := range table(t, "testdata/ledger.tsv", 8) {
		all = append(all, fact{f[0], f[1], f[2], f[3], f[4], f[5], f[6], f[7]})
	}
	return all
}

// table reads a file of columns parted by tabs, without its headings.
func table(t testing.TB, path string, columns int) [][]string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]string
	for i, line := range strings.Split(strings.TrimSuffix(string(data), "\n"), "\n") {
		f := strings.Split(line, "\t")
		if len(f) != columns {
			t.Fatalf("line %d of %s has %d columns", i+1, path, len(f))
		}
		if i > 0 {
			rows = append(rows, f)
		}
	}
	return rows
}

// A published is a source as it was published. What isn't known says so:
// "author unknown", "undated", "from memory".
type published struct{ author, title, where, year string }

// publishedSources are the sources of the ledger by the names that it gives them.
func publishedSources(t testing.TB) map[string]published {
	t.Helper()
	all := map[string]published{}
	for _, f := range table(t, "testdata/sources.tsv", 5) {
		if _, twice := all[f[0]]; twice {
			t.Errorf("%s stands twice among the sources", f[0])
		}
		all[f[0]] = published{f[1], f[2], f[3], f[4]}
	}
	return all
}

// factsOf are the facts that a test asserts.
func factsOf(t testing.TB, test string) []fact {
	t.Helper()
	var own []fact
	for _, f := range facts(t) {
		if f.test == "eval/shelf."+test {
			own = append(own, f)
		}
	}
	if len(own) == 0 {
		t.Fatalf("the ledger has no fact for %s", test)
	}
	return own
}

// numbers are those that the ledger gives for a fact.
func numbers(t testing.TB, id string) []float64 {
	t.Helper()
	for _, f := range facts(t) {
		if f.id == id {
			var all []float64
			for _, s := range strings.Fields(f.value) {
				v, err := strconv.ParseFloat(s, 64)
				if err != nil {
					t.Fatalf("%s: %v", id, err)
				}
				all = append(all, v)
			}
			return all
		}
	}
	t.Fatalf("the ledger has no fact %s", id)
	return nil
}

// onShelf finds a thing, with the text of all that it is like.
func onShelf(t testing.TB, name string) (thing shelf.Thing, text string) {
	t.Helper()
	found := map[string]shelf.Thing{}
	for _, p := range shelf.All() {
		for _, x := range p.Things {
			found[x.Name] = x
		}
	}
	thing, ok := found[name]
	if !ok {
		t.Fatalf("there is no %s on the shelf", name)
	}
	for x, more := thing, true; more; x, more = found[x.Like] {
		text += x.Text + "\n"
	}
	return thing, text
}

// A trial is a real design about a thing of the shelf.
type trial struct {
	*eval.Solution
	prefix string // of the thing's dimensions
}

// place reads what begins a fact's `with`: "@148x210 spine; ...".
func place(with string) (w, h, where, rest string) {
	m := regexp.MustCompile(`^@([0-9.]+)x([0-9.]+) (\w+)(?:; )?(.*)$`).FindStringSubmatch(with)
	if m == nil {
		return "400", "2000", "spine", with
	}
	return m[1], m[2], m[3], m[4]
}

// try builds a design about a thing. Only what the thing leaves open is added.
func try(t testing.TB, name, with string) trial {
	t.Helper()
	thing, text := onShelf(t, name)
	w, h, where, rest := place(with)
	missing := func(line string, words ...string) string {
		for _, word := range words {
			if regexp.MustCompile(`\b` + word + `\b`).MatchString(text + rest) {
				return ""
			}
		}
		return line
	}
	b := "units mm\nuse " + thing.Part + "\n"
	prefix := "p."
	switch thing.Kind {
	case "pattern":
		prefix = "p.r."
		b += fmt.Sprintf("panel p { width = %s; height = %s\nrow r on %s like %s { %s\n%s%s%s} }", w, h, where, name, rest,
			missing("count = 5\n", "count", "gaps"), missing("inset = 5\n", "inset"), missing("pitch = 20\n", "pitch", "first", "gaps"))
	case "notebook", "binding":
		prefix = name + "."
		if thing.Part != "bindings" {
			b += "use bindings\n"
		}
		first := map[string]string{"notebook": "width", "binding": "ring"}[thing.Kind]
		b += fmt.Sprintf("let x = %s.%s\nlet book = x - loop-over-book", name, first)
	case "let":
		prefix = ""
		b += "let value = " + name
	case "gap":
		prefix = "g."
		b += fmt.Sprintf("gap g like %s { %s }", name, rest)
	case "cutout":
		prefix = "p.c."
		b += fmt.Sprintf("panel p { width = %s; height = %s\ncutout c like %s { %s } }", w, h, name, rest)
	case "panel":
		if where == "pages" {
			b += fmt.Sprintf("notebook b { width = %s exact; height = %s exact }\npanel p covers b like %s { %s }", w, h, name, rest)
		} else {
			b += fmt.Sprintf("panel p like %s { height = 10\n%s }", name, rest)
		}
	default:
		t.Fatalf("%s is a %s", name, thing.Kind)
	}
	return trial{evaltest.Sound(t, b), prefix}
}

// get is what a fact speaks of: dimensions of the thing, and what is worked out
// from them.
func (s trial) get(t testing.TB, name string) []float64 {
	t.Helper()
	d := func(n string) float64 { return evaltest.Dimension(t, s.Solution, s.prefix+n).Value }
	switch name {
	case "centre": // of the holes from the edge
		return []float64{d("inset") + d("hole.across")/2}
	case "far": // side of the holes from the edge
		return []float64{d("inset") + d("hole.across")}
	case "end": // centre of hole 1 from the end of the edge
		return []float64{d("first") + d("hole.along")/2}
	case "far-end":
		return []float64{d("last") + d("hole.along")/2}
	case "span":
		return []float64{d("run")}
	case "gaps":
		var all []float64
		for i := 1; i < int(d("count")); i++ {
			all = append(all, d(fmt.Sprintf("gap.%d", i)))
		}
		return all
	case "positions":
		return s.Design().Panels[0].Rows[0].Centers
	case "book":
		return []float64{evaltest.Dimension(t, s.Solution, "book").Value}
	}
	if n, ok := strings.CutSuffix(name, ".within"); ok {
		// A half width g stands for a standard uncertainty of g/√3.
		return []float64{evaltest.Dimension(t, s.Solution, s.prefix+n).Uncertainty * math.Sqrt(3)}
	}
	return []float64{d(name)}
}

// assert holds a thing of the shelf against a fact: NAME=VALUE to a millionth,
// NAME~VALUE to half of the value's last digit.
func assert(t *testing.T, f fact) {
	t.Helper()
	s := try(t, f.thing, f.with)
	for _, part := range strings.Split(f.value, "; ") {
		i := strings.IndexAny(part, "=~")
		want := strings.Fields(part[i+1:])
		got := s.get(t, part[:i])
		if len(got) != len(want) {
			t.Errorf("%s: %s is %v, %s says %s", f.fact, part[:i], got, f.source, part[i+1:])
			continue
		}
		for k, text := range want {
			v, err := strconv.ParseFloat(text, 64)
			if err != nil {
				t.Fatal(err)
			}
			within := 1e-6
			if part[i] == '~' {
				_, digits, _ := strings.Cut(text, ".")
				within = 0.5*math.Pow10(-len(digits)) + 1e-9
			}
			foretest.Near(t, fmt.Sprintf("%s: %s, by %s", f.fact, part[:i], f.source), got[k], v, within)
		}
	}
}
