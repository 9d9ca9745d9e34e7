package job_test

import (
	"encoding/json"
	"math"
	"regexp"
	"strings"
	"testing"

	"foredge/cmd/internal/job"
	"foredge/lang/foretest"
)

func dataOf(t *testing.T, r *job.Result) []byte {
	t.Helper()
	data, err := json.Marshal(r.Plan.Data())
	foretest.Must(t, err)
	return data
}

// A charge is read back from a job's data.
type charge struct{ Minutes, Laser, Wood, Labour, Profit, Cost float64 }

func (c *charge) add(d charge) {
	c.Minutes, c.Laser, c.Wood = c.Minutes+d.Minutes, c.Laser+d.Laser, c.Wood+d.Wood
	c.Labour, c.Profit, c.Cost = c.Labour+d.Labour, c.Profit+d.Profit, c.Cost+d.Cost
}

// is holds two charges against each other: money to the cent, minutes as they are rounded.
func (c charge) is(d charge) bool {
	cents := func(a, b float64) bool { return math.Round(100*a) == math.Round(100*b) }
	return math.Abs(c.Minutes-d.Minutes) < 1e-6 && cents(c.Laser, d.Laser) && cents(c.Wood, d.Wood) && cents(c.Labour, d.Labour) && cents(c.Profit, d.Profit) && cents(c.Cost, d.Cost)
}

// data is a job's, as far as it is read back.
type data struct {
	charge
	Missing []string
	Stocks  []struct {
		Charged, Used     float64
		Price, LeastPrice *float64
		LeastPieces       int `json:"least-pieces"`
	}
	Sheets []struct {
		charge
		Offcut bool
		Used   float64
		Parts  []struct {
			charge
			Part, Cover, Order string
		}
	}
	Orders []struct {
		charge
		Design, Order string
		Copies        int
		Covers        []struct {
			charge
			Cover string
		}
	}
}

// addsUp holds minutes and money of a day against each other, between parts, sheets, covers,
// orders and the whole, in its data and on its page; and against what they are by hand.
func addsUp(t *testing.T, r *job.Result, want map[string][2]float64) {
	t.Helper()
	var d data
	foretest.Must(t, json.Unmarshal(dataOf(t, r), &d))
	covers, sheets := map[string]charge{}, charge{}
	parts := map[string]bool{}
	wood := map[string]float64{} // of a cover's parts, by hand
	for _, s := range d.Sheets {
		var sum charge
		for _, p := range s.Parts {
			sum.add(p.charge)
			c := covers[p.Cover]
			c.add(p.charge)
			covers[p.Cover] = c
			parts[p.Part] = true
			size := want[p.Part]
			if strings.HasSuffix(p.Part, "front") {
				wood[p.Cover] += 8.35 * size[0] * size[1] / (600 * 400)
			} else {
				wood[p.Cover] += 2.17 * size[0] * size[1] / (700 * 500)
			}
		}
		if !sum.is(s.charge) || s.Minutes <= 0 || s.Laser <= 0 {
			t.Errorf("the parts of a sheet make %v, the sheet %v", sum, s.charge)
		}
		sheets.add(s.charge)
	}
	var all charge
	for _, o := range d.Orders {
		var sum charge
		for _, c := range o.Covers {
			sum.add(c.charge)
			its := covers[c.Cover]
			its.Labour, its.Profit, its.Cost = c.Labour, c.Profit, its.Laser+its.Wood+c.Labour+c.Profit
			if !its.is(c.charge) {
				t.Errorf("the parts of %s make %v, the cover %v", c.Cover, its, c.charge)
			}
			// By hand, each rounded by less than a cent: the shares of the sheets with 17 %
			// wasted, 0.77 for a minute, 3.1 minutes of labour, 23 % of all on top.
			for what, v := range map[string][2]float64{"wood": {c.Wood, 1.17 * wood[c.Cover]}, "labour": {c.Labour, 0.77 * 3.1}, "laser": {c.Laser, 0.77 * c.Minutes},
				"all": {c.Cost, 1.23 * (1.17*wood[c.Cover] + 0.77*(3.1+c.Minutes))}} {
				foretest.Near(t, c.Cover+" "+what, v[0], v[1], 0.01)
			}
		}
		if !sum.is(o.charge) || len(o.Covers) != o.Copies {
			t.Errorf("the covers of order %s make %v, the order %v", o.Order, sum, o.charge)
		}
		all.add(o.charge)
	}
	if !all.is(d.charge) || len(covers) != 50 || len(parts) != len(want) || len(d.Missing) > 0 {
		t.Errorf("%d covers of %d parts make %v, the job %v; missing is %q", len(covers), len(parts), all, d.charge, d.Missing)
	}
	charged := 0.0
	for _, s := range d.Stocks {
		charged += s.Charged
	}
	if sheets.Labour, sheets.Profit, sheets.Cost = all.Labour, all.Profit, all.Cost; !sheets.is(all) || math.Round(100*charged) != math.Round(100*all.Wood) {
		t.Errorf("the sheets make %v, the covers %v, wood by stock %v", sheets, all, charged)
	}
	pageAddsUp(t, pageOf(r), all)
}

var (
	tables = regexp.MustCompile(`(?s)<caption>By (sheet|cover)</caption>.*?</table>`)
	rows   = regexp.MustCompile(`<tr class="([a-z]*)"><th scope="row">([^<]*)</th>(.*)</tr>`)
	cells  = regexp.MustCompile(`<td class="number">([0-9.]+)</td>`)
)

// pageAddsUp adds up the tables of a page as who reads it would, in cents.
func pageAddsUp(t *testing.T, page string, all charge) {
	t.Helper()
	for _, table := range tables.FindAllStringSubmatch(page, -1) {
		var lots, covers, sum [7]float64
		n := 0
		plus := func(to *[7]float64, row [][]string) {
			for i, m := range row {
				to[i] += 100 * number(t, m[1])
			}
		}
		off := func(a, b [7]float64) bool {
			for i := 1; i < len(a); i++ { // minutes are rounded each for itself
				if math.Round(a[i]) != math.Round(b[i]) {
					return true
				}
			}
			return false
		}
		var last [7]float64 // an order of several covers
		for _, m := range rows.FindAllStringSubmatch(table[0], -1) {
			row := cells.FindAllStringSubmatch(m[3], -1)
			n++
			if m[1] != "cover" && covers != [7]float64{} {
				if off(covers, last) {
					t.Errorf("before %s: covers make %v, their order %v", m[2], covers, last)
				}
				covers = [7]float64{}
			}
			switch m[1] {
			case "cover":
				plus(&covers, row)
			case "sum":
				plus(&sum, row)
			default:
				last = [7]float64{}
				plus(&last, row)
				plus(&lots, row)
			}
			if table[1] == "cover" {
				var own [7]float64
				plus(&own, row)
				if math.Round(own[1]) != math.Round(own[2]+own[3]+own[4]+own[5]) {
					t.Errorf("%s: %v", m[2], own)
				}
			}
		}
		if off(lots, sum) || n < 5 {
			t.Errorf("by %s %d rows make %v, said is %v", table[1], n, lots, sum)
		}
		cost := all.Cost
		if table[1] == "sheet" {
			cost = all.Laser
		}
		if math.Round(sum[1]) != math.Round(100*cost) || math.Abs(sum[0]-100*all.Minutes) > 0.51 {
			t.Errorf("by %s it is %v, the job %v", table[1], sum, all)
		}
	}
	if n := len(tables.FindAllString(page, -1)); n != 2 {
		t.Errorf("%d tables", n)
	}
}

// tag is a design of a tag, with what its laser and its stock state.
func tag(laser, stock string) string {
	return "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution; " + laser + " }\nstock ply { thick = 3; " + stock + " }\npanel tag { width = 60; height = 50; stock = ply }\n"
}

// Nothing is made up: what minutes and money lack is named, and there are no numbers.
func TestMoneyThatIsNotStated(t *testing.T) {
	const run = "cut-speed = 20; acceleration = 1000; travel-speed = 500"
	for _, c := range []struct{ laser, stock, missing, says string }{
		{"", "", "cut-speed, acceleration, travel-speed, the laser&#39;s rate, the price of ply", ""},
		{run, "", "the laser&#39;s rate, the price of ply", "minutes of the laser.</p>"},
		{run + "; rate = 0.5", "price = 4", "the size of ply", "minutes of the laser.</p>"},
		{run + "; rate = 0.5", "price = 4; size = 200 by 100", "", " and costs "},
	} {
		r := made(t, t.Context(), folder(t, map[string]string{"day.fore": "job day { make \"tag.fore\" { copies = 2 } }\n", "tag.fore": tag(c.laser, c.stock)}), job.Options{})
		page := pageOf(r)
		said := "<p>Not told, as it isn't stated: " + c.missing + ".</p>"
		if c.missing == "" {
			said = c.says
		}
		if !strings.Contains(page, said) || !strings.Contains(page, c.says) || c.missing != "" && strings.Contains(page, " and costs ") {
			t.Errorf("%s %s: the page doesn't say %s, but %s", c.laser, c.stock, said, regexp.MustCompile("<p>(All|Not told).*").FindAllString(page, -1))
		}
		var d struct{ Minutes, Cost *float64 }
		foretest.Must(t, json.Unmarshal(dataOf(t, r), &d))
		if (d.Cost != nil) != (c.missing == "") || (d.Minutes != nil) != strings.Contains(c.laser, run) {
			t.Errorf("%s %s: minutes %v, cost %v", c.laser, c.stock, d.Minutes, d.Cost)
		}
	}
}

// Two tags of 60 by 50 mm, no kerf: each side is run from rest to rest, s/v + v/a (the closed
// form of a trapezoid move, common knowledge of mechanics).
func TestPaceOfAJob(t *testing.T) {
	const run = "acceleration = 1000; travel-speed = 500; rate = 1"
	sides := func(v float64) float64 { return 2 * (60/v + v/1000 + 50/v + v/1000) }
	for _, c := range []struct {
		name, job, one, two, stock1, stock2 string
		want                                float64 // seconds of both, without the way between them
		wrong                               string
	}{
		{"the same", "", "cut-speed = 20; " + run, "cut-speed = 20; " + run, "", "", 2 * sides(20), ""},
		{"one says nothing", "", run, "cut-speed = 20; " + run, "", "", 2 * sides(20), ""},
		{"two speeds", "", "cut-speed = 20; " + run, "cut-speed = 30; " + run, "", "", 0, "one and two are made for lasers that differ in cut-speed, and their parts would lie on one sheet"},
		{"two of several", "", "cut-speed = 20; travel-speed = 300", "cut-speed = 30; " + run, "", "", 0, "that differ in cut-speed and travel-speed, and"},
		{"the job says which", "laser bench { cut-speed = 25 }", "cut-speed = 20; " + run, "cut-speed = 30; " + run, "", "", 2 * sides(25), ""},
		{"the stock says which", "", "cut-speed = 20; " + run, "cut-speed = 30; " + run, "cut-speed = 40", "", 2 * sides(40), ""},
		{"the job's stock says which", "stock ply { cut-speed = 50; passes = 2 }", run, run, "cut-speed = 20", "cut-speed = 30", 4 * sides(50), ""},
		{"two speeds of a stock", "", run, run, "cut-speed = 20", "cut-speed = 30", 0, "one and two say two things of the cut-speed of ply"},
		{"two passes of a stock", "", "cut-speed = 20; " + run, run, "passes = 1", "passes = 2", 0, "one and two say two things of the passes of ply"},
	} {
		still := func(text string) string { return strings.Replace(text, "kerf = 0.2", "kerf = 0", 1) }
		path := folder(t, map[string]string{"day.fore": c.job + "\njob day { make \"one.fore\"; make \"two.fore\" }\n",
			"one.fore": still(tag(c.one, c.stock1)), "two.fore": still(tag(c.two, c.stock2))})
		if c.wrong != "" {
			if told := wrong(t, path); !strings.Contains(told, c.wrong) {
				t.Errorf("%s: told\n%s", c.name, told)
			}
			continue
		}
		var d data
		foretest.Must(t, json.Unmarshal(dataOf(t, made(t, t.Context(), path, job.Options{})), &d))
		if got := 60 * d.Minutes; got < c.want || got > c.want+1.5 {
			t.Errorf("%s: %v seconds, want %v and the way", c.name, got, c.want)
		}
	}
}

// One laser engraves all of a sheet in one way: what the job's file says of it counts, a no as well as a yes, else designs
// must agree.
func TestOneWayOfAJob(t *testing.T) {
	engraved := func(oneWay string) string {
		return strings.Replace(tag("engrave-speed = 100; engrave-distance = 0.1; cut-speed = 20; acceleration = 1000; travel-speed = 500; "+oneWay, ""),
			"stock = ply", "stock = ply; region r { width = 30; height = 20; engrave text \"Tern\" { cap = 8 } }", 1)
	}
	minutes := func(own, one, two string) float64 {
		var d data
		path := folder(t, map[string]string{"day.fore": own + "\njob day { make \"one.fore\"; make \"two.fore\" }\n", "one.fore": engraved(one), "two.fore": engraved(two)})
		foretest.Must(t, json.Unmarshal(dataOf(t, made(t, t.Context(), path, job.Options{})), &d))
		return d.Minutes
	}
	both, single := minutes("", "", ""), minutes("", "one-way = yes", "one-way = yes")
	if !(single > both+0.05) {
		t.Fatalf("engraved one way it takes %v minutes, both ways %v", single, both)
	}
	for _, c := range []struct {
		own, one, two string
		want          float64
	}{
		{"laser bench { one-way = no }", "one-way = yes", "one-way = yes", both},
		{"laser bench { one-way = no }", "one-way = yes", "one-way = no", both},
		{"laser bench { one-way = yes }", "one-way = no", "", single},
		{"", "one-way = yes", "", single},
	} {
		if got := minutes(c.own, c.one, c.two); got != c.want {
			t.Errorf("%+v: %v minutes", c, got)
		}
	}
	path := folder(t, map[string]string{"day.fore": "job day { make \"one.fore\"; make \"two.fore\" }\n", "one.fore": engraved("one-way = yes"), "two.fore": engraved("one-way = no")})
	if told := wrong(t, path); !strings.Contains(told, "lasers that differ in one-way") {
		t.Error(told)
	}
}

// Designs that share no sheet have each its own speeds; what the job's file states of money
// goes before what they do.
func TestEachItsOwnSpeed(t *testing.T) {
	one := tag("cut-speed = 20; acceleration = 1000; travel-speed = 500; rate = 1; labour = 3", "price = 0")
	two := strings.NewReplacer("ply", "card", "cut-speed = 20", "cut-speed = 30", "labour = 3", "labour = 5").Replace(one)
	read := func(day string) data {
		var d data
		foretest.Must(t, json.Unmarshal(dataOf(t, made(t, t.Context(), folder(t, map[string]string{"day.fore": day, "one.fore": one, "two.fore": two}), job.Options{})), &d))
		return d
	}
	d := read("job day { make \"one.fore\"; make \"two.fore\" }\n")
	foretest.Near(t, "slow to fast", d.Sheets[0].Minutes/d.Sheets[1].Minutes, 1.5, 0.02)
	foretest.Near(t, "labour", d.Labour, 8, 0)
	d = read("laser bench { labour = 2; profit = 50 % }\njob day { make \"one.fore\"; make \"two.fore\" }\n")
	foretest.Near(t, "labour of the job's file", d.Labour, 4, 0)
	foretest.Near(t, "profit of the job's file", d.Profit, (d.Laser+d.Labour)/2, 0.02) // of two covers, each rounded
}

// sums holds a job's parts against its sheets and its covers, to the cent.
func (d *data) sums(t *testing.T) {
	t.Helper()
	covers, sheets, parts := charge{}, charge{}, charge{}
	for _, s := range d.Sheets {
		sheets.add(s.charge)
		for _, p := range s.Parts {
			parts.add(p.charge)
		}
	}
	for _, o := range d.Orders {
		covers.add(o.charge)
	}
	sheets.Labour, sheets.Profit, sheets.Cost = covers.Labour, covers.Profit, covers.Cost
	parts.Labour, parts.Profit, parts.Cost = covers.Labour, covers.Profit, covers.Cost
	if !sheets.is(d.charge) || !parts.is(d.charge) || !covers.is(d.charge) {
		t.Errorf("parts make %v, sheets %v, covers %v, the job %v", parts, sheets, covers, d.charge)
	}
}

// What is marked for a knife is charged to the boards that it cuts out, and their wood as large as they are wanted: by
// hand 10 of 100 by 60 and one with a hole on a sheet of 600 by 400 for 100, at a kerf of half a mm.
func TestMoneyOfAKnife(t *testing.T) {
	const shop = `laser bench { bed = 600 by 400; kerf = 0.5; quiet = caution; mark-speed = 50; cut-speed = 20; travel-speed = 200; acceleration = 1000; rate = 2 }
stock board { thick = 2 exact; size = 600 by 400; price = 100; KNIFE }
`
	for _, knife := range []string{"in the design", "in the job"} {
		design, own := strings.Replace(shop, "KNIFE", "knife = yes", 1), ""
		if knife == "in the job" {
			design, own = strings.Replace(shop, "KNIFE", "", 1), "stock board { knife = yes }\n"
		}
		path := folder(t, map[string]string{"day.fore": own + "job day { make \"plain.fore\"; make \"hole.fore\" }\n",
			"plain.fore": design + "panel p { stock = board; width = 100; height = 60; copies = 10 }\n",
			"hole.fore":  design + "panel p { stock = board; width = 100; height = 60; cutout eye { shape = round 4; head = 10; spine = 10 } }\n"})
		var d data
		foretest.Must(t, json.Unmarshal(dataOf(t, made(t, t.Context(), path, job.Options{})), &d))
		d.sums(t)
		plain, hole := d.Orders[0], d.Orders[1]
		foretest.Near(t, "wood of ten", plain.Wood, 100*10*100*60/(600.*400), 1e-9)
		foretest.Near(t, "wood of one", hole.Wood, 2.5, 1e-9)
		if each := plain.Minutes / 10; each <= 0 || hole.Minutes < each || hole.Minutes > 2*each {
			t.Errorf("%s: a bare board takes %v minutes, one with a hole %v", knife, each, hole.Minutes)
		}
		foretest.Near(t, "of the laser", d.Laser, 2*d.Minutes, 0.02)
	}
	// A whole sheet each, without a mark: no more than its price.
	path := folder(t, map[string]string{"day.fore": "job day { make \"d.fore\" }\n",
		"d.fore": strings.Replace(shop, "KNIFE", "knife = yes; margin = 0", 1) + "panel p { stock = board; width = 600; height = 400; copies = 3 }\n"})
	var d data
	foretest.Must(t, json.Unmarshal(dataOf(t, made(t, t.Context(), path, job.Options{})), &d))
	d.sums(t)
	foretest.Near(t, "three sheets", d.Wood, 300, 1e-9)
}

// A part on an offcut is charged for its wood as one on a sheet is, and of the stock only the sheets have a price.
func TestMoneyOfAnOffcut(t *testing.T) {
	path := folder(t, map[string]string{"day.fore": "job day { make \"d.fore\" }\n",
		"d.fore": `laser l { bed = 300 by 200; kerf = 0; rate = 1; labour = 1; cut-speed = 20; travel-speed = 200; acceleration = 1000; quiet = caution }
stock s { thick = 3; size = 300 by 200; price = 10; offcuts = 120 by 90 }
panel p { stock = s; width = 100; height = 60; copies = 5 }
`})
	var d data
	foretest.Must(t, json.Unmarshal(dataOf(t, made(t, t.Context(), path, job.Options{})), &d))
	d.sums(t)
	foretest.Near(t, "wood of five", d.Wood, 5*10*100*60/(300.*200), 1e-9)
	each := 0
	for _, s := range d.Sheets {
		if s.Offcut {
			foretest.Near(t, "wood of the one on the offcut", s.Wood, 1, 1e-9)
			each++
		}
	}
	if price := d.Stocks[0].Price; each != 1 || len(d.Sheets) != 2 || price == nil || *price != 10 {
		t.Errorf("%d offcuts among %d pieces, and the sheets cost %v", each, len(d.Sheets), price)
	}
}

// Of many parts that each cost less than a cent a stock and a sheet are charged with what they
// take, by hand: 300 of 20.1 by 15.2 and 300 of 14.8 by 14.8 on a sheet of 600 by 400 for 5 each.
func TestMoneyOfManySmallParts(t *testing.T) {
	for _, each := range []string{"copies = 300", "copies = 1"} {
		covers := ""
		if each == "copies = 1" {
			covers = " { copies = 300 }"
		}
		path := folder(t, map[string]string{"day.fore": "job day { make \"d.fore\"" + covers + " }\n",
			"d.fore": strings.ReplaceAll(`laser l { bed = 600 by 400; kerf = 0; rate = 0.6; cut-speed = 200; travel-speed = 400; acceleration = 2000; quiet = caution }
stock s { thick = 3; size = 600 by 400; price = 5; spacing = 3 }
stock t { thick = 4; size = 600 by 400; price = 5; spacing = 3 }
panel a { stock = s; width = 20.1; height = 15.2; EACH; quiet = small-part }
panel b { stock = t; width = 14.8; height = 14.8; EACH; quiet = small-part }
`, "EACH", each)})
		var d data
		foretest.Must(t, json.Unmarshal(dataOf(t, made(t, t.Context(), path, job.Options{})), &d))
		d.sums(t)
		wood := []float64{300 * 5 * 20.1 * 15.2 / (600 * 400), 300 * 5 * 14.8 * 14.8 / (600 * 400)}
		// A cover is rounded to the cent, so of 300 covers these are shares of 300 of that.
		by := d.Wood / (wood[0] + wood[1])
		if each != "copies = 1" && math.Abs(d.Wood-wood[0]-wood[1]) > 0.005 {
			t.Errorf("one cover is charged with %v for wood", d.Wood)
		}
		for i, s := range d.Stocks {
			foretest.Near(t, each+": wood of a stock", s.Charged, by*wood[i], 0.01)
			foretest.Near(t, each+": wood of a sheet", d.Sheets[i].Wood, by*wood[i], 0.01)
			foretest.Near(t, each+": a sheet's laser", d.Sheets[i].Laser, d.Laser*d.Sheets[i].Minutes/d.Minutes, 0.01)
		}
	}
}

// Wood of parts that lie by their outlines, two triangles of nearly 200 by 200 on a sheet of 260 by 260, has a price, and
// each is charged with the square round it.
func TestMoneyByOutline(t *testing.T) {
	path := folder(t, map[string]string{"day.fore": "job day { make \"d.fore\" }\n",
		"d.fore": `laser l { bed = 400 by 400; kerf = 0; rate = 1; labour = 1; cut-speed = 20; travel-speed = 200; acceleration = 1000; quiet = caution }
stock s { thick = 3; size = 260 by 260; price = 10; spacing = 2; margin = 5 }
panel p { stock = s; width = 200; height = 200; copies = 4; corner head-foredge = chamfer 199 }
`})
	var d data
	foretest.Must(t, json.Unmarshal(dataOf(t, made(t, t.Context(), path, job.Options{})), &d))
	d.sums(t)
	if s := d.Stocks[0]; len(d.Sheets) != 2 || s.Price == nil || *s.Price != 20 || s.LeastPieces != 2 {
		t.Fatalf("%d sheets, %+v", len(d.Sheets), s)
	}
	foretest.Near(t, "wood", d.Wood, 4*10*200*200/(260.*260), 0.01)
	// A square less the triangle of its corner.
	foretest.Near(t, "used", d.Sheets[0].Used, 2*(200*200-199*199/2.)/(260*260), 1e-4)
	foretest.Near(t, "used of the stock", d.Stocks[0].Used, d.Sheets[0].Used, 1e-4)
}

// Numbers that are each just taken and come to nonsense together have no cost, and what is told says why.
func TestMoneyBeyondCount(t *testing.T) {
	path := folder(t, map[string]string{"day.fore": "job day { make \"d.fore\" { copies = 2 } }\n",
		"d.fore": tag("cut-speed = 0.01; passes = 1000; acceleration = 1000; travel-speed = 500; rate = 1000000", "price = 1000000; size = 200 by 100")})
	r := made(t, t.Context(), path, job.Options{})
	if page := pageOf(r); strings.Contains(page, "and costs") || !strings.Contains(page, "isn't stated: speeds, sizes and prices by which a cover comes to no more than 1000000000.") {
		t.Errorf("the page says %s", regexp.MustCompile("<p>(All|Not told).*").FindAllString(page, -1))
	}
	var d struct {
		Minutes float64
		Cost    *float64
	}
	foretest.Must(t, json.Unmarshal(dataOf(t, r), &d))
	if d.Cost != nil || d.Minutes < 2*220/0.01*1000/60 { // twice its edge, a thousand times
		t.Errorf("%v minutes, %v", d.Minutes, d.Cost)
	}
}
