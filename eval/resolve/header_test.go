package resolve

import (
	"strings"
	"testing"

	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/lang/parse"
	"foredge/lang/source"
	"foredge/lang/version"
)

// Where the line may stand and what it may say.
func TestVersionLine(t *testing.T) {
	for name, text := range map[string]string{
		"alone":          "foredge 1\n",
		"below comments": "# a wrap\n\n# of birch\nforedge 1 # the language\npanel a { }\n",
		"before units":   "foredge 1\nunits in\npanel a { }",
		"one line":       "foredge 1; units in; panel a { }",
		"none":           "panel a { }",
		"after units":    "units mm\nforedge 1 # error: foredge 1 must be the first line of a file",
		"after a thing":  "panel a { }\nforedge 1 # error: foredge 1 must be the first line of a file",
		"twice":          "foredge 1\nforedge 1 # error: this file has already stated its version",
		"units third":    "foredge 1\nlet a = 1\nunits mm # error: units must be the first line",
		"too new":        "foredge 2 # error: this program doesn't read version 2 of the language: it reads version 1",
		"far too new":    "foredge 99999999999999999999 # error: is no version of the language: this program reads version 1",
		"none such":      "foredge 0 # error: 0 is no version of the language: this program reads version 1",
		"fraction":       "foredge 1.0 # error: 1.0 is no version of the language",
		"word":           "foredge newest # error: newest is no version of the language",
		"wrong and late": "panel a { }\nforedge 2 # error: foredge 2 must be the first line | error: doesn't read version 2",
	} {
		t.Run(name, func(t *testing.T) {
			text = strings.ReplaceAll(text, "", "")
			text = strings.ReplaceAll(text, "", "")
			_, ds, src := resolveText(t, "a.fore", text)
			ds.Sort()
			diagtest.Check(t, src, ds)
			for _, d := range ds {
				if d.Help == "" {
					t.Errorf("%s says nothing of what to do", d.Message)
				}
			}
		})
	}
}

// Each file is read as its own line says, and one without as the newest.
func TestVersionOfEachFile(t *testing.T) {
	info, ds := resolveAs(t, version.Table{{Number: 1}, {Number: 2}, {Number: 3}},
		"a.fore", "foredge 2\nuse \"b.fore\"\nuse \"c.fore\"\nuse materials\n", "b.fore", "foredge 1\n", "c.fore", "let a = 1\n")
	if len(ds) > 0 {
		t.Fatal(ds[0].Message)
	}
	got := map[string]int{}
	for _, f := range info.All {
		got[f.Source.Name()] = f.Version
	}
	for name, want := range map[string]int{"a.fore": 2, "b.fore": 1, "c.fore": 3, "shelf/materials": 1} {
		if got[name] != want {
			t.Errorf("%s is read as version %d, want %d", name, got[name], want)
		}
	}
}

// madeUp is a table such as a program of later years may have.
func madeUp() version.Table {
	return version.Table{
		{Number: 1},
		{Number: 2, Changes: []version.Change{
			{Words: []string{"ease", "room"}, Says: "ease is stated for each side"},
			{Words: []string{"mitre"}, Says: "mitre is an angle"},
		}},
		{Number: 3, Changes: []version.Change{{Says: "a row without a line about it stands at the head"}}},
	}
}

// A file of an earlier version is told what the later ones read otherwise, at
// the first place that it concerns; a file that says none, or the newest, is not.
func TestLaterVersions(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want []string // where and what is told
	}{
		"concerned": {"foredge 1\npanel a {\n  over-head = 2; ease = 0.3\n  ease >= 0.2\n}\n", []string{
			"a.fore:3:18 from version 2 on ease is stated for each side",
			"a.fore:1:1 from version 3 on a row without a line about it stands at the head"}},
		"by the first word": {"foredge 1\nlet room = 1\npanel a { ease = room }\n", []string{
			"a.fore:2:5 from version 2 on ease is stated for each side",
			"a.fore:1:1 from version 3 on a row without a line about it stands at the head"}},
		"by the last only": {"foredge 2\npanel a { ease = 0.3 }\n", []string{
			"a.fore:1:1 from version 3 on a row without a line about it stands at the head"}},
		"newest": {"foredge 3\npanel a { ease = 0.3 }\n", nil},
		"none":   {"panel a { ease = 0.3 }\n", nil},
	} {
		t.Run(name, func(t *testing.T) {
			_, ds := resolveAs(t, madeUp(), "a.fore", c.text)
			var got []string
			for _, d := range ds {
				if d.Code != "later-version" || d.Severity != diag.Info || d.Help != "bring these lines over, then write foredge 3" {
					t.Errorf("%v: %s [%s] %s", d.Severity, d.Message, d.Code, d.Help)
				}
				for _, n := range d.Notes {
					got = append(got, n.Span.String()+" "+n.Message)
				}
			}
			if strings.Join(got, "\n") != strings.Join(c.want, "\n") {
				t.Errorf("told:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(c.want, "\n"))
			}
		})
	}
	// Each file is told by its own line; the shelf's are ours to bring over.
	_, ds := resolveAs(t, madeUp(), "a.fore", "foredge 3\nuse materials\nuse \"b.fore\"\n", "b.fore", "foredge 2\n")
	if len(ds) != 1 || ds[0].Span.String() != "b.fore:1:1" {
		t.Errorf("of several files are told: %s", diagtest.Text(ds))
	}
	// What concerns no file that is there is not told at all.
	_, ds = resolveAs(t, madeUp()[:2], "a.fore", "foredge 1\npanel a { width = 3 }\n")
	if len(ds) > 0 {
		t.Errorf("told: %s", ds[0].Message)
	}
}

// resolveAs resolves the first of several files with a table of versions.
func resolveAs(t *testing.T, versions version.Table, files ...string) (*Info, diag.List) {
	t.Helper()
	m := memory{}
	for i := 0; i < len(files); i += 2 {
		m[files[i]] = source.New(files[i], []byte(files[i+1]))
	}
	tree, ds := parse.File(m[files[0]])
	if ds.HasErrors() {
		t.Fatalf("the test's own text can't be read: %v", ds[0].Message)
	}
	return resolve(tree, m, versions)
}
