package nest

import (
	"math/rand/v2"
	"slices"

	"foredge/layout/geom"
)

// A piece is one part to be laid: its shape at each of its turns.
type piece struct {
	turned []*turned
	size   float64 // the square root of its area, in units
	scale  float64 // the fourth root of the size
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
	// weight is how much an overlap counts of each piece with each spot; raised are the
	// pairs for which it isn't the least.
	weight []float64
	raised [][2]int32
	// hits is what each piece overlaps and how badly, in units.
	hits     [][]hit
	contacts *contacts
	rng      *rand.Rand
	steps    int // places tried
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
	f.hits = make([][]hit, n)
	m := len(f.spots)
	f.weight = make([]float64, n*m)
	for i := range n {
		for j := range m {
			f.weight[i*m+j] = f.least(i, j)
		}
	}
	return f
}

// A hit is a spot that a piece overlaps, and how badly.
type hit struct {
	spot  int32
	depth float64
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
	for _, h := range f.hits[i] {
		sum += float64(h.depth * f.weight[i*m+int(h.spot)])
	}
	return sum
}

// put lays a piece and works out what it overlaps.
func (f *field) put(i int, s spot) {
	f.place(i, s)
	a := &f.boxes[i]
	for _, k := range f.in[s.bin] {
		j := int(k)
		b := &f.boxes[j]
		if j == i || b.Min.X >= a.Max.X || b.Max.X <= a.Min.X || b.Min.Y >= a.Max.Y || b.Max.Y <= a.Min.Y {
			continue
		}
		if d := f.contacts.of(s.o, f.spots[j].o).depth(s.x-f.spots[j].x, s.y-f.spots[j].y); d > 0 {
			f.hits[i] = append(f.hits[i], hit{k, d})
			if j < len(f.pieces) {
				f.hits[j] = append(f.hits[j], hit{int32(i), d})
			}
		}
	}
}

// place lays a piece without asking what it overlaps there.
func (f *field) place(i int, s spot) {
	for _, h := range f.hits[i] {
		if j := int(h.spot); j < len(f.pieces) {
			f.hits[j] = slices.DeleteFunc(f.hits[j], func(h hit) bool { return int(h.spot) == i })
		}
	}
	f.hits[i] = f.hits[i][:0]
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

// total is the sum of all overlaps, each pair's once, times how large the pair is.
func (f *field) total() float64 {
	sum := 0.0
	for i, hits := range f.hits {
		for _, h := range hits {
			if int(h.spot) > i {
				sum += float64(h.depth * f.least(i, int(h.spot)))
			}
		}
	}
	return sum
}

// overlaps says whether a piece overlaps anything.
func (f *field) overlaps(i int) bool { return len(f.hits[i]) > 0 }

// least is the weight of a pair that has never been hard to part: it grows with
// the size of both, so that large pieces settle first.
func (f *field) least(i, j int) float64 {
	a := f.pieces[i].scale
	if j >= len(f.pieces) {
		return a * a
	}
	return a * f.pieces[j].scale
}

// forget gives all pairs their least weight.
func (f *field) forget() {
	for _, p := range f.raised {
		f.weigh(p, f.least(int(p[0]), int(p[1])))
	}
	f.raised = f.raised[:0]
}

// weigh gives a pair a weight.
func (f *field) weigh(p [2]int32, w float64) {
	i, j, m := int(p[0]), int(p[1]), len(f.spots)
	f.weight[i*m+j] = w
	if j < len(f.pieces) {
		f.weight[j*m+i] = w
	}
}

// raise makes pairs that overlap weigh more, the deepest most, and lets the others
// slowly weigh less again (guided local search: C. Voudouris, E. Tsang, 1999).
func (f *field) raise() {
	const low, high, decay = 1.2, 2.0, 0.95
	m := len(f.spots)
	kept := f.raised[:0]
	for _, p := range f.raised {
		i, j := int(p[0]), int(p[1])
		if slices.ContainsFunc(f.hits[i], func(h hit) bool { return h.spot == p[1] }) {
			kept = append(kept, p)
			continue
		}
		least := f.least(i, j)
		w := max(least, float64(f.weight[i*m+j]*decay))
		if f.weigh(p, w); w > least {
			kept = append(kept, p)
		}
	}
	f.raised = kept
	worst := 0.0
	for i, hits := range f.hits {
		for _, h := range hits {
			worst = max(worst, float64(h.depth*f.least(i, int(h.spot))))
		}
	}
	for i, hits := range f.hits {
		for _, h := range hits {
			j := int(h.spot)
			if j < i {
				continue
			}
			least, w := f.least(i, j), f.weight[i*m+j]
			if w == least {
				f.raised = append(f.raised, [2]int32{int32(i), h.spot})
			}
			f.weigh([2]int32{int32(i), h.spot}, w*(low+float64((high-low)*float64(h.depth*least))/worst))
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
