package layout_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"foredge/layout"
)

// Who states the colours that are named in place of those that are alike, has no two alike:
// every way in which a laser's four colours may be the usual ones of others.
func TestColoursInsteadAreNew(t *testing.T) {
	usual := []string{"#000000", "#56B4E9", "#E69F00", "#CC79A7", "#999999"}
	ops := []string{"engrave", "mark", "score", "cut"}
	board := "\npanel front { thick = 1; width = 120; height = 180\n line fold { from = spine; at = 12 }\n" +
		" region title { head = 30; height = 20; width = 60; mark frame; engrave text \"Tern\" { cap = 8 } } }\n"
	said := regexp.MustCompile(`(engrave|mark|score|cut)-colour = "(#[0-9A-F]{6})"`)
	for n := range 5 * 5 * 5 * 5 {
		of, k := map[string]string{}, n
		for _, op := range ops {
			of[op], k = usual[k%5], k/5
		}
		laser := func() string {
			all := "laser bench { kerf = 0.2"
			for _, op := range ops {
				all += "; " + op + `-colour = "` + of[op] + `"`
			}
			return all + " }"
		}
		first := laser()
		different := map[string]bool{}
		for _, c := range of {
			different[c] = true
		}
		got := lines(told(t, first+board))
		if alike := strings.Contains(got, "same-colour"); alike != (len(different) < 4) {
			t.Fatalf("%s: told %v\n%s", first, alike, got)
		}
		for _, d := range told(t, first+board) {
			if d.Code == "same-colour" {
				for _, m := range said.FindAllStringSubmatch(d.Help, -1) {
					of[m[1]] = m[2]
				}
			}
		}
		if got := lines(told(t, laser()+board)); strings.Contains(got, "same-colour") {
			t.Fatalf("%s: who follows what is told, %s, is told\n%s", first, laser(), got)
		}
	}
}

// What is drawn on the inside of a board in the colour in which that is cut is told, unless one
// drawing has both and is told of by itself; no colour of what isn't cut, or of another stock, is.
func TestColoursOfTheInside(t *testing.T) {
	const frame, title = `mark frame`, `engrave text "Tern"`
	region := func(face, marks string) string {
		if marks == "" {
			return ""
		}
		return "\nregion on-" + face + " { face = " + face + "; head = 10; height = 20; spine = 10; width = 60; " + marks + " }"
	}
	told := func(what, colour string) []string {
		return []string{what + " on the inside and what is cut on the outside are drawn in " + colour + " alike"}
	}
	for name, c := range map[string]struct {
		laser, stock, out, in string
		want                  []string
	}{
		"as usual":            {in: frame},
		"marked":              {laser: `mark-colour = "#CC79A7"`, in: frame, want: told("what is marked", "#CC79A7")},
		"in small letters":    {laser: `cut-colour = "#56b4e9"`, in: frame, want: told("what is marked", "#56B4E9")},
		"engraved":            {laser: `cut-colour = "#000000"`, in: frame + "; " + title, want: told("what is engraved", "#000000")},
		"two of them":         {laser: `cut-colour = "#000000"; mark-colour = "#000000"`, in: frame + "; " + title, want: told("what is engraved and what is marked", "#000000")},
		"engraved outside":    {laser: `mark-colour = "#000000"`, out: title, in: frame},
		"told of the outside": {laser: `cut-colour = "#000000"`, out: title, in: title},
		"nothing inside":      {laser: `mark-colour = "#CC79A7"`},
		"a knife":             {laser: `cut-colour = "#000000"`, stock: "knife = yes; size = 300 by 300", in: title},
		"quiet":               {laser: `mark-colour = "#CC79A7"; quiet = same-colour`, in: frame},
	} {
		d := mustSolve(t, "laser bench { kerf = 0.2; "+c.laser+" }\nstock oak { thick = 3; "+c.stock+" }\nstock ash { thick = 4 }\n"+
			"panel back { width = 100; height = 80; stock = ash }\n"+
			"panel front { width = 100; height = 80; stock = oak"+region("outside", c.out)+region("inside", c.in)+"\n}\n")
		outer, _ := layout.Draw(d)
		faces, _ := layout.Inside(d)
		var got []string
		for _, d := range layout.InsideColours(d, outer, faces) {
			got = append(got, d.Message)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: told %q, want %q", name, got, c.want)
		}
	}
}
