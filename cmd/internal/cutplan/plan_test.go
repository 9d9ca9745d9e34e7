package cutplan_test

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
	"testing"

	"foredge/cmd/internal/cost"
	"foredge/cmd/internal/cutplan"
	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/lang/foretest"
	"foredge/lang/unit"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// tag is a drawing of a tag of 60 by 50 mm with an engraved field.
func tag(stock *design.Stock) *layout.Drawing {
	rect := func(x, y, w, h float64) geom.Rect { return geom.Rect{Min: geom.Pt(x, y), W: w, H: h} }
	return &layout.Drawing{Size: geom.Pt(60, 50), Unit: unit.MM, ScaleX: 1, ScaleY: 1, Parts: []layout.Part{{Name: "tag", Stock: "ply", Of: stock, Bounds: rect(0, 0, 60, 50).Bounds(),
		Shapes: []layout.Shape{{ID: "tag.field", Op: layout.Engrave, Figure: rect(10, 10, 20, 10)}, {ID: "tag.outline", Op: layout.Cut, Figure: rect(0, 0, 60, 50)}}}}}
}

// add lays so many tags, each on a sheet of its own, for as many covers of a new lot.
func add(p *cutplan.Plan, n int, offcuts ...layout.Offcut) {
	lot := len(p.Lots)
	p.Lots = append(p.Lots, cutplan.Lot{Order: fmt.Sprint(1001 + lot), Say: "Ada & <i>\u202eBo\n"})
	d := tag(&design.Stock{Name: "ply", Price: maybe.Is(0.0)})
	laid := cutplan.Laid{Laid: &layout.Laid{}}
	for i := range n {
		name := fmt.Sprintf("%d-%d", 1001+lot, i+1)
		outer := *d
		outer.Size = geom.Pt(100, 80)
		outer.Parts = []layout.Part{d.Parts[0]}
		outer.Parts[0].Name = name + ".tag"
		laid.Sheets = append(laid.Sheets, layout.Sheet{Stock: "ply", Outer: &outer})
		laid.On = append(laid.On, []layout.On{{Part: name + ".tag", Of: "tag", Sheet: i, Place: 1}})
		laid.Runs = append(laid.Runs, cost.Run{Missing: []string{"cut-speed"}})
		laid.Names = append(laid.Names, cutplan.Names{Sheet: fmt.Sprintf("sheet-%04d", len(p.Sheets)+i+1), Outer: []string{fmt.Sprintf("sheet-%04d.svg", len(p.Sheets)+i+1)}})
		laid.Of = append(laid.Of, cutplan.Wanted{Lot: lot, Name: name, Drawing: d})
	}
	laid.Stocks = []layout.Use{{Stock: "ply", Group: sheet.Group{Sheets: n, LeastSheets: 1, Area: float64(n) * 8000, Used: 0.375}, Left: append([]layout.Offcut{{Size: geom.Pt(30, 80)}}, offcuts...), Untouched: len(offcuts)}}
	p.Add(laid)
}

// A corner that is gone and the cuts of a knife stand in words, in the picture and in the
// data, and what is run for several parts is no part.
func TestKnifeAndCornerOfASheet(t *testing.T) {
	outer := *tag(&design.Stock{Name: "ply"})
	outer.Size = geom.Pt(100, 80)
	outer.Parts = append(outer.Parts, layout.Part{Name: "knife", Common: true, Shapes: []layout.Shape{{ID: "knife.1", Op: layout.Mark, Figure: geom.Path{Start: geom.Pt(60, 0), Segments: []geom.Segment{{End: geom.Pt(60, 80)}}}}}})
	p := &cutplan.Plan{Title: "day", Unit: unit.MM, Lots: []cutplan.Lot{{Design: "tag"}}}
	p.Add(cutplan.Laid{
		Laid: &layout.Laid{
			Sheets: []layout.Sheet{{Stock: "ply", Offcut: true, Gone: geom.Box{Min: geom.Pt(80, 50), Max: geom.Pt(100, 80)}, Knife: []sheet.Cut{{From: geom.Pt(60, 0), To: geom.Pt(60, 80)}}, Outer: &outer}},
			On:     [][]layout.On{{{Part: "tag", Of: "tag", Place: 1}}},
			Stocks: []layout.Use{{Stock: "ply", Group: sheet.Group{Sheets: 1}, Left: []layout.Offcut{{Size: geom.Pt(40, 80), Gone: geom.Pt(20, 30), Corner: sheet.RightBottom}}}},
		},
		Runs: []cost.Run{{}}, Names: []cutplan.Names{{Sheet: "day", Outer: []string{"day.svg"}}}, Of: []cutplan.Wanted{{Name: "tag", Drawing: tag(&design.Stock{Name: "ply"})}},
	})
	page := string(p.Page())
	for _, want := range []string{"an offcut of ply, 100 mm by 80 mm, 20 mm by 30 mm of it gone at tail-right", "<li>upright at 60 mm, from 0 mm to 80 mm</li>", `<rect class="gone" x="80" y="50" width="20" height="30"/>`, "<title>cut 1 of the knife</title>", "parts take up 41 %", "1 part on"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page doesn't say %s", want)
		}
	}
	got, err := json.Marshal(p.Data())
	foretest.Must(t, err)
	for _, want := range []string{`"gone":{"width":20,"height":30},"corner":"tail-right"`, `"knife":[{"from":[60,0],"to":[60,80]}]`, `"rest":[{"width":40,"height":80,"gone":{"width":20,"height":30},"corner":"tail-right"}]`} {
		if !strings.Contains(string(got), want) {
			t.Errorf("the data hasn't %s", want)
		}
	}
	if t.Failed() {
		t.Log(page, string(got))
	}
}

// The inside of a sheet is told and drawn as it lies turned over, with the edges of its
// boards and the corner that is gone; against which stops it is laid stands there.
func TestInsideOfASheet(t *testing.T) {
	outer := *tag(&design.Stock{Name: "ply"})
	outer.Size = geom.Pt(100, 80)
	inside := outer
	inside.Parts = []layout.Part{{Name: "tag", Bounds: geom.Rect{Min: geom.Pt(40, 0), W: 60, H: 50}.Bounds(), Shapes: []layout.Shape{
		{ID: "tag.owner", Op: layout.Mark, Figure: geom.Rect{Min: geom.Pt(50, 10), W: 20, H: 10}},
		{ID: "tag.outline", Op: layout.Guide, Figure: geom.Rect{Min: geom.Pt(40, 0), W: 60, H: 50}}}}}
	p := &cutplan.Plan{Title: "day", Unit: unit.MM, Lots: []cutplan.Lot{{Design: "tag"}}}
	p.Add(cutplan.Laid{
		Laid: &layout.Laid{
			Sheets: []layout.Sheet{{Stock: "ply", Gone: geom.Box{Min: geom.Pt(70, 50), Max: geom.Pt(100, 80)}, Outer: &outer, Inside: &inside}},
			On:     [][]layout.On{{{Part: "tag", Of: "tag", Place: 1, Inside: true}}},
		},
		Runs: []cost.Run{{}}, Names: []cutplan.Names{{Sheet: "day", Outer: []string{"day.svg"}, Insides: []string{"day-inside.svg"}}}, Of: []cutplan.Wanted{{Name: "tag", Drawing: tag(&design.Stock{Name: "ply"})}},
	})
	outside, turned, ok := strings.Cut(string(p.Page()), "</figure>")
	if !ok {
		t.Fatal("there is no picture")
	}
	for _, want := range []string{`aria-label="the inside of a sheet of ply, 100 mm by 80 mm, 30 mm by 30 mm of it gone at tail-left`, `<rect class="gone" x="0" y="50" width="30" height="30"/>`,
		`<path class="edge" d="M40 0`, "its inner side up against the stops at the head and at the right edge of the page", "lies against the stop at the left"} {
		if !strings.Contains(turned, want) {
			t.Errorf("of the inside the page doesn't say %s", want)
		}
	}
	if !strings.Contains(outside, `<rect class="gone" x="70" y="50" width="30" height="30"/>`) || strings.Contains(outside, `class="edge"`) {
		t.Error("of the outside it says otherwise than it lies")
	}
	if t.Failed() {
		t.Log(string(p.Page()))
	}
}

// Up to 300 parts pictures show all, up to 2,000 what is cut, and of more there are none,
// however many were laid at once; each is whole and has words in its place.
func TestPicturesOfAPlan(t *testing.T) {
	for n, want := range map[int]struct{ fills, cuts int }{300: {300, 300}, 301: {0, 301}, 2000: {0, 2000}, 2001: {0, 0}} {
		p := &cutplan.Plan{Title: "day"}
		for left := n; left > 0; left -= min(left, 290) {
			add(p, min(left, 290))
		}
		page := string(p.Page())
		fills, cuts := strings.Count(page, `<path class="fill"`), strings.Count(page, `<path class="cut"`)
		if fills != want.fills || cuts != want.cuts || strings.Count(page, `<svg role="img" aria-label="a sheet of ply, `) != cuts {
			t.Errorf("of %d parts %d are engraved and %d cut in pictures", n, fills, cuts)
		}
		if none := strings.Contains(page, "there are no pictures"); none != (cuts == 0) {
			t.Errorf("of %d parts the page says none: %v", n, none)
		}
		for dec := xml.NewDecoder(strings.NewReader(regexp.MustCompile(`(?s)<section.*</section>`).FindString(page))); ; {
			if _, err := dec.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatal(err)
			}
		}
	}
}

// What was laid several times adds up, but offcuts of which nothing was cut are those of the
// last time; how few sheets would do isn't known then. What a customer wrote is text.
func TestLaidSeveralTimes(t *testing.T) {
	p := &cutplan.Plan{Title: "day", Unit: unit.MM}
	add(p, 3, layout.Offcut{Size: geom.Pt(300, 200)}, layout.Offcut{Size: geom.Pt(250, 250)})
	add(p, 1, layout.Offcut{Size: geom.Pt(250, 250)})
	page := string(p.Page())
	for _, want := range []string{
		"<td class=\"number\">4</td><td class=\"number\">38 %</td><td class=\"number\">–</td>",
		"<code>offcuts = 30 by 80, 30 by 80, 250 by 250</code>",
		"<b>order 1001 (Ada &amp; &lt;i&gt;\ufffdBo )</b>, 3 times: 3 parts on sheet-0001, sheet-0002, sheet-0003",
		"Not told, as it isn't stated: cut-speed, the laser&#39;s rate.",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the page doesn't say %s", want)
		}
	}
	d := p.Data()
	foretest.Near(t, "area", float64(d.Stocks[0].Area), 4*8000, 0)
	if d.Stocks[0].Pieces != 4 || len(d.Stocks[0].Rest) != 3 || d.Stocks[0].LeastPieces == d.Stocks[0].LeastPieces {
		t.Errorf("taken are %+v", d.Stocks[0])
	}
}
