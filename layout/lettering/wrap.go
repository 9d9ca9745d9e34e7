package lettering

import (
	"math"
	"sort"

	"foredge/layout/geom"
)

// words is a line with the places of its words.
type words struct {
	line       []rune
	start, end []int
	// from[i] and to[i] are about where word i begins and ends along the whole
	// line: nil until that is asked for.
	from, to []reach
	set      map[[2]int]setting // stretches from word to word, once set
	kept     int                // runes in those
}

// A reach is a length along a line: units of the font, and how many letters space
// can be added to.
type reach struct{ advance, spaces float64 }

// mostKept is how many runes of stretches a line remembers. A short text is broken
// a hundred times at nearly the same places; of a long one each time is another.
const mostKept = 5_000

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
	line := w.line[w.start[first]:w.end[last]]
	s, err := t.font.set(line, t.right, t.Space != 0)
	if w.kept += len(line); err == nil && w.kept <= mostKept {
		w.set[key] = s
	}
	return s, err
}

// measure finds about where the words of a line begin and end, each set by itself.
func (t *text) measure(w *words) error {
	if w.from != nil {
		return nil
	}
	blank, err := t.font.set([]rune{' '}, t.right, t.Space != 0)
	if err != nil {
		blank = setting{} // the words decide whether it is wanted
	}
	w.from, w.to = make([]reach, len(w.start)), make([]reach, len(w.start))
	at, last := reach{}, 0
	for i := range w.start {
		word, err := t.stretch(w, i, i)
		if err != nil {
			return err
		}
		if i > 0 {
			gap := float64(w.start[i] - last)
			at = reach{at.advance + gap*blank.advance, at.spaces + gap*float64(blank.spaces)}
		}
		w.from[i] = at
		at = reach{at.advance + word.advance, at.spaces + float64(word.spaces)}
		w.to[i], last = at, w.end[i]
	}
	return nil
}

// fitting sets as many words from the first on as are no wider than a width; next
// is the word after them. It begins with about as many as their lengths add up to.
func (t *text) fitting(w *words, first int, k, width float64) (line setting, next int, err error) {
	if err := t.measure(w); err != nil {
		return setting{}, first, err
	}
	about := first + sort.Search(len(w.start)-first, func(i int) bool {
		to, from := w.to[first+i], w.from[first]
		return k*(to.advance-from.advance)+t.Space*(to.spaces-from.spaces) > width
	})
	next = max(first, about-1)
	fits := func(last int) (bool, error) {
		s, err := t.stretch(w, first, last)
		if err != nil || len(s.signs) > 0 && s.ink(k, t.Space).Width() > width {
			return false, err
		}
		line = s
		return true, nil
	}
	ok, err := fits(next)
	for !ok && err == nil && next > first {
		next--
		ok, err = fits(next)
	}
	if !ok || err != nil {
		return setting{}, first, err
	}
	for next++; ok && err == nil && next < len(w.start); next++ {
		if ok, err = fits(next); !ok {
			break
		}
	}
	return line, next, err
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
			line, next, err := t.fitting(w, first, k, width)
			if err != nil || next == first {
				return nil, false, err
			}
			lines, first = append(lines, line), next
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
