package job_test

import (
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/job"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
)

// A design is judged by what the job's file says of the bed and the sheets, be it better or worse
// than what it says itself.
func TestJudgedByTheJobsFile(t *testing.T) {
	const laser = "laser bench { kerf = 0.2; quiet = caution }\n"
	for _, test := range []struct{ job, design, want string }{
		{"stock oak { size = 700 by 400 }\nlaser b { bed = 900 by 400 }", laser + "stock oak { thick = 3; size = 600 by 400 }\npanel a { width = 650; height = 100; stock = oak }", ""},
		{"laser b { bed = 900 by 400 }", "laser bench { kerf = 0.2; quiet = caution; bed = 600 by 400 }\npanel a { thick = 3; width = 650; height = 100 }", ""},
		{"laser b { bed = 300 by 200 }", "laser bench { kerf = 0.2; quiet = caution; bed = 600 by 400 }\npanel a { thick = 3; width = 350; height = 100 }", "larger than the laser's bed of 300 mm by 200 mm"},
		{"stock oak { size = 300 by 200 }", laser + "stock oak { thick = 3; size = 600 by 400 }\npanel a { width = 350; height = 100; stock = oak }", "larger than a sheet of oak, which is 300 mm by 200 mm"},
		{"stock oak { offcuts = 700 by 150 }\nlaser b { bed = 900 by 400 }", laser + "stock oak { thick = 3; size = 600 by 400; quiet = offcut-large }\npanel a { width = 650; height = 100; stock = oak }", ""},
		{"stock oak { size = 600 by 400 }", laser + "stock oak { thick = 3; knife = yes }\npanel a { width = 100; height = 50; stock = oak }", ""},
		{"stock oak { shared-cuts = yes }\nlaser b { bed = 600 by 400 }", "laser bench { quiet = caution }\nstock oak { thick = 3 }\npanel a { width = 100; height = 50; stock = oak; copies = 3 }", "nothing says how wide the laser cuts"},
		{"stock oak { shared-cuts = no }\nlaser b { bed = 600 by 400 }", "laser bench { quiet = caution }\nstock oak { thick = 3; shared-cuts = yes }\npanel a { width = 100; height = 50; stock = oak; copies = 3 }", ""},
	} {
		path := folder(t, map[string]string{"day.fore": test.job + "\njob day { make \"a.fore\" }\n", "a.fore": test.design + "\n"})
		if test.want == "" {
			if r := made(t, t.Context(), path, job.Options{}); !r.OK() {
				t.Errorf("%s: %v", test.job, r.Diagnostics)
			}
		} else if text := wrong(t, path); !strings.Contains(text, test.want) {
			t.Errorf("%s: want %q, told\n%s", test.job, test.want, text)
		}
	}
}

// The caution is left out where the laser of the design says so, and where that of the job's file does.
func TestCautionOfAJob(t *testing.T) {
	for _, test := range []struct {
		job, design string
		want        bool
	}{
		{"", "", true},
		{"laser b { bed = 600 by 400 }\n", "", true},
		{"", "; quiet = caution", false},
		{"laser b { quiet = caution }\n", "", false},
		{"laser b { bed = 600 by 400 }\n", "; quiet = caution", false},
	} {
		path := folder(t, map[string]string{"day.fore": test.job + "job day { make \"a.fore\" }\n", "a.fore": "laser bench { kerf = 0.2; bed = 600 by 400" + test.design + " }\npanel a { thick = 3; width = 100; height = 100 }\n"})
		r := made(t, t.Context(), path, job.Options{})
		if told := strings.Contains(diagtest.Text(r.Diagnostics), "before you cut"); !r.OK() || told != test.want {
			t.Errorf("%q, %q: %s", test.job, test.design, diagtest.Text(r.Diagnostics))
		}
	}
}

// What a stock or the laser of the job's file keeps quiet isn't told of its sheets, whatever the designs say.
func TestQuietOfTheJobsFile(t *testing.T) {
	const all = "cut-twice, lies-alone, offcut-large, sawn-edge"
	for own, want := range map[string]string{
		"":                                all,
		"laser b { quiet = " + all + " }": "",
		"stock oak { quiet = " + all + " }\nstock elm { quiet = lies-alone }":                                 "",
		"laser b { quiet = lies-alone }":                                                                      "cut-twice, offcut-large, sawn-edge",
		"stock elm { quiet = unknown-material; material = \"elm board\" }\nstock oak { quiet = " + all + " }": "lies-alone",
		"stock elm { material = \"elm board\" }\nstock oak { quiet = " + all + " }":                           "lies-alone, unknown-material",
	} {
		path := folder(t, map[string]string{"day.fore": own + "\njob day { make \"a.fore\" }\n",
			"a.fore": `laser bench { kerf = 0.1; bed = 300 by 300; quiet = caution }
stock oak { thick = 3; size = 500 by 280; margin = 0; spacing = 0; offcuts = 600 by 20 }
stock elm { thick = 4; size = 200 by 100 }
panel a { width = 93; height = 90; copies = 9; stock = oak }
panel c { width = 210; height = 100; copies = 2; stock = oak }
panel b { width = 93; height = 90; copies = 2; stock = elm }
`})
		r := made(t, t.Context(), path, job.Options{})
		var told []string
		for _, d := range r.Diagnostics {
			if d.Severity == diag.Warning {
				told = append(told, string(d.Code))
			}
		}
		slices.Sort(told)
		if got := strings.Join(told, ", "); !r.OK() || got != want {
			t.Errorf("%q: told %q, want %q: %s", own, got, want, diagtest.Text(r.Diagnostics))
		}
	}
}

// Of two designs of which one says nothing of a stock's knife or shared cuts, the other one's
// word counts; two that say two things are told.
func TestWaysOfTwoDesigns(t *testing.T) {
	for _, way := range []string{"shared-cuts", "knife"} {
		for _, other := range []string{"", way + " = yes", way + " = no"} {
			design := func(line string) string {
				return "laser bench { kerf = 0.2; quiet = caution }\nstock oak { thick = 3; size = 600 by 400; " + line + " }\npanel a { width = 100; height = 50; stock = oak; copies = 2 }\n"
			}
			for _, turned := range []bool{false, true} {
				a, b := design(way+" = yes"), design(other)
				if turned {
					a, b = b, a
				}
				path := folder(t, map[string]string{"day.fore": "laser b { bed = 600 by 400 }\njob day { make \"a.fore\"; make \"b.fore\" }\n", "a.fore": a, "b.fore": b})
				if strings.HasSuffix(other, "no") {
					if text := wrong(t, path); !strings.Contains(text, "two things of the "+way+" of oak") {
						t.Errorf("%s beside %q: told\n%s", way, other, text)
					}
					continue
				}
				mark := "shared."
				if way == "knife" {
					mark = "knife."
				}
				if r := made(t, t.Context(), path, job.Options{}); !r.OK() || !strings.Contains(string(r.Files[0].Data), mark) {
					t.Errorf("%s beside %q: %v", way, other, r.Diagnostics)
				}
			}
		}
	}
}

// What one design says of a stock and another leaves open is so for both: the parts of each are
// judged by it.
func TestJudgedByAllDesigns(t *testing.T) {
	const head = "laser bench { kerf = 0.2; quiet = caution, small-part }\nstock ply { thick = 3; "
	const panel = " }\npanel tag { width = 250; height = 50; stock = ply }\n"
	const round = " }\npanel leaf { width = 60; height = 50; corners = radius 5; stock = ply }\n"
	const pieces = " }\nstock card { thick = 3 }\npanel a { width = 100; height = 60; stock = card\n region t { head = 10; height = 30; spine = 5; foredge = 5; inlay text \"mm\" { cap = 20; stock = ply } } }\n"
	const bed = "laser b { bed = 300 by 200 }"
	for _, test := range []struct{ job, a, b, want string }{
		{"", "knife = yes" + panel, "size = 300 by 200" + panel, ""},
		{"", "knife = yes" + panel, panel, "error: ply is cut by a knife from edge to edge, and nothing says how large its sheets are"},
		{"", "size = 300 by 200" + panel, panel, ""},
		{bed, "size = 200 by 200" + round, panel, "b.fore:3:1: error: tag, 250 mm by 50 mm, is larger than a sheet of ply, which is 200 mm by 200 mm"},
		{bed, "bridge = 0.5" + panel, "bridge-below = 30" + panel, ""},
		{bed, "bridge = 0.5" + panel, panel, "a.fore:2:24: error: nothing says which parts of ply keep bridges"},
		{bed, "bridge = 0.5; bridge-below = 30" + panel, "knife = yes" + panel, "a.fore:2:24: error: ply is cut by a knife, and bridge is about the cuts of a laser"},
		{bed, "knife = yes" + panel, round, "b.fore:3:1: warning: leaf isn't a rectangle: a knife cuts one of 60 mm by 50 mm"},
		{bed, "knife = yes" + panel, pieces, "b.fore:5:61: error: a.t.inlay is of several pieces, and a knife cuts only from edge to edge"},
		{bed + "; stock ply { knife = no }", "knife = yes" + panel, round, ""},
		{bed, "size = 200 by 280; grain = along width" + round, panel, "b.fore:3:1: error: tag, 250 mm by 50 mm, is too large for a sheet of ply, which is 200 mm by 280 mm, as its grain is to run"},
		{bed, "material = \"PVC\"; allow = \"tried\"" + round, panel, "a.fore:2:35: warning: PVC must not be cut by a laser"},
		{bed + "; stock ply { material = \"PVC\" }", panel, round, "day.fore:2:24: error: PVC must not be cut by a laser"},
		{bed + "; stock ply { material = \"PVC\"; allow = \"tried\" }", panel, round, "day.fore:2:24: warning: PVC must not be cut by a laser"},
	} {
		for _, names := range []string{"make \"a.fore\"; make \"b.fore\"", "make \"b.fore\"; make \"a.fore\""} {
			path := folder(t, map[string]string{"day.fore": strings.ReplaceAll(test.job, "; ", "\n") + "\njob day { " + names + " }\n", "a.fore": head + test.a, "b.fore": head + test.b})
			if strings.Contains(test.want, "error: ") {
				told := wrong(t, path)
				if strings.Count(told, "error: ") != 1 || !strings.Contains(told, test.want) {
					t.Errorf("%+v: told %s", test, told)
				}
				if strings.Contains(test.a, "grain") && !strings.Contains(told, "a.fore:2:1: the grain of ply runs along its width here") {
					t.Errorf("%+v: nothing says whose the grain is: %s", test, told)
				}
				continue
			}
			told := diagtest.Text(made(t, t.Context(), path, job.Options{}).Diagnostics)
			if !strings.Contains(told, test.want) || test.want == "" && strings.Contains(told, "knife-corners") {
				t.Errorf("%+v: told %s", test, told)
			}
		}
	}
}
