package lettering

import (
	"embed"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"foredge/layout/geom"

	"golang.org/x/text/unicode/norm"
)

//go:embed strokes
var strokeFiles embed.FS

// Acknowledgement is what the givers of the stroke fonts ask to be passed on
// with them.
func Acknowledgement() string {
	text, _ := strokeFiles.ReadFile("strokes/ACKNOWLEDGEMENT.txt")
	return string(text)
}

// strokeFont reads a single-line font: its Latin letters are those of a file,
// Greek ones those of another, and what both lack is drawn or composed of a
// letter and its accents.
func strokeFont(name, file string) (*Font, error) {
	s := &strokes{signs: map[rune]stroked{}, ids: map[string]uint32{}, words: []string{""}}
	if err := s.read(file); err != nil {
		return nil, UnreadableFontError{name, err}
	}
	s.addBlanks()
	s.signs['µ'] = s.signs['μ']
	f, err := newFont(name, s)
	if err != nil {
		return nil, err
	}
	f.single = true
	return f, nil
}

// read reads the roman letters and what was drawn to stand beside them, and puts
// the letters of another file in their places. Figures and signs stay: in other
// files they are made of double lines.
func (s *strokes) read(file string) error {
	const roman = "roman.jhf"
	if err := s.readASCII(roman, func(rune) bool { return true }); err != nil {
		return err
	}
	if err := s.readGreek(); err != nil {
		return err
	}
	if err := s.readDrawn(); err != nil || file == roman {
		return err
	}
	for r := range s.signs {
		// Latin letters drawn for the roman ones would look strange.
		if unicode.Is(unicode.Latin, r) && unicode.IsLetter(r) && r != 'ª' && r != 'º' {
			delete(s.signs, r)
		}
	}
	return s.readASCII(file, unicode.IsLetter)
}

// strokes is a single-line font. Its coordinates are those of its files but
// with the baseline at Y = 0.
type strokes struct {
	signs map[rune]stroked
	ids   map[string]uint32 // of letters with their accents
	words []string          // by those numbers
}

// A stroked sign is lines between a left and a right bearing.
type stroked struct {
	left, right float64
	lines       [][]geom.Point
}

// base is where the files have the baseline.
const base = 9

func (s *strokes) unitsPerEm() float64 { return 32 }

// lineHeight has room for accents over capitals and for feet.
func (s *strokes) lineHeight() float64 { return 36 }

func (s *strokes) statedCapHeight() (float64, error) { return 21, nil }

func (s *strokes) has(r rune) bool {
	if ignorable(r) {
		return true
	}
	_, ok := s.compose(string(r))
	return ok
}

// addBlanks adds the blanks of other widths than that of a space: fractions of an em, but for
// the blank of a figure, that of a point, and the narrow one that doesn't part, half a space
// (Unicode Standard, table 6-2; the narrow one in a font that lacks it as HarfBuzz has it).
func (s *strokes) addBlanks() {
	em, space := s.unitsPerEm(), s.signs[' ']
	as := func(r rune) float64 { return s.signs[r].right - s.signs[r].left }
	s.signs['\u00a0'] = space
	for r, width := range map[rune]float64{
		'\u2000': em / 2, '\u2001': em, '\u2002': em / 2, '\u2003': em, '\u2004': em / 3, '\u2005': em / 4, '\u2006': em / 6,
		'\u2007': as('0'), '\u2008': as('.'), '\u2009': em / 5, '\u200a': em / 16, '\u202f': as(' ') / 2, '\u205f': em * 4 / 18, '\u3000': em,
	} {
		s.signs[r] = stroked{right: width}
	}
}

// ignorable says whether a character has no sign of its own, as a joiner of no width (Unicode
// Character Database, DerivedCoreProperties.txt: Default_Ignorable_Code_Point).
func ignorable(r rune) bool {
	if unicode.In(r, unicode.White_Space, unicode.Prepended_Concatenation_Mark) || 0xfff9 <= r && r <= 0xfffb || 0x13430 <= r && r <= 0x13440 {
		return false
	}
	return unicode.In(r, unicode.Cf, unicode.Other_Default_Ignorable_Code_Point, unicode.Variation_Selector)
}

// marks sets signs one after another, accents over the letters before them.
func (s *strokes) marks(line []rune, r run, _ bool) ([]mark, error) {
	var out []mark
	for i := r.start; i < r.end; {
		if ignorable(line[i]) {
			i++
			continue
		}
		j := i + 1
		for j < r.end && unicode.Is(unicode.Mn, line[j]) {
			j++
		}
		for k := i; k < j; k++ {
			if !s.has(line[k]) {
				return append(out, mark{at: k}), nil
			}
		}
		word := string(slices.DeleteFunc(slices.Clone(line[i:j]), ignorable))
		sign, ok := s.compose(word)
		if !ok {
			return append(out, mark{at: i}), nil // can't be: all its parts are there
		}
		id, known := s.ids[word]
		if !known {
			id = uint32(len(s.words))
			s.ids[word] = id
			s.words = append(s.words, word)
		}
		out = append(out, mark{id: id, at: i, advance: sign.right - sign.left})
		i = j
	}
	return out, nil
}

func (s *strokes) outline(id uint32) (geom.Outline, error) {
	sign, _ := s.compose(s.words[id])
	var o geom.Outline
	for _, line := range sign.lines {
		b := geom.NewPath(line[0].Sub(geom.Pt(sign.left, 0)))
		for _, p := range line[1:] {
			b.Line(p.Sub(geom.Pt(sign.left, 0)))
		}
		if path := b.Open(); len(path.Segments) > 0 {
			o = append(o, path)
		}
	}
	return o, nil
}

// compose draws a letter with its accents; ok is false if one of them isn't
// there.
func (s *strokes) compose(word string) (stroked, bool) {
	parts := []rune(norm.NFD.String(word))
	if own := []rune(norm.NFC.String(word)); len(own) == 1 {
		if sign, ok := s.signs[own[0]]; ok {
			return sign, true
		}
	}
	out, ok := s.signs[parts[0]]
	if !ok {
		return out, false
	}
	out.lines = out.lines[:len(out.lines):len(out.lines)]
	raised := 0.0 // by the accents over the letter so far
	for _, r := range parts[1:] {
		r = latvian(parts[0], r)
		accent, ok := s.signs[r]
		if !ok {
			return out, false
		}
		const horn, ogonek = 0x31b, 0x328
		above := true
		switch r {
		case 0x323, 0x326, 0x327, ogonek, 0x331, 0x345, horn:
			above = false
		}
		if above {
			out.lines = dotless(parts[0], out.lines)
		}
		ink := inkOf(s.signs[parts[0]].lines)
		at := geom.Pt((ink.Min.X+ink.Max.X)/2, 0)
		if (above || r == horn) && ink.Min.Y < -19 && !dotted(parts[0]) {
			at.Y = -7 // over a capital
		}
		switch {
		case above:
			at.Y -= raised
			raised += 6
		case r == horn:
			at.X = ink.Max.X
		case r == ogonek:
			at.X = ink.Max.X - 2
		}
		for _, line := range accent.lines {
			var moved []geom.Point
			for _, p := range line {
				moved = append(moved, p.Add(at))
			}
			out.lines = append(out.lines, moved)
		}
	}
	return out, true
}

// latvian gives letters that are coded with a cedilla but written with a comma
// theirs; a small g has it turned round above.
func latvian(letter, accent rune) rune {
	switch {
	case accent != 0x327:
	case letter == 'g':
		return 0x312
	case strings.ContainsRune("GKkLlNnRr", letter):
		return 0x326
	}
	return accent
}

// dotted reports an i or a j, of Latin or Cyrillic.
func dotted(r rune) bool { return r == 'i' || r == 'j' || r == 'і' || r == 'ј' }

// dotless takes the dot off an i or a j.
func dotless(r rune, lines [][]geom.Point) [][]geom.Point {
	if !dotted(r) {
		return lines
	}
	var out [][]geom.Point
	for _, line := range lines {
		if inkOf([][]geom.Point{line}).Max.Y > -15 {
			out = append(out, line)
		}
	}
	return out
}

func inkOf(lines [][]geom.Point) geom.Box {
	b := geom.EmptyBox()
	for _, line := range lines {
		for _, p := range line {
			b = b.Union(geom.Box{Min: p, Max: p})
		}
	}
	return b
}

// readASCII reads the wanted signs of a file, in the order of ASCII from the
// blank on.
func (s *strokes) readASCII(file string, wanted func(rune) bool) error {
	all, err := readSigns(file)
	if err != nil {
		return err
	}
	for i, sign := range all {
		if r := ' ' + rune(i); r <= '~' && wanted(r) {
			s.signs[r] = sign
		}
	}
	return nil
}

// readGreek reads the Greek letters: they stand in the places of the Latin ones
// in the order of their alphabet, without a final sigma.
func (s *strokes) readGreek() error {
	all, err := readSigns("greek.jhf")
	if err != nil {
		return err
	}
	for i, r := range []rune("ΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΣΤΥΦΧΨΩ") {
		s.signs[r] = all['A'-' '+i]
		s.signs[unicode.ToLower(r)] = all['a'-' '+i]
	}
	return nil
}

// readSigns reads a file of signs. One is five characters for a number, three
// for that of its points, and the points as pairs of characters, whose distance
// from R is a coordinate: the first the bearings to the left and right, a blank
// and R where the pen is lifted. Long ones take several lines.
func readSigns(file string) ([]stroked, error) {
	data, err := strokeFiles.ReadFile("strokes/" + file)
	if err != nil {
		return nil, err
	}
	var out []stroked
	lines := strings.Split(string(data), "\n")
	for i := 0; i < len(lines); i++ {
		line := lines[i]
		if strings.TrimSpace(line) == "" {
			continue
		}
		if len(line) < 10 {
			return nil, fmt.Errorf("%s: a line is cut off", file)
		}
		n, err := strconv.Atoi(strings.TrimSpace(line[5:8]))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", file, err)
		}
		pairs := line[8:]
		for len(pairs) < 2*n && i+1 < len(lines) {
			i++
			pairs += lines[i]
		}
		if n < 1 || len(pairs) < 2*n {
			return nil, fmt.Errorf("%s: a sign is cut off", file)
		}
		sign := stroked{left: float64(int(pairs[0]) - 'R'), right: float64(int(pairs[1]) - 'R')}
		var pen []geom.Point
		for k := 2; k < 2*n; k += 2 {
			if pairs[k:k+2] == " R" {
				sign.lines, pen = appendLine(sign.lines, pen), nil
				continue
			}
			pen = append(pen, geom.Pt(float64(int(pairs[k])-'R'), float64(int(pairs[k+1])-'R'-base)))
		}
		sign.lines = appendLine(sign.lines, pen)
		out = append(out, sign)
	}
	return out, nil
}

func appendLine(lines [][]geom.Point, pen []geom.Point) [][]geom.Point {
	if len(pen) > 1 {
		lines = append(lines, pen)
	}
	return lines
}

// readDrawn reads what was drawn for the roman letters.
func (s *strokes) readDrawn() error {
	data, err := strokeFiles.ReadFile("strokes/latin.txt")
	if err != nil {
		return err
	}
	for n, line := range strings.Split(string(data), "\n") {
		fields := strings.Fields(line)
		if len(fields) == 0 || strings.HasPrefix(line, "#") {
			continue
		}
		r, err := character(fields[0])
		if err != nil {
			return err
		}
		if len(fields) == 2 {
			if err := s.again(r, fields[1]); err != nil {
				return fmt.Errorf("latin.txt, line %d: %w", n+1, err)
			}
			continue
		}
		if len(fields) < 4 {
			return fmt.Errorf("latin.txt, line %d: it is cut off", n+1)
		}
		var sign stroked
		sign.left, sign.right = number(fields[1], &err), number(fields[2], &err)
		for _, part := range strings.Split(strings.Join(fields[3:], " "), ";") {
			sign.lines = append(sign.lines, s.part(strings.Fields(part), &err)...)
		}
		if err != nil {
			return fmt.Errorf("latin.txt, line %d: %w", n+1, err)
		}
		s.signs[r] = sign
	}
	return nil
}

// again makes a character the same sign as another.
func (s *strokes) again(r rune, field string) error {
	other, err := character(strings.TrimPrefix(field, "="))
	if err != nil {
		return err
	}
	sign, ok := s.signs[other]
	if !ok {
		return fmt.Errorf("it is %c again, which is nowhere", other)
	}
	s.signs[r] = sign
	return nil
}

func character(field string) (rune, error) {
	if hex, ok := strings.CutPrefix(field, "U+"); ok {
		n, err := strconv.ParseInt(hex, 16, 32)
		return rune(n), err
	}
	return []rune(field)[0], nil
}

func number(field string, err *error) float64 {
	x, wrong := strconv.ParseFloat(field, 64)
	if wrong != nil {
		*err = wrong
	}
	return x
}

// part reads one part of a drawn sign.
func (s *strokes) part(fields []string, err *error) [][]geom.Point {
	point := func(field string) geom.Point {
		x, y, _ := strings.Cut(field, ",")
		return geom.Pt(number(x, err), number(y, err)-base)
	}
	switch other, isOther := strings.CutPrefix(fields[0], "="); {
	case isOther && len(fields) == 4:
		r, wrong := character(other)
		if wrong != nil {
			*err = wrong
		}
		k, shift := number(fields[1], err), geom.Pt(number(fields[2], err), number(fields[3], err))
		var out [][]geom.Point
		for _, line := range s.signs[r].lines {
			var moved []geom.Point
			for _, p := range line {
				// Scaled about the middle of the files' coordinates.
				moved = append(moved, geom.Pt(p.X*k, (p.Y+base)*k-base).Add(shift))
			}
			out = append(out, moved)
		}
		if len(out) == 0 {
			*err = fmt.Errorf("it is made of %c, which is nowhere", r)
		}
		return out
	case fields[0] == "o" && len(fields) == 3:
		const sides = 24
		c, radius := point(fields[1]), number(fields[2], err)
		var ring []geom.Point
		for i := range sides + 1 {
			sin, cos := math.Sincos(2 * math.Pi * float64(i%sides) / sides)
			ring = append(ring, c.Add(geom.Pt(cos, sin).Mul(radius)))
		}
		return [][]geom.Point{ring}
	}
	var line []geom.Point
	for _, f := range fields {
		line = append(line, point(f))
	}
	return [][]geom.Point{line}
}
