package job_test

import (
	"strings"
	"testing"

	"foredge/cmd/internal/job"
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
