package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"foredge/cmd/internal/driver"
	"foredge/lang/foretest"
)

// jsonKey is how our own keys are written: small letters and digits, words
// parted by hyphens (limit-99.9 is the limit at 99.9 %).
var jsonKey = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+(\.[0-9]+)?)*$`)

// A judge looks at data that the program has printed or written: at its schema,
// its keys, its numbers and its places.
type judge struct {
	wrong  []string
	names  map[string]bool // of our own keys
	keys   int
	places int
}

// whole looks at a whole piece of data.
func (j *judge) whole(v any) {
	top, ok := v.(map[string]any)
	if !ok || top["schema"] != json.Number("1") {
		j.say("", "it doesn't begin with the schema")
	}
	j.look(v, "")
}

func (j *judge) say(path, format string, args ...any) {
	j.wrong = append(j.wrong, strings.TrimPrefix(path+": ", ": ")+fmt.Sprintf(format, args...))
}

// look judges a value that stands at a path. Below "dimensions" of solve --json
// stand the names that a design gives its dimensions.
func (j *judge) look(v any, path string) {
	switch v := v.(type) {
	case map[string]any:
		if strings.HasSuffix(path, ".at") {
			j.place(v, path)
		} else if v["line"] != nil || v["column"] != nil || v["end-line"] != nil {
			j.say(path, "a place that isn't called at")
		}
		for k, inner := range v {
			j.keys++
			switch {
			case path == ".dimensions":
			case !jsonKey.MatchString(k):
				j.say(path, "the key %s is not in small letters with hyphens", k)
			case j.names != nil:
				j.names[k] = true
			}
			if _, object := inner.(map[string]any); k == "at" && inner != nil && !object {
				j.say(path, "a place of another form: %v", inner)
			}
			j.look(inner, path+"."+k)
		}
	case []any:
		for _, inner := range v {
			j.look(inner, path)
		}
	case string:
		if placeText.MatchString(v) && !strings.HasSuffix(path, ".message") && !strings.HasSuffix(path, ".help") {
			j.say(path, "a place that is written as text: %s", v)
		}
	case json.Number:
		j.number(v, path)
	}
}

// placeText is how a place is told to a person.
var placeText = regexp.MustCompile(`^\S+:[0-9]+:[0-9]+$`)

// placeKeys are those of a place, in alphabetical order.
const placeKeys = "column end-column end-line file line"

func (j *judge) place(v map[string]any, path string) {
	j.places++
	if keys := strings.Join(slices.Sorted(maps.Keys(v)), " "); keys != placeKeys {
		j.say(path, "a place has %s, want %s", keys, placeKeys)
	}
	if name, _ := v["file"].(string); name == "" {
		j.say(path, "a place without a file")
	}
	for _, k := range []string{"line", "column", "end-line", "end-column"} {
		if n, ok := v[k].(json.Number); !ok || strings.ContainsAny(string(n), ".-") || n == "0" {
			j.say(path, "%s of a place is %v", k, v[k])
		}
	}
}

// number holds that a number has no more than nine decimals and is not -0.
func (j *judge) number(n json.Number, path string) {
	_, decimals, _ := strings.Cut(string(n), ".")
	if len(decimals) > 9 || n == "-0" || strings.Contains(string(n), "e-") || strings.HasSuffix(decimals, "0") {
		j.say(path, "the number %s is not rounded", n)
	}
}

// All data that the program prints or writes begins with its schema and has keys,
// numbers and places of one form; the reference names each key.
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
	gift := write("gift.fore", "orders \"orders.csv\" { name = text; copies = count default 1 }\nlaser bench { kerf = 0.2; bed = 600 by 400\n"+
		"cut-speed = 20; engrave-speed = 300; engrave-distance = 0.1; travel-speed = 400; acceleration = 2000; rate = 0.5 }\n"+
		"stock birch { thick = 3; size = 600 by 300; price = 8; material = birch-ply }\nuse materials\npanel front { width = 100; height = 200; stock = birch\n"+
		"region title { height = 20; width = 80; engrave text order.name } }\npanel back { width = 100; height = 200; stock = birch }\n")
	market := write("market.fore", "job day { make \"gift.fore\" { copies = 0 }; make \"gone.fore\" }\n")
	write("seat.fore", "laser bench { kerf = 0.2; bed = 600 by 400 }\nstock birch { thick = 3 }\n"+
		"panel seat { width = 100; height = 80; stock = birch; region in { face = inside; head = 10; height = 20; width = 60; mark text \"in\" } }\n")
	stall := write("stall.fore", "stock birch { size = 600 by 300; quantity = 9 }\njob stall { make \"seat.fore\" { copies = 8 }; make \"orders.fore\" }\n")
	write("good.csv", "name,copies\nAda,2\n")
	write("orders.fore", strings.Replace(foretest.Read(t, gift), "orders.csv", "good.csv", 1))
	foretest.Must(t, os.Mkdir(filepath.Join(dir, "made"), 0o777))
	write("made/0009-eve.txt", "order 9: left over\nfiles: 0009-eve.svg\n")

	log := filepath.Join(examples, "harbour-log.fore")
	write("shop.fore", foretest.Read(t, filepath.Join(examples, "shop.fore")))
	later := write("harbour-log.fore", strings.Replace(foretest.Read(t, log), "inset = 4.10", "inset = 4.30", 1))

	tried, names := map[string]bool{}, map[string]bool{}
	for _, c := range []struct {
		args  []string
		least int    // how many keys are to be seen
		file  string // where the data is written, else standard output and standard error
	}{
		{[]string{"solve", "--json", filepath.Join(examples, "harbour-log.fore")}, 100, ""},
		{[]string{"solve", "--json", wrong}, 8, ""},
		{[]string{"fit", "--json", filepath.Join(examples, "harbour-log.fore")}, 100, ""},
		{[]string{"fit", "--json", filepath.Join(examples, "coil-almanac.fore")}, 100, ""},
		{[]string{"fit", "--json", filepath.Join(examples, "tide-pad.fore")}, 100, ""},
		{[]string{"check", "--json", wrong}, 8, ""},
		{[]string{"time", "--json", gift}, 15, ""},
		{[]string{"time", "--json", wrong}, 8, ""},
		{[]string{"diff", "--json", log, later}, 30, ""},
		{[]string{"build", "--json", wrong, "-o", dir}, 8, ""},
		{[]string{"proof", "--json", "--card", wrong, "-o", dir}, 8, ""},
		{[]string{"watch", "--json", wrong}, 8, ""},
		{[]string{"job", "--json", market, "-o", dir}, 8, ""},
		{[]string{"job", "--json", stall, "-o", filepath.Join(dir, "stall")}, 80, ""},
		{[]string{"batch", "--json", "--check", gift}, 8, ""},
		{[]string{"batch", "--json", gift, "-o", filepath.Join(dir, "made"), "--resume"}, 8, ""},
		{[]string{"batch", gift, "-o", filepath.Join(dir, "listed")}, 8, filepath.Join(dir, "listed", "made.json")},
	} {
		tried[c.args[0]] = true
		var out, errs bytes.Buffer
		to := &terminal{stdout: &out, stderr: &errs}
		if c.args[0] == "watch" { // as it would at the first look
			newBench(to, c.args[2:], driver.Options{}, true, time.Now).build(context.Background(), nil)
			out.Reset()
		} else {
			run(context.Background(), to, c.args)
		}
		all := []io.Reader{&out, &errs}
		if c.file != "" {
			written, err := os.ReadFile(c.file)
			foretest.Must(t, err)
			all = []io.Reader{bytes.NewReader(written)}
		}
		j := judge{names: names}
		for _, from := range all {
			dec := json.NewDecoder(from)
			dec.UseNumber()
			for dec.More() {
				var v any
				if err := dec.Decode(&v); err != nil {
					t.Fatalf("foredge %v: %v", c.args, err)
				}
				j.whole(v)
			}
		}
		slices.Sort(j.wrong)
		for _, w := range slices.Compact(j.wrong) {
			t.Errorf("foredge %v: %s", c.args, w)
		}
		if j.keys < c.least || j.places == 0 {
			t.Errorf("foredge %v: only %d keys and %d places were seen", c.args, j.keys, j.places)
		}
	}
	reference, err := os.ReadFile("../../lang/REFERENCE.md")
	foretest.Must(t, err)
	for k := range names {
		if !strings.Contains(string(reference), "`"+k+"`") {
			t.Errorf("the reference doesn't name the key %s", k)
		}
	}
	for _, c := range commands() {
		flags := flag.NewFlagSet(c.name, flag.ContinueOnError)
		c.setup(flags)
		if flags.Lookup("json") != nil && !tried[c.name] {
			t.Errorf("foredge %s --json is not tried", c.name)
		}
	}
}

// The judge of data finds what is wrong with it.
func TestJSONJudge(t *testing.T) {
	const place = `{"file": "a", "line": 1, "column": 2, "end-line": 1, "end-column": 3}`
	for text, good := range map[string]bool{
		`{"schema": 1, "end-line-of": 1, "u-95": 0.25, "limit-99.9": 3}`:      true,
		`{"schema": 1, "at": ` + place + `, "none": null, "text": "a: b"}`:    true,
		`{"schema": 1, "message": "a.fore:1:2"}`:                              true,
		`{"schema": 1, "endLine": 1}`:                                         false,
		`{"schema": 1, "end_line": 1}`:                                        false,
		`{"schema": 1, "in": [{"End": 1}]}`:                                   false,
		`{"schema": 1, "end-": 1}`:                                            false,
		`{"schema": 2}`:                                                       false,
		`{"made": []}`:                                                        false,
		`[]`:                                                                  false,
		`{"schema": 1, "x": 0.1234567891}`:                                    false,
		`{"schema": 1, "x": -0}`:                                              false,
		`{"schema": 1, "x": 1e-7}`:                                            false,
		`{"schema": 1, "x": 1.50}`:                                            false,
		`{"schema": 1, "x": {"at": "a.fore:1:2"}}`:                            false,
		`{"schema": 1, "place": "a.fore:1:2"}`:                                false,
		`{"schema": 1, "why": [{"line": 3}]}`:                                 false,
		`{"schema": 1, "at": {"file": "a", "line": 1, "column": 2}}`:          false,
		`{"schema": 1, "at": ` + strings.Replace(place, "2", "0", 1) + `}`:    false,
		`{"schema": 1, "at": ` + strings.Replace(place, `"a"`, `""`, 1) + `}`: false,
	} {
		var v any
		dec := json.NewDecoder(strings.NewReader(text))
		dec.UseNumber()
		foretest.Must(t, dec.Decode(&v))
		var j judge
		if j.whole(v); (len(j.wrong) == 0) != good {
			t.Errorf("%s is judged wrongly: %v", text, j.wrong)
		}
	}
}
