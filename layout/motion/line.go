package motion

import "math"

// ramp is the time in seconds over a length in mm that is entered at speed v0 and left
// at v1, with at most v between and acceleration a: up, on, down. The length must
// suffice to get from v0 to v1.
func ramp(length, v0, v1, v, a float64) float64 {
	peak := max(min(v, math.Sqrt((2*a*length+v0*v0+v1*v1)/2)), v0, v1)
	if peak == 0 {
		return 0
	}
	on := length - (2*peak*peak-v0*v0-v1*v1)/(2*a)
	return (2*peak-v0-v1)/a + max(on, 0)/peak
}

// rest is the time over a length from rest to rest: length/v + v/a where it is long
// enough for the speed to be reached, else 2 √(length/a).
func rest(length, v, a float64) float64 { return ramp(length, 0, 0, v, a) }

// A stretch is a line or arc that is run: how long it is, how fast it may be run and
// how fast it may be entered.
type stretch struct {
	length, most, enter float64
}

// chain is the time over stretches that follow one another, from rest to rest. First it
// is found going back how fast each may be entered so that all that comes can be kept,
// then going on how fast that is reached.
func chain(all []stretch, a float64) (time float64) {
	if len(all) == 0 {
		return 0
	}
	speed := make([]float64, len(all)+1) // at the start of each, and 0 at the end
	for k := len(all) - 1; k > 0; k-- {
		s := &all[k]
		speed[k] = min(s.enter, s.most, all[k-1].most, math.Sqrt(speed[k+1]*speed[k+1]+2*a*s.length))
	}
	for k := range all {
		s := &all[k]
		speed[k+1] = min(speed[k+1], math.Sqrt(speed[k]*speed[k]+2*a*s.length))
		time += ramp(s.length, speed[k], speed[k+1], s.most, a)
	}
	return time
}
