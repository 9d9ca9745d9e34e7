package material_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"unicode"

	"foredge/eval/evaltest"
	"foredge/eval/material"
	"foredge/eval/shelf"
	"foredge/lang/foretest"
)

// named are names as people write them on a sheet, in four languages, with
// thicknesses, colours and slips of the pen. The list was written before the shelf's
// own list of names, by memory and by the lists of materials that the shelf names as
// sources; the rows marked held were not looked at while that was put right, and at the
// first trial none of their banned names passed. Those marked later came after it.
type named struct{ name, verdict, of, language, part string }

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

func allNamed(t testing.TB) []named {
	t.Helper()
	var all []named
	for _, f := range table(t, "testdata/names.tsv", 5) {
		all = append(all, named{f[0], f[1], f[2], f[3], f[4]})
	}
	return all
}

// judge is what a design is told whose stock is made of such words: why it must not
// be cut, and why a workshop is to be asked.
func judge(t testing.TB, name string) (never, ask string) {
	t.Helper()
	s := evaltest.Sound(t, fmt.Sprintf("stock s { material = %q; thick = 1 }\npanel p { width = 100; height = 100 }", name))
	m := s.Design().Panels[0].Stock.Material
	return m.Never, m.Ask
}

// No banned material passes, at most one in fifty of those that may be cut is
// stopped, and what is stopped says why: of all names and of those held back.
func TestNamesOfMaterials(t *testing.T) {
	for _, part := range []string{"tuned", "held", "later"} {
		count, stopped := map[string]int{}, map[string]int{}
		for _, n := range allNamed(t) {
			if n.part != part {
				continue
			}
			never, _ := judge(t, n.name)
			count[n.verdict]++
			if never != "" {
				stopped[n.verdict]++
			}
			switch {
			case n.verdict == "banned" && never == "":
				t.Errorf("%s (%s, %s) passes: it is %s", n.name, n.language, part, n.of)
			case n.verdict == "allowed" && never != "":
				t.Logf("%s (%s, %s) is stopped: %s", n.name, n.language, part, never)
			}
		}
		if count["banned"] < 60 || count["allowed"] < 40 {
			t.Errorf("%s: only %v names", part, count)
		}
		if 50*stopped["allowed"] > count["allowed"] {
			t.Errorf("%s: %d of %d that may be cut are stopped", part, stopped["allowed"], count["allowed"])
		}
		t.Logf("%s: %v names, stopped %v", part, count, stopped)
	}
}

// What a name means is what the list says of it, in all languages.
func TestNamesMeanTheirMaterial(t *testing.T) {
	groups := map[string][]string{
		"pvc": {"pvc", "vinyl", "vinyl-bookcloth"}, "foam": {"polystyrene-foam", "polypropylene-foam"},
		"glass":        {"glass-fibre", "epoxy", "coated-carbon-fibre"},
		"polyurethane": {"polyurethane", "nylon-fabric"}, "chrome": {"chrome-tanned-leather"}, "adhesive": {"adhesive-film", "adhesive-backed"},
		"galvanised": {"galvanised-metal"}, "nitrocellulose": {"pyroxylin-bookcloth", "celluloid"}, "halogen": {"neoprene", "flame-retarded"},
		"treated": {"treated-wood"}, "unknown": {"unknown-plastic"},
	}
	for _, n := range allNamed(t) {
		if n.verdict != "banned" {
			continue
		}
		want := groups[n.of]
		if want == nil {
			want = []string{n.of}
		}
		if !slices.ContainsFunc(material.In(n.name), func(c material.Meant) bool { return slices.Contains(want, c.Material) }) {
			t.Errorf("%s is %s, and is taken for %v", n.name, n.of, material.In(n.name))
		}
	}
}

// Each name of the shelf's list is of a material that it has, and finds it by
// itself, in capitals, without its accents and among other words.
func TestNamesAreOfTheShelf(t *testing.T) {
	declared := shelf.Declared("materials", "material")
	languages := map[string]int{}
	for _, row := range table(t, "names.tsv", 3) {
		of, name := row[0], row[2]
		languages[row[1]]++
		if of != "-" && !slices.Contains(declared, of) {
			t.Errorf("%s is a name of %q, which is not on the shelf", name, of)
		}
		for _, words := range []string{name, strings.ToUpper(name), "3mm " + name + ", red"} {
			words = strings.ReplaceAll(words, "*", "grained")
			got := material.In(words)
			if found := slices.ContainsFunc(got, func(c material.Meant) bool { return c.Material == of }); found == (of == "-") {
				t.Errorf("%s is taken for %v, not %s", words, got, of)
			}
		}
	}
	for _, l := range []string{"en", "de", "fr", "es"} {
		if languages[l] < 50 {
			t.Errorf("%d names in %s", languages[l], l)
		}
	}
}

// A name of a material that workshops are asked about is no slip of a banned one's:
// poliestireno is near to polietileno, and isn't it.
func TestNamesToAskAboutAreNotStopped(t *testing.T) {
	asked := map[string]int{"polypropylene": 0, "polyester": 0, "polystyrene": 0, "foam-board": 0, "wool-felt": 0, "leather": 0}
	for _, row := range table(t, "names.tsv", 3) {
		if _, is := asked[row[0]]; !is {
			continue
		}
		asked[row[0]]++
		name := strings.ReplaceAll(row[2], "*", "grained")
		if slices.Contains([]string{"corrugated plastic", "polyethylene terephthalate", "Polyethylenterephthalat"}, name) {
			continue // what is banned is named in it
		}
		if never, ask := judge(t, name); never != "" || ask == "" {
			t.Errorf("%s is taken for %v", name, material.In(name))
		}
	}
	for of, count := range asked {
		if count < 5 {
			t.Errorf("%d names of %s", count, of)
		}
	}
	for name, want := range map[string]string{"felt, 100% wool": "wool-felt", "Polystyrol 2 mm": "polystyrene", "polietilena": "hdpe"} {
		if got := material.In(name); len(got) == 0 || got[0].Material != want {
			t.Errorf("%s is taken for %v, want %s", name, got, want)
		}
	}
}

// A word counts with its slips as far as its length leaves room for them.
func TestIn(t *testing.T) {
	for words, want := range map[string]string{
		"p.v.c.": "pvc", "P V C": "pvc", "pvc3mm": "pvc", "PVCs": "pvc", "pvd": "", "pvcx": "pvc", "PVCfoam 3mm": "pvc", "softpvc": "pvc", "ＰＶＣ": "pvc", "РVС": "pvc", "ΡVC sheet": "pvc", "𝐏𝐕𝐂": "pvc", "ⓟⓥⓒ": "pvc", "νinyl": "pvc", "3mmPVC": "pvc", "pv c": "",
		"poly\u200bvinyl chloride": "pvc", "te\u0301flon": "ptfe", "TÉFLON": "ptfe", "telfon": "ptfe", "tefln": "ptfe", "deflon": "", "tfln": "",
		"polycarbonite": "polycarbonate", "polycarbanite": "polycarbonate", "pulecarbinate": "", "fibre-glass": "glass-fibre",
		"Druckimpraegniertes Holz": "treated-wood", "faux brown leather": "imitation-leather", "faux pale brown leather": "leather",
		"abs": "abs", "absolute": "", "cabs": "", "": "", "***": "", "polyvinyl acetate": "",
		strings.Repeat("a ", 600) + "pvc": "",
	} {
		got := material.In(words)
		found := slices.ContainsFunc(got, func(c material.Meant) bool { return c.Material == want })
		if want == "" && len(got) > 0 || want != "" && !found {
			t.Errorf("%.40q is taken for %v, want %q", words, got, want)
		}
	}
}

// A slip of the pen in the longest word of a banned name, a letter left out, doubled,
// mistaken or changed with the next one, hardly ever lets it pass.
func TestSlipsOfThePen(t *testing.T) {
	every := foretest.Sample(1, 7)
	tried, passed := 0, []string{}
	for i, n := range allNamed(t) {
		from, to := longestWord([]rune(n.name))
		if n.verdict != "banned" || n.part == "later" || to-from < 6 || i%every != 0 {
			continue
		}
		for k := from + 1; k < to; k++ {
			for _, slip := range slipsAt([]rune(n.name), k, to) {
				tried++
				if never, _ := judge(t, slip); never == "" {
					passed = append(passed, slip)
				}
			}
		}
	}
	if tried < 1000 || 100*len(passed) > 3*tried {
		t.Errorf("%d of %d pass: %s", len(passed), tried, strings.Join(passed, ", "))
	}
	t.Logf("%d of %d pass", len(passed), tried)
}

// longestWord is where the longest run of letters stands.
func longestWord(name []rune) (from, to int) {
	for i := 0; i < len(name); {
		end := i
		for end < len(name) && unicode.IsLetter(name[end]) {
			end++
		}
		if end-i > to-from {
			from, to = i, end
		}
		i = end + 1
	}
	return from, to
}

// slipsAt are a name's spellings with a slip at one letter.
func slipsAt(name []rune, k, end int) []string {
	before, after := string(name[:k]), string(name[k+1:])
	all := []string{before + after, before + string(name[k]) + string(name[k]) + after, before + "x" + after}
	if k+1 < end {
		all = append(all, before+string(name[k+1])+string(name[k])+string(name[k+2:]))
	}
	return all
}
