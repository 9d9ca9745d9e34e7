package lettering

import (
	"slices"
	"unicode"

	"github.com/benoitkugler/textprocessing/fribidi"
	"github.com/go-text/typesetting/language"
)

// A run is a stretch of a line in one script and one direction.
type run struct {
	start, end int
	level      int // of embedding: odd from right to left
	script     language.Script
	font       int // which of the fonts for what the first lacks; 0 for the first
}

// runs splits a line into runs in the order in which they stand from left to
// right (Unicode Standard Annex #9). With rtl the line is one of a text that
// runs from right to left.
func runs(line []rune, rtl bool) []run { return runsOf(line, rtl, nil) }

// runsOf are the runs of a line whose characters are of different fonts; nil where
// they are all of the first.
func runsOf(line []rune, rtl bool, fonts []int) []run {
	levels := embeddings(line, rtl)
	scripts := scripts(line)
	var out []run
	for i := range line {
		r := run{start: i, end: i + 1, level: levels[i], script: scripts[i]}
		if fonts != nil {
			r.font = fonts[i]
		}
		if n := len(out); n > 0 && out[n-1].level == r.level && out[n-1].script == r.script && out[n-1].font == r.font {
			out[n-1].end = i + 1
			continue
		}
		out = append(out, r)
	}
	reorder(out)
	return out
}

// reorder turns runs from the order in which they are read to that in which
// they stand: rule L2, applied to runs.
func reorder(all []run) {
	highest := 0
	for _, r := range all {
		highest = max(highest, r.level)
	}
	for level := highest; level > 0; level-- {
		for i := 0; i < len(all); i++ {
			j := i
			for j < len(all) && all[j].level >= level {
				j++
			}
			slices.Reverse(all[i:j])
			i = j
		}
	}
}

// plain says that a line holds nothing that could run from right to left: all
// such characters lie beyond the Cyrillic and Armenian blocks.
func plain(line []rune) bool {
	return !slices.ContainsFunc(line, func(r rune) bool { return r >= 0x590 })
}

// rightToLeft says whether a text runs from right to left: as its first letter
// does (rules P2 and P3).
func rightToLeft(text []rune) bool {
	if plain(text) {
		return false
	}
	isolates := 0
	for _, r := range text {
		switch t := fribidi.GetBidiType(r); {
		case t.IsIsolate() && t != fribidi.PDI:
			isolates++
		case t == fribidi.PDI:
			isolates = max(0, isolates-1)
		case isolates == 0 && t.IsStrong() && t.IsLetter():
			return t.IsRtl()
		}
	}
	return false
}

// embeddings are the levels of embedding of a line's characters.
func embeddings(line []rune, rtl bool) []int {
	out := make([]int, len(line))
	if len(line) == 0 || plain(line) && !rtl {
		return out
	}
	base := fribidi.ParType(fribidi.LTR)
	if rtl {
		base = fribidi.RTL
	}
	types := make([]fribidi.CharType, len(line))
	brackets := make([]fribidi.BracketType, len(line))
	for i, r := range line {
		types[i] = fribidi.GetBidiType(r)
		if types[i] == fribidi.ON {
			brackets[i] = fribidi.GetBracket(r)
		}
	}
	levels, _ := fribidi.GetParEmbeddingLevels(types, brackets, &base)
	for i, l := range levels {
		out[i] = int(l)
	}
	// Rule L1: blanks at the end of a line stand at its own end.
	for i := len(line) - 1; i >= 0 && (unicode.IsSpace(line[i]) || unicode.Is(unicode.Cf, line[i]) && !types[i].IsStrong()); i-- {
		out[i] = 0
		if rtl {
			out[i] = 1
		}
	}
	return out
}

// direction is 1 for a line all of which runs from left to right, -1 for one from
// right to left, 0 where it is mixed.
func direction(line []rune, rtl bool) float64 {
	levels := embeddings(line, rtl)
	for _, l := range levels {
		if l != levels[0] || l > 1 {
			return 0
		}
	}
	if len(levels) > 0 && levels[0] == 1 {
		return -1
	}
	return 1
}

// scripts gives each character its script; what is common to several takes that
// of the letters before it, at the start of a line that of the first letter.
func scripts(line []rune) []language.Script {
	out := make([]language.Script, len(line))
	var last language.Script
	for i, r := range line {
		if s := language.LookupScript(r); s.Strong() && s != language.Unknown {
			if last == 0 {
				for j := range i {
					out[j] = s
				}
			}
			last = s
		}
		out[i] = last
	}
	return out
}

// joined says whether the letters of a script are connected.
func joined(s language.Script) bool {
	switch s {
	case language.Arabic, language.Syriac, language.Nko, language.Mandaic, language.Mongolian, language.Phags_Pa, language.Adlam, language.Hanifi_Rohingya:
		return true
	}
	return false
}
