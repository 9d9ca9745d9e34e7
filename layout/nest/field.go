package nest

import (
	"math"
	"math/rand/v2"
	"slices"

	"foredge/layout/geom"
)

// A piece is one part to be laid: its shape at each of its turns.
type piece struct {
	turned []*turned
	size   float64 // the square root of its area, in units
	scale  float64 // the fourth root of that
}

// A spot is where a piece lies: turned, in a bin, its origin at whole units.
type spot struct {
	o    *turned
	bin  int
	x, y float64
}

// A field holds pieces in bins, where they may overlap, and knows by how much.
type field struct {
	pieces []piece
	bins   []geom.Box
	open   []int      // the bins in which pieces may lie
	spots  []spot     // of the pieces, then of what is fixed
	boxes  []geom.Box // of the spots
	in     [][]int32  // which spots are in each bin
	// weight and overlap are of every piece with every spot: how much its overlap
	// counts, and how deep it is in units.
	weight, overlap []float64
	contacts        *contacts
	rng             *rand.Rand
	steps           int // places tried
}

func newField(pieces []piece, bins []geom.Box, fixed []spot, shapes int, seed, stream uint64) *field {
	n := len(pieces)
	f := &field{
		pieces: pieces, bins: append([]geom.Box(nil), bins...), spots: make([]spot, n, n+len(fixed)),
		contacts: newContacts(shapes), rng: rand.New(rand.NewPCG(seed, stream)),
	}
	f.spots = append(f.spots, fixed...)
	f.boxes = make([]geom.Box, len(f.spots))
	f.in = make([][]int32, len(bins))
	for b := range bins {
		f.open = append(f.open, b)
	}
	for k := n; k < len(f.spots); k++ {
		s := f.spots[k]
		f.boxes[k] = s.bounds()
		f.in[s.bin] = append(f.in[s.bin], int32(k))
	}
	f.weight = make([]float64, n*len(f.spots))
	f.overlap = make([]float64, n*len(f.spots))
	return f
}

func (s spot) bounds() geom.Box {
	b := s.o.box
	return geom.Box{
		Min: geom.Point{X: b.Min.X + s.x, Y: b.Min.Y + s.y},
		Max: geom.Point{X: b.Max.X + s.x, Y: b.Max.Y + s.y},
	}
}

// room is where the origin of a shape may lie in a bin; empty if it doesn't fit.
func (f *field) room(o *turned, bin int) geom.Box {
	b := f.bins[bin]
	return geom.Box{
		Min: geom.Point{X: b.Min.X - o.box.Min.X, Y: b.Min.Y - o.box.Min.Y},
		Max: geom.Point{X: b.Max.X - o.box.Max.X, Y: b.Max.Y - o.box.Max.Y},
	}
}

// inside is a place moved into a room.
func inside(room geom.Box, x, y float64) (float64, float64) {
	return max(room.Min.X, min(room.Max.X, x)), max(room.Min.Y, min(room.Max.Y, y))
}

// cost is the weighted depth to which a piece would overlap others at a spot. It
// stops counting at a limit.
func (f *field) cost(i int, s spot, limit float64) float64 {
	f.steps++
	minX, maxX := s.o.box.Min.X+s.x, s.o.box.Max.X+s.x
	minY, maxY := s.o.box.Min.Y+s.y, s.o.box.Max.Y+s.y
	m := len(f.spots)
	row := f.weight[i*m : i*m+m]
	sum := 0.0
	for _, j := range f.in[s.bin] {
		b := &f.boxes[j]
		if b.Min.X >= maxX || b.Max.X <= minX || b.Min.Y >= maxY || b.Max.Y <= minY || int(j) == i {
			continue
		}
		t := &f.spots[j]
		if d := f.contacts.of(s.o, t.o).depth(s.x-t.x, s.y-t.y); d > 0 {
			if sum += float64(d * row[j]); sum >= limit {
				return sum
			}
		}
	}
	return sum
}

// costNow is cost where the piece lies.
func (f *field) costNow(i int) float64 {
	m := len(f.spots)
	sum := 0.0
	for j, d := range f.overlap[i*m : i*m+m] {
		if d > 0 {
			sum += float64(d * f.weight[i*m+j])
		}
	}
	return sum
}

// put lays a piece and works out what it overlaps.
func (f *field) put(i int, s spot) {
	f.place(i, s)
	m := len(f.spots)
	row := f.overlap[i*m : i*m+m]
	for j, d := range row {
		if row[j] = 0; d > 0 && j < len(f.pieces) {
			f.overlap[j*m+i] = 0
		}
	}
	a := &f.boxes[i]
	for _, k := range f.in[s.bin] {
		j := int(k)
		b := &f.boxes[j]
		if j == i || b.Min.X >= a.Max.X || b.Max.X <= a.Min.X || b.Min.Y >= a.Max.Y || b.Max.Y <= a.Min.Y {
			continue
		}
		d := f.contacts.of(s.o, f.spots[j].o).depth(s.x-f.spots[j].x, s.y-f.spots[j].y)
		row[j] = d
		if j < len(f.pieces) {
			f.overlap[j*m+i] = d
		}
	}
}

// place lays a piece without asking what it overlaps.
func (f *field) place(i int, s spot) {
	if old := f.spots[i]; old.o == nil || old.bin != s.bin {
		f.lift(i)
		f.in[s.bin] = append(f.in[s.bin], int32(i))
	}
	f.spots[i], f.boxes[i] = s, s.bounds()
}

// lift takes a piece up, so that it lies nowhere.
func (f *field) lift(i int) {
	if old := f.spots[i]; old.o != nil {
		k := slices.Index(f.in[old.bin], int32(i))
		f.in[old.bin] = slices.Delete(f.in[old.bin], k, k+1)
		f.spots[i] = spot{}
	}
}

// total is the sum of all depths, each pair's once, times how large the pair is.
func (f *field) total() float64 {
	n, m := len(f.pieces), len(f.spots)
	sum := 0.0
	for i := range n {
		for j := i + 1; j < m; j++ {
			if d := f.overlap[i*m+j]; d > 0 {
				sum += float64(d * f.least(i, j))
			}
		}
	}
	return sum
}

// overlaps says whether a piece overlaps anything.
func (f *field) overlaps(i int) bool {
	m := len(f.spots)
	for _, d := range f.overlap[i*m : i*m+m] {
		if d > 0 {
			return true
		}
	}
	return false
}

// least is the weight of a pair that has never been hard to part: it grows with
// the size of both, so that large pieces settle first.
func (f *field) least(i, j int) float64 {
	a := f.pieces[i].size
	b := a
	if j < len(f.pieces) {
		b = f.pieces[j].size
	}
	return math.Sqrt(math.Sqrt(float64(a * b)))
}

// forget gives all pairs their least weight.
func (f *field) forget() {
	n, m := len(f.pieces), len(f.spots)
	for i := range n {
		for j := range m {
			f.weight[i*m+j] = f.least(i, j)
		}
	}
}

// raise makes pairs that overlap weigh more, the deepest most, and lets the others
// slowly weigh less again (guided local search: C. Voudouris, E. Tsang, 1999).
func (f *field) raise() {
	const low, high, decay = 1.2, 2.0, 0.95
	n, m := len(f.pieces), len(f.spots)
	worst := 0.0
	for i := range n {
		for j := i + 1; j < m; j++ {
			if d := f.overlap[i*m+j]; d > 0 {
				worst = max(worst, float64(d*f.least(i, j)))
			}
		}
	}
	if worst == 0 {
		return
	}
	for i := range n {
		for j := i + 1; j < m; j++ {
			w := f.weight[i*m+j]
			least := f.least(i, j)
			if d := f.overlap[i*m+j]; d > 0 {
				w *= low + float64((high-low)*float64(d*least))/worst
			} else if w > least {
				w = max(least, float64(w*decay))
			}
			f.weight[i*m+j] = w
			if j < n {
				f.weight[j*m+i] = w
			}
		}
	}
}

// save is where all pieces lie; load lays them there again.
func (f *field) save() []spot { return append([]spot(nil), f.spots[:len(f.pieces)]...) }

func (f *field) load(spots []spot) {
	for i, s := range spots {
		f.place(i, s)
	}
	for i, s := range spots {
		f.put(i, s)
	}
}
