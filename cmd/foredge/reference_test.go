package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"foredge/export"
	"foredge/lang/diag"
	"foredge/lang/diag/codes"
	"foredge/lang/foretest"
)

const referencePath = "../../lang/REFERENCE.md"

// The tables of the reference that are made from data are as they are made.
// With -update they are made anew; read them before you commit.
func TestReferenceTables(t *testing.T) {
	data, err := os.ReadFile(referencePath)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for _, table := range []struct{ marker, made string }{
		{"<!-- made from the register of codes: warnings -->\n", warningTables()},
		{"<!-- made from the encoders: formats -->\n", formatTable()},
	} {
		before, rest, ok := strings.Cut(text, table.marker)
		stands, after, closed := strings.Cut(rest, "<!-- end -->\n")
		if !ok || !closed {
			t.Fatalf("the reference has no table between %q and its end", strings.TrimSpace(table.marker))
		}
		if foretest.Update() {
			text = before + table.marker + table.made + "<!-- end -->\n" + after
			continue
		}
		for line := range strings.Lines(table.made) {
			if !strings.Contains(stands, line) {
				t.Errorf("the reference lacks this line; run this test with -update: %s", strings.TrimSpace(line))
			}
		}
		for line := range strings.Lines(stands) {
			if !strings.Contains(table.made, line) {
				t.Errorf("the reference has a line too many; run this test with -update: %s", strings.TrimSpace(line))
			}
		}
		if !t.Failed() && stands != table.made {
			t.Error("the reference has its lines in another order: run this test with -update")
		}
	}
	if foretest.Update() {
		if err := os.WriteFile(referencePath, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// warningTables lists the warnings: those that can be silenced, with what they say,
// then the names of the others and of the notes.
func warningTables() string {
	table := "\n| code | told when |\n|---|---|\n"
	var others, notes []string
	for _, e := range codes.All() {
		code := fmt.Sprintf("`%s`", e.Code)
		switch severities := e.Severities(); {
		case e.Quiet || len(severities) < 2:
		case slices.Contains(severities, diag.Error):
			code += " (or an error)"
		default:
			code += " (or a warning)"
		}
		switch {
		case slices.Contains(e.Severities(), diag.Info):
			notes = append(notes, code)
		case e.Quiet:
			table += fmt.Sprintf("| %s | %s |\n", code, e.Means)
		case slices.Contains(e.Severities(), diag.Warning):
			others = append(others, code)
		}
	}
	return table + "\nThese can't be silenced: " + strings.Join(others, ", ") +
		".\nThese are notes, of which only the caution can be silenced, in the laser: " + strings.Join(notes, ", ") + ".\n\n"
}

// formatTable lists the formats of files.
func formatTable() string {
	var b strings.Builder
	b.WriteString("\n| format | files end in | are there |\n|---|---|---|\n")
	for _, e := range export.Encoders(export.Options{}) {
		fmt.Fprintf(&b, "| `%s` | `%s` | %s |\n", e.Name(), e.Extension(), e.Purpose())
	}
	return b.String() + "\n"
}

// Each format is in the help of the commands that write files, and is written
// by its name.
func TestFormatsAreHelped(t *testing.T) {
	for _, command := range []string{"build", "watch", "batch", "proof"} {
		line := regexp.MustCompile(`(?m)^  --as .*$`).Find(foredge(t, "help", command))
		for _, e := range export.Encoders(export.Options{}) {
			if !regexp.MustCompile(`\b` + regexp.QuoteMeta(e.Name()) + `\b`).Match(line) {
				t.Errorf("foredge help %s doesn't name the format %s: %s", command, e.Name(), line)
			}
			opts, err := (&outputFlags{formats: e.Name(), effort: 1}).options()
			if err != nil || len(opts.Encoders) != 1 || opts.Encoders[0].Name() != e.Name() {
				t.Errorf("--as %s: %v", e.Name(), err)
			}
		}
	}
	for _, e := range export.CutFiles(export.Options{}) {
		if !slices.Contains(list(usualFormats()), e.Name()) || e.Purpose() != "to cut from" {
			t.Errorf("%s is cut from and is not written unless asked for, or is not said to be cut from", e.Name())
		}
	}
}

// Each package of an encoder is in the list of encoders.
func TestEncodersAreListed(t *testing.T) {
	var listed []string
	for _, p := range listPackages(t) {
		if p.name() == "export" {
			listed = p.Imports
		}
	}
	for _, p := range listPackages(t) {
		if name, ok := strings.CutPrefix(p.name(), "export/"); ok && !strings.HasPrefix(name, "internal/") && name != "exporttest" &&
			!slices.Contains(listed, p.ImportPath) {
			t.Errorf("%s is not in the list of encoders in export/export.go", p.name())
		}
	}
}

// Help on each code says what its entry says, and shows its example's message.
func TestHelpOnCodes(t *testing.T) {
	list := string(foredge(t, "help", "codes"))
	for _, e := range codes.All() {
		if !regexp.MustCompile(`(?m)^` + string(e.Code) + ` `).MatchString(list) {
			t.Errorf("foredge help codes doesn't list %s", e.Code)
		}
		var b bytes.Buffer
		if err := helpOn(context.Background(), &b, string(e.Code)); err != nil {
			t.Fatal(err)
		}
		words := strings.Join(strings.Fields(b.String()), " ")
		for _, want := range []string{e.Means, e.Do, e.From} {
			if !strings.Contains(words, want) {
				t.Errorf("foredge help %s doesn't say: %s", e.Code, want)
			}
		}
		if told := strings.Contains(words, "["+string(e.Code)+"]"); told == (e.Example == "") {
			t.Errorf("foredge help %s shows no message, or one without an example", e.Code)
		}
		if e.Quiet != strings.Contains(words, "`quiet = "+string(e.Code)+"`") {
			t.Errorf("foredge help %s doesn't say whether it can be silenced", e.Code)
		}
	}
}

// The table of what foredge fit --json says names each field of each kind of
// object, and none that is not there.
func TestReferenceNamesFitData(t *testing.T) {
	_, table, ok := strings.Cut(string(readReference(t)), "| in | fields |\n")
	if !ok {
		t.Fatal("the reference has no table of the data of foredge fit")
	}
	words := func(s string) (all []string) {
		for _, m := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(s, -1) {
			all = append(all, m[1])
		}
		return all
	}
	named := map[string][]string{}
	inner := regexp.MustCompile("`(\\w+)` (\\(`[^)]*\\))") // `pattern` (`name`, ...)
	for line := range strings.Lines(table) {
		cells := strings.Split(line, "|")
		if len(cells) < 3 {
			break
		}
		for _, m := range inner.FindAllStringSubmatch(cells[2], -1) {
			named[m[1]] = words(m[2])
		}
		for _, list := range words(cells[1]) {
			named[strings.TrimSuffix(list, "[]")] = words(inner.ReplaceAllString(cells[2], "`$1`"))
		}
	}
	said := map[string]map[string]bool{}
	for _, design := range []string{"harbour-log", "tide-pad", "coil-almanac"} {
		var data any
		foretest.Must(t, json.Unmarshal(foredge(t, "fit", "--json", "../../examples/"+design+".fore"), &data))
		keysOf(data, "", said)
	}
	for list, names := range named {
		if len(names) == 0 { // said in words
			continue
		}
		for _, name := range names {
			if !said[list][name] {
				t.Errorf("foredge fit --json says no %s in %s", name, list)
			}
		}
		for name := range said[list] {
			if !slices.Contains(names, name) {
				t.Errorf("the reference doesn't name %s in %s of foredge fit --json", name, list)
			}
		}
	}
}

// keysOf collects the keys of objects in data by the key that each stands under.
func keysOf(data any, under string, into map[string]map[string]bool) {
	switch data := data.(type) {
	case []any:
		for _, e := range data {
			keysOf(e, under, into)
		}
	case map[string]any:
		for key, e := range data {
			if into[under] == nil {
				into[under] = map[string]bool{}
			}
			into[under][key] = true
			keysOf(e, key, into)
		}
	}
}
