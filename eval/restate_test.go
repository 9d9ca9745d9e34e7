package eval_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"foredge/eval/evaltest"
	"foredge/eval/model"
	"foredge/eval/solution"
	"foredge/lang/ast"
	"foredge/lang/foretest"
	"foredge/lang/parse"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// soundDesigns are the texts of testdata that stand alone and have no errors, with
// those of the shelf's parts that they use.
func soundDesigns(t *testing.T) (texts, names []string) {
	t.Helper()
	for _, folder := range []string{"corpus", "rules"} {
		paths, err := filepath.Glob(filepath.Join("..", "testdata", folder, "*.fore"))
		if err != nil || len(paths) == 0 {
			t.Fatal(folder, err)
		}
		for _, path := range paths {
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if slices.ContainsFunc(changes, func(word string) bool { return strings.Contains(string(data), word) }) {
				continue
			}
			if _, diags := evaltest.Solve(string(data), evaltest.Shelved{}); !diags.HasErrors() {
				texts, names = append(texts, string(data)), append(names, path)
			}
		}
	}
	return texts, names
}

// changes are words of designs in which a line more says more than a value, by the
// rules of the language.
var changes = []string{
	"= most",            // an end that is stated is no longer centred
	"abs(",              // what a wish chose among has two solutions without it
	"tight-hole",        // a stated ease of a panel is that of its rows
	"hole.along >= 4.4", // a size of holes that is stated is opened by no ease
	"prefer hole.along", // the same of one that was wished for
	"lattice",           // of link, end and rows two at most may be stated
	"like log",          // a line in a notebook's braces comes along with it
	"like n {",
	"accuracy = 0.05; thick >= 2", // of a stock with an accuracy the thickness is stated in its braces
	"binding clip",                // the size of a binding that is stated counts in the notebooks whose rows name it
	"m when made = 1",             // what such a panel says of a binding counts once it is stated outside
}

// decimal is a number with a decimal point, which may be changed a little.
var decimal = regexp.MustCompile(`\b\d+\.\d+\b`)

// ofStitches are the values of a line of stitches that are shown and can't be stated.
var ofStitches = regexp.MustCompile(`\.stitches(\.\d+)?$|\.(run|pitch)\.\d+$`)

// mutated changes some of a design's numbers a little.
func mutated(r *rand.Rand, text string) string {
	return decimal.ReplaceAllStringFunc(text, func(s string) string {
		if r.IntN(3) > 0 {
			return s
		}
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			return s
		}
		return strconv.FormatFloat(v*(1+0.04*(r.Float64()-0.5)), 'f', 3, 64)
	})
}

// value is that of a dimension to the digits in which data has it.
func value(d solution.Dimension) string {
	v := strconv.FormatFloat(math.Round(d.Value*1e9)/1e9+0, 'f', -1, 64)
	switch d.Kind {
	case unit.Length:
		return v + " mm"
	case unit.Angle:
		return v + " deg"
	}
	return v
}

// restated states a dimension in a design once more: at its end or, of a notebook
// or a stock, in its braces. Without such braces it does nothing.
func restated(text string, d solution.Dimension, measured bool) string {
	if !measured {
		return text + d.Name + " = " + value(d) + "\n"
	}
	thing, rest, _ := strings.Cut(d.Name, ".")
	tree, _ := parse.File(source.New("test.fore", []byte(text)))
	for _, s := range tree.Stmts {
		if decl, ok := s.(*ast.Decl); ok && decl.Name.Name == thing && decl.Body != nil {
			end := decl.Body.At.End - 1
			return text[:end] + "\n" + rest + " = " + value(d) + " exact\n" + text[end:]
		}
	}
	return text
}

// TestRestated: what a solution says of a dimension, stated in the design, changes
// nothing.
func TestRestated(t *testing.T) {
	texts, names := soundDesigns(t)
	r := rand.New(rand.NewPCG(9, 3))
	tried := 0
	for range foretest.Sample(5000, 500) {
		k := r.IntN(len(texts))
		text := mutated(r, texts[k])
		was, diags := evaltest.Solve(text, evaltest.Shelved{})
		if diags.HasErrors() {
			continue
		}
		all := was.Dimensions()
		measured := map[string]bool{}
		for _, v := range was.System.Vars {
			measured[v.Name] = v.Bench != 0
		}
		again := text + "\n"
		for range 1 + r.IntN(3) {
			d := all[r.IntN(len(all))]
			if !math.IsNaN(d.Value) && strings.Contains(d.Name, ".") && !ofStitches.MatchString(d.Name) { // no named value
				again = restated(again, d, measured[d.Name])
			}
		}
		now, diags := evaltest.Solve(again, evaltest.Shelved{})
		tried++
		if diags.HasErrors() {
			t.Errorf("%s, restated:\n%s%s", names[k], again, show(diags))
			continue
		}
		for _, d := range all {
			if v := evaltest.Dimension(t, now, d.Name).Value; !(math.Abs(v-d.Value) <= 1e-6) && !(math.IsNaN(v) && math.IsNaN(d.Value)) {
				t.Errorf("%s, restated:\n%s%s was %v and is %v", names[k], again, d.Name, d.Value, v)
				break
			}
		}
	}
	t.Logf("%d designs restated", tried)
}

// TestCopiesMoveNothing: what is like a panel or mirrors it, and what has nothing to
// do with it, moves nothing; and the copy comes out as what it is a copy of, where no
// line outside of that speaks of it.
func TestCopiesMoveNothing(t *testing.T) {
	texts, names := soundDesigns(t)
	r := rand.New(rand.NewPCG(4, 8))
	copies := 0
	for range foretest.Sample(3000, 300) {
		k := r.IntN(len(texts))
		text := mutated(r, texts[k])
		was, diags := evaltest.Solve(text, evaltest.Shelved{})
		var panels []string
		for _, n := range was.Things {
			if p, ok := n.(*model.Panel); ok && p.Built && p.Tabs == nil {
				panels = append(panels, p.Name)
			}
		}
		if diags.HasErrors() || len(panels) == 0 {
			continue
		}
		of := panels[r.IntN(len(panels))]
		if strings.Contains(text, "binding ") && regexp.MustCompile(`\bpanel `+of+`\b[^{\n]* when `).MatchString(text) {
			continue // what it says of a binding counts in no notebook, what a copy without the condition says does
		}
		more := fmt.Sprintf("\nnotebook unlike-any { width = 61 exact; height = 73 exact }\npanel copy-of-it %s %s\n", []string{"like", "mirrors"}[r.IntN(2)], of)
		now, diags := evaltest.Solve(text+more, evaltest.Shelved{})
		if diags.HasErrors() {
			if spokenOf(text, of) {
				continue // what a line outside says of it doesn't come along
			}
			t.Errorf("%s with a copy:\n%s%s\n%s", names[k], text, more, show(diags))
			continue
		}
		copies++
		for _, d := range was.Dimensions() {
			same := func(name string) {
				if v := evaltest.Dimension(t, now, name).Value; !(math.Abs(v-d.Value) <= 1e-6) && !(math.IsNaN(v) && math.IsNaN(d.Value)) {
					t.Errorf("%s with a copy:\n%s%s\n%s is %v, and %s was %v", names[k], text, more, name, v, d.Name, d.Value)
				}
			}
			same(d.Name)
			if rest, is := strings.CutPrefix(d.Name, of+"."); is && !spokenOf(text, of) {
				same("copy-of-it." + rest)
			}
		}
		if t.Failed() {
			return
		}
	}
	t.Logf("%d designs with copies", copies)
}

// spokenOf reports whether a design may speak of a thing outside its braces.
func spokenOf(text, thing string) bool { return strings.Contains(text, thing+".") }

// sized is a dimension that is stated as a number.
var sized = regexp.MustCompile(`[\n{;][ \t]*(width|height|head|tail|spine|foredge|first|last|pitch|inset|count|ease|over-head|over-foredge|over-tail|over-spine) = (\d+(?:\.\d+)?)\b( mm)?[ \t]*([;}\n])`)

// replaced are words of designs in which a line with = says more than two limits: it was
// read, another one takes its place, or it is no dimension.
var replaced = []string{"notebook", "like", "use", "tabs", "inlay"}

// TestBetweenTwoLimits: a dimension for which two limits leave one value is as good as one
// that is stated, and what hangs on it comes out alike.
func TestBetweenTwoLimits(t *testing.T) {
	texts, names := soundDesigns(t)
	r := rand.New(rand.NewPCG(10, 4))
	tried := 0
	for range foretest.Sample(3000, 300) {
		k := r.IntN(len(texts))
		all := sized.FindAllStringSubmatchIndex(texts[k], -1)
		if len(all) == 0 || slices.ContainsFunc(replaced, func(word string) bool { return strings.Contains(texts[k], word) }) {
			continue
		}
		at := all[r.IntN(len(all))]
		dimension, number := texts[k][at[2]:at[3]], texts[k][at[4]:at[5]]
		text := texts[k][:at[2]] + dimension + " >= " + number + "; " + dimension + " <= " + number + texts[k][at[5]:]
		was, diags := evaltest.Solve(texts[k], evaltest.Shelved{})
		if diags.HasErrors() {
			t.Fatal(show(diags))
		}
		now, diags := evaltest.Solve(text, evaltest.Shelved{})
		tried++
		if diags.HasErrors() {
			t.Errorf("%s, between limits:\n%s%s", names[k], text, show(diags))
			continue
		}
		for _, d := range was.Dimensions() {
			if v := evaltest.Dimension(t, now, d.Name).Value; !(math.Abs(v-d.Value) <= 1e-6) && !(math.IsNaN(v) && math.IsNaN(d.Value)) {
				t.Errorf("%s, between limits: %s is %v, not %v:\n%s", names[k], d.Name, v, d.Value, text)
				break
			}
		}
	}
	t.Logf("%d tried", tried)
}
