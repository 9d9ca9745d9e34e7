package foretest

import (
	"math"
	"testing"
)

// Near checks that a number agrees with the one wanted; not-a-number never
// does.
func Near(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.12g, want %.12g within %g", what, got, want, within)
	}
}

// Sample is how many cases a test tries: all of them, or with -short the few
// that are a real sample and no more.
func Sample(all, short int) int {
	if testing.Short() {
		return short
	}
	return all
}

// Long skips a test with -short, and says why it can't be done in short.
func Long(t testing.TB, why string) {
	t.Helper()
	if testing.Short() {
		t.Skip(why + ": left to the full run")
	}
}
