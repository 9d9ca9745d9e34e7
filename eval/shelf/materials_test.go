package shelf_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"foredge/eval/design"
	"foredge/eval/evaltest"
	"foredge/eval/maybe"
	"foredge/eval/shelf"
	"foredge/lang/foretest"
)

// number is a number that must be there: far off from any other where it isn't.
func number(v maybe.Of[float64]) float64 { return v.Or(math.Inf(1)) }

// sheet is a stock of a material and thickness, as a design gets it.
func sheet(t testing.TB, material string, thick float64) *design.Stock {
	t.Helper()
	s := evaltest.Sound(t, fmt.Sprintf("use materials\nstock s { material = %s; thick = %g }\npanel p { width = 100; height = 100 }", material, thick))
	return s.Design().Panels[0].Stock
}

// How much a sheet may be off: cast acrylic by ISO 7823-1, with the values that
// "Cast Acrylic Thickness Tolerance" prints; extruded by ISO 7823-2 as a sheet maker's
// page "Tolerances" gives it; plywood by a plywood maker's table of sizes, from which
// EN 315's formula (from memory) differs by 0.12 at most. Authors unknown, undated.
func TestThickness(t *testing.T) {
	for _, c := range []struct {
		material        string
		thick, from, to float64
		within          float64
	}{
		{"acrylic-cast", 3, 2.30, 3.70, 1e-9}, {"acrylic-cast", 5, 4.10, 5.90, 1e-9}, {"acrylic-cast", 6, 5.00, 7.00, 1e-9},
		{"acrylic-cast", 8, 6.80, 9.20, 1e-9}, {"acrylic-cast", 10, 8.60, 11.40, 1e-9}, {"acrylic", 3, 2.30, 3.70, 1e-9},
		{"acrylic-extruded", 3, 2.85, 3.15, 1e-9}, {"acrylic-extruded", 10, 9.5, 10.5, 1e-9}, {"acrylic-extruded-thin", 2, 1.8, 2.2, 1e-9},
		{"birch-ply", 4, 3.5, 4.3, 0.12}, {"birch-ply", 6.5, 6, 6.9, 0.12}, {"birch-ply", 9, 8.5, 9.4, 0.2}, {"poplar-ply", 12, 11.3, 12.5, 0.12},
	} {
		s := sheet(t, c.material, c.thick)
		what := fmt.Sprintf("%s of %g mm", c.material, c.thick)
		foretest.Near(t, "thickest "+what, c.thick+number(s.ThickOver), c.to, c.within)
		foretest.Near(t, "thinnest "+what, c.thick-number(s.ThickUnder), c.from, c.within)
	}
	if s := sheet(t, "greyboard", 2); s.ThickOver.Present() || s.ThickUnder.Present() {
		t.Errorf("nothing is known of greyboard, but the shelf says %+v", s)
	}
	// The thickness may be a reading, or open.
	s := evaltest.Sound(t, "use materials\nstock s { material = acrylic-cast; thick = 3.1, 3.2, 3.15 ± 0.06 }\npanel p { width = 100; height = 100 }")
	foretest.Near(t, "over a measured sheet", number(s.Design().Panels[0].Stock.ThickOver), 0.4+0.315, 1e-9)
	s = evaltest.Sound(t, "use materials\nstock s { material = acrylic-cast }\npanel p { width = 100; height = 100 }")
	if st := s.Design().Panels[0].Stock; st.ThickOver.Present() {
		t.Errorf("of a sheet of no stated thickness the shelf says %+v", st)
	}
}

// The usual kerf: a cutting service's "Artwork Preparation: Laser Cutting and
// Engraving Guide", for the thicknesses that it gives; a laser maker's "Kerfs and Laser
// Thickness" for museum board. Authors unknown, undated.
func TestUsualKerf(t *testing.T) {
	for _, c := range []struct {
		material    string
		thick, kerf float64
	}{
		{"acrylic-cast", 3, 0.15}, {"acrylic-cast", 6, 0.18}, {"acrylic-cast", 10, 0.25},
		{"birch-ply", 3, 0.20}, {"birch-ply", 6, 0.25}, {"poplar-ply", 3, 0.20}, {"poplar-ply", 6, 0.25},
		{"mdf", 3, 0.18}, {"mdf", 6, 0.22}, {"greyboard", 1.5, 0.15}, {"greyboard", 2, 0.15}, {"card", 0.3, 0.08},
		{"museum-board", 25.4 / 32, 0.003 * 25.4}, {"museum-board", 25.4 / 16, 0.005 * 25.4},
	} {
		foretest.Near(t, fmt.Sprintf("kerf in %s of %g", c.material, c.thick), number(sheet(t, c.material, c.thick).UsualKerf), c.kerf, 1e-9)
	}
}

// The least to leave: a cutting service's page "What Is Laser Kerf" wants the sheet's
// thickness; 2 mm of wood held where 1.2 broke, a maker of cut wood found.
func TestLeast(t *testing.T) {
	// Acrylic's 1.5 thicknesses and its radius of 0.5 mm: from memory.
	foretest.Near(t, "acrylic", number(sheet(t, "acrylic-cast", 5).LeastWeb), 7.5, 1e-9)
	foretest.Near(t, "a corner in acrylic", number(sheet(t, "acrylic-cast", 5).LeastRadius), 0.5, 1e-9)
	foretest.Near(t, "thick wood", number(sheet(t, "birch-ply", 4).LeastWeb), 4, 1e-9)
	foretest.Near(t, "thin wood", number(sheet(t, "birch-ply", 1.5).LeastWeb), 2, 1e-9)
	foretest.Near(t, "thick wood beside the edge", number(sheet(t, "birch-ply", 4).LeastEdge), 2, 1e-9)
	foretest.Near(t, "a detail", number(sheet(t, "birch-ply", 3).LeastDetail), 1, 1e-9)
}

// 5.5/basswood: the Wood Handbook of 2010, table 13-5, gives American basswood 0.00330
// across its grain (tangential) for each per cent of moisture; a dry and a damp room are
// 4 % apart (common practice, no source). Plywood moves so little that its grain counts
// for nothing.
func TestMovement(t *testing.T) {
	foretest.Near(t, "basswood", number(sheet(t, "basswood", 5).Movement), 4*numbers(t, "5.5/basswood")[0], 1e-9)
	if m := number(sheet(t, "birch-ply", 3).Movement); !(m < 0.005) {
		t.Errorf("plywood moves by %g of its size", m)
	}
	for _, name := range []string{"hardwood", "oak", "beech", "maple", "cherry", "walnut"} {
		if m := number(sheet(t, name, 5).Movement); !(m > 0.005) {
			t.Errorf("%s moves by %g of its size", name, m)
		}
	}
}

// What universities and a public library list as never to be cut says why; what
// may be cut says nothing of the kind.
func TestNever(t *testing.T) {
	for _, name := range []string{"pvc", "vinyl", "imitation-leather", "adhesive-film", "abs", "polycarbonate", "hdpe", "polystyrene-foam",
		"polypropylene-foam", "glass-fibre", "epoxy", "coated-carbon-fibre", "ptfe", "polyurethane", "nylon-fabric", "chrome-tanned-leather",
		"adhesive-backed", "galvanised-metal", "unknown-plastic", "vinyl-bookcloth", "neoprene", "flame-retarded", "pyroxylin-bookcloth", "celluloid",
		"treated-wood"} {
		if s := sheet(t, name, 2); s.Material.Never == "" {
			t.Errorf("%s may be cut", name)
		}
	}
	for _, name := range []string{"greyboard", "card", "birch-ply", "mdf", "acrylic", "veg-tan-leather", "wool-felt", "acetal"} {
		if s := sheet(t, name, 2); s.Material.Never != "" {
			t.Errorf("%s must not be cut: %s", name, s.Material.Never)
		}
	}
	for _, name := range []string{"mdf", "acetal"} {
		if s := sheet(t, name, 2); s.Material.GivesOff != "formaldehyde" {
			t.Errorf("%s gives off %q", name, s.Material.GivesOff)
		}
	}
}

// What lists disagree on, or leave to how it is made, is to be asked about: polystyrene and
// foam board stand on one university's list of what is approved and on two others' of what is
// forbidden, polyester on a workshop's and on a university's.
func TestAsk(t *testing.T) {
	for _, name := range []string{"polypropylene", "polyester", "polystyrene", "foam-board", "leather"} {
		if m := sheet(t, name, 1).Material; m.Ask == "" || m.Never != "" {
			t.Errorf("%s: asked %q, never %q", name, m.Ask, m.Never)
		}
	}
	for _, name := range []string{"greyboard", "veg-tan-leather", "acrylic-cast", "pvc"} {
		if m := sheet(t, name, 1).Material; m.Ask != "" {
			t.Errorf("%s is to be asked about: %s", name, m.Ask)
		}
	}
	if m := sheet(t, "adhesive-film", 1).Material; !strings.Contains(m.Never, "adhesive fouls the optics") {
		t.Errorf("adhesive film is barred for another reason than its own: %s", m.Never)
	}
}

// Of every material of the shelf it is said why it must not be cut, or what it gives
// off and how it burns.
func TestEveryMaterialSaysWhatToMind(t *testing.T) {
	for _, name := range shelf.Declared("materials", "material") {
		m := sheet(t, name, 1).Material
		if m.Never == "" && (m.GivesOff == "" || m.Burns == "") {
			t.Errorf("%s gives off %q and burns %q", name, m.GivesOff, m.Burns)
		}
		if m.Never != "" && m.Ask != "" {
			t.Errorf("%s must not be cut, and a workshop is asked about it", name)
		}
	}
}

// What a maker of fume extractors' page "What Is Laser Fume?" names of acrylic, and engravers'
// forums say of how it burns; authors unknown or many.
func TestWhatComesOff(t *testing.T) {
	for _, name := range []string{"acrylic-cast", "acrylic-extruded", "acrylic-extruded-thin", "acrylic"} {
		m := sheet(t, name, 3).Material
		if m.GivesOff != "methyl methacrylate" || !strings.Contains(m.Burns, "readily") {
			t.Errorf("%s gives off %s and burns %s", name, m.GivesOff, m.Burns)
		}
	}
}
