package lettering

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"strconv"
	"strings"

	"foredge/layout/geom"

	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/font/opentype/tables"
	"github.com/go-text/typesetting/harfbuzz"
)

// A shaper reads a font's glyphs and places them: kerning, ligatures, marks and
// the order of scripts. All its measures are in font units, Y up. It is for one
// goroutine at a time.
type shaper struct {
	face  *font.Face
	shape *harfbuzz.Font
	buf   *harfbuzz.Buffer // keeps how the font is to be shaped from line to line
}

// A mark is one drawn sign with its place relative to the pen.
type mark struct {
	id      uint32
	at      int // which character of the text it stands for
	advance float64
	offset  geom.Point
	joins   bool // it is connected with its neighbours
}

// A CollectionError says that a file holds several fonts and not which of them
// is meant.
type CollectionError struct {
	Name  string   // as asked for
	Fonts []string // the names of those that it holds, in order
}

func (e CollectionError) Error() string {
	file, asked, _ := strings.Cut(e.Name, "#")
	if asked == "" {
		return fmt.Sprintf("%q holds %d fonts: %s", file, len(e.Fonts), strings.Join(e.Fonts, ", "))
	}
	return fmt.Sprintf("%q holds no font %s; it has %s", file, asked, strings.Join(e.Fonts, ", "))
}

// newShaper reads a TTF or OTF file, or one font of a TTC file: that whose
// number, from 1, or full name stands after a # in the name. The libraries give
// up on some broken files by panicking: that too is an unreadable font.
func newShaper(name string, data []byte) (s *shaper, err error) {
	defer unreadable(&err)
	starts, err := checkFile(data)
	if err != nil {
		return nil, err
	}
	loaders, err := opentype.NewLoaders(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	if len(loaders) != len(starts) {
		return nil, damage("it is cut off")
	}
	loader := loaders[0]
	if isCollection(data) {
		if loader, err = choose(name, loaders); err != nil {
			return nil, err
		}
	}
	f, err := font.NewFont(loader)
	if err != nil {
		return nil, err
	}
	face := font.NewFace(f)
	return &shaper{face, harfbuzz.NewFont(face), harfbuzz.NewBuffer()}, nil
}

// choose finds a font of a collection by what stands after the # of a name.
func choose(name string, all []*opentype.Loader) (*opentype.Loader, error) {
	_, asked, _ := strings.Cut(name, "#")
	if n, err := strconv.Atoi(asked); err == nil && n >= 1 && n <= len(all) {
		return all[n-1], nil
	}
	if len(all) == 1 && asked == "" {
		return all[0], nil
	}
	wrong := CollectionError{Name: name}
	for _, l := range all {
		full := ""
		if raw, err := l.RawTable(opentype.MustNewTag("name")); err == nil {
			if table, _, err := tables.ParseName(raw); err == nil {
				full = table.Name(fullName)
			}
		}
		if full != "" && strings.EqualFold(full, strings.TrimSpace(asked)) {
			return l, nil
		}
		wrong.Fonts = append(wrong.Fonts, full)
	}
	return nil, wrong
}

// fullName is the number of a font's full name in its table of names (OpenType
// specification, "name — Naming table").
const fullName = 4

func isCollection(data []byte) bool { return len(data) > 4 && string(data[:4]) == "ttcf" }

// checkFile looks at the directories of tables of a font file and gives where
// they start. In a collection their places follow a header of 12 bytes with
// their number last (OpenType specification, "Font collections").
func checkFile(data []byte) ([]uint32, error) {
	if len(data) < 12 {
		return nil, damage("it is too short")
	}
	starts := []uint32{0}
	if isCollection(data) {
		n := int(binary.BigEndian.Uint32(data[8:]))
		if n < 1 || n > 1000 || len(data) < 12+4*n {
			return nil, damage("it is cut off")
		}
		starts = make([]uint32, n)
		for i := range starts {
			starts[i] = binary.BigEndian.Uint32(data[12+4*i:])
		}
	}
	for _, start := range starts {
		if uint64(start)+12 > uint64(len(data)) {
			return nil, damage("it is cut off")
		}
		if err := checkTables(data, data[start:]); err != nil {
			return nil, err
		}
	}
	return starts, nil
}

// checkTables looks at one directory of tables: 12 bytes with their number,
// then 16 for each with its offset and length last (OpenType specification,
// "Organization of an OpenType font"). The libraries would trust a length of
// gigabytes.
func checkTables(file, data []byte) error {
	switch string(data[:4]) {
	case "\x00\x01\x00\x00", "OTTO", "true":
	default:
		return damage("it doesn't begin like a font")
	}
	n := int(binary.BigEndian.Uint16(data[4:]))
	if len(data) < 12+16*n {
		return damage("it is cut off")
	}
	for i := range n {
		entry := data[12+16*i:]
		offset, length := binary.BigEndian.Uint32(entry[8:]), binary.BigEndian.Uint32(entry[12:])
		if uint64(offset)+uint64(length) > uint64(len(file)) {
			return damage("it is cut off")
		}
	}
	return nil
}

func unreadable(err *error) {
	if r := recover(); r != nil {
		*err = fmt.Errorf("the font file is damaged: %v", r)
	}
}

func (s *shaper) unitsPerEm() float64 { return float64(s.face.Upem()) }

// lineHeight is the distance of two baselines that the font asks for, 1.2 em
// (common practice, no source) if it doesn't say.
func (s *shaper) lineHeight() float64 {
	if e, ok := s.face.FontHExtents(); ok && e.Ascender > e.Descender {
		return float64(e.Ascender) - float64(e.Descender) + float64(e.LineGap)
	}
	return 1.2 * s.unitsPerEm()
}

// statedCapHeight is the height of capitals that the font states, 0 if it doesn't.
func (s *shaper) statedCapHeight() (h float64, err error) {
	defer unreadable(&err)
	return float64(s.face.LineMetric(font.CapHeight)), nil
}

func (s *shaper) has(r rune) bool {
	id, ok := s.face.NominalGlyph(r)
	return ok && id != 0
}

// marks shapes a run of a line. Spaced letters form no ligatures but those that
// their script demands.
func (s *shaper) marks(line []rune, r run, spaced bool) (out []mark, err error) {
	defer func() {
		if err != nil {
			s.buf = harfbuzz.NewBuffer() // whatever has become of the old one
		}
	}()
	defer unreadable(&err)
	var features []harfbuzz.Feature
	if spaced {
		for _, name := range []string{"liga", "clig"} {
			features = append(features, harfbuzz.Feature{Tag: opentype.MustNewTag(name), End: harfbuzz.FeatureGlobalEnd})
		}
	}
	buf := s.buf
	buf.Clear()
	buf.AddRunes(line, r.start, r.end-r.start)
	buf.ClusterLevel = harfbuzz.MonotoneCharacters
	buf.Props.Script = r.script
	buf.Props.Direction = harfbuzz.LeftToRight
	if r.level%2 == 1 {
		buf.Props.Direction = harfbuzz.RightToLeft
	}
	// The same on each machine, whatever language it speaks.
	buf.Props.Language = "und"
	buf.Shape(s.shape, features)
	out = make([]mark, len(buf.Info))
	for i, g := range buf.Info {
		p := buf.Pos[i]
		out[i] = mark{uint32(g.Glyph), g.Cluster, float64(p.XAdvance), geom.Pt(float64(p.XOffset), float64(p.YOffset)), joined(r.script)}
	}
	return out, nil
}

// outline draws a glyph at the origin, in font units but Y down. Quadratic
// curves are raised to the cubics that are the same curves.
func (s *shaper) outline(id uint32) (o geom.Outline, err error) {
	defer unreadable(&err)
	var segments []opentype.Segment
	switch g := s.face.GlyphData(font.GID(id)).(type) {
	case font.GlyphOutline:
		segments = g.Segments
	case font.GlyphSVG:
		segments = g.Outline.Segments
	case font.GlyphBitmap:
		if g.Outline == nil {
			return nil, damage("it holds pictures instead of outlines")
		}
		segments = g.Outline.Segments
	default:
		return nil, damage("a letter has no outline")
	}
	at := func(p opentype.SegmentPoint) geom.Point { return geom.Pt(float64(p.X), -float64(p.Y)) }
	b := geom.NewPath(geom.Point{})
	end := func() {
		if p := b.Close(); len(p.Segments) > 1 {
			o = append(o, p)
		}
	}
	for _, seg := range segments {
		switch seg.Op {
		case opentype.SegmentOpMoveTo:
			end()
			b = geom.NewPath(at(seg.Args[0]))
		case opentype.SegmentOpLineTo:
			b.Line(at(seg.Args[0]))
		case opentype.SegmentOpQuadTo:
			from, c, to := b.At(), at(seg.Args[0]), at(seg.Args[1])
			b.Cubic(from.Lerp(c, 2./3), to.Lerp(c, 2./3), to)
		case opentype.SegmentOpCubeTo:
			b.Cubic(at(seg.Args[0]), at(seg.Args[1]), at(seg.Args[2]))
		}
	}
	end()
	return o, nil
}
