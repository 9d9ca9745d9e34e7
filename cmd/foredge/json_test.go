package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"foredge/lang/foretest"
)

// jsonKey is how our own keys are written: small letters and digits, words
// parted by hyphens (limit-99.9 is the limit at 99.9 %).
var jsonKey = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+(\.[0-9]+)?)*$`)

// oddKeys lists the keys in data that are not written so. Below "dimensions" of
// solve --json stand the names that a design gives its dimensions.
func oddKeys(v any, path string) (odd []string, seen int) {
	switch v := v.(type) {
	case map[string]any:
		for k, inner := range v {
			seen++
			if path != ".dimensions" && !jsonKey.MatchString(k) {
				odd = append(odd, path+"."+k)
			}
			more, n := oddKeys(inner, path+"."+k)
			odd, seen = append(odd, more...), seen+n
		}
	case []any:
		for _, inner := range v {
			more, n := oddKeys(inner, path)
			odd, seen = append(odd, more...), seen+n
		}
	}
	return odd, seen
}

// All data that the program prints or writes has keys of one form.
func TestJSONKeys(t *testing.T) {
	dir := t.TempDir()
	examples, err := filepath.Abs("../../examples")
	foretest.Must(t, err)
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		foretest.Must(t, os.WriteFile(path, []byte(text), 0o666))
		return path
	}
	// A mistake with a place, notes and help; a table with an order that can't be
	// made, one with something to look at, and a file that an earlier batch left.
	wrong := write("wrong.fore", "panel front { width = 100; width = 120; heigth = 200 }\n")
	write("orders.csv", "name,copies\nAda  Quill,2\nBo,many\n")
	gift := write("gift.fore", "orders \"orders.csv\" { name = text; copies = count default 1 }\nlaser bench { kerf = 0.2; bed = 600 by 400 }\n"+
		"stock birch { thick = 3; material = birch-ply }\nuse materials\npanel front { width = 100; height = 200; stock = birch\n"+
		"region title { height = 20; width = 80; engrave text order.name } }\npanel back { width = 100; height = 200; stock = birch }\n")
	foretest.Must(t, os.Mkdir(filepath.Join(dir, "made"), 0o777))
	write("made/0009-eve.txt", "order 9: left over\nfiles: 0009-eve.svg\n")

	for _, c := range []struct {
		args  []string
		least int    // how many keys are to be seen
		file  string // where the data is written, else standard output, else standard error
	}{
		{[]string{"solve", "--json", filepath.Join(examples, "harbour-log.fore")}, 100, ""},
		{[]string{"solve", "--json", wrong}, 8, ""},
		{[]string{"fit", "--json", filepath.Join(examples, "harbour-log.fore")}, 100, ""},
		{[]string{"fit", "--json", filepath.Join(examples, "coil-almanac.fore")}, 100, ""},
		{[]string{"fit", "--json", filepath.Join(examples, "tide-pad.fore")}, 100, ""},
		{[]string{"check", "--json", wrong}, 8, ""},
		{[]string{"build", "--json", wrong, "-o", dir}, 8, ""},
		{[]string{"proof", "--json", "--card", wrong, "-o", dir}, 8, ""},
		{[]string{"batch", "--json", "--check", gift}, 8, ""},
		{[]string{"batch", "--json", gift, "-o", filepath.Join(dir, "made"), "--resume"}, 8, ""},
		{[]string{"batch", gift, "-o", filepath.Join(dir, "listed")}, 8, filepath.Join(dir, "listed", "made.json")},
	} {
		var out, errs bytes.Buffer
		run(context.Background(), &terminal{stdout: &out, stderr: &errs}, c.args)
		data := out.Bytes()
		if len(data) == 0 {
			data = errs.Bytes()
		}
		if c.file != "" {
			written, err := os.ReadFile(c.file)
			foretest.Must(t, err)
			data = written
		}
		var v any
		if err := json.Unmarshal(data, &v); err != nil {
			t.Errorf("foredge %v: %v in\n%s", c.args, err, data)
			continue
		}
		odd, seen := oddKeys(v, "")
		for _, k := range odd {
			t.Errorf("foredge %v: the key %s is not in small letters with hyphens", c.args, k)
		}
		if seen < c.least {
			t.Errorf("foredge %v: only %d keys were seen in\n%s", c.args, seen, data)
		}
	}
	for key, good := range map[string]bool{"end-line": true, "u-95": true, "limit-99.9": true, "endLine": false, "end_line": false, "End": false, "end-": false} {
		if odd, _ := oddKeys(map[string]any{key: 1.0}, ""); (len(odd) == 0) != good {
			t.Error(fmt.Sprint("the key ", key, " is judged wrongly"))
		}
	}
}
