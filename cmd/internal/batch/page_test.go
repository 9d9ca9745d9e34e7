package batch

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/export/svg"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
)

// pageDesign has two boards an order, on sheets and offcuts that run out after some layings.
const pageDesign = `laser bench { bed = 300 by 200; kerf = 0.2; quiet = caution
  cut-speed = 21; engrave-speed = 333; engrave-distance = 0.13; travel-speed = 410; acceleration = 2900; corner-speed = 7
  rate = 0.77; labour = 3.1; waste = 17 %; profit = 23 % }
stock ply { thick = 3; size = 300 by 200; price = 2.35; offcuts = 150 by 110, 200 by 60 }
orders "o.csv" { name = text; copies = count default 1 }
panel front { stock = ply; width = 80; height = 40
 region r { width = 60; height = 15; engrave text order.name } }
panel back mirrors front
`

// paged makes orders that lie together, a few at a time.
func paged(t *testing.T, dir string, opts Options) *Result {
	t.Helper()
	opts.Folder, opts.Encoders, opts.Keep, opts.laidAtOnce = filepath.Join(dir, "cut"), []export.Encoder{svg.Encoder{}}, true, 7
	r := Run(context.Background(), driver.NewSession(nil), filepath.Join(dir, "tag.fore"), opts)
	foretest.Must(t, r.Err)
	return r
}

func pagedFolder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	foretest.Must(t, os.WriteFile(filepath.Join(dir, "tag.fore"), []byte(pageDesign), 0o666))
	table := "name,copies\n"
	for i, name := range []string{"Tern", "Black-headed Gull", "Auk & <i>", "Fulmar", "Ruff", "Whimbrel and Dunlin", "Knot"} {
		table += fmt.Sprintf("%s,%d\n", name, 1+i%3)
	}
	foretest.Must(t, os.WriteFile(filepath.Join(dir, "o.csv"), []byte(table), 0o666))
	return dir
}

var (
	pageRow  = regexp.MustCompile(`<tr class="(lot|sum)"><th scope="row">([^<]*)</th>(.*)</tr>`)
	pageCell = regexp.MustCompile(`<td class="number">([0-9.]+)</td>`)
)

// The page of orders that lie together says what the tickets and the lists say: what each
// order takes and costs, on which sheets it lies, and which files are run. It is the same
// again, and with one processor.
func TestBatchPage(t *testing.T) {
	dir := pagedFolder(t)
	r := paged(t, dir, Options{Together: true})
	files := foretest.Contents(t, filepath.Join(dir, "cut"))
	page := files["made.html"]
	var list struct{ Minutes, Cost float64 }
	foretest.Must(t, json.Unmarshal([]byte(files["made.json"]), &list))
	says := map[string][2]float64{}
	for _, m := range pageRow.FindAllStringSubmatch(page, -1) {
		cells := pageCell.FindAllStringSubmatch(m[3], -1)
		says[m[2]] = [2]float64{number(cells[0][1]), number(cells[1][1])}
	}
	near := func(what string, got [2]float64, minutes, cost float64) {
		if math.Abs(got[0]-minutes) > 0.00501 || math.Round(100*got[1]) != math.Round(100*cost) {
			t.Errorf("%s takes %v on the page, %v minutes and %v on its ticket", what, got, minutes, cost)
		}
	}
	for _, m := range r.Made {
		name := "order " + m.Order
		if m.Copies > 1 {
			name += fmt.Sprintf(", all %d", m.Copies)
		}
		near(name, says[name], float64(*m.Minutes), float64(*m.Cost))
		if ticket := files[m.Ticket]; !strings.Contains(ticket, fmt.Sprintf("It costs %.2f", says[name][1])) {
			t.Errorf("the ticket of %s is\n%s", name, ticket)
		}
		for _, p := range m.Places {
			if !strings.Contains(page, fmt.Sprintf("<li><b>%d</b><span>%s <span class=\"quiet\">order %s", p.Place, p.Part, m.Order)) {
				t.Errorf("the page doesn't say that %s is number %d", p.Part, p.Place)
			}
		}
	}
	near("the whole", says["all covers"], list.Minutes, list.Cost)
	near("all sheets", [2]float64{says["all sheets"][0], list.Cost}, list.Minutes, list.Cost)
	pieces := 0
	for name := range files {
		if strings.HasPrefix(name, sheetBegins) {
			pieces++
			if !strings.Contains(page, "<b>"+name+"</b>: ") {
				t.Errorf("the page has no %s to cut", name)
			}
		}
	}
	if want := fmt.Sprintf(`<th scope="row">ply</th><td class="number">%d</td>`, pieces); pieces < 3 || !strings.Contains(page, want) {
		t.Errorf("the page doesn't count %d sheets", pieces)
	}
	if !strings.Contains(page, "order 0003 (Auk &amp; &lt;i&gt;)") || !export.Ours([]byte(page)) {
		t.Error("a name isn't text, or the page isn't known as ours")
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	foretest.Must(t, os.RemoveAll(filepath.Join(dir, "cut")))
	paged(t, dir, Options{Together: true})
	for name, data := range foretest.Contents(t, filepath.Join(dir, "cut")) {
		if data != files[name] {
			t.Errorf("%s is another one with one processor", name)
		}
	}
}

// A page that isn't made any more is moved aside with the sheets, and told; one that
// somebody else wrote is never written over, and doesn't move.
func TestBatchPageIsSwept(t *testing.T) {
	dir := pagedFolder(t)
	paged(t, dir, Options{Together: true})
	page := filepath.Join(dir, "cut", pageName)
	paged(t, dir, Options{Together: true, Resume: true})
	if _, err := os.Stat(page); err != nil {
		t.Fatal("it isn't there after it was made again")
	}
	told := func(r *Result) (n int) {
		for _, d := range r.Diagnostics {
			if d.Code == "left-over" && d.Severity == diag.Warning && strings.Contains(d.Message, "no orders lie together now") {
				n++
			}
		}
		return n
	}
	r := paged(t, dir, Options{Resume: true})
	if _, err := os.Stat(filepath.Join(dir, "cut", asideName, pageName)); err != nil || told(r) != 1 {
		t.Errorf("%v; told %d times", err, told(r))
	}
	changed := foretest.Read(t, filepath.Join(dir, "cut", asideName, pageName)) + "<!-- done -->"
	foretest.Must(t, os.WriteFile(page, []byte(changed), 0o666))
	if r := paged(t, dir, Options{Resume: true}); !strings.Contains(diagtest.Text(r.Diagnostics), pageName+"\" is of an earlier batch") || foretest.Read(t, page) != changed {
		t.Errorf("a page that somebody has changed: %s", diagtest.Text(r.Diagnostics))
	}
	foretest.Must(t, os.WriteFile(page, []byte("<html>mine</html>\n"), 0o666))
	if r := paged(t, dir, Options{Resume: true}); told(r) != 0 || foretest.Read(t, page) != "<html>mine</html>\n" {
		t.Error("a page of somebody else's is moved")
	}
	opts := Options{Together: true, Resume: true}
	opts.Folder, opts.Encoders = filepath.Join(dir, "cut"), []export.Encoder{svg.Encoder{}}
	if r := Run(context.Background(), driver.NewSession(nil), filepath.Join(dir, "tag.fore"), opts); r.Err == nil || !strings.Contains(r.Err.Error(), pageName) {
		t.Errorf("a page of somebody else's: %v", r.Err)
	}
}
