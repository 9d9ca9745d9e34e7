package batch

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/export/svg"
	"foredge/lang/foretest"
)

// byOrder names a drawing and a font by order.
const byOrder = `laser bench { bed = 300 by 200; kerf = 0.2; quiet = caution, small-part, small-text }
orders "o.csv" { number = text; motif = text; face = text }
let title = "No. " + order.number
panel tag { thick = 3; width = 80; height = 60
  region r { width = 60; height = 15; head = 5; engrave text title { font = "type/" + order.face; cap <= 6 } }
  region art { width = 70; height = 20; tail = 5; engrave art "art/" + order.motif + ".svg" { width = 20 } }
}
`

// shape is a drawing that is told from others by its corner.
func shape(corner int) string {
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="10mm" viewBox="0 0 200 100"><path d="M0 0h200v100L0 %d z"/></svg>`, corner)
}

// Each order has the drawing and the font that it names, and no other: it is made
// as it is where they are stated. One that names a file that is not there, or one
// out of the design's folder, is told at its cell, and the others are made.
func TestFilesByOrder(t *testing.T) {
	dir := t.TempDir()
	shop := filepath.Join(dir, "shop")
	foretest.Write(t, filepath.Join(dir, "secret.svg"), shape(1))
	foretest.Write(t, filepath.Join(shop, "type", "bold.ttf"), string(gobold.TTF))
	foretest.Write(t, filepath.Join(shop, "type", "plain.ttf"), string(goregular.TTF))
	const many = 40
	table := "number,motif,face\n"
	for i := range many {
		foretest.Write(t, filepath.Join(shop, "art", fmt.Sprintf("gull-%d.svg", i)), shape(i+1))
		table += fmt.Sprintf("t%d,gull-%d,%s.ttf\n", i, i, []string{"bold", "plain"}[i%2])
	}
	table += "missing,gul-3,bold.ttf\nabove,../../secret,bold.ttf\nlinked,out,bold.ttf\nfont,gull-1,italic.ttf\n"
	foretest.Write(t, filepath.Join(shop, "o.csv"), table)
	if err := os.Symlink("../../secret.svg", filepath.Join(shop, "art", "out.svg")); err != nil {
		foretest.Missing(t, "a disk with symbolic links ("+err.Error()+")")
	}
	design := foretest.Write(t, filepath.Join(shop, "tag.fore"), byOrder)
	opts := folder(filepath.Join(shop, "cut"))
	opts.Encoders = []export.Encoder{svg.Encoder{}}
	r := Run(context.Background(), driver.NewSession(nil), design, opts)
	foretest.Must(t, r.Err)
	if r.Done != many || len(r.Bad) != 4 {
		t.Fatalf("%d made, %d bad: %v", r.Done, len(r.Bad), r.Bad)
	}
	for i, want := range []string{`shop/art/gul-3.svg"`, "leads above the design's root folder", "is a link that leads out", `shop/type/italic.ttf"`} {
		why := r.Bad[i].Why
		if len(why) != 1 || why[0].At.Line != many+2+i || !strings.Contains(filepath.ToSlash(why[0].Message), want) || why[0].At.Column < len(r.Bad[i].Order) {
			t.Errorf("%s: %+v, want %q", r.Bad[i].Order, why, want)
		}
	}
	for i, m := range r.Made {
		stated := strings.NewReplacer(`"type/" + order.face`, fmt.Sprintf(`"type/%s.ttf"`, []string{"bold", "plain"}[i%2]),
			`"art/" + order.motif + ".svg"`, fmt.Sprintf(`"art/gull-%d.svg"`, i), "title\n", "")
		alone := strings.Replace(stated.Replace(byOrder), `orders "o.csv" { number = text; motif = text; face = text }`, "", 1)
		alone = strings.Replace(alone, "order.number", fmt.Sprintf(`"t%d"`, i), 1)
		path := foretest.Write(t, filepath.Join(shop, "tag.fore"), alone)
		b := driver.NewSession(nil).Build(context.Background(), path, driver.Options{Encoders: opts.Encoders})
		if !b.OK() {
			t.Fatalf("%v %v", b.Err, b.Diagnostics)
		}
		got := strings.Replace(unmarked(t, []byte(foretest.Read(t, filepath.Join(shop, "cut", m.Files[0])))), fmt.Sprintf("tag, order t%d", i), "tag", 1)
		if want := unmarked(t, b.Files[0].Data); got != want {
			t.Errorf("order t%d is not as it is where its files are stated", i)
		}
	}
}

// A let chooses anew for each order; the one for which it has no choice is told at
// its cell, and the others are made.
func TestLetChoosesByOrder(t *testing.T) {
	dir := t.TempDir()
	foretest.Write(t, filepath.Join(dir, "o.csv"), "number,size\na,small\nb,large\nc,middling\nd,small\n")
	design := foretest.Write(t, filepath.Join(dir, "tag.fore"), `laser bench { bed = 300 by 200; kerf = 0.2; quiet = caution }
orders "o.csv" { number = text; size = text }
let wide = 60 when order.size = "small", 80 when order.size = "large"
panel tag { thick = 3; width = wide; height = 40 }
`)
	opts := folder(filepath.Join(dir, "cut"))
	opts.Encoders = []export.Encoder{svg.Encoder{}}
	r := Run(context.Background(), driver.NewSession(nil), design, opts)
	foretest.Must(t, r.Err)
	var wide []float64
	for _, m := range r.Made {
		wide = append(wide, float64(m.Parts[0].Width))
	}
	if !slices.Equal(wide, []float64{60, 80, 60}) {
		t.Errorf("made %v wide", wide)
	}
	if len(r.Bad) != 1 || len(r.Bad[0].Why) != 1 || r.Bad[0].Why[0].Code != "no-choice" || r.Bad[0].Why[0].At.Line != 4 ||
		r.Bad[0].Why[0].At.Column != 3 || r.Bad[0].Why[0].Message != `wide has no value where order.size = "middling"` {
		t.Errorf("%+v", r.Bad)
	}
}

// A text that is joined of others is an order's, and so is looked at.
func TestJoinedTextsAreSeen(t *testing.T) {
	for text, want := range map[string]bool{`"Tern"`: true, `"a \" b"`: true, `"No. " + order.number`: false, `"a" + "b"`: false, "order.name": false, `"`: false} {
		if quoted(text) != want {
			t.Errorf("%s: %v", text, !want)
		}
	}
	r := tagBatch(t, t.TempDir(), strings.Replace(tag, "text order.name", `text "No. " + order.name { cap <= 6 }`, 1),
		Options{Check: true}, 0, "Ada", strings.Repeat("the long quay ", 9))
	shrank := 0
	for _, seen := range r.Seen {
		if strings.HasPrefix(seen.Text, "No. the long quay") && strings.HasPrefix(seen.What[0], "shrank") {
			shrank++
		}
	}
	if shrank != 2 {
		t.Errorf("%d texts are seen to shrink, one on each panel: %+v", shrank, r.Seen)
	}
}

// unmarked is a cut file without the mark that says who made it.
func unmarked(t *testing.T, data []byte) string {
	t.Helper()
	rest, ours := export.Unmark(data)
	if !ours {
		t.Error("a cut file has no mark")
	}
	return string(rest)
}

// A file is found whether the letters of its name or of the order are composed or not.
func TestFilesByOrderComposed(t *testing.T) {
	for _, name := range [][2]string{{"k\u00f6nig", "ko\u0308nig"}, {"ko\u0308nig", "k\u00f6nig"}} {
		dir := t.TempDir()
		foretest.Write(t, filepath.Join(dir, "type", "bold.ttf"), string(gobold.TTF))
		foretest.Write(t, filepath.Join(dir, "art", name[0]+".svg"), shape(3))
		foretest.Write(t, filepath.Join(dir, "o.csv"), "number,motif,face\n1,"+name[1]+",bold.ttf\n")
		opts := folder(filepath.Join(dir, "cut"))
		opts.Encoders = []export.Encoder{svg.Encoder{}}
		r := Run(context.Background(), driver.NewSession(nil), foretest.Write(t, filepath.Join(dir, "tag.fore"), byOrder), opts)
		if r.Err != nil || r.Done != 1 {
			t.Errorf("%q for a file %q: %v %v", name[1], name[0], r.Err, r.Diagnostics)
		}
	}
}
