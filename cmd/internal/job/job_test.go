package job_test

import (
	"bytes"
	"context"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/job"
	"foredge/export"
	"foredge/export/exporttest"
	"foredge/export/svg"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
	"foredge/layout/sheet"
)

// covers is a design of a front of birch with a name on it and a back of grey board.
const covers = `
laser bench { kerf = 0.2; bed = 700 by 500; quiet = caution
  cut-speed = 24; engrave-speed = 310; engrave-distance = 0.12; travel-speed = 420; acceleration = 2600; corner-speed = 6
  rate = 0.77; labour = 3.1; waste = 17 %; profit = 23 % }
stock birch { thick = 3; size = 600 by 400; price = 8.35 }
stock grey { thick = 2; size = 700 by 500; price = 2.17; cut-speed = 41 }
orders "ORDERS" { number = text; name = text; copies = count default 1 }
panel front { width = WIDE; height = HIGH; stock = birch
  region name { head = 8; height = 12; width = WIDE - 16; engrave text order.name { fit = shrink; least = 1 } } }
panel back { width = WIDE; height = HIGH; stock = grey }
`

// shopDay writes a job of 50 personalised covers with backs: three sizes, two materials,
// six offcuts. It gives the job's path, and the parts that it wants by their names on the
// sheets, each with its size as it is cut.
func shopDay(t testing.TB) (path string, want map[string][2]float64) {
	dir := t.TempDir()
	want = map[string][2]float64{}
	write := func(name, text string) { foretest.Must(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666)) }
	text := "stock birch { offcuts = 320 by 230, 290 by 200, 160 by 390 }\nstock grey { offcuts = 400 by 240, 240 by 180, 130 by 310 }\njob day {\n"
	number := 1000
	for i, size := range [][2]int{{148, 210}, {105, 148}, {120, 170}} {
		name := []string{"log", "pocket", "tide"}[i]
		design := strings.NewReplacer("ORDERS", name+".csv", "WIDE", strconv.Itoa(size[0]), "HIGH", strconv.Itoa(size[1])).Replace(covers)
		write(name+".fore", design)
		table := "number,name,copies\n"
		for left := []int{17, 17, 16}[i]; left > 0; {
			number++
			copies := min(left, 1+number%7/6)
			table += fmt.Sprintf("%d,Keeper of light no. %d,%d\n", number, number, copies)
			for copy := range copies {
				label := fmt.Sprintf("%s.%d", name, number)
				if copy > 0 {
					label += fmt.Sprintf(".%d", copy+1)
				}
				for _, part := range []string{"front", "back"} {
					want[label+"."+part] = [2]float64{float64(size[0]) + 0.2, float64(size[1]) + 0.2}
				}
			}
			left -= copies
		}
		write(name+".csv", table)
		text += fmt.Sprintf("  make %q\n", name+".fore")
	}
	path = filepath.Join(dir, "day.fore")
	write("day.fore", text+"}\n")
	if len(want) != 100 {
		t.Fatalf("%d parts are wanted", len(want))
	}
	return path, want
}

// made makes the one job of a file.
func made(t testing.TB, ctx context.Context, path string, opts job.Options) *job.Result {
	t.Helper()
	opts.Encoders = []export.Encoder{svg.Encoder{}}
	results := job.Make(ctx, driver.NewSession(nil), path, opts)
	if len(results) != 2 || !results[0].OK() || !results[1].OK() {
		for _, r := range results {
			t.Errorf("%v\n%s", r.Err, diagtest.Text(r.Diagnostics))
		}
		t.FailNow()
	}
	return results[1]
}

var (
	page    = regexp.MustCompile(`<svg [^>]*width="([0-9.]+)mm" height="([0-9.]+)mm"`)
	outline = regexp.MustCompile(`<(?:rect|path) id="cut\.([^"]*)\.outline" ([^>]*)/>`)
	rect    = regexp.MustCompile(`^x="([0-9.]+)" y="([0-9.]+)" width="([0-9.]+)" height="([0-9.]+)"$`)
	polygon = regexp.MustCompile(`^d="M([0-9.LHV ]+)Z"$`)
)

// box is that of an outline, a rectangle, by its attributes: x, y, width and height.
func box(t testing.TB, attributes string) (x, y, wide, high float64) {
	t.Helper()
	if m := rect.FindStringSubmatch(attributes); m != nil {
		return number(t, m[1]), number(t, m[2]), number(t, m[3]), number(t, m[4])
	}
	m := polygon.FindStringSubmatch(attributes)
	if m == nil {
		t.Fatalf("an outline that is no rectangle: %s", attributes)
	}
	x, y = math.Inf(1), math.Inf(1)
	right, low := 0.0, 0.0
	for _, point := range strings.Split(m[1], "L") {
		across, down, _ := strings.Cut(point, " ")
		x, y = min(x, number(t, across)), min(y, number(t, down))
		right, low = max(right, number(t, across)), max(low, number(t, down))
	}
	return x, y, right - x, low - y
}

func number(t testing.TB, text string) float64 {
	x, err := strconv.ParseFloat(text, 64)
	foretest.Must(t, err)
	return x
}

// checked looks at the files of a job as they are written, by their text alone: each part
// lies on one of them, as often and as large as it is wanted, spacing and margin are kept,
// and each file is as large as a sheet or an offcut, of which there is one each.
func checked(t testing.TB, r *job.Result, want map[string][2]float64, sizes map[string][][2]float64, sheets map[string][2]float64) (offcuts int) {
	t.Helper()
	const tol = 1e-6
	seen, used := map[string]bool{}, map[string]bool{}
	for _, f := range r.Files {
		name := filepath.Base(f.Path)
		if filepath.Ext(name) != ".svg" {
			continue
		}
		stock := strings.Split(name, "-")[1]
		m := page.FindSubmatch(f.Data)
		w, h := number(t, string(m[1])), number(t, string(m[2]))
		if sheets[stock] != [2]float64{w, h} {
			key := fmt.Sprint(stock, w, h)
			if !slices.Contains(sizes[stock], [2]float64{w, h}) || used[key] {
				t.Errorf("%s: there is no other piece of %g by %g", name, w, h)
			}
			used[key] = true
		}
		var boxes [][4]float64
		for _, m := range outline.FindAllStringSubmatch(string(f.Data), -1) {
			x, y, wide, high := box(t, m[2])
			size, wanted := want[m[1]]
			if !wanted || seen[m[1]] {
				t.Errorf("%s: nobody wants another %s", name, m[1])
			}
			seen[m[1]] = true
			upright := math.Abs(wide-size[0]) < tol && math.Abs(high-size[1]) < tol
			if turned := math.Abs(wide-size[1]) < tol && math.Abs(high-size[0]) < tol; !upright && !turned {
				t.Errorf("%s: %s is %g by %g, want %v", name, m[1], wide, high, size)
			}
			if (stock == "birch") != strings.HasSuffix(m[1], "front") {
				t.Errorf("%s: %s is of the other stock", name, m[1])
			}
			if x < 5-tol || y < 5-tol || x+wide > w-5+tol || y+high > h-5+tol {
				t.Errorf("%s: %s leaves no margin", name, m[1])
			}
			for _, b := range boxes {
				if apart := max(x-b[2], b[0]-(x+wide), y-b[3], b[1]-(y+high)); apart < 10-tol {
					t.Errorf("%s: %s lies %g mm from another", name, m[1], apart)
				}
			}
			boxes = append(boxes, [4]float64{x, y, x + wide, y + high})
		}
	}
	if missing := len(want) - len(seen); missing > 0 {
		t.Errorf("%d parts lie nowhere", missing)
	}
	return len(used)
}

// A real job, looked at by its files alone; the same bytes on a second run and with one
// processor.
func TestShopDay(t *testing.T) {
	path, want := shopDay(t)
	opts := job.Options{Options: driver.Options{Effort: 0.1}}
	first := made(t, t.Context(), path, opts)
	offcuts := checked(t, first, want,
		map[string][][2]float64{"birch": {{320, 230}, {290, 200}, {160, 390}}, "grey": {{400, 240}, {240, 180}, {130, 310}}},
		map[string][2]float64{"birch": {600, 400}, "grey": {700, 500}})
	if offcuts == 0 {
		t.Error("no offcut is used")
	}
	text := string(first.Files[len(first.Files)-1].Data)
	for part := range want {
		if !strings.Contains(text, ">"+part+" <") {
			t.Errorf("the page doesn't say where %s is", part)
		}
	}
	addsUp(t, first, want)
	same(t, first, made(t, t.Context(), path, opts), "on a second run")
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	same(t, first, made(t, t.Context(), path, opts), "with one processor")
}

// same holds that a job comes out as before, its files and its data.
func same(t *testing.T, first, again *job.Result, when string) {
	t.Helper()
	if len(first.Files) != len(again.Files) || !bytes.Equal(dataOf(t, first), dataOf(t, again)) {
		t.Errorf("the data are others %s", when)
	}
	for i, f := range first.Files {
		if !bytes.Equal(f.Data, again.Files[i].Data) {
			t.Errorf("%s is another one %s", filepath.Base(f.Path), when)
		}
	}
}

// Ctrl-C while fewer sheets are looked for: the best so far is made, whole, and told.
func TestJobStopped(t *testing.T) {
	path, want := shopDay(t)
	ctx, stop := context.WithCancel(t.Context())
	opts := job.Options{Options: driver.Options{Effort: 1000}, Progress: func(name string, p sheet.Progress) {
		if name != "day" || p.Sheets == 0 || p.Group == "" {
			t.Errorf("told of %q: %+v", name, p)
		}
		stop()
	}}
	r := made(t, ctx, path, opts)
	checked(t, r, want,
		map[string][][2]float64{"birch": {{320, 230}, {290, 200}, {160, 390}}, "grey": {{400, 240}, {240, 180}, {130, 310}}},
		map[string][2]float64{"birch": {600, 400}, "grey": {700, 500}})
	if !slices.ContainsFunc(r.Diagnostics, func(d *diag.Diagnostic) bool { return d.Code == "job-stopped" }) {
		t.Error("nothing tells that the search was stopped")
	}
}

// 2,000 parts within 60 s of two processors and 1 GiB; the growth from 200 is told.
func TestLargeJob(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	dir := t.TempDir()
	write := func(name, text string) { foretest.Must(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666)) }
	for i, size := range []string{"width = 148; height = 210", "width = 105; height = 148"} {
		write(fmt.Sprintf("cover%d.fore", i), "laser bench { kerf = 0.2; bed = 600 by 400; quiet = caution }\nstock birch { thick = 3 }\npanel front { "+size+"; stock = birch; "+
			"row wire on spine { count = 20; pitch = 7; hole = rect 4 by 4; inset = 3 } }\npanel back mirrors front\n")
	}
	took := map[int]time.Duration{}
	for _, copies := range []int{50, 500} {
		path := filepath.Join(dir, "day.fore")
		write("day.fore", fmt.Sprintf("job day { make \"cover0.fore\" { copies = %d }; make \"cover1.fore\" { copies = %d } }\n", copies, copies))
		began := time.Now()
		r := made(t, t.Context(), path, job.Options{})
		took[4*copies] = time.Since(began)
		want := map[string][2]float64{}
		for i, size := range [][2]float64{{148.2, 210.2}, {105.2, 148.2}} {
			for copy := range copies {
				for _, part := range []string{"front", "back"} {
					label := fmt.Sprintf("cover%d.%s", i, part)
					if copy > 0 {
						label = fmt.Sprintf("cover%d.%d.%s", i, copy+1, part)
					}
					want[label] = size
				}
			}
		}
		lie := map[string]bool{}
		for _, f := range r.Files {
			for _, m := range outline.FindAllSubmatch(f.Data, -1) {
				lie[string(m[1])] = true
			}
		}
		if got, all := len(lie), len(want); got != all || !slices.Equal(slices.Sorted(maps.Keys(lie)), slices.Sorted(maps.Keys(want))) {
			t.Errorf("%d parts lie on the sheets, want %d", got, all)
		}
	}
	var memory runtime.MemStats
	runtime.ReadMemStats(&memory)
	t.Logf("200 parts: %v; 2,000: %v; %d MiB of the machine's memory", took[200], took[2000], memory.Sys>>20)
	if took[2000] > time.Minute || memory.Sys > 1<<30 {
		t.Error("that is too long or too much")
	}
}

// The picture of the example's job is what librsvg draws of its first sheet. With -update it
// is made anew; look at it then.
func TestSheetPicture(t *testing.T) {
	results := job.Make(t.Context(), driver.NewSession(nil), "../../../examples/market-day.fore",
		job.Options{Options: driver.Options{Encoders: []export.Encoder{svg.Encoder{}}}})
	r := results[len(results)-1]
	if !r.OK() {
		t.Fatal(r.Err, diagtest.Text(r.Diagnostics))
	}
	path := filepath.Join(t.TempDir(), "sheet.svg")
	foretest.Must(t, os.WriteFile(path, r.Files[0].Data, 0o666))
	exporttest.HoldPicture(t, "../../../examples/market-day.png", exporttest.Picture(t, path, 900, 600))
}

// A job of more parts than can be laid at once says so before any is made: a few million take no
// memory.
func TestTooManyParts(t *testing.T) {
	path := folder(t, map[string]string{"day.fore": "job day { make \"a.fore\" { copies = 1000 } }\n",
		"a.fore": "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\npanel tag { width = 60; height = 50; thick = 3; copies = 1000 }\npanel tab like tag\npanel top like tag\n"})
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	if told := wrong(t, path); !strings.Contains(told, "there are more than 20000 parts of 3 mm stock, which are too many to be laid at once") {
		t.Error(told)
	}
	if runtime.ReadMemStats(&after); after.TotalAlloc-before.TotalAlloc > 64<<20 {
		t.Errorf("it took %d MiB", (after.TotalAlloc-before.TotalAlloc)>>20)
	}
}
