package adjust

// Freedom is by how many the readings are more than needed.
func (b *Bench) Freedom() int {
	return len(b.Readings) - (len(b.space.Uses) - len(b.factor.Loose))
}

// Check compares reading i of the bench with the rest: deviation is how far the
// adjusted value lies below it, in units of its uncertainty; share is what part
// of its variance is left in the adjusted value.
func (b *Bench) Check(i int) (deviation, share float64) {
	fit := 0.0
	for _, t := range b.rows[i] {
		fit += t.Coef * b.at[t.At]
	}
	return b.right[i] - fit, min(1, b.cov.Variance(b.rows[i]))
}
