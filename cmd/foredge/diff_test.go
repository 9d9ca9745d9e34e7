package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"foredge/lang/foretest"
)

// A bench repository: the harbour log in three revisions, in a folder of the repository,
// with the shop's file that it uses.
type repository struct {
	t       *testing.T
	dir     string
	program string
}

func newRepository(t *testing.T) *repository {
	foretest.Program(t, "git", "git")
	r := &repository{t: t, dir: t.TempDir(), program: "foredge"} // of testscript.Main
	r.git("init", "-q", "-b", "bench")
	r.write(".gitattributes", "*.fore text diff=foredge\n")
	examples := filepath.Join(foretest.Root(t), "examples")
	log := foretest.Read(t, filepath.Join(examples, "harbour-log.fore"))
	shop := foretest.Read(t, filepath.Join(examples, "shop.fore"))
	r.write("covers/harbour-log.fore", log)
	r.write("covers/shop.fore", shop)
	r.commit("measured")
	// The holes lie farther in, the corners are rounder; the boards are thicker.
	r.write("covers/harbour-log.fore", strings.NewReplacer("inset = 4.10", "inset = 4.30", "radius 6", "radius 8").Replace(log))
	r.write("covers/shop.fore", strings.Replace(shop, "thick = 3", "thick = 4", 1))
	r.commit("measured again")
	r.write("covers/harbour-log.fore", strings.NewReplacer("inset = 4.10", "inset = 4.30", "radius 6", "radius 8").Replace(log)+"# sold to the pilots\n")
	r.commit("noted")
	return r
}

func (r *repository) write(name, text string) {
	path := filepath.Join(r.dir, name)
	foretest.Must(r.t, os.MkdirAll(filepath.Dir(path), 0o777), os.WriteFile(path, []byte(text), 0o666))
}

func (r *repository) commit(why string) {
	r.t.Helper()
	r.git("add", "-A")
	r.git("commit", "-q", "-m", why)
}

func (r *repository) git(args ...string) string {
	r.t.Helper()
	out, status := r.run("git", args...)
	if status != 0 {
		r.t.Fatalf("git %v ends with %d: %s", args, status, out)
	}
	return out
}

// run runs a program in the repository and gives all it prints, and its status.
func (r *repository) run(program string, args ...string) (string, int) {
	r.t.Helper()
	cmd := exec.Command(program, args...)
	cmd.Dir = r.dir
	cmd.Env = append(os.Environ(), "GIT_CONFIG_GLOBAL="+os.DevNull, "GIT_CONFIG_NOSYSTEM=1", "GIT_PAGER=cat", "LC_ALL=C",
		"GIT_AUTHOR_NAME=Tern", "GIT_AUTHOR_EMAIL=tern@example.org", "GIT_COMMITTER_NAME=Tern", "GIT_COMMITTER_EMAIL=tern@example.org")
	out, err := cmd.CombinedOutput()
	var ended *exec.ExitError
	if err != nil && !errors.As(err, &ended) {
		r.t.Fatal(err)
	}
	return string(out), cmd.ProcessState.ExitCode()
}

func (r *repository) wants(out string, all ...string) {
	r.t.Helper()
	for _, w := range all {
		if !strings.Contains(out, w) {
			r.t.Errorf("this lacks %q:\n%s", w, out)
		}
	}
}

// moves are what the second revision changes.
var moves = []string{"log.wire.inset", "4.1 mm", "4.3 mm", "+0.2 mm", "front.wire", "24 holes", "0.2 mm to the right", "front.outline", "0.8284 mm"}

// Two revisions of the harbour log, asked for by their names and through git itself.
func TestDiffOfRevisions(t *testing.T) {
	r := newRepository(t)
	const log = "covers/harbour-log.fore"
	for _, args := range [][]string{{"HEAD~2", "HEAD", log}, {"HEAD~2", log}, {"HEAD~2:" + log, "HEAD:" + log}, {"bench~2:" + log, log}} {
		out, status := r.run(r.program, append([]string{"diff"}, args...)...)
		if status != faulty {
			t.Errorf("foredge diff %v ends with %d", args, status)
		}
		r.wants(out, append([]string{"birch.thick", "4 mm"}, moves...)...) // the shop's file is of its revision, too
	}
	golden, _ := r.run(r.program, "diff", "HEAD~2", "HEAD", log)
	foretest.Golden(t, "testdata/harbour-log.diff", []byte(golden))
	if out, status := r.run(r.program, "diff", "HEAD~1", log); status != done {
		t.Errorf("a comment is a difference, %d: %s", status, out)
	}
	for want, args := range map[string][]string{
		`no revision "HEAD~9"`:                {"HEAD~9", log},
		`no revision "--output=x"`:            {"--", "--output=x", log},
		`there is no file "gone.fore" in rev`: {"HEAD", "gone.fore"},
		`there is no file "gone.fore"`:        {log, "gone.fore"},
		`there is no file "lost.fore"`:        {"lost.fore", log},
		`"code": "missing-file"`:              {"--json", "lost.fore", log},
		"two versions of one design":          {log},
		"NAME.svg or NAME.png":                {"--overlay", "x.pdf", "HEAD", log},
		"takes nothing else":                  {"--textconv", "--json", log},
	} {
		if out, status := r.run(r.program, append([]string{"diff"}, args...)...); status != misuse || !strings.Contains(out, want) {
			t.Errorf("foredge diff %v ends with %d: %s", args, status, out)
		}
	}
	if out, _ := r.run(r.program, "diff", "HEAD~9", log); !strings.Contains(out, "[no-revision]") {
		t.Errorf("without a code: %s", out)
	}
	if out := r.git("status", "--porcelain"); out != "" {
		t.Errorf("the repository has changed: %s", out)
	}
}

// git calls foredge as its external diff and for its textconv.
func TestDiffThroughGit(t *testing.T) {
	r := newRepository(t)
	r.git("config", "diff.foredge.command", r.program+" diff")
	r.wants(r.git("diff", "HEAD~2", "HEAD~1"), append([]string{"harbour-log.fore", "birch.thick"}, moves...)...)
	// Git names no revisions, so what the design uses may be of others, which is told.
	r.wants(r.git("diff", "HEAD~2", "HEAD~1"), "The files that it uses are read as they are in the parent of ", "git doesn't say which revisions", "foredge diff OLD NEW covers/harbour-log.fore")
	out := r.git("log", "-p", "--ext-diff", "--format=%s")
	r.wants(out, append([]string{"measured again\n", "noted\n", "what is cut is the same", "covers/shop.fore is new"}, moves...)...)
	r.write("covers/harbour-log.fore", strings.Replace(foretest.Read(t, filepath.Join(r.dir, "covers/harbour-log.fore")), "radius 8", "radius 9", 1))
	r.wants(r.git("diff"), "front.outline")
	r.git("add", "-A")
	r.wants(r.git("diff", "--cached"), "front.outline")
	r.write("covers/harbour-log.fore", "panel front { width = 100; height = hight }\n")
	r.wants(r.git("diff"), "can't be worked out", "did you mean", "+panel front") // and git goes on
	r.git("checkout", "-q", "HEAD", "--", "covers")
	r.git("mv", "covers/harbour-log.fore", "covers/pilot-log.fore")
	r.wants(r.git("diff", "--cached", "-M", "HEAD"), "covers/pilot-log.fore", "what is cut is the same")
	r.git("rm", "-q", "-f", "covers/pilot-log.fore")
	r.wants(r.git("diff", "--cached", "--no-renames", "HEAD"), "covers/harbour-log.fore is gone")

	r.git("reset", "-q", "--hard")
	r.git("config", "--unset", "diff.foredge.command")
	r.git("config", "diff.foredge.textconv", r.program+" diff --textconv")
	// The shop's file is found for what git lays into another folder.
	r.wants(r.git("diff", "HEAD~2", "HEAD"), "\n-log.wire.inset = 4.1 mm\n+log.wire.inset = 4.3 mm\n", "-birch.thick = 3 mm", "+birch.thick = 4 mm", " log.wire.count = 24")
	r.wants(r.git("log", "-p", "--format=%s", "--", "covers/harbour-log.fore"), "+log.wire.inset = 4.3 mm")
	r.write("covers/harbour-log.fore", "panel front { width = 100; height = hight }\n")
	r.wants(r.git("diff"), "-log.wire.inset = 4.3 mm", "error: nothing is called", "did you mean")
}

// What differs as data, and as pictures: the old dashed, the new not.
func TestDiffDrawn(t *testing.T) {
	r := newRepository(t)
	const log = "covers/harbour-log.fore"
	svg, png := filepath.Join(r.dir, "over.svg"), filepath.Join(r.dir, "over.png")
	out, status := r.run(r.program, "diff", "HEAD~2", log, "--json", "--overlay", svg)
	var data struct {
		Same   bool
		Shapes []struct {
			Part, Name, Change, What string
			By, Right, Down, Wider   float64
		}
	}
	foretest.Must(t, json.Unmarshal([]byte(out), &data))
	holes := 0
	for _, s := range data.Shapes {
		if s.What == "hole" {
			holes++
			if right := map[string]float64{"front": 0.2, "back": -0.2}[s.Part]; s.By < 0.2-1e-6 || s.Right < right-1e-6 || s.Right > right+1e-6 || s.Down != 0 || s.Wider != 0 {
				t.Errorf("%+v", s)
			}
		}
	}
	if status != faulty || data.Same || holes != 48 || len(data.Shapes) != 50 {
		t.Errorf("status %d, %d holes of %d shapes", status, holes, len(data.Shapes))
	}
	text := foretest.Read(t, svg)
	dashed, whole := strings.Count(text, "stroke-dasharray"), strings.Count(text, `stroke="#0072B2" d=`)
	if dashed != 51 || whole != 51 { // one each in the legend
		t.Errorf("%d dashed, %d whole lines", dashed, whole)
	}
	r.wants(text, "to look at, not to cut", "made by foredge")
	foretest.Output(t, exec.Command(foretest.Program(t, "xmllint", "libxml2-utils"), "--noout", svg))
	r.run(r.program, "diff", "HEAD~2", log, "--overlay", png)
	if !bytes.HasPrefix([]byte(foretest.Read(t, png)), []byte("\x89PNG")) {
		t.Error("no picture")
	}
	foretest.Write(t, svg, "drawn by hand")
	if out, status := r.run(r.program, "diff", "HEAD~2", log, "--overlay", svg); status != misuse || foretest.Read(t, svg) != "drawn by hand" {
		t.Errorf("%d: %s", status, out)
	}
	r.run(r.program, "diff", "HEAD~2", log, "--overlay", svg, "--force")
	if foretest.Read(t, svg) != text {
		t.Error("the picture is another the second time")
	}
}

// Which orders come out otherwise: the one whose initials changed, a new one and one that
// is gone, and all where the board grows.
func TestDiffOfOrders(t *testing.T) {
	dir := t.TempDir()
	write := func(folder, word, table string) string {
		foretest.Must(t, os.MkdirAll(filepath.Join(dir, folder), 0o777))
		foretest.Write(t, filepath.Join(dir, folder, "orders.csv"), table)
		return foretest.Write(t, filepath.Join(dir, folder, "tag.fore"), `orders "orders.csv" { number = text; word = text; copies = count default 1 }
panel tag { width = `+word+`; height = 40; thick = 3
  region word { head = 10; height = 15; spine = 5; foredge = 5; mark text order.word { font = stroke } }
}
`)
	}
	a := write("a", "90", "number,word\n11,gull\n12,tern\n13,knot\n")
	b := write("b", "90", "number,word\n11,gull\n12,skua\n14,ruff\n")
	c := write("c", "91", "number,word\n11,gull\n12,tern\n13,knot\n")
	e := write("e", "90", "number,word,copies\n11,gull,1\n12,tern,5\n13,knot,1\n")
	for _, x := range []struct {
		with string
		want []string
	}{
		{e, []string{"orders, of 3:", "touched: 12\n"}},
		{b, []string{"orders, of 3:", "touched: 12\n", "new: 14\n", "gone: 13\n"}},
		{c, []string{"touched: 11, 12 and 13"}},
	} {
		var out, errs bytes.Buffer
		status := run(t.Context(), &terminal{stdout: &out, stderr: &errs}, []string{"diff", a, x.with})
		if status != faulty {
			t.Errorf("%d: %s", status, errs.String())
		}
		for _, w := range x.want {
			if !strings.Contains(out.String(), w) {
				t.Errorf("this lacks %q:\n%s", w, out.String())
			}
		}
	}
	var out bytes.Buffer
	if status := run(t.Context(), &terminal{stdout: &out, stderr: &out}, []string{"diff", a, a}); status != done {
		t.Errorf("%d: %s", status, out.String())
	}
}

// An order that is cut from another wood, or that can't be cut any more, is touched.
func TestDiffOfTheWoodOfOrders(t *testing.T) {
	dir := t.TempDir()
	write := func(folder, row string) string {
		foretest.Must(t, os.MkdirAll(filepath.Join(dir, folder), 0o777))
		foretest.Write(t, filepath.Join(dir, folder, "orders.csv"), "number,wood,side\n11,oak board,50\n"+row+"\n")
		return foretest.Write(t, filepath.Join(dir, folder, "tag.fore"), `laser bench { bed = 400 by 300 }
orders "orders.csv" { number = text; wood = text; side = length }
stock ply { thick = 3; material = order.wood }
panel tag { width = 90; height = order.side; stock = ply; quiet = too-large }
stock sheet { thick = 3; size = 100 by 100 }
panel lid { width = 90; height = order.side; stock = sheet }
`)
	}
	before := write("a", "12,oak board,60")
	for folder, row := range map[string]string{"b": "12,ash board,60", "c": "12,PVC sheet,60", "d": "12,oak board,120"} {
		var out, errs bytes.Buffer
		status := run(t.Context(), &terminal{stdout: &out, stderr: &errs}, []string{"diff", before, write(folder, row)})
		if status != faulty || !strings.Contains(out.String(), "touched: 12\n") {
			t.Errorf("%s: %d: %s%s", row, status, out.String(), errs.String())
		}
	}
}

// What nobody can cut is no difference, and what is in no shape is one: the kerf.
func TestDiffOfAlmostNothing(t *testing.T) {
	dir := t.TempDir()
	text := func(width, kerf string) string {
		return "laser bench { kerf = " + kerf + " }\npanel front { width = " + width + "; height = 50; thick = 3 }\n"
	}
	first := foretest.Write(t, filepath.Join(dir, "first.fore"), text("100", "0.2"))
	for _, c := range []struct {
		width, kerf, says string
		status            int
	}{
		{"100.00005", "0.2", "the same", done},
		{"100.0005", "0.2", "front.outline", faulty},
		{"100", "0.21", "laser.kerf  0.2 mm  0.21 mm", faulty},
	} {
		var out bytes.Buffer
		second := foretest.Write(t, filepath.Join(dir, "second.fore"), text(c.width, c.kerf))
		if status := run(t.Context(), &terminal{stdout: &out, stderr: &out}, []string{"diff", first, second}); status != c.status || !strings.Contains(out.String(), c.says) {
			t.Errorf("%s, %s: %d\n%s", c.width, c.kerf, status, out.String())
		}
	}
}

// What is no dimension of a file is told, too, by either way of git's: the kerf and another
// line of a file that designs use, and letters, which are in no dimension of a cover.
func TestDiffOfSettings(t *testing.T) {
	r := newRepository(t)
	change := func(name, was, is string) {
		text := foretest.Read(t, filepath.Join(r.dir, name))
		if !strings.Contains(text, was) {
			t.Fatalf("%s has no %q", name, was)
		}
		r.write(name, strings.Replace(text, was, is, 1))
	}
	r.git("config", "diff.foredge.command", r.program+" diff")
	r.git("config", "diff.foredge.textconv", r.program+" diff --textconv")
	for _, c := range []struct {
		name, was, is  string
		told, textconv []string
	}{
		{"covers/shop.fore", "kerf = 0.18", "kerf = 0.2", []string{"laser.kerf  0.18 mm  0.2 mm"}, []string{"-laser.kerf = 0.18 mm", "+laser.kerf = 0.2 mm"}},
		{"covers/shop.fore", "kerf = 0.18", "kerf = 0.18; scale-x = 1.002", []string{"laser.scale-x  -    1.002"}, []string{"+laser.scale-x = 1.002"}},
		{"covers/shop.fore", "use materials", "use materials\nstyle worn { corner head-foredge = radius 3 }", []string{"something else to the designs that use it"}, []string{"-what it says to others", "+what it says to others"}},
		{"covers/harbour-log.fore", "Harbour Log", "Harbour Lag", []string{`front.title  text "Harbour Log"  text "Harbour Lag"`}, []string{`-front.title = text "Harbour Log"`, `+front.title = text "Harbour Lag"`, "+what is cut has the sum"}},
		{"covers/harbour-log.fore", "# sold", "# given", []string{"what is cut is the same"}, nil},
	} {
		change(c.name, c.was, c.is)
		out := r.git("diff")
		r.wants(out, append(c.told, c.name)...)
		if len(c.textconv) > 0 && strings.Contains(out, "is the same") {
			t.Errorf("%s for %s is the same:\n%s", c.is, c.was, out)
		}
		plain := r.git("diff", "--no-ext-diff")
		r.wants(plain, c.textconv...)
		if len(c.textconv) == 0 && plain != "" {
			t.Errorf("%s for %s is shown:\n%s", c.is, c.was, plain)
		}
		r.git("checkout", "-q", ".")
	}
}

// What a stock says of its sheets and of how parts lie on them makes other files of the same shapes.
func TestDiffOfStocks(t *testing.T) {
	r := newRepository(t)
	const plain = "laser bench { kerf = 0.2; bed = 300 by 200 }\nstock oak { size = 300 by 200; thick = 3 }\npanel front { width = 100; height = 80; stock = oak }\n"
	r.write("plain.fore", plain)
	for _, c := range []struct{ says, told string }{
		{"margin = 7", "oak.margin - 7 mm"}, {"spacing = 0.2 in", "oak.spacing - 5.08 mm"}, {"knife = yes", "oak.knife - yes"}, {"shared-cuts = yes", "oak.shared-cuts - yes"},
		{"quantity = 2", "oak.quantity - 2"}, {"grain = along width", "oak.grain - along width"}, {"bridge = 1; bridge-below = 120", "oak.bridge-below - 120 mm"},
		{`material = "oak board"`, "oak.material - oak board"},
		{"offcuts = 200 by 150, 120 by 90 less 40 by 30 at head-left", "oak.offcuts - 200 mm by 150 mm, 120 mm by 90 mm less 40 mm by 30 mm at head-left"},
	} {
		r.write("other.fore", strings.Replace(plain, "thick = 3", "thick = 3; "+c.says, 1))
		out, status := r.run(r.program, "diff", "plain.fore", "other.fore")
		if status != faulty {
			t.Errorf("%s: status %d", c.says, status)
		}
		r.wants(strings.Join(strings.Fields(out), " "), c.told)
		if strings.Contains(out, "something else") {
			t.Errorf("%s: %s", c.says, out)
		}
	}
	// So does another stock of what is no panel.
	const stuffs = plain + `stock cloth { thick = 0.3 }
stock linen { thick = 0.3 }
panel back { width = 100; height = 80; stock = oak; region r { head = 5; height = 30; spine = 5; width = 60; inlay text "AB" { stock = cloth } } }
gap joint { width = 10 }
case k { lay = back, joint, front; turn-in = 15; lining = 2; covering-stock = cloth; lining-stock = cloth }
`
	r.write("plain.fore", stuffs)
	for was, told := range map[string]string{
		"covering-stock =": "k.covering-stock cloth linen", "lining-stock =": "k.lining-stock cloth linen", "{ stock =": `back.r text "AB" of cloth text "AB" of linen`,
	} {
		r.write("other.fore", strings.Replace(stuffs, was+" cloth", was+" linen", 1))
		out, status := r.run(r.program, "diff", "plain.fore", "other.fore")
		if status != faulty || strings.Contains(out, "something else") {
			t.Errorf("%s linen: status %d, %s", was, status, out)
		}
		r.wants(strings.Join(strings.Fields(out), " "), told)
	}
	// In which order parts stand in a file is all the same, of whichever stocks they are.
	const sheets, one, two = "laser bench { kerf = 0.2 }\nstock oak { thick = 3 }\nstock elm { thick = 2 }\n", "panel a { width = 9; height = 9; stock = oak }\n", "panel b { width = 9; height = 9; stock = elm }\n"
	r.write("old.fore", sheets+one+two)
	r.write("new.fore", sheets+two+one)
	if out, status := r.run(r.program, "diff", "old.fore", "new.fore"); status != done {
		t.Errorf("in another order: status %d, %s", status, out)
	}
	// So does what is said of one from which nothing is cut, as in a file that others use.
	for _, cut := range []string{"panel front { width = 100; height = 80; stock = elm }\n", ""} {
		const shop = "laser bench { kerf = 0.2 }\nstock oak { quantity = 3; thick = 3 }\nstock elm { thick = 2 }\n"
		r.write("old.fore", shop+cut)
		r.write("new.fore", strings.Replace(shop, "quantity = 3", "quantity = 2", 1)+cut)
		out, status := r.run(r.program, "diff", "old.fore", "new.fore")
		if status != faulty || strings.Contains(out, "something else") {
			t.Errorf("status %d, %s", status, out)
		}
		r.wants(strings.Join(strings.Fields(out), " "), "oak.quantity 3 2")
		out, _ = r.run(r.program, "diff", "--textconv", "old.fore")
		r.wants(out, "oak.quantity = 3\n")
	}
	if out, status := r.run(r.program, "diff", "plain.fore", "plain.fore"); status != done {
		t.Errorf("the same: %d, %s", status, out)
	}
}

// How deep a recess is no shape tells: it is a setting, and an order of which one is deeper comes out
// otherwise.
func TestDiffOfDepths(t *testing.T) {
	r := newRepository(t)
	const panels = "laser bench { kerf = 0.2 }\npanel front { thick = 3; width = 100; height = 60; cutout nest { head = 10; height = 20; spine = 5; width = 20; depth = DEEP } }\n"
	r.write("old.fore", strings.Replace(panels, "DEEP", "1", 1))
	r.write("new.fore", strings.Replace(panels, "DEEP", "1.5", 1))
	out, status := r.run(r.program, "diff", "old.fore", "new.fore")
	if status != faulty {
		t.Errorf("status %d", status)
	}
	r.wants(strings.Join(strings.Fields(out), " "), "front.nest.depth 1 mm 1.5 mm")
	for _, v := range []struct{ name, table string }{{"old", "number,deep\n7,1\n8,1\n"}, {"new", "number,deep\n7,1\n8,1.5\n"}} {
		r.write(v.name+".csv", v.table)
		r.write(v.name+".fore", "orders \""+v.name+".csv\" { number = text; deep = length }\n"+strings.Replace(panels, "DEEP", "order.deep", 1))
	}
	out, status = r.run(r.program, "diff", "old.fore", "new.fore")
	if status != faulty {
		t.Errorf("of orders: status %d", status)
	}
	r.wants(strings.Join(strings.Fields(out), " "), "orders, of 2: touched: 8")
}

// An order comes out otherwise, too, where no shape of it tells: in another number of a board, from another stock, of another
// thickness, with another kerf or picture, by a knife or with bridges, be it the first one or not.
func TestDiffOfWhatNoShapeTells(t *testing.T) {
	const design = `orders "ORDERS.csv" { number = text; word = one of "left", "right"; many = count }
laser bench { kerf = 0.1 }
stock ply when order.word = "left" { thick = 3; kerf = 0.2 }
stock ply when order.word = "right" { thick = 3; kerf = 0.2 }
stock oak { thick = 3; kerf = 0.2 }
panel front when order.word = "left" { stock = ply; width = 100; height = 60; copies = order.many }
panel front when order.word = "right" { stock = ply; width = 100; height = 60; copies = order.many }
`
	for _, test := range []struct{ old, now, want string }{
		{"", "", ""},
		{`stock ply when order.word = "right" { thick = 3; kerf = 0.2`, `stock ply when order.word = "right" { thick = 3; kerf = 0.25`, "orders, of 2: touched: 8"},
		{`stock ply when order.word = "right" { thick = 3;`, `stock ply when order.word = "right" { thick = 4;`, "orders, of 2: touched: 8"},
		{`stock ply when order.word = "left" { thick = 3;`, `stock ply when order.word = "left" { thick = 4;`, "orders, of 2: touched: 7"},
		{`panel front when order.word = "right" { stock = ply`, `panel front when order.word = "right" { stock = oak`, "orders, of 2: touched: 8"},
		{`"right" { thick = 3;`, `"right" { grain = along width; thick = 3;`, "orders, of 2: touched: 8"},
		{`"right" { thick = 3;`, `"right" { knife = yes; thick = 3;`, "orders, of 2: touched: 8"},
		{`"right" { thick = 3;`, `"right" { bridge = 0.6; bridge-below = 101; thick = 3;`, "orders, of 2: touched: 8"},
		{`"left" { thick = 3;`, `"left" { bridge = 0.6; bridge-below = 100; thick = 3;`, "none of 2 orders is touched"},
		{"ORDERS", "more", "orders, of 2: touched: 8"},
	} {
		r := newRepository(t)
		r.write("orders.csv", "number,word,many\n7,left,1\n8,right,2\n")
		r.write("more.csv", "number,word,many\n7,left,1\n8,right,3\n")
		r.write("old.fore", strings.Replace(design, "ORDERS", "orders", 1))
		r.write("new.fore", strings.Replace(strings.Replace(design, test.old, test.now, 1), "ORDERS", "orders", 1))
		out, status := r.run(r.program, "diff", "old.fore", "new.fore")
		if (status == done) != (test.want == "") || !strings.Contains(strings.Join(strings.Fields(out), " "), test.want) {
			t.Errorf("%s: status %d, %s", test.now, status, out)
		}
	}
}

// A picture that comes out otherwise is told beside what moved, but not what is told already.
func TestDiffOfPictures(t *testing.T) {
	r := newRepository(t)
	sea := foretest.Read(t, filepath.Join(foretest.Root(t), "testdata", "errors", "meaning", "parts", "sea.png"))
	r.write("sea.png", sea)
	r.write("bay.png", sea)
	const plain = `laser bench { kerf = 0.1 }
panel a { width = 90; height = 90; region r { head = 10; width = 60; height = 30; engrave art "sea.png" { width = 20 } }; cutout c { shape = round 10; head = 60 } }
`
	r.write("old.fore", plain)
	for _, c := range []struct {
		was, is, told string
		otherwise     bool
	}{
		{"round 10", "round 11", "1 hole", false},
		{"round 10", "round 11", "1 hole", true},
		{"kerf = 0.1", "kerf = 0.2", "laser.kerf", true},
		{"head = 10;", "head = 12;", "1 engraved figure", false},
		{"width = 20", "width = 22", "1 engraved figure", false},
		{"sea.png", "bay.png", `art "bay.png"`, false},
	} {
		changed := strings.Replace(plain, c.was, c.is, 1)
		if c.otherwise {
			changed = strings.Replace(changed, "width = 20", "width = 20; line-distance = 0.2; shade = ordered", 1)
		}
		r.write("new.fore", changed)
		out, status := r.run(r.program, "diff", "old.fore", "new.fore")
		r.wants(out, c.told)
		if status != faulty || strings.Contains(out, "something else") != c.otherwise {
			t.Errorf("%s, %v: status %d, %s", c.is, c.otherwise, status, out)
		}
	}
}

// An overlay takes the place of an earlier one, but of no cut file and of nothing that the
// design reads.
func TestOverlaySpares(t *testing.T) {
	r := newRepository(t)
	const log = "covers/harbour-log.fore"
	r.git("checkout", "-q", "HEAD", "--", ".")
	if out, status := r.run(r.program, "build", log, "--as", "svg,png"); status != done {
		t.Fatal(out)
	}
	for _, name := range []string{"covers/harbour-log.svg", "covers/harbour-log.png"} {
		was := foretest.Read(t, filepath.Join(r.dir, name))
		out, status := r.run(r.program, "diff", "HEAD~2", log, "--overlay", name)
		if status != misuse || !strings.Contains(out, "is no overlay") || foretest.Read(t, filepath.Join(r.dir, name)) != was {
			t.Errorf("%s: %d, %s", name, status, out)
		}
	}
	for _, from := range []string{"HEAD~2", "HEAD~1"} { // another one in its place
		if out, status := r.run(r.program, "diff", from, log, "--overlay", "moved.svg"); status == misuse {
			t.Error(out)
		}
	}
	r.write("covers/gull.svg", foretest.Read(t, filepath.Join(foretest.Root(t), "examples", "gull.svg")))
	r.write(log, strings.Replace(foretest.Read(t, filepath.Join(r.dir, log)), `engrave text "Harbour Log" { font = "Go Bold"; fit = shrink }`, `engrave art "gull.svg"`, 1))
	was := foretest.Read(t, filepath.Join(r.dir, "covers/gull.svg"))
	out, status := r.run(r.program, "diff", "HEAD", log, "--overlay", "covers/gull.svg", "--force")
	if status != misuse || !strings.Contains(out, "the design reads it") || strings.Contains(out, "with -o") || foretest.Read(t, filepath.Join(r.dir, "covers/gull.svg")) != was {
		t.Errorf("%d, %s", status, out)
	}
	// What is wrong is data where that is asked for, but for a call that is wrong.
	for code, args := range map[string][]string{
		`"code": "not-ours"`:    {"HEAD~2", "covers/harbour-log.fore", "--overlay", "covers/shop.fore.svg"},
		`"code": "no-revision"`: {"HEAD~9", "covers/harbour-log.fore"},
		"error: an overlay is":  {"HEAD~2", "covers/harbour-log.fore", "--overlay", "moved.pdf"},
	} {
		r.write("covers/shop.fore.svg", "mine")
		out, status := r.run(r.program, append([]string{"diff", "--json"}, args...)...)
		if status != misuse || strings.HasPrefix(out, "{") != strings.HasPrefix(code, `"`) {
			t.Errorf("%v: status %d, %s", args, status, out)
		}
		r.wants(out, code)
	}
}

// What is staged is a version, too; a word that is a file and a revision is asked about.
func TestDiffOfStaged(t *testing.T) {
	r := newRepository(t)
	const log = "covers/harbour-log.fore"
	text := foretest.Read(t, filepath.Join(r.dir, log))
	r.write(log, strings.Replace(text, "radius 8", "radius 9", 1))
	shop := foretest.Read(t, filepath.Join(r.dir, "covers/shop.fore"))
	r.write("covers/shop.fore", strings.Replace(shop, "thick = 4", "thick = 5", 1))
	r.git("add", "-A")
	r.write(log, strings.Replace(text, "radius 8", "radius 10", 1))
	r.write("covers/shop.fore", shop)
	for _, args := range [][]string{{":" + log, log}, {":./" + log, log}} {
		out, status := r.run(r.program, append([]string{"diff"}, args...)...)
		if status != faulty {
			t.Errorf("foredge diff %v ends with %d", args, status)
		}
		r.wants(out, args[0]+" -> "+log, "birch.thick", "5 mm", "4 mm", "front.outline")
	}
	out, status := r.run(r.program, "diff", "HEAD", ":"+log)
	if status != faulty {
		t.Errorf("foredge diff HEAD :%s ends with %d", log, status)
	}
	r.wants(out, "HEAD:"+log+" -> :"+log, "birch.thick", "4 mm", "5 mm", "front.outline")
	if out, status := r.run(r.program, "diff", ":covers/gone.fore", log); status != misuse || !strings.Contains(out, `"covers/gone.fore" in what is staged`) {
		t.Errorf("%d, %s", status, out)
	}
	r.write("HEAD", "panel front { width = 100; height = 80; thick = 3 }\n")
	if out, status := r.run(r.program, "diff", "HEAD", log); status != misuse || !strings.Contains(out, `"HEAD" is the name of a file and of a revision`) || !strings.Contains(out, "./HEAD") {
		t.Errorf("%d, %s", status, out)
	}
	if out, status := r.run(r.program, "diff", "./HEAD", log); status != faulty {
		t.Errorf("%d, %s", status, out)
	}
}
