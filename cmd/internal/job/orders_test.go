package job_test

import (
	"fmt"
	"strings"
	"testing"
)

// What is wrong with several orders in the same words is told with the values of each, of the first
// twenty; with the same values it is told once.
func TestWrongOfSeveralOrders(t *testing.T) {
	const design = `laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }
orders "o.csv" { w = length }
panel tag { thick = 3; width = order.w; height = 40; region name { spine = 5; foredge = 5; height = 9; head = 3 } }
`
	many := ""
	for i := range 25 {
		many += fmt.Sprintf("%d.%02d\n", 5, i)
	}
	for _, test := range []struct {
		rows  string
		times int
		want  []string
	}{
		{"5\n6\n60\n", 2, []string{"error: order 0001: these", "5 mm too far", "error: order 0002: these", "4 mm too far"}},
		{"5\n5\n5\n", 1, []string{"error: these", "5 mm too far"}},
		{many, 20, []string{"4.81 mm too far", "it is so 5 times more, with other values"}},
		{strings.Join(strings.Fields(many)[:21], "\n"), 20, []string{"it is so once more, with other values"}},
	} {
		told := wrong(t, folder(t, map[string]string{"day.fore": "job day { make \"a.fore\" }\n", "a.fore": design, "o.csv": "w\n" + test.rows}))
		for _, want := range test.want {
			if !strings.Contains(told, want) {
				t.Errorf("%q: want %q, told\n%s", test.rows, want, told)
			}
		}
		if got := strings.Count(told, "first order of which it is so"); got != test.times || strings.Count(told, "times more") > 1 {
			t.Errorf("%q: told %d times, want %d\n%s", test.rows, got, test.times, told)
		}
	}
}
