package nest

import (
	"math"
	"math/rand/v2"

	"foredge/layout/geom"
)

// A piece is one part to be laid: its shape at each of its turns.
type piece struct {
	turned []*turned
	size   float64 // the square root of its area, in units
}

// A spot is where a piece lies: turned, in a bin, its origin at whole units.
type spot struct {
	o    *turned
	bin  int
	x, y float64
}

// A field holds pieces in bins, which may overlap, and knows by how much. Bins lie
// side by side in one plane, so far apart that what lies in one meets nothing of another.
type field struct {
	pieces []piece
	bins   []geom.Box
	spots  []spot     // of the pieces, then of what is fixed
	boxes  []geom.Box // of the spots
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
	for k := n; k < len(f.spots); k++ {
		f.boxes[k] = f.spots[k].bounds()
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

// rooms is where the origin of a shape may lie in a bin; empty if it doesn't fit.
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
func (f *field) cost(i int, o *turned, x, y, limit float64) float64 {
	f.steps++
	minX, maxX := o.box.Min.X+x, o.box.Max.X+x
	minY, maxY := o.box.Min.Y+y, o.box.Max.Y+y
	m := len(f.spots)
	row := f.weight[i*m : i*m+m]
	sum := 0.0
	for j := range f.boxes {
		b := &f.boxes[j]
		if b.Min.X >= maxX || b.Max.X <= minX || b.Min.Y >= maxY || b.Max.Y <= minY || j == i {
			continue
		}
		s := &f.spots[j]
		if d := f.contacts.of(o, s.o).depth(x-s.x, y-s.y); d > 0 {
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
	m := len(f.spots)
	f.spots[i], f.boxes[i] = s, s.bounds()
	a := &f.boxes[i]
	for j := range f.boxes {
		d := 0.0
		b := &f.boxes[j]
		if j != i && s.o != nil && f.spots[j].o != nil &&
			b.Min.X < a.Max.X && b.Max.X > a.Min.X && b.Min.Y < a.Max.Y && b.Max.Y > a.Min.Y {
			d = f.contacts.of(s.o, f.spots[j].o).depth(s.x-f.spots[j].x, s.y-f.spots[j].y)
		}
		f.overlap[i*m+j] = d
		if j < len(f.pieces) {
			f.overlap[j*m+i] = d
		}
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
		f.spots[i], f.boxes[i] = s, s.bounds()
	}
	for i, s := range spots {
		f.put(i, s)
	}
}
