package lattice

// A Field is a lattice by its measures, in mm.
//
//	height = Rows * Link + (Rows - 1) * Bridge + 2 * End
type Field struct {
	Links int     // across the bend, at least 1
	Rows  int     // of links along it, at least 1
	Thick float64 // width of a link
	Slot  float64 // width of a slot
	Link  float64 // length of a link between its bridges
	// Bridge is the length of the bridges, End that of those at both ends.
	Bridge, End float64
}

// A Slot is one slot of a field.
type Slot struct {
	Column   int     // 0 to Links
	X        float64 // of its middle
	From, To float64 // Y of its ends
	// Head and Tail say that it runs out through that end of the field. It never
	// does through both.
	Head, Tail bool
}

// Height is how far the field reaches along the bend.
func (f Field) Height() float64 {
	return float64(f.Rows)*f.Link + float64(f.Rows-1)*f.Bridge + 2*f.End
}

// Count is how many slots there are.
func (f Field) Count() int {
	even, odd := f.slots(0), f.slots(1)
	columns := f.Links + 1
	return (columns+1)/2*even + columns/2*odd
}

// slots is how many slots a column has. Of the places 0 to Rows where a bridge
// may stand, between rows and at both ends, it holds every other one.
func (f Field) slots(column int) int {
	first := column % 2
	between := (f.Rows - first) / 2
	after := (f.Rows - first) % 2
	return first + between + after // first is 1 where there is one before them
}

// Slots lists the slots column by column, each from its head to its tail.
func (f Field) Slots() []Slot {
	all := make([]Slot, 0, f.Count())
	for c := range f.Links + 1 {
		s := Slot{Column: c, X: f.Slot/2 + float64(c)*(f.Thick+f.Slot), Head: true}
		for place := c % 2; place <= f.Rows; place += 2 {
			from, to := f.bridge(place)
			if place > 0 {
				s.To = from
				all = append(all, s)
			}
			s.From, s.Head = to, false
		}
		if (f.Rows-c%2)%2 == 1 {
			s.To, s.Tail = f.Height(), true
			all = append(all, s)
		}
	}
	return all
}

// bridge is where the bridge at a place between rows begins and ends.
func (f Field) bridge(place int) (from, to float64) {
	switch place {
	case 0:
		return 0, f.End
	case f.Rows:
		return f.Height() - f.End, f.Height()
	}
	from = f.End + float64(place)*f.Link + float64(place-1)*f.Bridge
	return from, from + f.Bridge
}
