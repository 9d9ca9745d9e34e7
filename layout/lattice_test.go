package layout_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"foredge/eval/evaltest"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
	"foredge/layout"
	"foredge/layout/geom"
)

// The wrap of the corpus, its numbers worked out by hand: 16 columns, its slots 0.558 wide, those that run
// out through head and tail in the outline, which stays as large as the board.
func TestWrapSlots(t *testing.T) {
	dr := drawn(t, foretest.Corpus(t, "wrap"))
	box := part(t, dr, "wrap").Bounds
	if math.Abs(box.Width()-273.93) > 0.005 || math.Abs(box.Height()-160) > 1e-9 {
		t.Errorf("the board is %v by %v", box.Width(), box.Height())
	}
	columns := map[string]bool{}
	for _, s := range dr.Parts[0].Shapes {
		if strings.HasSuffix(s.ID, ".outline") {
			continue
		}
		b := s.Figure.Bounds()
		if s.Op != layout.Cut || !s.Hole || math.Abs(b.Width()-0.5582) > 5e-5 || b.Min.X < 110-1e-6 || b.Max.X > 110+53.931 {
			t.Errorf("%s is %v, %v", s.ID, b, s.Hole)
		}
		columns[fmt.Sprintf("%.3f", b.Min.X)] = true
	}
	outline := shape(t, dr, "wrap.outline").Figure.(geom.Path)
	arcs := 0
	for _, s := range outline.Segments {
		if s.Kind == geom.ArcTo {
			arcs++
		}
	}
	// 11 rows: eight columns begin with a bridge and run out at the tail, eight
	// the other way round.
	if len(columns) != 16 || arcs != 16 {
		t.Errorf("%d columns, %d of them run out", len(columns), arcs)
	}
	if got := slices.Index(ids(dr.Parts[0]), "wrap.fold.1"); got != 0 {
		t.Errorf("shapes %q", ids(dr.Parts[0]))
	}
	wantFigure(t, dr, "wrap.fold.1", "M110.5582 3.2791L110.5582 28.2664A0.2791 0.2791 0 0 1 110 28.2664L110 3.2791A0.2791 0.2791 0 0 1 110.5582 3.2791Z")
}

const strap = "laser bench { kerf = 0.2 }\npanel strap { thick = 3; width = 120; height = 63; %s lattice hinge { turn = 90 deg; %s } }"

// Slots as wide as the kerf are single cuts: half of it is left to the round end
// of the laser's cut, and where they run out they end on the edge. The cut file
// leaves them as they are.
func TestSingleCuts(t *testing.T) {
	text := fmt.Sprintf(strap, "", "spine = 20")
	dr := drawn(t, text)
	// Four rows, (63 - 5 * 3) / 4 = 12 long; bridges at 0, 15, 30, 45 and 60.
	wantFigure(t, dr, "strap.hinge.1", "M20.1 3.1L20.1 29.9")
	wantFigure(t, dr, "strap.hinge.2", "M20.1 33.1L20.1 59.9")
	wantFigure(t, dr, "strap.hinge.3", "M23.3 0L23.3 14.9")
	wantFigure(t, dr, "strap.hinge.4", "M23.3 18.1L23.3 44.9")
	wantFigure(t, dr, "strap.hinge.5", "M23.3 48.1L23.3 63")
	wantFigure(t, dr, "strap.outline", "rect 0 0, 120 by 63")
	if n := len(dr.Parts[0].Shapes); n != 12*2+12*3+1 {
		t.Errorf("%d shapes", n)
	}
	// The outline has grown by half the kerf, and all moved with it.
	wantFigure(t, lasered(t, text), "strap.hinge.3", "M23.4 0.1L23.4 15")
	// On the mirrored panel columns count from its spine too.
	dr = drawn(t, text+"\npanel other mirrors strap")
	mirrorImages(t, dr, "strap", "other")
	// Inside a board they are closed at both ends: four rows of (53 - 5 * 3) / 4 = 9.5.
	dr = drawn(t, fmt.Sprintf(strap, "", "spine = 20; head = 5; tail = 5"))
	wantFigure(t, dr, "strap.hinge.3", "M23.3 5.1L23.3 17.4")
}

// Slots opened beyond the kerf are holes, in the cut file narrower by it.
func TestOpenedSlots(t *testing.T) {
	text := fmt.Sprintf(strap, "corners = radius 10;", "spine = 20; links = 10")
	dr, cut := drawn(t, text), lasered(t, text)
	clearance := 0.0
	for _, d := range evaltest.Sound(t, text).Dimensions() {
		if d.Name == "strap.hinge.clearance" {
			clearance = d.Value
		}
	}
	if clearance < 0.4 {
		t.Fatalf("a clearance of %v", clearance)
	}
	for i, s := range dr.Parts[0].Shapes {
		box, laser := s.Figure.Bounds(), cut.Parts[0].Shapes[i].Figure.Bounds()
		by := 0.2
		if s.Hole {
			by = -0.2
			if math.Abs(box.Width()-clearance) > 1e-9 {
				t.Errorf("%s is %v wide", s.ID, box.Width())
			}
		}
		if math.Abs(laser.Width()-box.Width()-by) > 1e-9 || math.Abs(laser.Height()-box.Height()-by) > 1e-9 {
			t.Errorf("%s is %v by %v, in the cut file %v by %v", s.ID, box.Width(), box.Height(), laser.Width(), laser.Height())
		}
	}
	// The same for the notches: the area of the outline by its parts.
	for _, c := range []struct {
		dr   *layout.Drawing
		grow float64
	}{{dr, 0}, {cut, 0.1}} {
		w, h, r, slot := 120+2*c.grow, 63+2*c.grow, 10+c.grow, clearance-2*c.grow
		want := w*h - (4-math.Pi)*r*r
		// Five of eleven columns run out at both ends, 12 + 3 deep.
		depth := 15.0
		want -= 10 * (slot*(depth-clearance/2+c.grow) + math.Pi*slot*slot/8)
		if got := geom.Area(shape(t, c.dr, "strap.outline").Figure); math.Abs(got-want) > 1e-6 {
			t.Errorf("the outline holds %v mm², want %v", got, want)
		}
	}
}

// Lengths of links for acrylic as Patrick Fenner gives them in "Lattice Hinge Design:
// Choosing Torsional Stress", 2012: 23 links of 3 mm over 90°, with 36, 20 and 10
// N/mm² allowed, need links of 8, 14 and 28 mm, rounded up. The shear modulus isn't
// given there; all three agree from 1949 to 2021 N/mm².
func TestStressTable(t *testing.T) {
	for _, modulus := range []int{1950, 2000, 2020} {
		for allowed, length := range map[int]int{36: 8, 20: 14, 10: 28} {
			for _, c := range []struct {
				length int
				warned bool
			}{{length, false}, {length - 1, true}} {
				ds := told(t, fmt.Sprintf(`laser bench { kerf = 0.2 }
panel strap { thick = 3; width = 200; height = 150
  lattice hinge { turn = 90 deg; shear-modulus = %d; allowed-shear = %d; link = %d }
}`, modulus, allowed, c.length))
				if got := strings.Contains(lines(ds), "overstressed"); got != c.warned {
					t.Errorf("modulus %d, allowed %d, links of %d: warned %v\n%s", modulus, allowed, c.length, got, lines(ds))
				}
			}
		}
	}
}

// What keeps a lattice from being cut or from bending is told, what just doesn't
// is not. A board of 3 mm.
func TestLatticeChecks(t *testing.T) {
	for _, c := range []struct{ panel, lattice, want string }{
		{"", "", ""},
		{"", "spine = 3", ""},
		{"", "spine = 2.9", "warning thin-edge only 2.9 mm of strap is left beside hinge"},
		{"", "spine = 0", "error lattice-edge hinge lies at the edge of strap"},
		{"", "head = 1; tail = 0", "warning stiff-end 1 mm of strap is left whole beyond hinge"},
		{"", "link = 12", ""},
		{"", "link = 12.1", "warning splay the links of hinge are 12.1 mm long"},
		{"", "link = 3; rows = 7; bridge = 5", ""},
		{"", "link = 2.9; rows = 7; bridge = 5", "warning short-link the links of hinge are only 2.9 mm long"},
		{"", "bridge = 3; end = 3", ""},
		{"", "bridge = 2.9", "warning thin-bridge the bridges of hinge are 2.9 mm long"},
		{"", "rows = 20", "error lattice-room hinge, 63 mm high, has no room for its links"},
		{"", "bridge = 0", "error lattice-room the bridges of hinge come out 0 mm long, so nothing holds its links"},
		{"", "end = 0", "error lattice-room the bridges at head and tail of hinge come out 0 mm long, so nothing holds its links"},
		{"corners = radius 20;", "spine = 20", ""},
		{"corners = radius 20;", "spine = 19.9", "error outside hinge doesn't lie inside strap: it is cut off by a corner"},
		{"row pins on head { count = 1; hole = round 4; first = 10; inset = 10 }", "spine = 20", ""},
		{"row pins on head { count = 1; hole = round 4; first = 20; inset = 10 }", "spine = 20", "error overlap hole 1 of pins and hinge of strap overlap"},
		{"cutout eye { shape = round 8; spine = 9; head = tail }", "spine = 20", ""},
		{"cutout eye { shape = round 8; spine = 11.9; head = tail }", "spine = 20", "warning thin-detail only 0.1 mm is left between eye and hinge"},
		{"cutout eye { shape = round 8; spine = 12.1; head = tail }", "spine = 20", "error overlap eye and hinge of strap overlap"},
		{"region title { width = 10; height = 10; spine = 9.9 }", "spine = 20", ""},
		{"region title { width = 10; height = 10; spine = 10.1 }", "spine = 20", "error overlap title lies on hinge of strap, which is cut into links"},
		{"region title { width = 10; height = 10; spine = 7; clear = 3 }", "spine = 20", ""},
		{"region title { width = 10; height = 10; spine = 7.1; clear = 3 }", "spine = 20", "error clear title is 2.9 mm from hinge"},
		{"line fold { from = spine; at = 20 }", "spine = 20", ""},
		{"line fold { from = spine; at = 20; op = cut }", "spine = 20", "warning line-through fold runs along hinge of strap"},
		{"line fold { from = spine; at = 19; op = cut }", "spine = 20", "warning thin-web only 1 mm is left between hinge and fold"},
		{"line fold { from = spine; at = 21 }", "spine = 20", "error overlap fold runs through hinge of strap"},
		{"line fold { from = head; at = 21 }", "spine = 20", "error overlap fold runs through hinge of strap"},
		{"lattice other { turn = 10 deg; radius = 20; spine = 5 }", "spine = 20", ""},
		{"lattice other { turn = 10 deg; radius = 20; spine = 15 }", "spine = 20", "error overlap other and hinge of strap overlap"},
	} {
		ds := told(t, fmt.Sprintf(strap, c.panel, c.lattice))
		if got := lines(ds); c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%s | %s: told\n%swant %s", c.panel, c.lattice, got, c.want)
		}
	}
	if got := lines(told(t, "laser bench { kerf = 3 }\npanel strap { thick = 3; width = 120; height = 63; lattice hinge { turn = 90 deg; radius = 9 } }")); !strings.Contains(got, "as wide as the links") {
		t.Errorf("a kerf as wide as the board is thick: %s", got)
	}
}

// A board bends by up to a full turn, one that follows from another too.
func TestLatticeTurns(t *testing.T) {
	for half, want := range map[string]string{"180": "", "180.005": "error turn hinge can't turn by 360.01 deg", "180.3": "error turn hinge can't turn by 360.6 deg"} {
		got := lines(told(t, "laser bench { kerf = 0.2 }\npanel strap { thick = 3; width = 800; height = 63\n"+
			"lattice other { turn = "+half+" deg; spine = 20 }\nlattice hinge { turn = 2 * other.turn; foredge = 20 } }"))
		if got != want {
			t.Errorf("twice %s deg: told %q, want %q", half, got, want)
		}
	}
}

// pieces cuts a part's board along every edge of its slots into cells and counts
// how many pieces hang together: more than one means that something falls out.
// Slots count as square-ended, single cuts as wide as the kerf.
func pieces(p layout.Part, kerf float64) int {
	var outline *geom.Boundary
	var holes []geom.Box
	var xs, ys []float64
	see := func(b geom.Box) {
		xs, ys = append(xs, b.Min.X, b.Max.X), append(ys, b.Min.Y, b.Max.Y)
	}
	for _, s := range p.Shapes {
		b := s.Figure.Bounds()
		switch path, isPath := s.Figure.(geom.Path); {
		case strings.HasSuffix(s.ID, ".outline"):
			outline = geom.NewBoundary(s.Figure)
			for _, piece := range outline.Pieces {
				see(piece.Bounds())
			}
			continue
		case isPath && !path.Closed:
			b = b.Grow(kerf / 2)
		}
		holes = append(holes, b)
		see(b)
	}
	slices.Sort(xs)
	slices.Sort(ys)
	mids := func(at []float64) (out []float64) {
		for i := 1; i < len(at); i++ {
			if at[i]-at[i-1] > 1e-7 {
				out = append(out, (at[i]+at[i-1])/2)
			}
		}
		return out
	}
	mx, my := mids(xs), mids(ys)
	board := make([]bool, len(mx)*len(my))
	for i, x := range mx {
		for j, y := range my {
			board[i*len(my)+j] = outline.Contains(geom.Pt(x, y))
		}
	}
	for _, b := range holes {
		i, _ := slices.BinarySearch(mx, b.Min.X)
		for ; i < len(mx) && mx[i] < b.Max.X; i++ {
			j, _ := slices.BinarySearch(my, b.Min.Y)
			for ; j < len(my) && my[j] < b.Max.Y; j++ {
				board[i*len(my)+j] = false
			}
		}
	}
	n := 0
	var todo []int
	for start := range board {
		if !board[start] {
			continue
		}
		n++
		board[start] = false
		todo = append(todo, start)
		for len(todo) > 0 {
			c := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			i, j := c/len(my), c%len(my)
			for _, d := range [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				if u, v := i+d[0], j+d[1]; u >= 0 && v >= 0 && u < len(mx) && v < len(my) && board[u*len(my)+v] {
					board[u*len(my)+v] = false
					todo = append(todo, u*len(my)+v)
				}
			}
		}
	}
	return n
}

// The count of pieces itself: a frame cut all round falls in two.
func TestPieces(t *testing.T) {
	cuts := []layout.Shape{{ID: "p.outline", Figure: geom.Rect{W: 100, H: 50}}}
	for i, b := range []geom.Rect{{Min: geom.Pt(10, 10), W: 30, H: 1}, {Min: geom.Pt(10, 10), W: 1, H: 30}, {Min: geom.Pt(10, 39), W: 30, H: 1}} {
		cuts = append(cuts, layout.Shape{ID: fmt.Sprintf("p.%d", i), Figure: b})
	}
	if n := pieces(layout.Part{Shapes: cuts}, 0); n != 1 {
		t.Errorf("cut on three sides: %d pieces", n)
	}
	cuts = append(cuts, layout.Shape{ID: "p.3", Figure: geom.NewPath(geom.Pt(39.5, 10)).Line(geom.Pt(39.5, 40)).Open()})
	if n := pieces(layout.Part{Shapes: cuts}, 0.2); n != 2 {
		t.Errorf("cut all round: %d pieces", n)
	}
}

// Random lattices: slots inside the box and clear of one another by a bridge or a
// link, the board in one piece as wanted and as cut, the width by the model.
func TestRandomLattices(t *testing.T) {
	for seed := range uint64(foretest.Sample(200, 40)) {
		rng := rand.New(rand.NewPCG(seed, 4))
		between := func(low, high float64) float64 { return math.Round((low+rng.Float64()*(high-low))*1e3) / 1e3 }
		thick, kerf := between(1, 6), []float64{0, 0.08, 0.2, between(0.01, 0.4)}[rng.IntN(4)]
		lattice := fmt.Sprintf("radius = %v; turn = %v deg", between(0, 30), between(20, 200))
		if rng.IntN(3) == 0 && kerf > 0.05 {
			lattice = fmt.Sprintf("turn = %v deg", between(20, 90))
		}
		if rng.IntN(3) == 0 {
			lattice += fmt.Sprintf("; bridge = %v", between(thick, 2*thick))
		}
		head := 0.0
		if rng.IntN(4) == 0 {
			head = 7
			lattice += "; head = 7; tail = 7"
		}
		text := fmt.Sprintf("laser bench { kerf = %v }\npanel wrap { thick = %v; width = 40 + fold.width; height = %v; corners = radius 9\n lattice fold { %s; spine = 20 } }\npanel other mirrors wrap",
			kerf, thick, between(60, 200), lattice)
		d := mustSolve(t, text)
		l := d.Panels[0].Lattices[0]
		dr, diags := layout.Draw(d)
		if diags.HasErrors() {
			t.Fatalf("%s\n%s", text, diagtest.Text(diags))
		}
		mirrorImages(t, dr, "wrap", "other")
		if want := float64(l.Links)*thick + float64(l.Links+1)*l.Clearance; math.Abs(l.Width-want) > 1e-6 {
			t.Errorf("%s\n%v wide, want %v", text, l.Width, want)
		}
		wrap := part(t, dr, "wrap")
		box := geom.Box{Min: geom.Pt(20, head), Max: geom.Pt(20+l.Width, d.Panels[0].Height-head)}
		var slots []geom.Figure
		for _, s := range wrap.Shapes {
			b := s.Figure.Bounds()
			if strings.HasSuffix(s.ID, ".outline") {
				if b != wrap.Bounds || math.Abs(b.Width()-d.Panels[0].Width) > 1e-9 {
					t.Errorf("%s\nthe outline is %v", text, b)
				}
				continue
			}
			if !s.Hole { // a single cut
				b = b.Grow(kerf / 2)
				b.Min.Y, b.Max.Y = max(b.Min.Y, box.Min.Y), min(b.Max.Y, box.Max.Y)
			}
			if !box.Grow(1e-6).Holds(b) {
				t.Errorf("%s\n%s, %v, lies outside %v", text, s.ID, b, box)
			}
			slots = append(slots, geom.Rect{Min: b.Min, W: b.Width(), H: b.Height()})
		}
		least := min(thick, l.Bridge) - 1e-6
		if near := geom.NearPairs(slots, least); len(near) > 0 {
			t.Errorf("%s\nslots %v and %v are nearer than %v", text, slots[near[0].I], slots[near[0].J], least)
		}
		if n := pieces(wrap, kerf); n != 1 {
			t.Errorf("%s\nthe board falls into %d pieces", text, n)
		}
		cut, diags := dr.ForLaser()
		if diags.HasErrors() {
			t.Fatalf("%s\n%s", text, diagtest.Text(diags))
		}
		if n := pieces(part(t, cut, "wrap"), 0); n != 1 {
			t.Errorf("%s\nthe cut file falls into %d pieces", text, n)
		}
		if t.Failed() {
			return
		}
	}
}

// A slot that is to be opened by hardly more than the laser can tell is a single
// cut; one that is just above keeps an opening in the cut file.
func TestBarelyOpened(t *testing.T) {
	for _, c := range []struct {
		clearance string
		single    bool
	}{{"0.2", true}, {"0.2009", true}, {"0.2011", false}, {"0.21", false}} {
		text := fmt.Sprintf(strap, "", "spine = 20; clearance = "+c.clearance)
		for _, dr := range []*layout.Drawing{drawn(t, text), lasered(t, text)} {
			if got := !shape(t, dr, "strap.hinge.1").Hole; got != c.single {
				t.Errorf("slots of %s are single cuts: %v", c.clearance, got)
			}
		}
	}
}

// A laser whose cut takes nothing away leaves no slot that its cut would make:
// however narrow, each is an opening.
func TestSlotsWithoutKerf(t *testing.T) {
	const text = "laser bench { kerf = 0 }\npanel strap { thick = 3; width = 400; height = 63; lattice hinge { turn = 0.001 deg; clearance = 0.001; links = 2 } }"
	if s := shape(t, drawn(t, text), "strap.hinge.1"); !s.Hole || math.Abs(s.Figure.Bounds().Width()-0.001) > 1e-9 {
		t.Errorf("%s is a hole %v, %v", s.ID, s.Hole, s.Figure.Bounds())
	}
}
