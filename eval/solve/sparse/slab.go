package sparse

// A Slab hands out short slices, all zero, from larger ones, so that many of
// them cost few allocations.
type Slab[T any] struct {
	left []T
	size int // of the last larger one
}

// Take hands out a slice of n zeros.
func (s *Slab[T]) Take(n int) []T {
	if n > len(s.left) {
		s.size = min(max(32, 2*s.size), 8192)
		if n > s.size/4 {
			return make([]T, n)
		}
		s.left = make([]T, s.size)
	}
	out := s.left[:n:n]
	s.left = s.left[n:]
	return out
}

// Copy hands out a slice that holds the same.
func (s *Slab[T]) Copy(of []T) []T {
	if len(of) == 0 {
		return nil
	}
	out := s.Take(len(of))
	copy(out, of)
	return out
}
