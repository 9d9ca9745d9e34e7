package job_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/job"
	"foredge/export"
	"foredge/export/svg"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
)

// folder writes files and gives the path of the first, day.fore.
func folder(t testing.TB, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		foretest.Must(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666))
	}
	return filepath.Join(dir, "day.fore")
}

// wrong is what is told of a job that can't be made.
func wrong(t testing.TB, path string) string {
	t.Helper()
	text := ""
	for _, r := range job.Make(t.Context(), driver.NewSession(nil), path, job.Options{Options: driver.Options{Encoders: []export.Encoder{svg.Encoder{}}}}) {
		if text += diagtest.Text(r.Diagnostics); len(r.Files) > 0 {
			t.Error("files are made")
		}
	}
	return text
}

// A kerf that the job's file states would change nothing: another one than the designs' is
// an error, theirs is none.
func TestKerfOfAJob(t *testing.T) {
	files := map[string]string{
		"day.fore": "laser bench { bed = 300 by 200 }\nstock ply { kerf = 0.3 }\njob day { make \"tag.fore\" }\n",
		"tag.fore": "laser bench { kerf = 0.2; quiet = caution }\nstock ply { thick = 3; kerf = 0.2 }\npanel tag { width = 60; height = 50; stock = ply }\n",
	}
	if told := wrong(t, folder(t, files)); !strings.Contains(told, "the kerf of ply is 0.3 mm here, and tag is drawn for 0.2 mm") {
		t.Error(told)
	}
	files["day.fore"] = strings.Replace(files["day.fore"], "0.3", "0.2", 1)
	made(t, t.Context(), folder(t, files), job.Options{})

	// It is held against every design, in any order, and against what their parts are drawn
	// for: the laser's where their stock states none.
	files["leaf.fore"] = strings.Replace(files["tag.fore"], "thick = 3; kerf = 0.2", "thick = 3", 1)
	files["day.fore"] = strings.Replace(files["day.fore"], `make "tag.fore"`, `make "tag.fore"; make "leaf.fore"`, 1)
	made(t, t.Context(), folder(t, files), job.Options{})
	files["leaf.fore"] = strings.Replace(files["leaf.fore"], "kerf = 0.2", "kerf = 0.4", 1)
	for _, order := range []string{`make "tag.fore"; make "leaf.fore"`, `make "leaf.fore"; make "tag.fore"`} {
		files["day.fore"] = "laser bench { bed = 300 by 200 }\nstock ply { kerf = 0.2 }\njob day { " + order + " }\n"
		if told := wrong(t, folder(t, files)); !strings.Contains(told, "the kerf of ply is 0.2 mm here, and leaf is drawn for 0.4 mm") {
			t.Error(told)
		}
	}
	files["leaf.fore"] = strings.Replace(files["leaf.fore"], "kerf = 0.4; ", "", 1)
	if told := wrong(t, folder(t, files)); !strings.Contains(told, "and leaf is drawn without one") {
		t.Error(told)
	}
}

// What two designs say of one stock in other words is one thing; two directions of its grain
// aren't, and that of the job's file is the designs'.
func TestOneStockOfTwoDesigns(t *testing.T) {
	const tag = "laser bench { kerf = 0.2; bed = 300 by 200; LINE quiet = caution }\nstock ply { thick = 3; STOCK }\npanel tag { width = 60; height = 50; stock = ply }\n"
	for _, test := range []struct{ job, a, b, line, want string }{
		{"", "offcuts = 100 by 100, 50 by 60", "offcuts = 50 by 60, 100 by 100", "", ""},
		{"", "offcuts = 100 by 100, 50 by 60", "offcuts = 50 by 60, 50 by 60", "", "two things of the offcuts of ply"},
		{"", "", "", "line-width = 0.1;", ""},
		{"", "", "", "line-width = 0.2;", "made for lasers that differ"},
		{"", "grain = along width", "grain = along width", "", ""},
		{"", "grain = along width", "grain = along height", "", "the grain of ply runs along its width in a and along its height in b"},
		{"stock ply { grain = along width }\n", "grain = along width", "grain = along width", "", ""},
		{"stock ply { grain = along width }\n", "grain = along width", "", "", "the grain of ply runs along its width here, and in b nothing is said of it"},
		{"stock ply { grain = along width }\n", "grain = along height", "", "", "along its width here, and in a along its height"},
	} {
		fill := func(stock, line string) string { return strings.NewReplacer("STOCK", stock, "LINE", line).Replace(tag) }
		path := folder(t, map[string]string{"day.fore": test.job + "job day { make \"a.fore\"; make \"b.fore\" }\n", "a.fore": fill(test.a, ""), "b.fore": fill(test.b, test.line)})
		if test.want == "" {
			made(t, t.Context(), path, job.Options{})
		} else if told := wrong(t, path); !strings.Contains(told, test.want) {
			t.Errorf("%+v: told %s", test, told)
		}
	}
}

// Offcuts of the job's file are held against the sheets that a design states, and a design's
// are told once.
func TestOffcutsOfAJob(t *testing.T) {
	const make, states = "job day { make \"a.fore\" }\n", "stock ply { size = 300 by 200; thick = 3; MORE }\n"
	const design = "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\n" + states + "panel tag { width = 60; height = 50; stock = ply }\n"
	for _, test := range []struct {
		job, design string
		times       int
	}{
		{"stock ply { offcuts = 350 by 90 }\n", "", 1},
		{"stock ply { offcuts = 350 by 90; quiet = offcut-large }\n", "", 0},
		{"", "offcuts = 350 by 90", 1},
		{"stock ply { offcuts = 290 by 90 }\n", "", 0},
	} {
		path := folder(t, map[string]string{"day.fore": test.job + make, "a.fore": strings.Replace(design, "MORE", test.design, 1)})
		told := diagtest.Text(made(t, t.Context(), path, job.Options{}).Diagnostics)
		if n := strings.Count(told, "an offcut of 350 mm by 90 mm is larger than a sheet of ply, 300 mm by 200 mm"); n != test.times {
			t.Errorf("%+v: told %d times: %s", test, n, told)
		}
	}
}

// What a job's file says of margin and spacing is held against its parts, and told where it
// stands.
func TestUnmeantOfAJob(t *testing.T) {
	const design = "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\nstock ply { thick = 3 }\npanel tag { width = 100; height = 80; stock = ply }\n"
	for _, test := range []struct{ line, want string }{
		{"margin = 55", "2 parts of ply take a whole sheet each, for a margin of 55 mm"},
		{"spacing = 250", "2 parts of ply take a whole sheet each, for a spacing of 250 mm"},
		{"spacing = 0", "edges of a.tag and a.2.tag lie on one line, which the laser cuts twice"},
		{"spacing = 0; quiet = cut-twice", ""},
		{"margin = 5; spacing = 10", ""},
	} {
		path := folder(t, map[string]string{"day.fore": "stock ply { " + test.line + " }\njob day { make \"a.fore\" { copies = 2 } }\n", "a.fore": design})
		found := ""
		for _, d := range made(t, t.Context(), path, job.Options{}).Diagnostics {
			if d.Code != "cut-twice" && d.Code != "lies-alone" {
				continue
			}
			if found += d.Message; filepath.Base(d.Span.File.Name()) != "day.fore" {
				t.Errorf("%s: told in %s", test.line, d.Span.File.Name())
			}
		}
		if found != test.want {
			t.Errorf("%s: told %q", test.line, found)
		}
	}
}

// No sheet is larger than the bed of any of a job's designs, unless its file states one.
func TestBedOfAJob(t *testing.T) {
	files := map[string]string{
		"day.fore": "job day { make \"a.fore\"; make \"b.fore\" }\n",
		"a.fore":   "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\nstock ply { thick = 3 }\npanel tag { width = 60; height = 50; stock = ply }\n",
		"b.fore":   "laser bench { kerf = 0.2; bed = 250 by 220; quiet = caution }\nstock ply { thick = 3 }\npanel tag { width = 60; height = 50; stock = ply }\n",
	}
	size := func() string {
		return string(regexp.MustCompile(`width="[0-9]+mm" height="[0-9]+mm"`).Find(made(t, t.Context(), folder(t, files), job.Options{}).Files[0].Data))
	}
	if got := size(); got != `width="250mm" height="200mm"` {
		t.Error(got)
	}
	files["day.fore"] = "laser bench { bed = 500 by 400 }\n" + files["day.fore"]
	if got := size(); got != `width="500mm" height="400mm"` {
		t.Error(got)
	}
}

// Jobs of a file that is used are passed over.
func TestUsedJobs(t *testing.T) {
	path := folder(t, map[string]string{
		"day.fore":  "use \"shop.fore\"\njob day { make \"a.fore\" }\n",
		"shop.fore": "job day { make \"gone.fore\" }\njob other { make \"gone.fore\" }\n",
		"a.fore":    "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\npanel tag { width = 60; height = 50; thick = 3 }\n",
	})
	if r := made(t, t.Context(), path, job.Options{}); filepath.Base(r.Files[0].Path) != "day.svg" {
		t.Error(r.Files[0].Path)
	}
}

// Designs can't be mixed up by a name that is another one only in its signs, and a job
// doesn't make itself.
func TestNamesOfAJob(t *testing.T) {
	tag := "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\npanel tag { width = 60; height = 50; thick = 3 }\n"
	path := folder(t, map[string]string{"day.fore": "job day { make \"a b.fore\"; make \"a-b.fore\" }\n", "a b.fore": tag, "a-b.fore": tag})
	if told := wrong(t, path); !strings.Contains(told, `the parts of "a-b.fore" would be called as those of "a b.fore"`) {
		t.Error(told)
	}
	path = folder(t, map[string]string{"day.fore": "job day { make \"day.fore\" }\n"})
	if told := wrong(t, path); !strings.Contains(told, `there is no panel in "day.fore"`) {
		t.Error(told)
	}
}
