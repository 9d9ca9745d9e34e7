package resolve

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"foredge/lang/parse"
	"foredge/lang/source"
)

// resolveQuickly resolves a text that could be made to cost much.
func resolveQuickly(t *testing.T, text string) (*Info, []string) {
	t.Helper()
	tree, ds := parse.File(source.New("a.fore", []byte(text)))
	if ds.HasErrors() {
		t.Fatalf("the test's own text can't be read: %v", ds[0].Message)
	}
	start := time.Now()
	info, ds := Resolve(tree, memory{})
	if took := time.Since(start); took > 10*time.Second {
		t.Errorf("resolving takes %v", took)
	}
	var codes []string
	for _, d := range ds {
		codes = append(codes, string(d.Code))
	}
	return info, codes
}

// What like brings along is bounded, however often and by however many ways it
// is brought along.
func TestLikeBounded(t *testing.T) {
	const many = 5_000
	var limits, lets, chain, rows, covers strings.Builder
	for i := range many {
		fmt.Fprintf(&limits, "  width >= %d\n", i)
		fmt.Fprintf(&lets, "let n%d = 3\n", i)
		fmt.Fprintf(&rows, "row r%d on spine { }\n", i)
		fmt.Fprintf(&covers, "panel q%d covers n\n", i)
		fmt.Fprintf(&chain, "panel p%d like p%d\n", i+1, i)
	}
	for name, c := range map[string]struct {
		text string
		want string
	}{
		"a long chain":                {"panel p0 { width = 100 }\n" + chain.String(), ""},
		"as much as may":              {"panel p0 {\n" + limits.String() + "}\n" + manyLike(5), ""},
		"more than may":               {"panel p0 {\n" + limits.String() + "}\n" + manyLike(6), "like-large"},
		"as many named values as may": {"panel p0 {\n" + lets.String() + "}\n" + manyLike(10), ""},
		"more named values than may":  {"panel p0 {\n" + lets.String() + "}\n" + manyLike(11), "like-large"},
		"as many lists as may":        {"panel p0 {\n" + strings.Repeat("width = 3, 4, 5, 6\n", many) + "}\n" + manyLike(2), ""},
		"more lists than may":         {"panel p0 {\n" + strings.Repeat("width = 3, 4, 5, 6\n", many) + "}\n" + manyLike(3), "like-large"},
		"much of much":                {"panel p0 {\n" + limits.String() + "}\n" + chain.String(), "like-large"},
		"a list often":                {"pattern p { gaps = 9" + strings.Repeat(", 9", many) + " }\npanel p0 { row r on spine like p }\n" + chain.String(), "like-large"},
		"parts often": {"panel p0 { row r on spine {\n" + strings.Repeat("gaps = 9, 9\n", 4*many) + "} }\npanel p like p0 { row r {\n" +
			strings.ReplaceAll(limits.String(), "width >=", "gap 1 = ") + "} }", "like-large"},
		"a long line": {"panel p0 { 1" + strings.Repeat(" = width", 8*many) + " }\npanel p like p0 { width = 9 }\npanel q like p\n", ""},
		"at the top": {"panel p0 {\n" + strings.Repeat("width = 100\n", 10) + "}\npanel p like p0\n" +
			strings.Repeat("p.width = p.width\n", many), ""},

		"rows covered often": {"notebook n {\n" + rows.String() + "}\n" + covers.String(), "like-large"},
	} {
		t.Run(name, func(t *testing.T) {
			_, codes := resolveQuickly(t, c.text)
			if got := strings.Join(codes, " "); got != c.want {
				t.Errorf("it is told %q, want %q", got, c.want)
			}
		})
	}
}

// manyLike is so many panels like p0.
func manyLike(n int) string {
	var out strings.Builder
	for i := range n {
		fmt.Fprintf(&out, "panel q%d like p0\n", i)
	}
	return out.String()
}

// A line that comes along by two ways comes along once, so that ways which part
// and meet again don't double it at every step.
func TestLikeDiamonds(t *testing.T) {
	text := "panel p0 { region r { head >= 1; check head >= 2 else \"low\"; prefer head + tail = 9; engrave text \"Tern\" } }\n"
	const deep = 40
	for i := range deep {
		text += fmt.Sprintf("panel p%d like p%d { region r like p%d.r }\n", i+1, i, i)
	}
	info, codes := resolveQuickly(t, text)
	if len(codes) > 0 {
		t.Fatal(codes)
	}
	last := find(info, fmt.Sprintf("p%d.r", deep))
	if len(last.Lines) != 3 || len(last.Marks) != 1 {
		t.Errorf("it has %d lines and %d marks", len(last.Lines), len(last.Marks))
	}
}
