package sheet_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// A strip is an instance whose shortest length is known.
type strip struct {
	name          string
	width, length float64
	parts         []sheet.Part
}

// stripsOf reads testdata/strips.txt.
func stripsOf(t testing.TB) (all []strip) {
	for line := range strings.Lines(foretest.Read(t, "testdata/strips.txt")) {
		head, body, ok := strings.Cut(line, ": ")
		if !ok || strings.HasPrefix(line, "#") {
			continue
		}
		var s strip
		_, err := fmt.Sscan(head, &s.name, &s.width, &s.length)
		foretest.Must(t, err)
		for _, word := range strings.Fields(body) {
			p := sheet.Part{Name: word, Count: 1}
			size, count, many := strings.Cut(word, "*")
			if many {
				_, err := fmt.Sscan(count, &p.Count)
				foretest.Must(t, err)
			}
			_, err := fmt.Sscanf(size, "%fx%f", &p.Width, &p.Height)
			foretest.Must(t, err)
			s.parts = append(s.parts, p)
		}
		all = append(all, s)
	}
	return all
}

// dissection cuts a rectangle into n parts by straight cuts through one of its pieces at a time, so that the
// parts fill it again. Sizes are whole µm; a quarter turn is given to some.
func dissection(n int, seed uint64) strip {
	r := rand.New(rand.NewPCG(seed, 11))
	const w, h = 600, 400
	pieces := []geom.Box{{Max: geom.Pt(w, h)}}
	for len(pieces) < n {
		// One of the largest third.
		at := 0
		for range 3 {
			if i := r.IntN(len(pieces)); pieces[i].Width()*pieces[i].Height() > pieces[at].Width()*pieces[at].Height() {
				at = i
			}
		}
		p := pieces[at]
		one, two := p, p
		share := 0.25 + r.Float64()/2
		if p.Width()*(0.6+r.Float64()) > p.Height() {
			x := math.Round((p.Min.X+p.Width()*share)*1000) / 1000
			one.Max.X, two.Min.X = x, x
		} else {
			y := math.Round((p.Min.Y+p.Height()*share)*1000) / 1000
			one.Max.Y, two.Min.Y = y, y
		}
		pieces[at] = one
		pieces = append(pieces, two)
	}
	s := strip{name: fmt.Sprintf("%d parts, seed %d", n, seed), width: w, length: h}
	for i, p := range pieces {
		s.parts = append(s.parts, sheet.Part{Name: fmt.Sprint(i), Width: p.Width(), Height: p.Height(), Count: 1})
	}
	r.Shuffle(n, func(i, j int) { s.parts[i], s.parts[j] = s.parts[j], s.parts[i] })
	return s
}

// dissections are those that are measured.
func dissections() (all []strip) {
	for i, n := range []int{50, 50, 100, 100, 150, 200, 200} {
		all = append(all, dissection(n, uint64(i+1)))
	}
	return all
}

// turned are the parts with what turns they may make.
func (s strip) turned(turns sheet.Turns) []sheet.Part {
	parts := append([]sheet.Part(nil), s.parts...)
	for i := range parts {
		parts[i].Turns = turns
	}
	return parts
}

// checkBand holds a band against its parts, as a job with one sheet of its length.
func checkBand(parts []sheet.Part, width, spacing float64, band *sheet.Band) []string {
	job := sheet.Job{Parts: parts, Stocks: []sheet.Stock{{Width: width, Height: band.Length + 1e-6, Spacing: spacing}}}
	for i := range job.Parts {
		job.Parts[i].Group = ""
	}
	c := &checker{job: job, result: &sheet.Result{Sheets: []sheet.Sheet{{Placements: band.Placements}}}}
	c.counts()
	var boxes []geom.Box
	longest := 0.0
	for _, p := range band.Placements {
		b := c.box(p)
		boxes = append(boxes, b)
		longest = max(longest, b.Max.Y)
		if b.Min.X < -eps || b.Min.Y < -eps || b.Max.X > width+eps {
			c.fail("%v is beside the strip", b)
		}
		c.turn(p, parts[p.Part], job.Stocks[0])
	}
	if math.Abs(longest-band.Length) > eps {
		c.fail("the band is %g long, told %g", longest, band.Length)
	}
	if band.Least > band.Length+eps {
		c.fail("the band is %g long, and none is shorter than %g", band.Length, band.Least)
	}
	c.spacing(0, boxes)
	return c.wrong
}

func TestPublishedStrips(t *testing.T) {
	for _, turns := range []sheet.Turns{sheet.QuarterTurn, sheet.AsDrawn} {
		sum, n := 0.0, 0
		for _, s := range stripsOf(t) {
			parts := s.turned(turns)
			area := 0.0
			for _, p := range parts {
				area += p.Width * p.Height * float64(p.Count)
			}
			foretest.Near(t, s.name+"'s area", area, s.width*s.length, 0)
			band, err := sheet.Strip(context.Background(), parts, s.width, 0, sheet.Options{Effort: 0.001 * float64(foretest.Sample(40, 10))})
			foretest.Must(t, err)
			for _, w := range checkBand(parts, s.width, 0, band) {
				t.Errorf("%s: %s", s.name, w)
			}
			if band.Length < s.length-eps {
				t.Errorf("%s: %g is less than the optimum %g", s.name, band.Length, s.length)
			}
			sum += band.Length/s.length - 1
			n++
		}
		if mean := sum / float64(n); mean > 0.02 {
			t.Errorf("the strips are longer than the optimum by %.2f %% in the mean", 100*mean)
		}
	}
}

// TestPublishedPacking tries the checker itself: on a perfect packing of C1 problem 1, found by exact
// search, and on the same with one part moved.
func TestPublishedPacking(t *testing.T) {
	at := [][4]float64{{0, 0, 2, 12}, {2, 0, 7, 12}, {9, 0, 8, 6}, {17, 0, 3, 6}, {9, 6, 3, 5}, {12, 6, 5, 5}, {17, 6, 3, 12}, {9, 11, 3, 7},
		{12, 11, 5, 7}, {0, 12, 2, 6}, {2, 12, 3, 2}, {5, 12, 4, 2}, {2, 14, 3, 4}, {5, 14, 4, 4}, {0, 18, 9, 2}, {9, 18, 11, 2}}
	band := &sheet.Band{Length: 20, Least: 20}
	var parts []sheet.Part
	for i, p := range at {
		parts = append(parts, sheet.Part{Width: p[2], Height: p[3], Count: 1})
		band.Placements = append(band.Placements, sheet.Placement{Part: i, At: geom.Pt(p[0], p[1])})
	}
	if wrong := checkBand(parts, 20, 0, band); len(wrong) > 0 {
		t.Error(wrong)
	}
	for i := range parts {
		moved := *band
		moved.Placements = append([]sheet.Placement(nil), band.Placements...)
		moved.Placements[i].At.X += 0.5
		if len(checkBand(parts, 20, 0, &moved)) == 0 {
			t.Errorf("part %d moved by 0.5 isn't noticed", i)
		}
	}
}

func TestDissections(t *testing.T) {
	for _, s := range dissections()[:foretest.Sample(7, 2)] {
		parts := s.turned(sheet.QuarterTurn)
		band, err := sheet.Strip(context.Background(), parts, s.width, 0, sheet.Options{Effort: 0.05})
		foretest.Must(t, err)
		for _, w := range checkBand(parts, s.width, 0, band) {
			t.Errorf("%s: %s", s.name, w)
		}
		if excess := band.Length/s.length - 1; excess < -1e-9 || excess > 0.1 {
			t.Errorf("%s: longer than need be by %.2f %%", s.name, 100*excess)
		}
	}
}

func TestRandomStrips(t *testing.T) {
	for seed := range uint64(foretest.Sample(300, 50)) {
		r := rand.New(rand.NewPCG(seed, 17))
		var parts []sheet.Part
		for i := range 1 + r.IntN(12) {
			parts = append(parts, sheet.Part{Name: fmt.Sprint(i), Width: 5 + 60*r.Float64(), Height: 5 + 60*r.Float64(), Count: 1 + r.IntN(3), Turns: sheet.Turns(r.IntN(3))})
		}
		spacing := float64(r.IntN(4))
		band, err := sheet.Strip(context.Background(), parts, 70, spacing, sheet.Options{Effort: 0.001, Seed: seed})
		foretest.Must(t, err)
		for _, w := range checkBand(parts, 70, spacing, band) {
			t.Errorf("strip %d: %s", seed, w)
		}
	}
}
