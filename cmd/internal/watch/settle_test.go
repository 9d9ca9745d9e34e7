package watch

import (
	"slices"
	"testing"
	"time"
)

const ms = time.Millisecond

func TestSettle(t *testing.T) {
	start := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	for _, test := range []struct {
		name    string
		touches []time.Duration // after start
		due     time.Duration   // after start
	}{
		{"one", []time.Duration{0}, 60 * ms},
		{"a save in two steps", []time.Duration{0, 8 * ms}, 68 * ms},
		{"each just before the end of the last", []time.Duration{0, 59 * ms, 118 * ms}, 178 * ms},
		{"never at rest", []time.Duration{0, 50 * ms, 100 * ms, 150 * ms, 200 * ms, 250 * ms, 300 * ms, 350 * ms, 400 * ms, 450 * ms, 490 * ms}, 500 * ms},
	} {
		s := newSettler(60*ms, 500*ms)
		if _, ok := s.due(); ok {
			t.Fatal("due although nothing was touched")
		}
		for _, at := range test.touches {
			s.touch(start.Add(at), "a")
		}
		if due, ok := s.due(); !ok || due.Sub(start) != test.due {
			t.Errorf("%s: due after %v, want %v", test.name, due.Sub(start), test.due)
		}
	}
}

func TestSettleSecondWait(t *testing.T) {
	start := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	s := newSettler(60*ms, 500*ms)
	s.touch(start, "b")
	s.touch(start, "a")
	s.touch(start, "b")
	paths, second := s.take()
	if !slices.Equal(paths, []string{"a", "b"}) || second["a"] || second["b"] {
		t.Fatalf("took %v %v", paths, second)
	}
	if _, ok := s.due(); ok {
		t.Error("due after all was taken")
	}
	s.again(start.Add(60*ms), paths)
	s.touch(start.Add(70*ms), "b") // what happens meanwhile gives no third wait
	if due, _ := s.due(); due.Sub(start) != 130*ms {
		t.Errorf("due after %v, want 130ms", due.Sub(start))
	}
	if paths, second = s.take(); !slices.Equal(paths, []string{"a", "b"}) || !second["a"] || !second["b"] {
		t.Errorf("took %v %v", paths, second)
	}
}
