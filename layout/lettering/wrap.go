package lettering

import (
	"math"
	"slices"
	"sort"
	"unicode"

	"foredge/layout/geom"
)

// An item is what a line may begin with: a word, or a line that came blank.
type item struct {
	line       int // of those that the text came with
	start, end int // its characters there
	rise, fall float64
	// from and to are about where its ink begins and ends along its whole line, in
	// the direction in which that runs.
	from, to reach
}

// A reach is a length along a line: units of the font, and how many letters space
// can be added to.
type reach struct{ advance, spaces float64 }

// A wrapping finds where the lines of a text are broken. Its items go onto lines one
// after another, in their order. On a line too near to the head of the box a tall
// word has no room, and on one too near to its foot a word with descenders: rise is
// how far above its baseline an item's ink reaches and fall how far below, in units
// of the font, and -Inf without ink.
type wrapping struct {
	*text
	box    geom.Box
	items  []item
	chars  [][]rune // of the lines that the text came with
	mixed  []bool   // whose words stand otherwise where others are on their line
	set    map[[2]int]setting
	rises  []step // the first items that reach higher than all before them
	falls  []step // the last items that reach lower than all after them
	pitch  float64
	starts []float64 // where the first baseline may lie below the head of the ink
}

// A step is an item, and how far it reaches.
type step struct {
	item  int
	reach float64
}

// mostExact is how many words a line of mixed directions may have for all that could
// be a line of it to be set.
const mostExact = 32

// wrap breaks the lines so that the text is as large as it may be, in as few lines
// as that takes, and then so that they are about equally long.
func (t *text) wrap(asked float64, box geom.Box) (float64, error) {
	w := &wrapping{text: t, box: box, set: map[[2]int]setting{}, pitch: t.font.lineHeight()}
	if err := w.split(); err != nil {
		return 0, err
	}
	k, start := w.largest(asked)
	if k == 0 {
		return 0, nil
	}
	ends := w.breaks(k, start, box.Width())
	low, high := 0.0, box.Width()
	for range 40 {
		width := (low + high) / 2
		if tighter := w.breaks(k, start, width); len(tighter) == len(ends) {
			ends, high = tighter, width
		} else {
			low = width
		}
	}
	return w.setLines(asked, ends)
}

// parts says whether a line may be broken at a character: at blanks of any breadth, a
// blank of none too, but not at fixed ones, which hold words together (Unicode Standard
// Annex 14: the classes SP, ZW and, of the blanks, BA; the fixed ones are of GL).
func parts(r rune) bool {
	switch r {
	case '\u00a0', '\u2007', '\u202f':
		return false
	case '\u200b':
		return true
	}
	return unicode.Is(unicode.Zs, r)
}

// split finds the items of the text.
func (w *wrapping) split() error {
	for n, whole := range w.lines {
		line := w.came[n]
		first := len(w.items)
		in := false
		for i, r := range line {
			switch {
			case parts(r) && in:
				w.items[len(w.items)-1].end, in = i, false
			case !parts(r) && !in:
				w.items, in = append(w.items, item{line: n, start: i, end: len(line)}), true
			}
		}
		if len(w.items) == first {
			w.items = append(w.items, item{line: n})
		}
		w.chars = append(w.chars, line)
		words := w.items[first:]
		way := direction(line[words[0].start:words[len(words)-1].end], w.right)
		w.mixed = append(w.mixed, way == 0)
		if way == 0 {
			if err := w.measureApart(words); err != nil {
				return err
			}
			continue
		}
		measure(words, whole, way)
	}
	w.measureSteps()
	return nil
}

// measure takes the places of words from their whole line, which runs in one way:
// 1 from left to right, -1 from right to left.
func measure(words []item, whole setting, way float64) {
	for i := range words {
		words[i].rise, words[i].fall = math.Inf(-1), math.Inf(-1)
	}
	for _, s := range whole.signs {
		i := sort.Search(len(words), func(i int) bool { return words[i].end > s.at })
		if i == len(words) {
			continue
		}
		it := &words[i]
		from, to := s.pen.X+s.box.Min.X, s.pen.X+s.box.Max.X
		if way < 0 {
			from, to = -to, -from
		}
		if math.IsInf(it.rise, -1) || from < it.from.advance {
			it.from = reach{from, way * float64(s.spaces)}
		}
		if math.IsInf(it.rise, -1) || to > it.to.advance {
			it.to = reach{to, way * float64(s.spaces)}
		}
		it.rise = max(it.rise, -s.box.Min.Y-s.pen.Y)
		it.fall = max(it.fall, s.box.Max.Y+s.pen.Y)
	}
	last := reach{}
	for i := range words {
		if math.IsInf(words[i].rise, -1) { // nothing is seen of it
			words[i].from, words[i].to = last, last
		}
		last = words[i].to
	}
}

// measureApart sets each word of a line of mixed directions by itself.
func (w *wrapping) measureApart(words []item) error {
	at := reach{}
	for i := range words {
		it := &words[i]
		s, err := w.font.set(w.came[it.line][it.start:it.end], w.right, w.Space != 0)
		if err != nil {
			return err
		}
		if i > 0 {
			gap, err := w.font.set(w.came[it.line][words[i-1].end:it.start], w.right, w.Space != 0)
			if err != nil {
				gap = setting{} // the words decide whether it is wanted
			}
			at = reach{at.advance + gap.advance, at.spaces + float64(gap.spaces)}
		}
		it.from = at
		at = reach{at.advance + s.advance, at.spaces + float64(s.spaces)}
		it.to = at
		it.rise, it.fall = math.Inf(-1), math.Inf(-1)
		if ink := s.ink(1, 0); !ink.Empty() {
			it.rise, it.fall = -ink.Min.Y, ink.Max.Y
		}
	}
	return nil
}

// measureSteps finds the items that decide how near to head and foot lines may lie,
// and where the first baseline may lie for that: so that one of those that reach
// highest, on a line on which it can be, just touches the head.
func (w *wrapping) measureSteps() {
	most := math.Inf(-1)
	for i, it := range w.items {
		if it.rise > most {
			most = it.rise
			w.rises = append(w.rises, step{i, it.rise})
		}
	}
	most = math.Inf(-1)
	for i, it := range slices.Backward(w.items) {
		if it.fall > most {
			most = it.fall
			w.falls = append(w.falls, step{i, it.fall})
		}
	}
	if len(w.rises) == 0 {
		w.starts = []float64{0}
		return
	}
	first := w.rises[0]
	least := first.reach - float64(first.item)*w.pitch
	const enough = 500 // no text that is meant comes near it
	for _, s := range w.rises {
		for line := 0; line <= s.item && len(w.starts) < enough; line++ {
			start := s.reach - float64(line)*w.pitch
			if start < least {
				break
			}
			w.starts = append(w.starts, start)
		}
	}
	slices.Sort(w.starts)
	w.starts = slices.Compact(w.starts)
}

// largest is the largest scale, up to the one asked, at which the text can be broken
// so that it fits, and the start for which it takes the fewest lines; 0 if there is
// none. For each start what can be broken at one scale can be at any smaller one.
func (w *wrapping) largest(asked float64) (k, start float64) {
	for _, s := range w.starts {
		fits := func(k float64) bool { return w.breaks(k, s, w.box.Width()) != nil }
		if k > 0 && (k == asked || !fits(k)) {
			continue
		}
		k = max(k, largest(asked, w.box, w.font, fits))
	}
	if k == 0 {
		return 0, 0
	}
	fewest := math.MaxInt
	for _, s := range w.starts {
		if ends := w.breaks(k, s, w.box.Width()); ends != nil && len(ends) < fewest {
			fewest, start = len(ends), s
		}
	}
	return k, start
}

// breaks are the ends of the fewest lines no wider than a width that fit below one
// another into the box, a unit of the font being k mm and the first baseline start
// units below the head; nil if there are none.
//
// After n lines the items that may be set are all numbers from a least to a most: a
// line more sets at least one more, and at most what its width and the head of the
// box let it; and those that are too low for the next line must be set.
func (w *wrapping) breaks(k, start, width float64) []int {
	least, most := 0, []int{0}
	for n := 0; most[n] < len(w.items); n++ {
		down := start + float64(n)*w.pitch
		least = max(least, w.tooLow(w.box.Height()/k-down))
		if least > most[n] {
			return nil
		}
		end := min(w.fitting(most[n], k, width), w.tooHigh(down))
		if end == most[n] {
			return nil
		}
		least++
		most = append(most, end)
	}
	if least > len(w.items) {
		return nil
	}
	// From the foot back, each line beginning as late as it may.
	ends := most[1:]
	for n := len(ends) - 2; n >= 0; n-- {
		ends[n] = min(ends[n], ends[n+1]-1)
	}
	return ends
}

// tooHigh is the first item that reaches farther above its baseline than is free.
func (w *wrapping) tooHigh(free float64) int {
	i := sort.Search(len(w.rises), func(i int) bool { return w.rises[i].reach > free })
	if i == len(w.rises) {
		return len(w.items)
	}
	return w.rises[i].item
}

// tooLow is the first item after which all reach no farther below their baseline
// than is free.
func (w *wrapping) tooLow(free float64) int {
	i := sort.Search(len(w.falls), func(i int) bool { return w.falls[i].reach > free })
	if i == len(w.falls) {
		return 0
	}
	return w.falls[i].item + 1
}

// fitting is the end of as many items from the first on as are no wider than a width
// and came on one line.
func (w *wrapping) fitting(first int, k, width float64) int {
	line := w.items[first].line
	rest := w.items[first:]
	of := sort.Search(len(rest), func(i int) bool { return rest[i].line != line })
	return first + sort.Search(of, func(i int) bool { return w.width(first, first+i, k) > width })
}

// width is that of a line from the first item to the last.
func (w *wrapping) width(first, last int, k float64) float64 {
	a, b := w.items[first], w.items[last]
	if w.mixed[a.line] && last-first < mostExact {
		s, err := w.stretch(first, last)
		if err == nil && len(s.signs) > 0 {
			return s.ink(k, w.Space).Width()
		}
	}
	return k*(b.to.advance-a.from.advance) + w.Space*(b.to.spaces-a.from.spaces)
}

// stretch sets a line from the first item to the last; what was set of a line of
// mixed directions is kept.
func (w *wrapping) stretch(first, last int) (setting, error) {
	a, b := w.items[first], w.items[last]
	key := [2]int{first, last}
	if s, ok := w.set[key]; ok {
		return s, nil
	}
	s, err := w.font.set(w.came[a.line][a.start:b.end], w.right, w.Space != 0)
	if err == nil && w.mixed[a.line] && len(w.set) < mostExact*mostExact {
		w.set[key] = s
	}
	return s, err
}

// setLines sets the lines that end where it is said, and gives the exact scale for
// them.
func (w *wrapping) setLines(asked float64, ends []int) (float64, error) {
	w.lines = nil
	first := 0
	for _, end := range ends {
		line, err := w.stretch(first, end-1)
		if err != nil {
			return 0, err
		}
		w.lines, first = append(w.lines, line), end
	}
	return w.scaleLines(asked, w.box), nil
}
