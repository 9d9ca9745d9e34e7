package layout_test

import (
	"regexp"
	"strings"
	"testing"
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
