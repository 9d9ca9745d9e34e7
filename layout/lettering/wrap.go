package lettering

import (
	"math"

	"foredge/layout/geom"
)

// words is a line with the places of its words.
type words struct {
	line       []rune
	start, end []int
	set        map[[2]int]setting // stretches from word to word, once set
}

// split finds the words of a line. Only the common blank parts them: a fixed
// one holds them together.
func split(line string) words {
	w := words{line: []rune(line), set: map[[2]int]setting{}}
	in := false
	for i, r := range w.line {
		switch {
		case r == ' ' && in:
			w.end, in = append(w.end, i), false
		case r != ' ' && !in:
			w.start, in = append(w.start, i), true
		}
	}
	if in {
		w.end = append(w.end, len(w.line))
	}
	return w
}

// stretch sets the words from first to last.
func (t *text) stretch(w *words, first, last int) (setting, error) {
	key := [2]int{first, last}
	if s, ok := w.set[key]; ok {
		return s, nil
	}
	s, err := t.font.set(w.line[w.start[first]:w.end[last]], t.right, t.Space != 0)
	if err == nil {
		w.set[key] = s
	}
	return s, err
}

// broken breaks the text into lines of at most a width, as few as may be; ok is
// false if a word alone is wider.
func (t *text) broken(k, width float64) (lines []setting, ok bool, err error) {
	for i := range t.words {
		w := &t.words[i]
		if len(w.start) == 0 {
			lines = append(lines, setting{})
		}
		for first := 0; first < len(w.start); {
			var line setting
			last := first
			for ; last < len(w.start); last++ {
				s, err := t.stretch(w, first, last)
				if err != nil {
					return nil, false, err
				}
				if len(s.signs) > 0 && s.ink(k, t.Space).Width() > width {
					break
				}
				line = s
			}
			if last == first {
				return nil, false, nil
			}
			lines, first = append(lines, line), last
		}
	}
	return lines, true, nil
}

// wrap breaks the lines so that the text is as large as it may be, and then so
// that they are about equally long.
func (t *text) wrap(asked float64, box geom.Box) (float64, error) {
	var failed error
	k := largest(asked, box, t.font, func(k float64) bool {
		lines, ok, err := t.broken(k, box.Width())
		if err != nil {
			failed = err
		}
		return ok && t.fits(lines, k, box)
	})
	if failed != nil || k == 0 {
		return k, failed
	}
	lines, _, err := t.broken(k, box.Width())
	if err != nil {
		return 0, err
	}
	low, high := 0.0, box.Width()
	for range 40 {
		width := (low + high) / 2
		tighter, ok, err := t.broken(k, width)
		if err != nil {
			return 0, err
		}
		if ok && len(tighter) == len(lines) {
			lines, high = tighter, width
		} else {
			low = width
		}
	}
	t.lines = lines
	// What bounds the scale is now exact.
	if t.Space == 0 {
		widest := 0.0
		for _, l := range lines {
			if len(l.signs) > 0 {
				widest = math.Max(widest, l.ink(1, 0).Width())
			}
		}
		k = min(asked, box.Width()/widest, box.Height()/t.height(lines, 1))
	}
	return k, nil
}
