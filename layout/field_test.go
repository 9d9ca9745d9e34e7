package layout_test

import (
	"fmt"
	"strings"
	"testing"

	"foredge/eval/evaltest"
	"foredge/layout"
)

// The members of a field are drawn as cutouts and regions in the same places are,
// on a mirrored panel and on the inside too.
func TestFieldsAsSingleThings(t *testing.T) {
	const marks = `mark frame { radius = 2 }; engrave text "Tern" { cap = 5 }`
	for _, c := range []struct{ name, field, single string }{
		{"cutouts", "cutout each { shape = rect 20 by 15 radius 2 }", "cutout NAME { shape = rect 20 by 15 radius 2; PLACE }"},
		{"regions", "region each { width = 20; height = 15; " + marks + " }", "region NAME { width = 20; height = 15; PLACE; " + marks + " }"},
		{"inside", "region each { face = inside; width = 20; height = 15; " + marks + " }", "region NAME { face = inside; width = 20; height = 15; PLACE; " + marks + " }"},
	} {
		t.Run(c.name, func(t *testing.T) {
			field := "field pane { across = 3; down = 2; pitch-across = 25; pitch-down = 21; spine = 8; head = 11\n" + c.field + " }"
			var single strings.Builder
			for j := range 2 {
				for i := range 3 {
					place := fmt.Sprintf("spine = %d; head = %d", 8+25*i, 11+21*j)
					single.WriteString(strings.NewReplacer("NAME", fmt.Sprintf("p%d%d", i+1, j+1), "PLACE", place).Replace(c.single) + "\n")
				}
			}
			got, want := figures(t, pair(field)), figures(t, pair(single.String()))
			if len(want) < 12 || len(got) != len(want) {
				t.Fatalf("%d shapes, as single things %d", len(got), len(want))
			}
			for id, figure := range want {
				of := strings.NewReplacer(".p11", ".pane.1.1", ".p21", ".pane.2.1", ".p31", ".pane.3.1",
					".p12", ".pane.1.2", ".p22", ".pane.2.2", ".p32", ".pane.3.2").Replace(id)
				if got[of] != figure {
					t.Errorf("%s is %s, as a single thing %s", of, got[of], figure)
				}
			}
		})
	}
}

// figures are all figures of a design by their IDs, of inner faces too.
func figures(t *testing.T, text string) map[string]string {
	t.Helper()
	d := mustSolve(t, text)
	all := map[string]string{}
	add := func(dr *layout.Drawing) {
		for _, p := range dr.Parts {
			for _, s := range p.Shapes {
				all[s.Op.String()+" "+s.ID] = fmt.Sprintf("%.6v", s.Figure)
			}
		}
	}
	dr, ds := layout.Draw(d)
	if ds.HasErrors() {
		t.Fatal(ds[0].Message)
	}
	add(dr)
	faces, _ := layout.Inside(d)
	for _, f := range faces {
		add(f.Drawing)
	}
	return all
}

// Listed texts stand as they are read, from left to right, wherever the spine is.
func TestTextsOfMembers(t *testing.T) {
	const field = `field month { across = 2; down = 2; pitch-across = 30; pitch-down = 20; FACE
		region each { FACING width = 25; height = 12; engrave text "a", "b", "c", "d" { cap = 4 } } }`
	for _, facing := range []string{"", "face = inside;"} {
		d := mustSolve(t, pair(strings.NewReplacer("FACING", facing, "FACE", "").Replace(field)))
		dr, _ := layout.Draw(d)
		texts := dr.Texts
		faces, _ := layout.Inside(d)
		for _, f := range faces {
			texts = append(texts, f.Drawing.Texts...)
		}
		got := map[string]string{}
		for _, x := range texts {
			got[x.Panel+"."+x.Region] = x.Text
		}
		// The first member lies next to the spine: at the left of the front and of the
		// inside of the back.
		left, right := "front", "back"
		if facing != "" {
			left, right = right, left
		}
		for name, want := range map[string]string{
			left + ".month.1.1": "a", left + ".month.2.1": "b", left + ".month.1.2": "c", left + ".month.2.2": "d",
			right + ".month.1.1": "b", right + ".month.2.1": "a", right + ".month.1.2": "d", right + ".month.2.2": "c",
		} {
			if got[name] != want {
				t.Errorf("%s%s has the text %q, want %q", facing, name, got[name], want)
			}
		}
	}
}

// BenchmarkField draws and checks fields of 100, 1,000 and 10,000 cutouts that keep
// clear of one another, and reports each over the first: linear growth keeps it at
// 1, 10 and 100.
func BenchmarkField(b *testing.B) {
	var first float64
	for _, across := range []int{1, 10, 100} {
		s := evaltest.Sound(b, fmt.Sprintf(`panel front { width = 1300; height = 1300
			field pane { across = %d; down = 100; gap-across = 4; gap-down = 4; cutout each { shape = rect 8 by 8 radius 1; clear = 3 } } }`, across))
		d := s.Design()
		b.Run(fmt.Sprint(100*across), func(b *testing.B) {
			for b.Loop() {
				dr, ds := layout.Draw(d)
				if ds.HasErrors() || len(dr.Parts[0].Shapes) != 100*across+1 {
					b.Fatal(len(dr.Parts[0].Shapes), ds)
				}
			}
			each := float64(b.Elapsed()) / float64(b.N)
			if across == 1 {
				first = each
			}
			if first > 0 {
				b.ReportMetric(each/first, "x-first")
			}
		})
	}
}
