package lettering

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"

	"foredge/layout/geom"

	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/harfbuzz"
)

// A shaper reads a font's glyphs and places them: kerning, ligatures, marks and
// the order of scripts. All its measures are in font units, Y up. It is for one
// goroutine at a time.
type shaper struct {
	face  *font.Face
	shape *harfbuzz.Font
}

// A mark is one drawn sign with its place relative to the pen.
type mark struct {
	id      uint32
	at      int // which character of the text it stands for
	advance float64
	offset  geom.Point
}

// newShaper reads a TTF or OTF file. The libraries give up on some broken
// files by panicking: that too is an unreadable font.
func newShaper(data []byte) (s *shaper, err error) {
	defer unreadable(&err)
	if err := checkTables(data); err != nil {
		return nil, err
	}
	loader, err := opentype.NewLoader(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	f, err := font.NewFont(loader)
	if err != nil {
		return nil, err
	}
	face := font.NewFace(f)
	return &shaper{face, harfbuzz.NewFont(face)}, nil
}

// checkTables looks at the directory of tables of a font file: 12 bytes with
// their number, then 16 for each with its offset and length last (OpenType
// specification, "Organization of an OpenType font"). The libraries would trust
// a length of gigabytes.
func checkTables(data []byte) error {
	if len(data) < 12 {
		return errors.New("it is too short")
	}
	switch string(data[:4]) {
	case "\x00\x01\x00\x00", "OTTO", "true":
	default:
		return errors.New("it doesn't begin as a font does")
	}
	n := int(binary.BigEndian.Uint16(data[4:]))
	if len(data) < 12+16*n {
		return errors.New("it is cut off")
	}
	for i := range n {
		entry := data[12+16*i:]
		offset, length := binary.BigEndian.Uint32(entry[8:]), binary.BigEndian.Uint32(entry[12:])
		if uint64(offset)+uint64(length) > uint64(len(data)) {
			return errors.New("it is cut off")
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

// marks shapes one line of text.
func (s *shaper) marks(line []rune) (out []mark, err error) {
	defer unreadable(&err)
	buf := harfbuzz.NewBuffer()
	buf.AddRunes(line, 0, -1)
	buf.ClusterLevel = harfbuzz.MonotoneCharacters
	buf.GuessSegmentProperties()
	buf.Shape(s.shape, nil)
	for i, g := range buf.Info {
		p := buf.Pos[i]
		out = append(out, mark{uint32(g.Glyph), g.Cluster, float64(p.XAdvance), geom.Pt(float64(p.XOffset), float64(p.YOffset))})
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
			return nil, errors.New("it holds pictures in place of outlines")
		}
		segments = g.Outline.Segments
	default:
		return nil, errors.New("a letter has no outline")
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
