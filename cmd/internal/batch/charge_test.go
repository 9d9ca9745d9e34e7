package batch

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/lang/foretest"
)

// Money adds up to the cent: what the orders cost in the table and in the data is what the
// whole batch costs there, and of orders with files of their own each is as many times a
// cover.
func TestBatchAddsUp(t *testing.T) {
	dir := t.TempDir()
	const design = `units mm
orders "orders.csv" { name = text; copies = count }
laser bench {
  kerf = 0.2; bed = 600 by 400
  cut-speed = 21; mark-speed = 90; engrave-speed = 333; engrave-distance = 0.13; travel-speed = 410; acceleration = 2900; corner-speed = 7
  rate = 0.77; labour = 3.1; waste = 17 %; profit = 23 %
}
stock birch { thick = 3; size = 580 by 290; price = 8.35 }
panel front { stock = birch; width = 148; height = 97; copies = 2
  region title { spine = 12; foredge = 12; head = 12; tail = 12; engrave text order.name { cap <= 9 } } }
`
	var table strings.Builder
	table.WriteString("name,copies\n")
	for i, name := range []string{"Tern", "Black-headed Gull", "Auk", "Fulmar", "Ruff", "Whimbrel and Dunlin"} {
		fmt.Fprintf(&table, "%s,%d\n", name, 1+i%3)
	}
	foretest.Must(t, os.WriteFile(filepath.Join(dir, "orders.csv"), []byte(table.String()), 0o666))
	for _, way := range []struct {
		together bool
		stock    string // and how its boards are cut out
	}{{false, ""}, {true, ""}, {false, "knife = yes; "}, {true, "knife = yes; "}} {
		together := way.together
		foretest.Must(t, os.WriteFile(filepath.Join(dir, "birds.fore"), []byte(strings.Replace(design, "price", way.stock+"price", 1)), 0o666))
		opts := folder(filepath.Join(dir, fmt.Sprint("made-", together, way.stock != "")))
		opts.Together = together
		foretest.Must(t, Run(context.Background(), driver.NewSession(nil), filepath.Join(dir, "birds.fore"), opts).Err)
		var list struct {
			Made []struct {
				Copies        int
				Minutes, Cost float64
			}
			Minutes, Cost float64
		}
		data := foretest.Read(t, filepath.Join(opts.Folder, "made.json"))
		foretest.Must(t, json.Unmarshal([]byte(data), &list))
		rows, err := csv.NewReader(strings.NewReader(foretest.Read(t, filepath.Join(opts.Folder, "made.csv")))).ReadAll()
		foretest.Must(t, err)
		column := map[string]int{}
		for i, name := range rows[0] {
			column[name] = i
		}
		minutes, cents, inTable := 0.0, 0.0, 0.0
		for i, m := range list.Made {
			minutes, cents = minutes+m.Minutes, cents+100*m.Cost
			v, err := strconv.ParseFloat(rows[i+1][column["cost"]], 64)
			foretest.Must(t, err)
			inTable += 100 * v
			if each := 100 * m.Cost / float64(m.Copies); !together && math.Abs(each-math.Round(each)) > 1e-6 {
				t.Errorf("%d covers for %v", m.Copies, m.Cost)
			}
			if m.Cost <= 0 || m.Minutes <= 0 {
				t.Errorf("together %v: order %d: %v minutes, %v", together, i+1, m.Minutes, m.Cost)
			}
		}
		if len(list.Made) != 6 || math.Round(cents) != math.Round(100*list.Cost) || math.Round(inTable) != math.Round(cents) || math.Abs(minutes-list.Minutes) > 1e-6 {
			t.Errorf("together %v: %d orders cost %v cents, in the table %v, in all %v; %v minutes of %v", together, len(list.Made), cents, inTable, list.Cost, minutes, list.Minutes)
		}
	}
}
