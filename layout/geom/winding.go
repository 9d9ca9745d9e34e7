package geom

import (
	"cmp"
	"slices"
)

// A turning finds how often paths run round a place without looking at all that lies
// level with it: of pieces that follow one another and lie wholly to its right, the ray
// from there crosses as many as it does of the straight line from where the first
// begins to where the last ends, and a ring to its right comes to none. So only what
// has the place in its box is looked at closer. It doesn't change once made.
type turning struct {
	pieces []Piece
	order  []int     // of the pieces, those of rings near to one another together; nil for one ring
	start  []float64 // how far down the ring of each begins, in that order
	boxes  [][]Box   // boxes[k][i] holds boxes[k-1][i*fan:…]; boxes[0] the pieces in order
	closed bool      // all of them are rings
}

// newTurning makes the turning of paths whose pieces, in that order, have these boxes;
// first are the numbers of the first piece of each, and of one behind the last.
func newTurning(pieces []Piece, first []int, boxes []Box) *turning {
	t := &turning{pieces: pieces, closed: true}
	for k := range len(first) - 1 {
		from, end := first[k], first[k+1]
		t.closed = t.closed && (from == end || pieces[end-1].End == pieces[from].From)
	}
	if len(first) == 2 {
		t.boxes = levels(boxes)
		return t
	}
	level := make([]Box, 0, len(pieces))
	t.order, t.start = make([]int, 0, len(pieces)), make([]float64, 0, len(pieces))
	for _, k := range ringsInOrder(first, boxes) {
		for i := first[k]; i < first[k+1]; i++ {
			t.order, t.start, level = append(t.order, i), append(t.start, pieces[first[k]].From.Y), append(level, boxes[i])
		}
	}
	t.boxes = levels(level)
	return t
}

// ringsInOrder numbers the rings so that those near to one another are together.
func ringsInOrder(first []int, boxes []Box) []int {
	n := len(first) - 1
	rings := make([]Box, n)
	order := make([]int, n)
	for k := range rings {
		rings[k], order[k] = EmptyBox(), k
		for _, b := range boxes[first[k]:first[k+1]] {
			rings[k] = rings[k].Union(b)
		}
	}
	key := along(rings)
	slices.SortFunc(order, func(i, j int) int { return cmp.Or(cmp.Compare(key[i], key[j]), cmp.Compare(i, j)) })
	return order
}

// at is how often the paths run clockwise round a point, and how many boxes and pieces
// were looked at for it.
func (t *turning) at(x Point) (winding, looked int) {
	if len(t.pieces) == 0 {
		return 0, 0
	}
	return t.under(len(t.boxes)-1, 0, x)
}

// under is [turning.at] of what is in one box.
func (t *turning) under(level, k int, x Point) (winding, looked int) {
	b := &t.boxes[level][k]
	if x.Y < b.Min.Y || b.Max.Y < x.Y || b.Max.X <= x.X {
		return 0, 0
	}
	if level == 0 {
		t.piece(k).crossings(x, func(_ float64, way int) { winding += way })
		return winding, 1
	}
	if t.closed && x.X < b.Min.X {
		reach := 1
		for range level {
			reach *= fan
		}
		return t.before(min((k+1)*reach, len(t.pieces)), x.Y) - t.before(k*reach, x.Y), 1
	}
	for c := k * fan; c < min((k+1)*fan, len(t.boxes[level-1])); c++ {
		w, n := t.under(level-1, c, x)
		winding, looked = winding+w, looked+n
	}
	return winding, looked
}

func (t *turning) piece(k int) *Piece {
	if t.order == nil {
		return &t.pieces[k]
	}
	return &t.pieces[t.order[k]]
}

// before is how often, on the whole, the pieces before the k-th cross the level y
// downwards: as the line from where its ring begins to where it begins itself does.
func (t *turning) before(k int, y float64) int {
	switch {
	case k == len(t.pieces):
		return 0
	case t.order == nil:
		return crosses(t.pieces[0].From.Y, t.pieces[k].From.Y, y)
	}
	return crosses(t.start[k], t.piece(k).From.Y, y)
}
