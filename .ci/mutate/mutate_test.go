package main

import (
	"bytes"
	"go/format"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"foredge/lang/foretest"
)

// Each kind of change, as the line that it makes of another.
func TestChanges(t *testing.T) {
	for _, c := range []struct {
		line string // of a function of x, y float64, n int, ok bool and list []int that returns an int
		want []string
	}{
		{"ok = x < y", []string{"ok = x <= y", "ok = x >= y", "_ = func() { ok = x < y }"}},
		{"ok = n == 3", []string{"ok = n != 3", "ok = n == (3 + 1)", "_ = func() { ok = n == 3 }"}},
		{"y := x*0.5 - y", []string{"y := x/0.5 - y", "y := x*(0.5*2) - y", "y := x*0.5 + y"}},
		{"y := 0.0", []string{"y := (0.0+1)"}},
		{"n += 2", []string{"n -= 2", "n += (2 + 1)", "_ = func() { n += 2 }"}},
		{"n++", []string{"n--", "_ = func() { n++ }"}},
		{"z := -x", []string{"z := x"}},
		{"ok := !ok || n > n", []string{"ok := ok || n > n", "ok := !ok && n > n", "ok := !ok || n >= n", "ok := !ok || n <= n"}},
		{"if ok { }", []string{"if !(ok) { }"}},
		{"if n > n { }", []string{"if n >= n { }", "if n <= n { }"}},
		{"for ok { continue }", []string{"for false && (ok) { continue }", "for ok { break }"}},
		{"z := max(x, math.Floor(y))", []string{"z := min(x, math.Floor(y))", "z := max(x, math.Ceil(y))"}},
		{"list := list[n:]", []string{"list := list[(n)+1:]"}},
		{"list := list[:n]", []string{"list := list[:(n)-1]"}},
		{"ok := true", []string{"ok := false"}},
		{"print(n)", []string{"_ = func() { print(n) }"}},
		{"return n", []string{"_ = func() (int) { return n }; return *new(int)"}},
		{"return 0", []string{"return (0 + 1)"}},
		{"_ = func() (a, b string) { return s, s }", []string{
			"_ = func() { _ = func() (a, b string) { return s, s } }",
			"_ = func() (a, b string) { _ = func() (string, string) { return s, s }; return *new(string), *new(string) }"}},
		{"var list [7]int", nil},
		{`s := "text"`, nil},
	} {
		before := "package p\n\nfunc (t *T[E]) f() int {\n\t"
		source := before + c.line + "\n}\n"
		found, err := mutantsOf("p/p.go", []byte(source))
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, m := range found {
			changed := string(m.apply([]byte(source)))
			if _, err := format.Source([]byte(changed)); err != nil {
				t.Errorf("%s: %v", changed, err)
			}
			if m.Function != "T.f" || m.At != 4 || m.Line != clean(c.line) || m.Package != "p" {
				t.Errorf("%+v", m)
			}
			got = append(got, strings.TrimSuffix(strings.TrimPrefix(changed, before), "\n}\n"))
		}
		slices.Sort(got)
		slices.Sort(c.want)
		if !slices.Equal(got, c.want) {
			t.Errorf("%s\n got %q\nwant %q", c.line, got, c.want)
		}
	}
}

// A constant of a package is changed too, and its mutants are named by it.
func TestConstants(t *testing.T) {
	found, err := mutantsOf("p.go", []byte("package p\n\nconst margin, gap = 5.0, 3\n"))
	if err != nil || len(found) != 2 || found[0].Function != "margin" || found[0].Change != "5.0 -> 5.0*2" || found[1].Change != "3 -> 3+1" {
		t.Errorf("%v: %+v", err, found)
	}
}

// A mutant keeps its name when code comes above it, and one that is alike gets
// another.
func TestKeys(t *testing.T) {
	const body = "func f(x int) int {\n\tx++\n\tx++\n\treturn x\n}\n"
	first, err := mutantsOf("p.go", []byte("package p\n\n"+body))
	foretest.Must(t, err)
	later, err := mutantsOf("p.go", []byte("package p\n\nfunc g() {}\n\n"+body))
	foretest.Must(t, err)
	seen := map[key]bool{}
	for i := range first {
		if first[i].key != later[i].key || first[i].At == later[i].At {
			t.Errorf("%+v is %+v later", first[i], later[i])
		}
		if seen[first[i].key] {
			t.Errorf("two are named %+v", first[i].key)
		}
		seen[first[i].key] = true
		if k, err := keyOf(first[i].fields()); err != nil || k != first[i].key {
			t.Errorf("%+v, %v", k, err)
		}
	}
}

// The mutants that a seed draws first are drawn first when there are more.
func TestSample(t *testing.T) {
	var all []mutant
	for i := range 300 {
		all = append(all, mutant{key: key{File: "p.go", Nth: i}})
	}
	some := sample(all[:200], 1)
	more := slices.DeleteFunc(sample(all, 1), func(m mutant) bool { return m.Nth >= 200 })
	same := func(a, b mutant) bool { return a.key == b.key }
	if !slices.EqualFunc(some, more, same) {
		t.Error("the order depends on what else there is")
	}
	if other := sample(all[:200], 2); slices.EqualFunc(some, other, same) || slices.EqualFunc(some, all[:200], same) {
		t.Error("the seed changes nothing")
	}
}

// A small program of two packages: what its tests see is killed, also by those
// of the package above; what they don't see lives, unless it is judged; and a
// second run tries nothing again.
func TestRun(t *testing.T) {
	if testing.Short() {
		t.Skip("compiles some programs")
	}
	dir := t.TempDir()
	for name, text := range map[string]string{
		"go.mod": "module foredge\n\ngo 1.26\n",
		"lang/a/a.go": `package a

func Twice(x int) int { return x + x }

func Half(x int) int { return x / 2 }

func Forever(x int) int {
	for x > 0 {
		x--
	}
	return x
}

func Unseen(ok bool) bool { return !ok }
`,
		"lang/a/a_test.go": `package a

import "testing"

func Test(t *testing.T) {
	if Twice(3) != 6 || Forever(3) != 0 {
		t.Error("wrong")
	}
}
`,
		"eval/b/b.go": "package b\n\nimport \"foredge/lang/a\"\n\nfunc Half(x int) int { return a.Half(x) }\n",
		"eval/b/b_test.go": `package b

import "testing"

func Test(t *testing.T) {
	if Half(6) != 3 {
		t.Error("wrong")
	}
}
`,
		".ci/mutate/equivalent.tsv": "# none yet\n",
	} {
		foretest.Write(t, filepath.Join(dir, name), text)
	}
	t.Chdir(dir)
	o := options{n: 1000, seed: 1, workers: 2, patience: 2 * time.Second, only: "^(lang|eval)/", record: filepath.Join(dir, "results.tsv")}
	if err := run(t.Context(), o); err == nil || !strings.Contains(err.Error(), "are killed; the goal is 85 %") {
		t.Errorf("got %v", err)
	}
	first := foretest.Read(t, o.record)
	for _, want := range []string{
		"killed\tlang/a\tlang/a/a.go\tTwice\t+ -> -\t",
		"killed\teval/b\tlang/a/a.go\tHalf\t2 -> 2+1\t",
		"killed\tlang/a\tlang/a/a.go\tForever\t-- -> ++\t", // hangs
		"killed\teval/b\teval/b/b.go\tHalf\treturn zero values\t",
		"living\t\tlang/a/a.go\tUnseen\t! -> \t",
	} {
		if strings.Count(first, want) != 1 {
			t.Errorf("no %q in\n%s", want, first)
		}
	}
	// All that lives is judged, and so counts no more.
	var judged strings.Builder
	for line := range strings.Lines(first) {
		if rest, ok := strings.CutPrefix(line, "living\t\t"); ok {
			judged.WriteString(strings.TrimSuffix(rest, "\n") + "\tnobody calls it\n")
		}
	}
	foretest.Must(t, os.WriteFile(".ci/mutate/equivalent.tsv", []byte(judged.String()), 0o666))
	foretest.Must(t, run(t.Context(), o))
	if again := foretest.Read(t, o.record); again != first {
		t.Errorf("the second run added to the record:\n%s", again)
	}
	// A judgement of what is gone, and one that a test refutes.
	stale := judged.String() + "lang/a/a.go\tGone\t+ -> -\treturn x + y\t1\tit was so\n" +
		"lang/a/a.go\tTwice\t+ -> -\tfunc Twice(x int) int { return x + x }\t1\tthought so\n"
	foretest.Must(t, os.WriteFile(".ci/mutate/equivalent.tsv", []byte(stale), 0o666))
	if err := run(t.Context(), o); err == nil || err.Error() != "equivalent.tsv does not hold" {
		t.Errorf("got %v", err)
	}
}

func TestReport(t *testing.T) {
	k := func(n int) key {
		return key{File: "lang/a/a.go", Function: "F", Change: "+ -> -", Line: "x + y", Nth: n}
	}
	var tried []mutant
	found := map[key]result{}
	for n, state := range []string{killed, killed, killed, living, living, broken} {
		tried = append(tried, mutant{key: k(n), Package: "lang/a", At: 7})
		found[k(n)] = result{k(n), state, ""}
	}
	var b bytes.Buffer
	all := report(&b, tried, found, map[key]string{k(4): "so"})
	if want := (tally{killed: 3, living: 1, equivalent: 1, broken: 1}); all != want || all.share() != 0.75 {
		t.Errorf("%+v", all)
	}
	if s := b.String(); !strings.Contains(s, "lives: lang/a/a.go:7, in F: + -> -\n    x + y\nlang/a/a.go\tF\t+ -> -\tx + y\t3\t\n") || strings.Count(s, "lives:") != 1 {
		t.Errorf("%s", s)
	}
	b.Reset()
	if !tellJudged(&b, map[key]string{k(9): "gone", k(0): "killed"}, tried, found) || strings.Count(b.String(), "\n") != 2 {
		t.Errorf("%s", b.String())
	}
	if tellJudged(&b, map[key]string{k(4): "so"}, tried, found) {
		t.Error("a judgement that holds is doubted")
	}
}
