package layout_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/internal/geos"
)

// rings is a figure as polygons, for GEOS.
func rings(f geom.Figure) (out [][][2]float64) {
	for _, p := range geom.Paths(f) {
		var ring [][2]float64
		for _, x := range p.Flatten(1e-4) {
			ring = append(ring, [2]float64{x.X, x.Y})
		}
		out = append(out, ring)
	}
	return out
}

// inlaid is what GEOS is asked about one inlay: its recess as wanted and as the
// laser runs, and its pieces the same. All pieces together may be moved to where
// they lie in the board.
type inlaid struct {
	Name               string
	Recess, RecessPath [][][2]float64
	Pieces, Paths      [][][][2]float64
	Ease, Kerf, Board  float64 // the pieces' kerf and the board's; 0 for a recess that is engraved
}

// laid takes an inlay out of a drawing, whose pieces have an ease, and out of
// the same drawing for the laser.
func laid(t *testing.T, wanted, cut *layout.Drawing, recess, id string, ease, kerf, board float64) inlaid {
	t.Helper()
	in := inlaid{Name: id, Ease: ease, Kerf: kerf, Board: board}
	p, q := part(t, wanted, id), part(t, cut, id)
	if p.Bounds.Min.Y != 0 {
		t.Errorf("%s lies in %v", id, p.Bounds)
	}
	// The drawing for the laser is moved as a whole, so that what has grown is on it.
	first := wanted.Parts[0]
	edge, grown := shape(t, wanted, first.Name+".outline").Figure.Bounds(), shape(t, cut, first.Name+".outline").Figure.Bounds()
	by := edge.Center().Sub(grown.Center())
	in.Recess, in.RecessPath = rings(shape(t, wanted, recess).Figure), rings(shape(t, cut, recess).Figure.Move(by))
	for i, s := range p.Shapes {
		if s.Op != layout.Cut || s.Hole || s.ID != fmt.Sprintf("%s.%d", id, i+1) {
			t.Errorf("%s: %v, an opening: %v", s.ID, s.Op, s.Hole)
		}
		in.Pieces = append(in.Pieces, rings(s.Figure))
		in.Paths = append(in.Paths, rings(q.Shapes[i].Figure.Move(by)))
	}
	return in
}

// A held is what GEOS says of an inlay.
type held struct {
	Name                   string
	Area, Want             float64 // of the pieces; of the recess less half the ease
	Miss, CutMiss, RunMiss float64 // differing area: of pieces, what the laser leaves of them, the recess it burns
	Least, Wide            float64 // least distance from a recess's edge; share of that edge farther than half the ease
	Pieces, Recesses, Ways int     // pieces that hold together; places for them; pieces that lie in one of their own
}

func ask(t *testing.T, in []inlaid) (out []held) {
	t.Helper()
	geos.Ask(t, `
from shapely.ops import unary_union
from shapely.affinity import translate
def parts(g):
    return [p for p in getattr(g, 'geoms', [g]) if p.area > 0.05]
def moved(g, by):
    return g.buffer(by, 64, join_style=2, mitre_limit=10)
answer = []
for j in data:
    recess, pieces = area(j['Recess']), [area(p) for p in j['Pieces']]
    e = j['Ease'] / 2
    want = moved(recess, -e)
    to, now = want.centroid, unary_union(pieces).centroid
    lift = lambda g: translate(g, to.x - now.x, to.y - now.y)
    pieces = [lift(p) for p in pieces]
    whole = unary_union(pieces)
    left = unary_union([moved(lift(area(p)), -j['Kerf'] / 2) for p in j['Paths']])
    burnt = moved(area(j['RecessPath']), j['Board'] / 2)
    near = recess.boundary.difference(whole.buffer(e + 0.003, 64))
    places = [r.buffer(0.02) for r in parts(want)]
    answer.append({'Name': j['Name'], 'Area': whole.area, 'Want': want.area,
        'Miss': whole.symmetric_difference(want).area, 'CutMiss': left.symmetric_difference(whole).area, 'RunMiss': burnt.symmetric_difference(recess).area,
        'Least': recess.boundary.distance(whole.boundary), 'Wide': near.length / recess.boundary.length,
        'Pieces': sum(1 for p in pieces if len(parts(p)) == 1), 'Recesses': len(parts(want)), 'Ways': len({i for p in pieces for i, r in enumerate(places) if r.contains(p)})})
`, in, &out)
	return out
}

const inlayBench = `
laser bench { kerf = 0.2 }
stock board { thick = 3 }
stock veneer { thick = 0.6; kerf = 0.12 }
`

// The pieces are the recess less half the ease all round, whatever the recess:
// the gap is even, wider only about corners. What the laser leaves of them is
// the piece, and what it takes of the board the recess, each by its own kerf; an
// engraved recess is drawn as wanted. Held by GEOS.
func TestInlay(t *testing.T) {
	const words = `"Gö & 8\nAgé©x"`
	text := inlayBench + "panel front { stock = board; width = 160; height = 200\n"
	type wish struct {
		name string
		ease float64
		cut  float64
	}
	var wishes []wish
	for i, ease := range []float64{0, 0.1, 0.3, -0.1} {
		for k, recess := range []string{"engrave", "through"} {
			name := fmt.Sprintf("r%d%d", i, k)
			text += fmt.Sprintf("region %s { spine = %d; head = %d; width = 70; height = 45; inlay text %s { font = \"Go Bold\"; fit = fill; stock = veneer; recess = %s; ease = %g; %s } }\n",
				name, 5+80*k, 3+48*i, words, recess, ease, []string{"", "bridge = 1.5"}[k])
			wishes = append(wishes, wish{name, ease, float64(k) * 0.2})
		}
	}
	text += "}\npanel back mirrors front\n"
	wanted, cut := drawn(t, text), lasered(t, text)
	var in []inlaid
	for _, w := range wishes {
		for _, panel := range []string{"front.", "back."} {
			in = append(in, laid(t, wanted, cut, panel+w.name, panel+w.name+".inlay", w.ease, 0.12, w.cut))
		}
		// What mirrors it is lettered the same way.
		a, b := part(t, wanted, "front."+w.name+".inlay"), part(t, wanted, "back."+w.name+".inlay")
		by := b.Bounds.Min.Sub(a.Bounds.Min)
		for i := range a.Shapes {
			nearFigure(t, b.Shapes[i].ID, b.Shapes[i].Figure, a.Shapes[i].Figure.Move(by), 1e-9)
		}
		engraved := shape(t, cut, "front."+w.name).Op == layout.Engrave
		if engraved != (w.cut == 0) {
			t.Errorf("%s is engraved: %v", w.name, engraved)
		}
	}
	for i, h := range ask(t, in) {
		edge := 1e-4 * h.Area
		if h.Miss > edge || h.CutMiss > edge || h.RunMiss > edge || math.Abs(h.Area-h.Want) > edge {
			t.Errorf("%s: %+v", h.Name, h)
		}
		if e := math.Abs(in[i].Ease) / 2; math.Abs(h.Least-e) > 1e-3 || h.Wide > 0.05 {
			t.Errorf("%s: the gap is %.4f mm at least, and wider along %.2g of the edge", h.Name, h.Least, h.Wide)
		}
		if h.Recesses < 12 || h.Pieces != h.Recesses || h.Ways != h.Recesses || len(in[i].Pieces) != h.Recesses {
			t.Errorf("%s: %d pieces for %d places: %+v", h.Name, len(in[i].Pieces), h.Recesses, h)
		}
	}
}

// The check above sees pieces that are 0.02 mm too large all round, or one that is 0.03 mm off.
func TestInlayCheckFails(t *testing.T) {
	text := inlayBench + `panel front { stock = board; width = 100; height = 60
  region r { width = 90; height = 40; inlay text "Bo8" { font = "Go Bold"; fit = fill; stock = veneer; ease = 0.2 } } }`
	wanted, cut := drawn(t, text), lasered(t, text)
	good := laid(t, wanted, cut, "front.r", "front.r.inlay", 0.2, 0.12, 0)
	large, off := good, good
	large.Ease += 0.04
	off.Pieces = slices.Clone(good.Pieces)
	off.Pieces[0] = nil
	for _, r := range good.Pieces[0] {
		var moved [][2]float64
		for _, x := range r {
			moved = append(moved, [2]float64{x[0] + 0.03, x[1]})
		}
		off.Pieces[0] = append(off.Pieces[0], moved)
	}
	for i, h := range ask(t, []inlaid{good, large, off}) {
		if bad := h.Miss > 1e-3*h.Area; bad != (i > 0) {
			t.Errorf("%d: %+v", i, h)
		}
		if even := math.Abs(h.Least-0.1) <= 1e-3; i == 2 && even {
			t.Errorf("a gap of %g passes for even", h.Least)
		}
	}
}

// Of all letters and digits that are laid in through the board nothing falls out
// of it, it holds by the breadth of the bridges, and each piece of the bridged
// letters has a recess of its own in which it lies. Held by GEOS.
func TestInlayThrough(t *testing.T) {
	fonts := []string{"Go Regular", "Go Bold", "Go Mono Bold"}
	for _, font := range fonts[:foretest.Sample(len(fonts), 1)] {
		t.Run(font, func(t *testing.T) {
			text := inlayBench + fmt.Sprintf(`panel front { quiet = thin-detail; stock = board; width = 600; height = 120
  region r { width = 590; height = 110; inlay text "ABCDEFGHIJKLMNOPQRSTUVWXYZ\nabcdefghijklmnopqrstuvwxyz\n0123456789" {
    font = %q; cap = 15; stock = veneer; recess = through; bridge = 1.2; ease = 0.1; spacing = 1.2 } } }`, font)
			wanted, cut := drawn(t, text), lasered(t, text)
			in := laid(t, wanted, cut, "front.r", "front.r.inlay", 0.1, 0.12, 0.2)
			h := ask(t, []inlaid{in})[0]
			if h.Pieces != h.Recesses || h.Ways != h.Recesses || len(in.Pieces) != h.Recesses || h.Recesses < 62 {
				t.Errorf("%d pieces: %+v", len(in.Pieces), h)
			}
			if h.Miss > 1e-3*h.Area || h.CutMiss > 1e-3*h.Area || h.RunMiss > 1e-3*h.Area || math.Abs(h.Least-0.05) > 1e-3 {
				t.Errorf("%+v", h)
			}
			var land struct{ Pieces, Held, Broader int }
			geos.Ask(t, `
burnt = area(data['Path']).buffer(0.1, 64, join_style=2, mitre_limit=10)
land = box(-5, -5, 605, 125).difference(burnt)
answer = {'Pieces': pieces(land), 'Held': pieces(land.buffer(-0.597, 32)), 'Broader': pieces(land.buffer(-0.65, 32))}
`, map[string]any{"Path": in.RecessPath}, &land)
			if land.Pieces != 1 || land.Held != 1 || land.Broader < 10 {
				t.Errorf("what is left of the board: %+v", land)
			}
		})
	}
}

// A piece each for the parts of a letter and for what lies in another's opening,
// with the openings that are its own.
func TestInlayPieces(t *testing.T) {
	dr := drawn(t, inlayBench+`panel front { stock = board; width = 100; height = 60
  region r { width = 90; height = 40; inlay text "B©i" { font = "Go Bold"; fit = fill; stock = veneer } } }`)
	p := part(t, dr, "front.r.inlay")
	var openings []int
	area := 0.0
	for _, s := range p.Shapes {
		openings = append(openings, len(geom.Paths(s.Figure))-1)
		area += geom.Area(s.Figure)
	}
	if slices.Sort(openings); !slices.Equal(openings, []int{0, 0, 0, 1, 2}) {
		t.Errorf("the pieces of B©i have %v openings", openings)
	}
	if want := geom.Area(shape(t, dr, "front.r").Figure); math.Abs(area-want) > 1e-6 {
		t.Errorf("the pieces have %g mm², their recess %g", area, want)
	}
	if p.Stock != "veneer" || p.Want != maybe.Is(0.12) || dr.OneStock() || !strings.Contains(dr.Desc, "(of veneer)") {
		t.Errorf("%s, kerf %v: %s", p.Stock, p.Want, dr.Desc)
	}
}

// Of what is laid into the inner face the recess is drawn there, and the pieces
// lie beside the boards; those of a case come after its covering and lining.
func TestInlayPlaces(t *testing.T) {
	text := inlayBench + `
stock cloth { thick = 0.3 }
panel a { stock = board; width = 60; height = 80
  region in { face = inside; spine = 5; head = 10; width = 40; height = 20; inlay text "Bo" { font = "Go Bold"; fit = fill; align = left; stock = veneer; ease = 0.2 } }
  region out { head = 40; width = 40; height = 20; inlay text "8" { font = "Go Bold"; stock = veneer } } }
gap g { width = 8 }
panel b { stock = board; width = 60; height = 80
  region none { head = 40; width = 40; height = 20; inlay text " " { stock = veneer } } }
case s { lay = b, g, a; turn-in = 10; lining = 2; covering-stock = cloth; lining-stock = cloth }
panel last mirrors b { stock = board }
`
	d := mustSolve(t, text)
	dr, diags := layout.Draw(d)
	if diags.HasErrors() {
		t.Fatal(diagtest.Text(diags))
	}
	var names []string
	for _, p := range dr.Parts {
		names = append(names, p.Name)
	}
	if got := strings.Join(names, " "); got != "b a s.covering s.lining a.in.inlay a.out.inlay last" {
		t.Errorf("the parts are %s", got)
	}
	for i, p := range dr.Parts[2:] {
		if before := dr.Parts[i+1].Bounds; p.Bounds.Min.X < before.Max.X+layout.Spacing-1e-9 || p.Bounds.Min.Y < 0 {
			t.Errorf("%s lies in %v, what is before it ends at %v", p.Name, p.Bounds, before.Max)
		}
	}
	if len(dr.Texts) != 1 || dr.Texts[0].Region != "out" {
		t.Errorf("texts of the outer faces: %+v", dr.Texts)
	}
	faces, diags := layout.Inside(d)
	if len(faces) != 1 || len(faces[0].Drawing.Parts) != 1 || diags.HasErrors() {
		t.Fatalf("%d faces: %s", len(faces), diagtest.Text(diags))
	}
	recess := shape(t, faces[0].Drawing, "a.in")
	// On the turned board the spine is at the right.
	if b := recess.Figure.Bounds(); recess.Op != layout.Engrave || math.Abs(b.Min.X-(layout.JigMargin+60-5-40)) > 1e-6 {
		t.Errorf("the recess on the inside: %v in %v", recess.Op, b)
	}
	cut, _ := dr.ForLaser()
	one := &layout.Drawing{Parts: append(slices.Clone(dr.Parts), faces[0].Drawing.Parts...)}
	two := &layout.Drawing{Parts: append(slices.Clone(cut.Parts), faces[0].Drawing.Parts...)}
	in := laid(t, one, two, "a.in", "a.in.inlay", 0.2, 0.12, 0)
	if h := ask(t, []inlaid{in})[0]; h.Miss > 1e-3*h.Area || h.Pieces != 2 || math.Abs(h.Least-0.1) > 1e-3 {
		t.Errorf("%+v", h)
	}
}

// Artwork is laid in as letters are: what is filled, with its openings; through
// the board with bridges to them.
func TestInlayArt(t *testing.T) {
	stock := &design.Stock{Name: "veneer"}
	const ring = `<path fill-rule="evenodd" d="M10 10H40V40H10ZM16 16H34V34H16ZM20 20H30V30H20Z"/>`
	shapes, diags := withArt(t, design.Artwork{Op: word.Engrave, Inlay: &design.Inlay{Stock: stock}}, ring)
	if len(shapes) != 1 || shapes[0].Op != layout.Engrave || diags.HasErrors() {
		t.Fatalf("%d shapes: %s", len(shapes), diagtest.Text(diags))
	}
	wantArea := 30*30 - 18*18 + 10*10.0
	if a := geom.Area(shapes[0].Figure); math.Abs(a-wantArea) > 1e-6 {
		t.Errorf("the recess has %g mm², want %g", a, wantArea)
	}
	shapes, diags = withArt(t, design.Artwork{Op: word.Cut, Bridge: maybe.Is(2.0), Inlay: &design.Inlay{Through: true, Stock: stock}}, ring)
	if len(shapes) != 1 || shapes[0].Op != layout.Cut || !shapes[0].Hole || diags.HasErrors() {
		t.Fatalf("through: %d shapes: %s", len(shapes), diagtest.Text(diags))
	}
	// Two bridges, 2 mm broad, hold what is 6 mm away; nothing lies in an opening.
	for _, p := range geom.Paths(shapes[0].Figure) {
		if !p.Clockwise() {
			t.Errorf("what lies within %v would fall out", p.Bounds())
		}
	}
	if a := geom.Area(shapes[0].Figure); math.Abs(a-(wantArea-2*6*2)) > 1e-3 {
		t.Errorf("with bridges the recess has %g mm²", a)
	}
}

// The narrowest stroke is told to a hundredth, and only if it is narrower than
// what the stock asks for; without that, than 0.5 mm. A dash is a rectangle.
func TestInlayFine(t *testing.T) {
	of := func(stock string, ease float64) string {
		return fmt.Sprintf(`stock board { thick = 3 }
material wood { %s }
stock veneer { material = wood; thick = 0.6 }
panel front { stock = board; width = 100; height = 60; quiet = inlay-ease
  region r { width = 90; height = 40; inlay text "—" { font = "Go Bold"; cap = 10; stock = veneer; ease = %.17g } } }`, stock, ease)
	}
	high := shape(t, drawn(t, of("", 0)), "front.r").Figure.Bounds().Height()
	if high < 0.8 || high > 3 {
		t.Fatalf("a dash is %g mm high", high)
	}
	for name, c := range map[string]struct {
		stock string
		left  float64
		want  string
	}{
		"as much as may burn away": {"", 0.5, ""},
		"a little less":            {"", 0.49, "only 0.49 mm wide"},
		"as much as it asks for":   {"least-detail = 0.7", 0.7, ""},
		"less than it asks for":    {"least-detail = 0.7", 0.66, "only 0.66 mm wide"},
	} {
		t.Run(name, func(t *testing.T) {
			got := ""
			for _, d := range told(t, of(c.stock, high-c.left)) {
				if d.Code == "thin-detail" {
					got += d.Message
				}
			}
			if c.want == "" && got != "" || !strings.Contains(got, c.want) {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}
