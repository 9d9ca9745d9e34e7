package cost

import (
	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/layout"
)

// A Run is how long a sheet takes, by the parts that lie on it: each takes what it takes by
// itself, and its share of the way between them.
type Run struct {
	Stock   string
	Minutes maybe.Of[float64] // of the laser, over both sides
	Missing []string          // what isn't stated for them
	seconds map[string]float64
}

// RunOf is the run of a sheet of a stock, of its outside and, where it has one, its inside, each with
// its sequence; nil stands for none.
func RunOf(stock string, sides ...*layout.Drawing) Run {
	r := Run{Stock: stock, Minutes: maybe.Is(0.0), seconds: map[string]float64{}}
	for _, d := range sides {
		if d == nil {
			continue
		}
		its := d.Reckon()
		r.Missing = with(r.Missing, its.Missing)
		time, timed := its.Time.Get()
		minutes, known := r.Minutes.Get()
		r.Minutes = maybe.If(minutes+time.Total()/60, known && timed)
		sum := 0.0
		for _, s := range its.Share {
			sum += s
		}
		for i, p := range d.Parts {
			if sum > 0 {
				r.seconds[p.Name] += time.Total() * its.Share[i] / sum
			}
		}
	}
	return r
}

// A Cover is what is made once, of pieces that lie on sheets with those of others.
type Cover struct {
	Shop   design.Shop // what it is charged by
	Pieces []Piece
}

// A Piece is a part of a cover as it lies on a sheet.
type Piece struct {
	Part layout.Part // as it is drawn, upright
	Name string      // as it is called on the sheet
	On   int         // index of that
}

// A Share is what a piece has of its cover's charge.
type Share struct {
	Minutes     maybe.Of[float64]
	Laser, Wood maybe.Of[int64] // in cents; absent where what the cover costs isn't known
}

// OfCovers are the charges of covers whose pieces lie on sheets together, and what each piece
// has of them: these add up to what its cover is charged for the laser and for wood, and
// those of a sheet, and of all sheets of a stock, to their own shares to within a cent.
func OfCovers(sheets []Run, covers []Cover) ([]Charge, [][]Share) {
	charges, shares := make([]Charge, len(covers)), make([][]Share, len(covers))
	laser, wood := make([]int64, len(covers)), make([]int64, len(covers))
	var seconds, prices []Weighed
	for i, c := range covers {
		s, w := c.weigh(i, sheets)
		charges[i], shares[i] = c.charge(s, sheets)
		laser[i], wood[i] = charges[i].Laser, charges[i].Wood
		seconds, prices = append(seconds, s...), append(prices, w...)
	}
	stocks := stocksOf(sheets)
	lasers, woods := Apportion(laser, seconds, stocks), Apportion(wood, prices, stocks)
	for i := range shares {
		known := charges[i].Total.Present()
		for k := range shares[i] {
			shares[i][k].Laser, shares[i][k].Wood = maybe.If(lasers[0], known), maybe.If(woods[0], known)
			lasers, woods = lasers[1:], woods[1:]
		}
	}
	return charges, shares
}

// weigh gives what each piece takes of the laser in seconds, and what its wood costs.
func (c *Cover) weigh(index int, sheets []Run) (seconds, wood []Weighed) {
	for _, p := range c.Pieces {
		price, _ := p.Part.Wood()
		seconds = append(seconds, Weighed{index, p.On, sheets[p.On].seconds[p.Name]})
		wood = append(wood, Weighed{index, p.On, price.Or(0)})
	}
	return seconds, wood
}

// charge is what a cover is charged with, and the minutes of each piece.
func (c *Cover) charge(seconds []Weighed, sheets []Run) (Charge, []Share) {
	var missing []string
	sum, timed := 0.0, true
	parts, shares := make([]layout.Part, len(c.Pieces)), make([]Share, len(c.Pieces))
	for i, p := range c.Pieces {
		on := &sheets[p.On]
		missing = with(missing, on.Missing)
		shares[i].Minutes = maybe.If(seconds[i].Weight/60, on.Minutes.Present())
		sum, timed = sum+seconds[i].Weight, timed && on.Minutes.Present()
		parts[i] = p.Part
		parts[i].Copies = 1
	}
	return inCents(layout.Charge(c.Shop, maybe.If(sum, timed), missing, parts)), shares
}

// stocksOf gives each sheet the number of its stock, in the order in which they are met.
func stocksOf(sheets []Run) []int {
	numbers, all := map[string]int{}, make([]int, len(sheets))
	for i := range sheets {
		n, met := numbers[sheets[i].Stock]
		if !met {
			n = len(numbers)
			numbers[sheets[i].Stock] = n
		}
		all[i] = n
	}
	return all
}
