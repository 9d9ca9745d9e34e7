package watch

import (
	"slices"
	"time"
)

// A settler decides when a burst of changes is over: when nothing has been
// touched for the time quiet, or after the time most since the first touch, so
// that a path that never rests can't hold up the others. It knows no clock:
// callers say what time it is.
type settler struct {
	quiet, most time.Duration

	first, last time.Time
	touched     map[string]bool // true: it has been given a second wait
}

func newSettler(quiet, most time.Duration) *settler {
	return &settler{quiet: quiet, most: most, touched: map[string]bool{}}
}

// touch notes that something happened to a path.
func (s *settler) touch(now time.Time, path string) {
	if len(s.touched) == 0 {
		s.first = now
	}
	s.last = now
	if _, known := s.touched[path]; !known {
		s.touched[path] = false
	}
}

// due returns when the burst will be over if nothing else happens, and false
// if nothing has been touched.
func (s *settler) due() (time.Time, bool) {
	if len(s.touched) == 0 {
		return time.Time{}, false
	}
	quiet, most := s.last.Add(s.quiet), s.first.Add(s.most)
	if most.Before(quiet) {
		return most, true
	}
	return quiet, true
}

// take ends the burst and returns its paths, sorted. second tells which of them
// have waited twice.
func (s *settler) take() (paths []string, second map[string]bool) {
	for p := range s.touched {
		paths = append(paths, p)
	}
	slices.Sort(paths)
	second, s.touched = s.touched, map[string]bool{}
	return paths, second
}

// again gives a path that was taken one more wait, with the other paths that
// were taken with it, so that what was saved together stays together.
func (s *settler) again(now time.Time, paths []string) {
	for _, p := range paths {
		if len(s.touched) == 0 {
			s.first = now
		}
		s.last = now
		s.touched[p] = true
	}
}
