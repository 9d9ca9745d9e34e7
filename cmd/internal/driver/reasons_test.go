package driver_test

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/lang/diag"
	"foredge/lang/foretest"
)

// What an example is warned of, and what it silences, it has a reason for: a comment on
// that line or right above it names the code and says why, as in
// `quiet = thin-web   # thin-web: the window's bars are held by the glass`.
func TestExamplesGiveReasons(t *testing.T) {
	for _, path := range designs(t, "examples") {
		for _, d := range wholeBuild(t, path, driver.Options{}).Diagnostics {
			if d.Severity == diag.Warning && (d.Span.IsZero() || !reasoned(d.Span.File.Text(), d.Span.File.LineNumber(d.Span.Start), string(d.Code))) {
				t.Errorf("%s: no reason stands there for %s: %s", d.Span, d.Code, d.Message)
			}
		}
		text, err := os.ReadFile(path)
		foretest.Must(t, err)
		for line, code := range silenced(string(text)) {
			if !reasoned(string(text), line, code) {
				t.Errorf("%s:%d: no reason stands there for the silence about %s", path, line, code)
			}
		}
	}
}

var quietLine = regexp.MustCompile(`\bquiet\s*=\s*([a-z-]+(?:\s*,\s*[a-z-]+)*)`)

// silenced goes through the codes that a design silences, by the line on which it does.
func silenced(text string) func(yield func(line int, code string) bool) {
	return func(yield func(int, string) bool) {
		for i, line := range strings.Split(text, "\n") {
			stated, _, _ := strings.Cut(line, "#")
			for _, m := range quietLine.FindAllStringSubmatch(stated, -1) {
				for code := range strings.SplitSeq(m[1], ",") {
					if !yield(i+1, strings.TrimSpace(code)) {
						return
					}
				}
			}
		}
	}
}

// reasoned reports whether a comment on a line, or on the lines of comment right above
// it, names a code and says at least three words of it.
func reasoned(text string, line int, code string) bool {
	lines := strings.Split(text, "\n")[:line]
	_, said, _ := strings.Cut(lines[line-1], "#")
	for i := line - 2; i >= 0 && strings.HasPrefix(strings.TrimSpace(lines[i]), "#"); i-- {
		said = strings.TrimPrefix(strings.TrimSpace(lines[i]), "#") + " " + said
	}
	_, why, named := strings.Cut(said, code+":")
	return named && len(strings.Fields(why)) >= 3
}

func TestReasoned(t *testing.T) {
	const text = `# Of the window: thin-web: its bars are held by the glass
panel a { quiet = thin-web, small-part }
panel b { quiet = small-part }   # small-part: a key's tag, for no child
panel c { quiet = small-part }   # small-part: so
# a = quiet = thin-web
`
	type told struct {
		line   int
		code   string
		reason bool
	}
	var got []told
	for line, code := range silenced(text) {
		got = append(got, told{line, code, reasoned(text, line, code)})
	}
	want := []told{{2, "thin-web", true}, {2, "small-part", false}, {3, "small-part", true}, {4, "small-part", false}}
	if !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}
