package shelf_test

import (
	"regexp"
	"strings"
	"testing"

	"foredge/eval/evaltest"
	"foredge/eval/shelf"
	"foredge/lang/diag/diagtest"
)

// What the shelf holds comes out in real designs as its sources say; the ledger
// names the source of each fact, and the rule of those that are worked out.
func TestSources(t *testing.T) {
	for _, f := range factsOf(t, "TestSources") {
		t.Run(f.id, func(t *testing.T) {
			if f.mark != "source" && f.mark != "calc" && f.mark != "conflict" {
				t.Errorf("%s is marked %s: no source can be asserted", f.fact, f.mark)
			}
			assert(t, f)
		})
	}
}

// What no source was seen for: the shelf must say so, and nothing more is
// asserted than that a design gets what the shelf says.
func TestAsTheShelfSays(t *testing.T) {
	words := map[string]string{"memory": "memory", "practice": "common practice"}
	for _, f := range factsOf(t, "TestAsTheShelfSays") {
		t.Run(f.id, func(t *testing.T) {
			about := ""
			for name := f.thing; name != ""; {
				thing, _ := onShelf(t, name)
				about += " " + strings.Join(strings.Fields(thing.About), " ")
				name = thing.Like
			}
			if word := words[f.mark]; word == "" || !strings.Contains(about, word) {
				t.Errorf("%s is marked %s, but the shelf says of %s only: %s", f.fact, f.mark, f.thing, about)
			}
			assert(t, f)
		})
	}
}

// Every thing has a comment that says where it comes from, a name of its own,
// and an ending to its sentence.
func TestEveryThingHasASource(t *testing.T) {
	named := regexp.MustCompile(`(?i)from memory|common practice|page|handbook|manual|article|catalogue|magazine|requirements|specification|lesson|blog|table|guide|list|rules|template|sheet on|slides|\bnotes\b|ISO|JIS|DIN|forums|by the same sources|source as|as cast`)
	seen := map[string]string{}
	for _, p := range shelf.All() {
		if p.About == "" || !strings.Contains(p.About, ".") {
			t.Errorf("%s says nothing of itself", p.Name)
		}
		for _, x := range p.Things {
			if !named.MatchString(strings.Join(strings.Fields(x.About), " ")) {
				t.Errorf("%s of %s names no source: %q", x.Name, p.Name, x.About)
			}
			if other := seen[x.Name]; other != "" {
				t.Errorf("both %s and %s have a %s", other, p.Name, x.Name)
			}
			seen[x.Name] = p.Name
		}
	}
}

// The comment of a material speaks of each line that it has of its own, or that of its section does.
func TestEveryLineOfAMaterialHasASource(t *testing.T) {
	words := map[string]string{
		"gives-off": "gives? off|give off|list", "burns": "burn", "kerf": "[Kk]erf", "least-web": "[Ww]eb|The rest as", "least-edge": "edge",
		"least-detail": "detail|The rest as", "least-radius": "radius", "movement": "Movement", "thick-over": "Thickness|ISO|EN",
	}
	text, _ := shelf.Text("materials")
	thing := regexp.MustCompile(`(?ms)^material (\S+)[^{\n]*\{(.*?)\}`)
	section, seen := "", 0
	for block := range strings.SplitSeq(string(text), "\n\n") {
		about := ""
		for line := range strings.Lines(block) {
			if strings.HasPrefix(line, "#") {
				about += strings.TrimPrefix(line, "#")
			}
		}
		if strings.HasPrefix(about, " ---") {
			section = about
		}
		for _, m := range thing.FindAllStringSubmatch(block, -1) {
			for line, word := range words {
				if !regexp.MustCompile(`(^|[\s;])` + line + `\s*=`).MatchString(m[2]) {
					continue
				}
				if seen++; !regexp.MustCompile(word).MatchString(about + section) {
					t.Errorf("%s says nothing of where its %s comes from: %s", m[1], line, about)
				}
			}
		}
	}
	if seen < 80 {
		t.Errorf("only %d lines of materials were looked at", seen)
	}
}

// Every thing can be used: nothing on the shelf is misspelt or can't be solved.
func TestEveryThingWorks(t *testing.T) {
	with := map[string]string{
		"joint-two-boards": "let board = 2", "joint-quarter-and-board": "let board = 2", "joint-three-boards": "let board = 2",
		"joint-four-boards": "let board = 2", "joint-quarter-of-spine": "let spine-width = 20", "joint-swing": "let board = 2",
		"strip-printers-page": "let bulk = 10; thick = 2", "strip-two-boards": "let bulk = 10; thick = 2", "strip-one-board": "let bulk = 10; thick = 2",
		"strip-by-pages": "let pages = 100; let caliper = 0.1 mm", "board-set-back": "@148x210 pages; thick = 2",
		"joint-case": "let board = 2", "strip-rounded": "let arc = 24", "strip-third-of-circle": "let bulk = 20",
	}
	for _, p := range shelf.All() {
		for _, x := range p.Things {
			t.Run(x.Name, func(t *testing.T) {
				extra := with[x.Name]
				if extra == "" && strings.HasPrefix(x.Name, "board-") {
					extra = "@148x210 pages"
				}
				switch x.Kind {
				case "material":
					s := evaltest.Sound(t, "use materials\nstock s { material = "+x.Name+"; thick = 3 }\npanel p { width = 100; height = 100 }")
					if got := s.Design().Panels[0].Stock.Material.Name; got != x.Name {
						t.Errorf("the stock is made of %q", got)
					}
				case "line":
					s := evaltest.Sound(t, "use fittings\npanel p { width = 100; height = 100\nline l like "+x.Name+" }")
					if got := s.Design().Panels[0].Lines; len(got) != 1 || got[0].Distance <= 0 {
						t.Errorf("the panel has the lines %+v", got)
					}
				default:
					s := try(t, x.Name, extra)
					if ds := s.Dimensions(); len(ds) == 0 {
						t.Error("it has no dimensions")
					}
				}
			})
		}
	}
}

// What a rule needs to know and nobody says is asked for, never assumed.
func TestRulesAsk(t *testing.T) {
	for name, want := range map[string]string{
		"gap g like joint-two-boards":                                "say how thick the board is",
		"gap g like joint-four-boards":                               "say how thick the board is",
		"gap g like joint-quarter-of-spine":                          "say how wide the spine strip is",
		"panel p like strip-printers-page { thick = 2; height = 9 }": "say how thick the pages are",
		"panel p like strip-by-pages { height = 9 }":                 "say how many pages there are",
		"gap g like joint-case":                                      "say how thick the board is",
		"panel p like strip-rounded { height = 9 }":                  "say how far it is round the back",
		"panel p like strip-third-of-circle { height = 9 }":          "say how thick the pages are at the spine",
	} {
		_, ds := evaltest.Solve("use boards\n"+name, evaltest.Files{})
		if !strings.Contains(diagtest.Text(ds), want) || !ds.HasErrors() {
			t.Errorf("%s: told\n%s\nwant %q", name, diagtest.Text(ds), want)
		}
	}
}
