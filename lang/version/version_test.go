package version

import (
	"testing"
)

// The versions of this program are numbered from 1 on without a hole, and each
// change says something.
func TestAll(t *testing.T) {
	for i, v := range All() {
		if v.Number != i+1 {
			t.Errorf("version %d stands in place %d", v.Number, i+1)
		}
		if i == 0 && len(v.Changes) > 0 {
			t.Error("the first version changes something")
		}
		for _, c := range v.Changes {
			if c.Says == "" {
				t.Errorf("version %d has a change that says nothing", v.Number)
			}
		}
	}
}

// A table of three versions, of which this program has one so far.
func TestTable(t *testing.T) {
	table := Table{{Number: 1}, {Number: 2, Changes: []Change{{Says: "a"}}}, {Number: 3}}
	if n := table.Newest(); n != 3 {
		t.Errorf("the newest is %d", n)
	}
	for word, want := range map[string]int{"1": 1, "2": 2, "3": 3, "0": 0, "4": 0, "01": 0, "1.0": 0, "-1": 0, "x": 0, "": 0, "99999999999999999999": 0} {
		if n, ok := table.Find(word); n != want || ok != (want > 0) {
			t.Errorf("foredge %s: %d, %v", word, n, ok)
		}
	}
	for number, want := range map[int]int{1: 2, 2: 1, 3: 0} {
		if after := table.After(number); len(after) != want || want > 0 && after[0].Number != number+1 {
			t.Errorf("after %d: %v", number, after)
		}
	}
	for _, c := range []struct {
		table Table
		want  string
	}{{table, "versions 1, 2 and 3"}, {table[:2], "versions 1 and 2"}, {table[:1], "version 1"}} {
		if got := c.table.String(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
