package job_test

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
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

// Pictures are engraved by the greys of their own design, so others in the job's file are told; of a
// design without pictures they mean nothing.
func TestGreysOfAJob(t *testing.T) {
	var picture bytes.Buffer
	if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 20, 20))); err != nil {
		t.Fatal(err)
	}
	const design = "laser bench { bed = 300 by 200; kerf = 0.2; quiet = caution }\nstock ply { thick = 3; greys = 5 %, 80 % }\n" +
		"panel tag { width = 60; height = 50; stock = ply; quiet = few-pixels; MARK }\n"
	for _, test := range []struct{ mark, greys, want string }{
		{"region r { width = 20; height = 20; engrave art \"gull.png\" }", "0 %, 90 %", "the greys of ply here aren't those by which the pictures of tag are engraved"},
		{"region r { width = 20; height = 20; face = inside; engrave art \"gull.png\" }", "0 %, 90 %", "the greys of ply here aren't those by which the pictures of tag are engraved"},
		{"region r { width = 20; height = 20; engrave art \"gull.png\" }", "5 %, 80 %", ""},
		{"", "0 %, 90 %", ""},
	} {
		path := folder(t, map[string]string{"day.fore": "stock ply { greys = " + test.greys + " }\njob day { make \"tag.fore\" }\n",
			"tag.fore": strings.Replace(design, "MARK", test.mark, 1), "gull.png": picture.String()})
		if test.want == "" {
			made(t, t.Context(), path, job.Options{})
		} else if told := wrong(t, path); !strings.Contains(told, test.want) {
			t.Errorf("%+v: %s", test, told)
		}
	}
}

// A machine cuts a board by one kerf: designs that share its sheets are drawn for one, and for
// that of the job's laser where it states one, unless their stock states its own.
func TestOneKerfOnASheet(t *testing.T) {
	const (
		named = "laser bench { bed = 300 by 200; quiet = caution; LASER }\nstock ply { thick = 3; STOCK }\npanel tag { width = 60; height = 50; stock = ply }\n"
		bare  = "laser bench { bed = 300 by 200; quiet = caution; LASER }\npanel tag { width = 60; height = 50; thick = 3 }\n"
	)
	of := func(tag, laser, stock string) string {
		return strings.NewReplacer("LASER", laser, "STOCK", stock).Replace(tag)
	}
	for _, test := range []struct{ job, a, b, want string }{
		{"kerf = 0.2", of(named, "kerf = 0.2", ""), of(named, "kerf = 0.2", ""), ""},
		{"kerf = 0.2", of(named, "", "kerf = 0.25"), of(named, "", "kerf = 0.25"), ""},
		{"", of(named, "", ""), of(named, "", ""), ""},
		{"", of(named, "kerf = 0.25", ""), of(named, "", "kerf = 0.25"), ""},
		{"kerf = 0.3", of(named, "kerf = 0.2", "knife = yes"), of(named, "", "knife = yes"), ""},
		{"", of(named, "kerf = 0.2", ""), of(bare, "kerf = 0.25", ""), ""}, // on two sheets
		{"", of(named, "kerf = 0.2", ""), of(named, "kerf = 0.25", ""), "a and b are drawn for two kerfs, and their parts would lie on one sheet: a for 0.2 mm, b for 0.25 mm"},
		{"", of(bare, "kerf = 0.2", ""), of(bare, "kerf = 0.25", ""), "a for 0.2 mm, b for 0.25 mm"},
		{"", of(named, "kerf = 0.2", ""), of(named, "", ""), "a for 0.2 mm, b without one"},
		{"", of(named, "", ""), of(named, "kerf = 0.2", ""), "a without one, b for 0.2 mm"},
		{"kerf = 0.2", of(named, "kerf = 0.2", ""), of(named, "", ""), "the kerf of the job's laser is 0.2 mm, and b is drawn without one"},
		{"kerf = 0.4", of(bare, "kerf = 0.2", ""), of(bare, "kerf = 0.2", ""), "the kerf of the job's laser is 0.4 mm, and a is drawn for 0.2 mm"},
	} {
		path := folder(t, map[string]string{"day.fore": "laser bench { " + test.job + " }\njob day { make \"a.fore\"; make \"b.fore\" }\n", "a.fore": test.a, "b.fore": test.b})
		if test.want == "" {
			made(t, t.Context(), path, job.Options{})
		} else if told := wrong(t, path); strings.Count(told, "error: ") != 1 || !strings.Contains(told, test.want) {
			t.Errorf("%+v: told %s", test, told)
		}
	}
}

// A job is made for one laser: what its file states of how that draws is so of every design, too, and what it doesn't
// state is theirs.
func TestOneLaserOfAJob(t *testing.T) {
	for _, test := range []struct{ job, design, want string }{
		{"", "", ""},
		{"", `line-width = 0.02; cut-colour = "#0000ff"`, ""},
		{`line-width = 0.02; cut-colour = "#0000FF"`, `line-width = 0.02; cut-colour = "#0000ff"`, ""},
		{"line-width = 0.1", "", ""}, // as is drawn where nothing is stated
		{"line-width = 0.05", "", "tag is made for a laser of another line-width than that of the job"},
		{"line-width = 0.05", "line-width = 0.02", "of another line-width than"},
		{`cut-colour = "#00FF00"`, "", "of another colour than"},
		{`cut-colour = "#00FF00"`, `cut-colour = "#0000FF"`, "of another colour than"},
		{"", "scale-x = 101 %", "of another scale-x or scale-y than"},
	} {
		path := folder(t, map[string]string{
			"day.fore": "laser bench { bed = 300 by 200; " + test.job + " }\njob day { make \"tag.fore\" }\n",
			"tag.fore": "laser bench { kerf = 0.2; quiet = caution; " + test.design + " }\npanel tag { width = 60; height = 50; thick = 3 }\n"})
		if test.want == "" {
			made(t, t.Context(), path, job.Options{})
		} else if told := wrong(t, path); strings.Count(told, "error: ") != 1 || !strings.Contains(told, test.want) {
			t.Errorf("%+v: told %s", test, told)
		}
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
		{"", "grain = along width", "", "", ""},
		{"stock ply { grain = along width }\n", "grain = along width", "", "", ""},
		{"stock ply { grain = along width }\n", "", "", "", "the grain of ply runs along its width here, and in a nothing is said of it"},
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

// Orders of one design share sheets as designs do, so what they say of a stock must agree, too. It is told once.
func TestOneStockOfTwoOrders(t *testing.T) {
	const tag = "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\norders \"tag.csv\" { board = text }\n" +
		"let n = 7 when order.board = \"ply\", 9\nstock ply { STOCK }\npanel tag { width = 60; height = 50; stock = ply }\n"
	for _, test := range []struct{ job, stock, orders, want string }{
		{"", "thick = n", "ply,oak,oak", "ply is 7 mm thick in one order of tag and 9 mm in another, and their parts would lie on one sheet"},
		{"", "material = order.board", "ply,oak,oak", "ply is of ply in one order of tag and of oak in another"},
		{"", "kerf = n / 50", "ply,oak,oak", "two orders of tag are drawn for two kerfs, and their parts would lie on one sheet: one for 0.14 mm, the other for 0.18 mm"},
		{"", "cut-speed = 2 * n", "ply,oak,oak", "two orders of tag say two things of the cut-speed of ply"},
		{"", "margin = n", "ply,oak,oak", "two orders of tag say two things of the margin of ply"},
		{"", "price = n", "oak,ply,oak", "two orders of tag say two things of the price of ply"},
		{"", "size = 250 by 20 * n", "ply,oak,ply", "two orders of tag say two things of the size of ply"},
		{"", "offcuts = 100 by 10 * n", "ply,oak,oak", "two orders of tag say two things of the offcuts of ply"},
		{"", "offcuts = 100 by 10 * n", "oak,oak", ""},
		{"stock ply { margin = 8 }\n", "margin = n", "ply,oak", ""},
	} {
		path := folder(t, map[string]string{"day.fore": test.job + "job day { make \"tag.fore\" }\n",
			"tag.fore": strings.Replace(tag, "STOCK", test.stock, 1), "tag.csv": "board\n" + strings.ReplaceAll(test.orders, ",", "\n") + "\n"})
		if test.want == "" {
			made(t, t.Context(), path, job.Options{})
		} else if told := wrong(t, path); strings.Count(told, test.want) != 1 {
			t.Errorf("%+v: told %s", test, told)
		}
	}
}

// What the first design leaves open two others must agree on, and are named where they don't; so it is with the job's file.
func TestOneStockOfThreeDesigns(t *testing.T) {
	const tag = "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\nstock ply { size = 300 by 200; STOCK }\npanel tag { width = 60; height = 50; stock = ply }\n"
	for _, test := range []struct{ job, b, c, want string }{
		{"", "material = \"card\"", "material = \"oak\"", "ply is of card in b and of oak in c"},
		{"", "thick = 3", "thick = 4", "ply is 3 mm thick in b and 4 mm in c"},
		{"", "grain = along width", "grain = along height", "along its width in b and along its height in c"},
		{"", "margin = 7", "margin = 9", "b and c say two things of the margin of ply"},
		{"", "offcuts = 90 by 90", "offcuts = 90 by 80", "b and c say two things of the offcuts of ply"},
		{"", "knife = yes", "knife = no", "b and c say two things of the knife of ply"},
		{"stock ply { material = \"oak\" }\n", "material = \"card\"", "", "ply is of oak here and of card in b"},
		{"stock ply { thick = 4 }\n", "", "thick = 3", "ply is 4 mm thick here and 3 mm in c"},
	} {
		path := folder(t, map[string]string{"day.fore": test.job + "job day { make \"a.fore\"; make \"b.fore\"; make \"c.fore\" }\n", "a.fore": strings.Replace(tag, "STOCK", "", 1),
			"b.fore": strings.Replace(tag, "STOCK", test.b, 1), "c.fore": strings.Replace(tag, "STOCK", test.c, 1)})
		if told := wrong(t, path); !strings.Contains(told, test.want) {
			t.Errorf("%+v: told %s", test, told)
		}
	}
}

// What two designs state in two units is one thing, though it isn't the same to the last digit.
func TestOneStockInTwoUnits(t *testing.T) {
	const design = "units UNIT\nlaser bench { kerf = 0.2 mm; bed = 700 mm by 500 mm; quiet = caution; line-width = A; cut-speed = B; scale-x = 100.3 % }\n" +
		"stock ply { thick = 3 mm; size = C by D; offcuts = D by D, C by D less A by B at head-left; margin = A; spacing = B; score-speed = B; bridge = A; bridge-below = B }\n" +
		"panel tag { width = 60 mm; height = 50 mm; stock = ply }\n"
	inch := strings.NewReplacer("UNIT", "in", "A", "0.003", "B", "0.7", "C", "24", "D", "11")
	mm := strings.NewReplacer("UNIT", "mm", "A", "0.0762", "B", "17.78", "C", "609.6", "D", "279.4", "100.3 %", "1.003")
	path := folder(t, map[string]string{"day.fore": "job day { make \"a.fore\"; make \"b.fore\" }\n", "a.fore": inch.Replace(design), "b.fore": mm.Replace(design)})
	made(t, t.Context(), path, job.Options{})
}

// What the job's file says of a stock among which orders choose: by the name of what it is like,
// or by its own with what tells it from the others.
func TestChosenStocksOfAJob(t *testing.T) {
	const tag = "use materials\nlaser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\norders \"tag.csv\" { board = text }\n" +
		"stock ply { material = birch-ply; thick = 3 }\nstock board like ply when order.board = \"ply\"\n" +
		"stock board when order.board = \"fir\" { thick = 4 }\nstock board when order.board = \"oak\" { material = oak; thick = 4 }\nstock board when order.board = \"beech\" { material = beech; thick = 4 }\n" +
		"panel tag { width = 60; height = 50; stock = board }\n"
	for _, test := range []struct{ job, orders, warned, want string }{
		{"stock ply { size = 280 by 180 }", "ply,oak", "", "a sheet of ply, 280 mm by 180 mm"},
		{"stock board { size = 280 by 180 }", "oak", "", "a sheet of board (oak, 4 mm), 280 mm by 180 mm"},
		{"stock board { size = 280 by 180 }", "ply,oak", "", "a sheet of board (oak, 4 mm), 280 mm by 180 mm"},
		{"use materials\nstock board { material = beech; size = 280 by 180 }", "oak,beech", "", "a sheet of board (beech, 4 mm), 280 mm by 180 mm"},
		{"stock board { size = 280 by 180 }", "oak,beech", "board (oak, 4 mm) and board (beech, 4 mm) go by the name of board", ""},
		{"stock board { size = 280 by 180 }", "oak,fir", "board (oak, 4 mm) and board (4 mm) go by the name of board", ""},
		{"stock board { thick = 4; size = 280 by 180 }", "oak,fir", "board (oak, 4 mm) and board (4 mm) go by the name of board", ""},
		{"use materials\nstock board { material = oak; size = 280 by 180 }", "oak,fir", "", "a sheet of board (oak, 4 mm), 280 mm by 180 mm"},
		{"stock plank { size = 280 by 180 }", "ply,oak", "call it as the designs do: ply or board", "a sheet of ply, 300 mm by 200 mm"},
		{"stock board { thick = 3; quantity = 0 }", "ply,oak", "correct its thick or material: those of board in the designs are others; or speak of ply", "a sheet of ply, 300 mm by 200 mm"},
		{"stock board { thick = 3; quantity = 0 }", "ply", "no part of the job is cut from board", "a sheet of ply, 300 mm by 200 mm"},
		{"stock board { size = 280 by 180 }", "ply", "call it as the designs do: ply", "a sheet of ply, 300 mm by 200 mm"},
	} {
		path := folder(t, map[string]string{"day.fore": test.job + "\njob day { make \"tag.fore\" }\n", "tag.fore": tag, "tag.csv": "board\n" + strings.ReplaceAll(test.orders, ",", "\n") + "\n"})
		if test.want == "" {
			if told := wrong(t, path); !strings.Contains(told, test.warned) {
				t.Errorf("%+v: told %s", test, told)
			}
			continue
		}
		r := made(t, t.Context(), path, job.Options{})
		if told := diagtest.Text(r.Diagnostics); !strings.Contains(told, test.warned) || test.warned == "" && strings.Contains(told, "job-stock-unused") {
			t.Errorf("%+v: told %s", test, told)
		}
		if page := string(r.Files[len(r.Files)-1].Data); !strings.Contains(page, test.want) {
			t.Errorf("%+v: %s", test, page)
		}
	}
}

// A stock that orders choose in one design, and of which another design has only that one, is one: in one job and in
// two, whichever comes first, its one offcut is laid once.
func TestChosenStockOfAnotherDesign(t *testing.T) {
	const laser = "laser bench { bed = 300 by 200; kerf = 0.2; quiet = caution }\n"
	files := map[string]string{
		"chosen.fore": laser + "orders \"o.csv\" { board = text }\nstock ply when order.board = \"thin\" { size = 280 by 180; thick = 3; offcuts = 120 by 100 }\n" +
			"stock ply when order.board = \"thick\" { size = 280 by 180; thick = 4 }\npanel a { width = 100; height = 80; stock = ply }\n",
		"o.csv":        "board\nthin\nthick\n",
		"plain.fore":   laser + "stock ply { size = 280 by 180; thick = 3; offcuts = 120 by 100 }\npanel z { width = 100; height = 80; stock = ply }\n",
		"bare.fore":    laser + "stock ply { size = 280 by 180 }\npanel z { width = 100; height = 80; stock = ply }\n",
		"thicker.fore": laser + "stock ply { size = 280 by 180; thick = 5 }\npanel z { width = 100; height = 80; stock = ply }\n",
		"unsaid.fore": laser + "orders \"o.csv\" { board = text }\nstock ply when order.board = \"thin\" { size = 280 by 180; thick = 3; material = \"ash\"; quiet = unknown-material }\n" +
			"stock ply when order.board = \"thick\" { size = 280 by 180; thick = 3 }\npanel a { width = 100; height = 80; stock = ply }\n",
		"nothing.fore": laser + "orders \"o.csv\" { board = text }\nstock ply when order.board = \"thin\" { size = 280 by 180; thick = 3; material = \"ash\"; quiet = unknown-material }\n" +
			"stock ply when order.board = \"thick\" { size = 290 by 190 }\npanel a { width = 100; height = 80; stock = ply }\n",
		"ash.fore": laser + "stock ply { size = 280 by 180; thick = 3; material = \"ash\"; quiet = unknown-material }\npanel z { width = 100; height = 80; stock = ply }\n",
	}
	for _, test := range []struct {
		jobs string
		want []string // of each sheet
	}{
		{`job one { make "chosen.fore"; make "plain.fore" }`, []string{"ply (3 mm)", "ply (3 mm), an offcut", "ply (4 mm)"}},
		{`job one { make "plain.fore"; make "chosen.fore" }`, []string{"ply (3 mm)", "ply (3 mm), an offcut", "ply (4 mm)"}},
		{`job one { make "chosen.fore" }; job two { make "plain.fore" }`, []string{"ply (3 mm), an offcut", "ply (4 mm)", "ply (3 mm)"}},
		{`job one { make "plain.fore" }; job two { make "chosen.fore" }`, []string{"ply, an offcut", "ply", "ply (4 mm)"}},
		{`job one { make "thicker.fore"; make "chosen.fore" }`, []string{"ply", "ply (3 mm), an offcut", "ply (4 mm)"}},
		{`job one { make "bare.fore" }; job two { make "chosen.fore" }`, []string{"ply", "ply (3 mm), an offcut", "ply (4 mm)"}},
		// Of two that it may be it is the one of which the same is known.
		{`job one { make "unsaid.fore"; make "ash.fore" }`, []string{"ply (ash, 3 mm)", "ply (3 mm)"}},
		{`job one { make "ash.fore"; make "unsaid.fore" }`, []string{"ply (ash, 3 mm)", "ply (3 mm)"}},
		{`job one { make "unsaid.fore" }; job two { make "ash.fore" }`, []string{"ply (ash, 3 mm)", "ply (3 mm)", "ply (ash, 3 mm)"}},
		// One of which nothing is said is none of the others among which orders choose.
		{`job one { make "nothing.fore" }`, []string{"ply (ash, 3 mm)", "ply"}},
		{`job one { make "nothing.fore"; make "ash.fore" }`, []string{"ply (ash, 3 mm)", "ply"}},
		{`job one { make "bare.fore"; make "chosen.fore" }`, []string{"ply", "ply (3 mm), an offcut", "ply (4 mm)"}},
	} {
		files["day.fore"] = test.jobs + "\n"
		var got []string
		for _, r := range job.Make(t.Context(), driver.NewSession(nil), folder(t, files), job.Options{Options: driver.Options{Encoders: []export.Encoder{svg.Encoder{}}}})[1:] {
			if r.Plan == nil {
				t.Fatal(test.jobs, diagtest.Text(r.Diagnostics))
			}
			for _, s := range r.Plan.Sheets {
				what := s.Stock
				if s.Offcut {
					what += ", an offcut"
				}
				got = append(got, what)
			}
		}
		if !slices.Equal(got, test.want) {
			t.Errorf("%s: sheets of %q, want %q", test.jobs, got, test.want)
		}
	}
	// The job's file speaks of one that states its material, not of one that says nothing of it.
	files["day.fore"] = "stock ply { material = \"oak\"; size = 200 by 100 }\njob day { make \"oaks.fore\" }\n"
	files["oaks.fore"] = strings.Replace(files["chosen.fore"], "thick = 4", "thick = 3; material = \"oak\"", 1)
	r := made(t, t.Context(), folder(t, files), job.Options{})
	if page := string(r.Files[len(r.Files)-1].Data); !strings.Contains(page, "a sheet of ply (oak, 3 mm), 200 mm by 100 mm") {
		t.Error(page)
	}
	// Of a plain one and one that is chosen, so thick each, it doesn't say which it speaks of but by how thick it is.
	for own, want := range map[string]string{
		"stock ply { size = 200 by 100 }":            "ply (3 mm), ply (4 mm) and ply go by the name of ply, and this doesn't say of which it speaks",
		"stock ply { size = 200 by 100; thick = 5 }": "a sheet of ply, 200 mm by 100 mm",
		"stock ply { size = 200 by 100; thick = 4 }": "a sheet of ply (4 mm), 200 mm by 100 mm",
	} {
		files["day.fore"] = own + "\njob day { make \"chosen.fore\"; make \"thicker.fore\" }\n"
		results := job.Make(t.Context(), driver.NewSession(nil), folder(t, files), job.Options{Options: driver.Options{Encoders: []export.Encoder{svg.Encoder{}}}})
		r := results[len(results)-1]
		got := diagtest.Text(r.Diagnostics)
		if r.OK() {
			got = string(r.Files[len(r.Files)-1].Data)
		}
		if !strings.Contains(got, want) {
			t.Errorf("%s: %s", own, got)
		}
	}
	// One of its own that is like another speaks of those of its own name before that of the other's.
	files["thin.fore"] = laser + "let board = \"thin\"\nstock ply when board = \"thin\" { size = 280 by 180; thick = 3 }\npanel a { width = 100; height = 80; stock = ply }\n"
	files["oak.fore"] = strings.NewReplacer("stock ply", "stock oak", "stock = ply", "stock = oak").Replace(files["plain.fore"])
	for _, makes := range []string{`make "thin.fore"; make "oak.fore"`, `make "oak.fore"; make "thin.fore"`} {
		files["day.fore"] = "stock oak { size = 200 by 100 }\nstock ply like oak\njob day { " + makes + " }\n"
		r := made(t, t.Context(), folder(t, files), job.Options{})
		if page := string(r.Files[len(r.Files)-1].Data); !strings.Contains(page, "a sheet of ply (3 mm), 200 mm by 100 mm") {
			t.Error(makes, page)
		}
	}
}

// What one job of a file takes of a stock isn't there for the next; a job that isn't made takes
// nothing.
func TestWoodOfSeveralJobs(t *testing.T) {
	const tag = "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\nstock ply { thick = 3; size = 280 by 190; quantity = NUMBER; offcuts = 80 by 70, 80 by 70 }\npanel tag { width = WIDE; height = HIGH; stock = ply }\n"
	of := func(number, wide, high string) string {
		return strings.NewReplacer("NUMBER", number, "WIDE", wide, "HIGH", high).Replace(tag)
	}
	for _, test := range []struct {
		number, first string
		copies        int
		want          []string // of each job: what its pieces are, "" where it isn't made
	}{
		{"2", "small", 1, []string{"80mm x 70mm", "80mm x 70mm", "280mm x 190mm"}},
		{"1", "large", 1, []string{"280mm x 190mm", "80mm x 70mm", ""}},
		{"1", "large", 2, []string{"", "80mm x 70mm", "280mm x 190mm"}},
	} {
		path := folder(t, map[string]string{
			"day.fore":   "job first { make \"" + test.first + ".fore\" { copies = " + strconv.Itoa(test.copies) + " } }\njob second { make \"small.fore\" }\njob third { make \"large.fore\" }\n",
			"small.fore": of(test.number, "60", "50"), "large.fore": of(test.number, "260", "150"),
		})
		results := job.Make(t.Context(), driver.NewSession(nil), path, job.Options{Options: driver.Options{Encoders: []export.Encoder{svg.Encoder{}}}})
		for i, r := range results[1:] {
			got := ""
			if len(r.Files) > 0 {
				m := regexp.MustCompile(`width="([0-9]+mm)" height="([0-9]+mm)"`).FindSubmatch(r.Files[0].Data)
				got = string(m[1]) + " x " + string(m[2])
			}
			if told := diagtest.Text(r.Diagnostics); got != test.want[i] ||
				got == "" && (!strings.Contains(told, "too-few-sheets") || strings.Contains(told, "the job first is made before, and what it takes of ply isn't there any more") != (i > 0)) {
				t.Errorf("%+v: job %d lies on %q\n%s", test, i+1, got, told)
			}
		}
	}
}

// Stocks of two designs that only capitals tell apart are two, which is told; so is it of accents
// (Unicode Standard Annex 15).
func TestStocksAlikeInAJob(t *testing.T) {
	const tag = "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\nstock PLY { thick = 3 }\npanel tag { width = 60; height = 50; stock = PLY }\n"
	for _, test := range []struct{ a, b, want string }{
		{"ply", "ply", ""},
		{"ply", "oak", ""},
		{"ply", "Ply", "warning: only capitals tell Ply in b from ply in a, and they are taken for two stocks"},
		{"\u00e9rable", "e\u0301rable", "warning: only how its accents are stored tells e\u0301rable in b from \u00e9rable in a"},
	} {
		path := folder(t, map[string]string{"day.fore": "job day { make \"a.fore\"; make \"b.fore\" }\n", "a.fore": strings.ReplaceAll(tag, "PLY", test.a), "b.fore": strings.ReplaceAll(tag, "PLY", test.b)})
		told := diagtest.Text(made(t, t.Context(), path, job.Options{}).Diagnostics)
		if !strings.Contains(told, test.want) || test.want == "" && strings.Contains(told, "names-alike") {
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

// A stock of the file is unused only where no job of it uses that, and is told of once.
func TestUnusedStocksOfSeveralJobs(t *testing.T) {
	design := func(stock string) string {
		return "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\nstock " + stock + " { thick = 3 }\npanel tag { width = 60; height = 50; stock = " + stock + " }\n"
	}
	for _, test := range []struct{ stock, jobs, want string }{
		{"oak", `job one { make "maple.fore" }; job two { make "oak.fore" }`, ""},
		{"oak", `job one { make "oak.fore" }; job two { make "maple.fore" }`, ""},
		{"oak", `job one { make "maple.fore" }`, "no part of the job is cut from oak"},
		{"elm", `job one { make "maple.fore" }; job two { make "oak.fore" }`, "no part of these jobs is cut from elm"},
		{"elm", `job one { make "oak.fore" }; job two { make "maple.fore" }; job three { make "oak.fore" }`, "take it out, or call it as the designs do: oak or maple"},
		{"elm", `job one { make "bad.fore" }; job two { make "maple.fore" }`, ""}, // it may be cut from elm
	} {
		path := folder(t, map[string]string{"day.fore": "stock " + test.stock + " { price = 4 }\n" + test.jobs + "\n", "maple.fore": design("maple"), "oak.fore": design("oak"), "bad.fore": "panel x { width = }\n"})
		var told []string
		for _, r := range job.Make(t.Context(), driver.NewSession(nil), path, job.Options{Options: driver.Options{Encoders: []export.Encoder{svg.Encoder{}}}}) {
			for _, d := range r.Diagnostics {
				if d.Code == "job-stock-unused" {
					told = append(told, d.Message+"; "+d.Help)
				}
			}
		}
		if all := strings.Join(told, "\n"); len(told) > 1 || (len(told) == 1) != (test.want != "") || !strings.Contains(all, test.want) {
			t.Errorf("%s of %s: told %s", test.stock, test.jobs, all)
		}
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

// Stocks of one wood share what the job's file says there is of it, in one job and in the next,
// but for one of which it says that by itself.
func TestWoodOfAJob(t *testing.T) {
	const states = "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\nstock ply { thick = 3; size = 280 by 190 }\nstock held like ply { bridge = 0.6; bridge-below = 30 }\n"
	files := map[string]string{
		"a.fore": states + "panel a { width = 260; height = 150; stock = ply }\n",
		"b.fore": states + "panel b { width = 260; height = 150; stock = held }\n",
		"c.fore": states + "panel c { width = 270; height = 160; stock = ply }\n",
		"d.fore": strings.Replace(states, "held like ply {", "held { thick = 3; size = 280 by 190;", 1) + "panel d { width = 260; height = 150; stock = held }\n",
		"e.fore": strings.Replace(states, "held like ply {", "held { thick = 5; size = 280 by 190;", 1) + "panel e { width = 260; height = 150; stock = held }\n",
		"f.fore": strings.ReplaceAll(states, "thick = 3", "thick = 5") + "panel f { width = 260; height = 150; stock = ply }\n",
		"i.fore": strings.Replace(states, "thick = 3;", "thick = 3; offcuts = 270 by 160;", 1) + "panel i { width = 260; height = 150; stock = held }\n",
		"h.fore": strings.Replace(states, "thick = 3;", "thick = 3; grain = along width;", 1) + "panel h { width = 100; height = 150; stock = ply }\n",
		"g.fore": "laser bench { kerf = 0.2; bed = 300 by 200; quiet = caution }\nstock ply { thick = 3 }\nstock other like ply { spacing = 4 }\npanel g { width = 290; height = 150; stock = other }\n",
	}
	files["k.fore"] = strings.Replace(states, "thick = 3;", "thick = 3; quantity = 1;", 1) + "panel k { width = 260; height = 150; stock = ply }\n"
	files["l.fore"] = states + "panel l { width = 260; height = 150; stock = held }\npanel m { width = 15; height = 150; stock = ply }\n"
	for _, test := range []struct{ stock, jobs, want string }{
		// What only one design says of what there is holds for what is like it, too.
		{"", `job day { make "k.fore"; make "b.fore" }`, "0 sheets of held are too few: 1 part is left over; 1 sheet of ply, the same wood, is taken already"},
		{"", `job day { make "l.fore"; make "k.fore" }`, "0 sheets of ply are too few: 2 parts are left over; 1 sheet is taken already"},
		{"stock ply { quantity = 2 }", `job day { make "k.fore"; make "b.fore" }`, ""},
		{"stock ply { quantity = 2 }", `job day { make "a.fore"; make "b.fore"; make "d.fore" }`, "1 sheet of held is too little: 1 part is left over; 1 sheet of ply, the same wood, is taken already"}, // only b says of held that it is ply
		{"stock ply { quantity = 2 }", `job day { make "d.fore"; make "b.fore"; make "a.fore" }`, "0 sheets of ply are too few: 1 part is left over; 2 sheets are taken already"},
		{"stock ply { quantity = 1 }", `job day { make "a.fore"; make "b.fore" }`, "0 sheets of held are too few: 1 part is left over; 1 sheet of ply, the same wood, is taken already"},
		{"stock ply { quantity = 1 }", `job one { make "a.fore" }; job day { make "b.fore" }`, "the job one is made before, and what it takes of ply isn't there any more"},
		{"stock ply { quantity = 1 }", `job day { make "b.fore" }`, ""},
		{"stock ply { quantity = 0 }", `job day { make "b.fore" }`, "0 sheets of held are too few: 1 part is left over"},
		{"stock ply { quantity = 0; offcuts = 290 by 180 }", `job day { make "b.fore" }`, ""},
		{"stock ply { quantity = 0; offcuts = 290 by 180, 280 by 165 }", `job one { make "a.fore" }; job day { make "c.fore" }`, ""},
		{"stock ply { quantity = 1 }; stock held like ply", `job day { make "a.fore"; make "d.fore" }`, "0 sheets of held are too few: 1 part is left over; 1 sheet of ply, the same wood, is taken already"}, // which only the job's file says
		{"stock ply { quantity = 2 }; stock held like ply", `job day { make "a.fore"; make "d.fore" }`, ""},
		// What a stock of the file that is like another says is of the designs' stock of its own name, not of the other's.
		{"stock ply { thick = 3; quantity = 9 }; stock held like ply", `job day { make "a.fore"; make "e.fore" }`, "held is 3 mm thick here and 5 mm in e"},
		{"stock own { quantity = 0 }; stock held like own", `job day { make "d.fore" }`, "0 sheets of held are too few: 1 part is left over"},
		{"stock own { material = \"PVC\" }; stock held like own", `job day { make "d.fore" }`, "never-cut"},
		{"stock ply { quantity = 1 }; stock held { quantity = 1 }", `job day { make "a.fore"; make "b.fore" }`, ""},
		{"stock ply { quantity = 2 }", `job day { make "a.fore"; make "b.fore" }`, ""},
		{"stock held { quantity = 0 }; stock ply { quantity = 1; offcuts = 270 by 160 }", `job day { make "a.fore"; make "b.fore" }`, "0 sheets of held are too few: 1 part is left over"}, // the offcut is ply's
		{"stock held { quantity = 0 }", `job day { make "i.fore"; make "b.fore" }`, "0 sheets of held are too few: 2 parts are left over"},
		{"", `job day { make "g.fore" }`, ""},
		{"", `job day { make "h.fore"; make "g.fore" }`, "is too large for a sheet of 280 by 190 mm"},
		{"", `job day { make "a.fore"; make "g.fore" }`, "is too large for a sheet of 280 by 190 mm"}, // as only a says of ply
		{"", `job day { make "g.fore"; make "a.fore" }`, "is too large for a sheet of 280 by 190 mm"},
		{"", `job day { make "g.fore"; make "f.fore" }`, ""},
		// What isn't of the same thickness is another wood, of which there is no end, whichever is met first.
		{"stock ply { quantity = 1 }; stock held like ply", `job day { make "a.fore"; make "e.fore" }`, ""},
		{"stock ply { quantity = 1 }; stock held like ply", `job day { make "e.fore"; make "a.fore" }`, ""},
		{"stock ply { quantity = 1 }; stock held like ply { thick = 5 }", `job day { make "e.fore"; make "a.fore" }`, ""},
		{"stock ply { quantity = 1 }; stock held like ply", `job one { make "a.fore" }; job day { make "e.fore" }`, ""},
		{"stock ply { quantity = 2 }; stock held like ply", `job one { make "e.fore" }; job day { make "a.fore" }`, "ply in a and held in e would be cut from what there is of ply, and their sheets are of another thickness"},
		{"stock own { quantity = 2 }; stock ply like own; stock held like own", `job day { make "a.fore"; make "e.fore" }`, "held in e and ply in a would be cut from what there is of own"},
		{"stock own { quantity = 2 }; stock ply like own; stock held like own", `job day { make "a.fore"; make "d.fore" }`, ""},
		{"stock ply { quantity = 2 }", `job one { make "a.fore" }; job day { make "f.fore" }`, "ply in f and ply in a would be cut from what there is of ply"},
	} {
		files["day.fore"] = test.stock + "\n" + test.jobs + "\n"
		results := job.Make(t.Context(), driver.NewSession(nil), folder(t, files), job.Options{Options: driver.Options{Encoders: []export.Encoder{svg.Encoder{}}}})
		last := results[len(results)-1]
		if told := diagtest.Text(last.Diagnostics); last.OK() != (test.want == "") || !strings.Contains(told, test.want) || strings.Contains(told, "job-stock-unused") {
			t.Errorf("%s %s: %s", test.stock, test.jobs, told)
		}
	}
}
