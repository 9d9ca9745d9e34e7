package maybe

// An Of is a T that may be absent.
type Of[T any] struct {
	value   T
	present bool
}

// Is is a value that is there.
func Is[T any](v T) Of[T] { return Of[T]{v, true} }

// If is v if present is true, else absent.
func If[T any](v T, present bool) Of[T] {
	if !present {
		return Of[T]{}
	}
	return Of[T]{v, true}
}

// Get is the value and whether it is there.
func (m Of[T]) Get() (T, bool) { return m.value, m.present }

// Or is the value, or else the given one.
func (m Of[T]) Or(otherwise T) T {
	if m.present {
		return m.value
	}
	return otherwise
}

// OrElse is m if it is there, else the other.
func (m Of[T]) OrElse(other Of[T]) Of[T] {
	if m.present {
		return m
	}
	return other
}

// Present reports whether the value is there.
func (m Of[T]) Present() bool { return m.present }
