package cost

import (
	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/layout"
)

// A Run is how long a sheet takes, by the parts that lie on it: each takes what it takes by
// itself, and its share of the way between them.
type Run struct {
	Minutes maybe.Of[float64] // of the laser, over both sides
	Missing []string          // what isn't stated for them
	seconds map[string]float64
}

// RunOf is the run of a sheet, of its outside and, where it has one, its inside, each with
// its sequence; nil stands for none.
func RunOf(sides ...*layout.Drawing) Run {
	r := Run{Minutes: maybe.Is(0.0), seconds: map[string]float64{}}
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

// A Piece is a part of a cover as it lies on a sheet.
type Piece struct {
	Part layout.Part // as it is drawn, upright
	Name string      // as it is called on the sheet
	On   *Run        // that of the sheet
}

// A Share is what a piece has of its cover's charge.
type Share struct {
	Minutes     maybe.Of[float64]
	Laser, Wood maybe.Of[int64] // in cents; absent where what the cover costs isn't known
}

// OfCover is the charge of a cover whose pieces lie on sheets with those of others. The
// pieces' shares add up to what it is charged for the laser and for wood.
func OfCover(shop design.Shop, pieces []Piece) (Charge, []Share) {
	var missing []string
	sum, timed := 0.0, true
	parts := make([]layout.Part, len(pieces))
	seconds, wood := make([]float64, len(pieces)), make([]float64, len(pieces))
	shares := make([]Share, len(pieces))
	for i, p := range pieces {
		missing = with(missing, p.On.Missing)
		seconds[i] = p.On.seconds[p.Name]
		shares[i].Minutes = maybe.If(seconds[i]/60, p.On.Minutes.Present())
		sum, timed = sum+seconds[i], timed && p.On.Minutes.Present()
		parts[i] = p.Part
		parts[i].Copies = 1
		price, _ := p.Part.Wood()
		wood[i] = price.Or(0)
	}
	c := inCents(layout.Charge(shop, maybe.If(sum, timed), missing, parts))
	laser, planks := Split(c.Laser, seconds), Split(c.Wood, wood)
	for i := range shares {
		shares[i].Laser, shares[i].Wood = maybe.If(laser[i], c.Total.Present()), maybe.If(planks[i], c.Total.Present())
	}
	return c, shares
}
