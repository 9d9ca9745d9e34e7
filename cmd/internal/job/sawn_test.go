package job_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/job"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
	"foredge/layout/geom"
)

// A sheet that is larger than the bed is sawn: pieces, page and data say from which and where, all its
// pieces are used before another is begun, and sheets, not pieces, count and cost.
func TestSawnInAJob(t *testing.T) {
	const design = "laser bench { kerf = 0.2; bed = 700 by 450; quiet = caution }\nstock oak { thick = 4; size = 1240 by 410; price = 40; quantity = 2 }\npanel lid { stock = oak; width = 300; height = 190; copies = 3 }\n"
	path := folder(t, map[string]string{"day.fore": "job day { make \"lid.fore\" { copies = 3 } }\n", "lid.fore": design})
	r := made(t, t.Context(), path, job.Options{})
	plan := r.Plan.Data()
	if s := plan.Stocks[0]; s.Pieces != 2 || s.Price != 80 || s.LeastPieces != 2 || s.LeastPrice != 80 || s.Area != 2*1240*410 {
		t.Errorf("%+v", s)
	}
	var got []string
	for _, s := range plan.Sheets {
		its := "whole"
		if s.Sawn != nil {
			cuts, err := json.Marshal(s.Sawn.Cuts)
			foretest.Must(t, err)
			its = fmt.Sprintf("of sheet %d, %g by %g, at %g, %g: %s", s.Sawn.Sheet, s.Sawn.Width, s.Sawn.Height, s.Sawn.Left, s.Sawn.Top, cuts)
		}
		got = append(got, fmt.Sprintf("%s: %g by %g %s, %d parts", s.Name, s.Width, s.Height, its, len(s.Parts)))
	}
	cut := `[{"from":[700,0],"to":[700,410]}]`
	want := []string{
		"day-oak-1: 700 by 410 of sheet 1, 1240 by 410, at 0, 0: " + cut + ", 4 parts", "day-oak-2: 540 by 410 of sheet 1, 1240 by 410, at 700, 0: " + cut + ", 2 parts",
		"day-oak-3: 700 by 410 of sheet 2, 1240 by 410, at 0, 0: " + cut + ", 3 parts",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	page := string(r.Plan.Page())
	for _, said := range []string{
		"9 parts on 2 sheets, run as 3 pieces", "<b>sheet 1 of oak</b>, 1240 mm by 410 mm: upright at 700 mm, from 0 mm to 410 mm.", "day-oak-2 is the piece from 700 mm to 1240 mm across",
		"a piece of oak, 540 mm by 410 mm, sawn from sheet 1 of oak", "540 by 410</code>",
	} {
		if !strings.Contains(page, said) {
			t.Errorf("the page doesn't say %q", said)
		}
	}
	if told := diagtest.Text(r.Diagnostics); !strings.Contains(told, "2 sheets or offcuts of oak are larger than the bed") {
		t.Error(told)
	}
	if t.Failed() {
		t.Log(page)
	}
}

// Jobs of a file that take sheets that are sawn take whole sheets, and one that needs too many is told how
// many more would do, at the line that says how many there are.
func TestTooFewThatAreSawn(t *testing.T) {
	const design = "laser bench { kerf = 0.2; bed = 700 by 450; quiet = caution }\nstock oak { thick = 4; size = 1240 by 410; quantity = 2 }\npanel lid { stock = oak; width = 300; height = 190; copies = 6 }\n"
	path := folder(t, map[string]string{"day.fore": "job first { make \"lid.fore\" }\njob second { make \"lid.fore\" { copies = 2 } }\n", "lid.fore": design})
	results := job.Make(t.Context(), driver.NewSession(nil), path, job.Options{})
	told := diagtest.Text(results[2].Diagnostics)
	if !results[1].OK() || results[2].OK() {
		t.Errorf("%s%s", diagtest.Text(results[1].Diagnostics), told)
	}
	for _, want := range []string{"1 sheet of oak is too little: 5 parts are left over", "on 1 more sheet all of them find room: raise quantity by 1", "lid.fore:2:55: this says how many sheets there are", "the job first is made before"} {
		if !strings.Contains(told, want) {
			t.Errorf("%s\nis said to be\n%s", want, told)
		}
	}
}

// What is left of a sheet that is sawn is told, and no job after it takes it; an offcut of its size that is stated is
// there still.
func TestRestOfASawnSheetIsNobodys(t *testing.T) {
	const design = "laser bench { kerf = 0.2; bed = 600 by 400; quiet = caution }\nstock oak { thick = 4; size = 1240 by 400; quantity = 2; offcuts = 640 by 400 }\npanel lid { stock = oak; width = 280; height = 180; copies = 4 }\n"
	path := folder(t, map[string]string{"day.fore": "job mon { make \"lid.fore\" }\njob tue { make \"lid.fore\" }\njob wed { make \"lid.fore\" }\njob thu { make \"lid.fore\" }\n", "lid.fore": design})
	results := job.Make(t.Context(), driver.NewSession(nil), path, job.Options{})
	var got []string
	for _, r := range results[1:] {
		if !r.OK() {
			got = append(got, "none")
			continue
		}
		plan := r.Plan.Data()
		s := plan.Sheets[0]
		its := fmt.Sprintf("sheet %d of %g", s.Sawn.Sheet, s.Sawn.Width)
		for _, left := range plan.Stocks[0].Rest {
			its += fmt.Sprintf(", %g left", left.Width)
		}
		got = append(got, its)
	}
	// Of the offcut 40 mm are left, which isn't worth keeping.
	if want := []string{"sheet 0 of 640", "sheet 1 of 1240, 640 left", "sheet 1 of 1240, 640 left", "none"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	if told := diagtest.Text(results[4].Diagnostics); !strings.Contains(told, "0 sheets of oak are too few: 4 parts are left over [") {
		t.Error(told)
	}
}

// A piece of a sheet that another stock of the same wood has begun is told as that: of which sheet it is, where to saw, and
// its area counts once.
func TestSawnForTwoStocks(t *testing.T) {
	path := folder(t, map[string]string{"day.fore": "job day { make \"pair.fore\" }\n", "pair.fore": `laser bench { kerf = 0.2; bed = 600 by 400; quiet = caution }
stock oak { thick = 4; size = 600 by 600; quantity = 1 }
stock thin like oak { spacing = 3 }
panel a { stock = oak; width = 500; height = 350 }
panel b { stock = thin; width = 500; height = 150 }
`})
	r := made(t, t.Context(), path, job.Options{})
	plan := r.Plan.Data()
	area := 0.0
	for _, s := range plan.Stocks {
		area += float64(s.Area)
	}
	for _, s := range plan.Sheets {
		if s.Offcut || s.Sawn == nil || s.Sawn.Sheet != 1 || s.Sawn.Height != 600 {
			t.Errorf("%+v %+v", s, s.Sawn)
		}
	}
	page := string(r.Plan.Page())
	for _, said := range []string{"2 parts on 1 sheet, run as 2 pieces", "a piece of thin, 600 mm by 200 mm, sawn from sheet 1 of oak"} {
		if !strings.Contains(page, said) {
			t.Errorf("the page doesn't say %q", said)
		}
	}
	if told := diagtest.Text(r.Diagnostics); area != 600*600 || strings.Count(told, "[sawn]") != 1 {
		t.Errorf("%g mm²\n%s", area, told)
	}
	if t.Failed() {
		t.Log(page)
	}
}

// What hangs over the bed is told by its own size, which a maker finds on the shelf.
func TestOffcutThatHangsOver(t *testing.T) {
	path := folder(t, map[string]string{"day.fore": "job day { make \"lid.fore\" }\n", "lid.fore": `laser bench { kerf = 0.2; bed = 600 by 400; quiet = caution }
stock oak { thick = 4; quantity = 0; offcuts = 604.5 by 200 less 20 by 20 at head-right }
panel lid { stock = oak; width = 280; height = 180; region name { face = inside; head = 10; height = 20; spine = 10; width = 30; mark frame } }
`})
	page := string(made(t, t.Context(), path, job.Options{}).Plan.Page())
	const whole = "an offcut of oak, 604.5 mm by 200 mm, 20 mm by 20 mm of it gone at head-"
	if !strings.Contains(page, whole+"right, which hangs over the bed") || !strings.Contains(page, whole+"left, which hangs over the bed") {
		t.Error(page)
	}
}

// A sheet that is turned for its grain hangs over at the left: its right edge goes to the stops, with the inner side up
// at the left.
func TestInsideOfWhatHangsOverAtTheLeft(t *testing.T) {
	path := folder(t, map[string]string{"day.fore": "job day { make \"lid.fore\" }\n", "lid.fore": `laser bench { kerf = 0; bed = 600 by 400; quiet = caution }
stock oak { thick = 4; size = 405 by 605; grain = along height; margin = 0; spacing = 0 }
panel lid { stock = oak; width = 280; height = 180; region name { face = inside; head = 10; height = 20; spine = 10; width = 30; mark frame } }
`})
	r := made(t, t.Context(), path, job.Options{})
	s := r.Plan.Sheets[0]
	if s.Size != geom.Pt(600, 400) || !s.HangsLeft {
		t.Errorf("a sheet of %v: %+v", s.Size, s)
	}
	page := string(r.Plan.Page())
	for _, said := range []string{
		"605 mm by 405 mm, which hangs over the bed at the left",
		"against the stops at the head and at the left edge of the page, and run the -inside file. Then turn it like a page, its head up, so that the same edge lies against the stop at the right",
	} {
		if !strings.Contains(page, said) {
			t.Errorf("the page doesn't say %q", said)
		}
	}
}
