package fit

import (
	"strings"
	"testing"

	"foredge/eval/evaltest"
)

// Of a design that was given up there is nothing to say, and nothing falls over.
func TestOfWhatWasGivenUp(t *testing.T) {
	text := "notebook log { accuracy = 0.05; thick = 5; width = 200; height = 200\nrow w on spine { hole = round 4; inset = 5; first = 5; gaps = " +
		strings.TrimSuffix(strings.Repeat("9, ", 1200), ", ") + " } }\npanel front covers log { thick = 3 }\n"
	s, _ := evaltest.Solve(text, nil)
	if s.Numbers.Spent == nil {
		t.Fatal("this design isn't given up any more: make it larger")
	}
	if r := Of(s); len(r.Notebooks) > 0 {
		t.Errorf("said of a design that was given up: %v", r.Notebooks)
	}
}
