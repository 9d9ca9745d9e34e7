package layout

import (
	"fmt"
	"strings"

	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/layout/advise"
	"foredge/layout/art"
	"foredge/layout/lettering"
)

// readArt reads a drawing as a mark's braces say, and tells what its maker should
// know of it; nil if it can't be drawn.
func (dr *draft) readArt(p *design.Panel, m *design.Artwork) *art.Picture {
	fill, line := opsOf(m)
	o := art.Options{Colors: map[string]int{}, Layers: map[string]int{}, Fill: int(fill), Line: int(line),
		Whole: map[int]bool{int(word.Cut): true}, Along: map[int]bool{int(word.Mark): true, int(word.Score): true}}
	if m.Font != nil {
		o.Font = func(f art.Face) (*lettering.Font, error) { return dr.faceOfArt(*m.Font, f) }
	}
	at := map[string]design.ArtPart{}
	for _, part := range m.Parts {
		name, to := strings.ToLower(part.Name), o.Layers
		if !part.Layer {
			colour, ok := art.ColorName(part.Name)
			if !ok {
				dr.notes.Errorf("colour", part.At, "%q is not a colour", part.Name).
					WithHelp("write it as the drawing does: a name, or #rrggbb, as in cut-colour = \"#ff0000\", \"blue\"")
				return nil
			}
			name, to = colour, o.Colors
		}
		if other, ok := at[name]; ok && !part.Layer && !other.Layer && other.Op != part.Op {
			dr.notes.Errorf("option-clash", part.At, "%q and %q are one colour, and it has an operation already", part.Name, other.Name).
				Note(other.At, "here").WithHelp("take one of the two out")
			return nil
		}
		at[name] = part
		switch part.Op {
		case 0:
			to[name] = art.LeaveOut
		default:
			to[name] = int(part.Op)
		}
	}
	pic, err := o.Parse(m.File, m.Data)
	if err != nil {
		dr.notes.Fail("art", m.FileAt, err, "open it in a drawing program and save it again")
		return nil
	}
	for _, name := range pic.Missing {
		part := at[name]
		what := "is in the colour"
		if part.Layer {
			what = "is called"
		}
		dr.notes.Warn(p.Quiet, "art-part", part.At, "nothing drawn of %s %s %q", m.File, what, part.Name).
			WithHelp("write it as the drawing has it, or take it out%s", advise.Silence("art-part", "panel"))
	}
	dr.tellArt(p, m, pic)
	dr.tellOtherFonts(p, m.FileAt, m.File+": ", pic.Changes)
	return pic
}

// faceOfArt is the font of a text of a drawing. Beside most built-in fonts there are
// bold and italic ones; a file has one face.
func (dr *draft) faceOfArt(f design.Font, face art.Face) (*lettering.Font, error) {
	plain, err := dr.font(f)
	switch {
	case err != nil, !face.Bold && !face.Italic:
		return plain, err
	case f.Data != nil:
		return nil, fmt.Errorf("this text is bold or italic, and %s is one font", f.Name)
	}
	font, err := lettering.Load(lettering.Face(f.Name, face.Bold, face.Italic))
	if err == nil {
		return font, nil
	}
	how := "bold"
	switch {
	case face.Bold && face.Italic:
		how = "bold and italic"
	case face.Italic:
		how = "italic"
	}
	return nil, fmt.Errorf("this text is %s, and %s has no font that is", how, plain.Name())
}

// tellArt tells what a maker should know of a drawing that can be drawn.
func (dr *draft) tellArt(p *design.Panel, m *design.Artwork, pic *art.Picture) {
	for _, n := range pic.Notes {
		more := others(n.More + 1)
		switch n.Kind {
		case art.Solid:
			dr.notes.Warn(p.Quiet, "art-solid", m.At, "%s, %s: its colours run into one another: they become one solid area without an edge between them%s", m.File, n.Where, more).
				WithHelp("make one of them white, leave a gap between them, or give them operations of their own, as in mark-colour = \"red\"%s", advise.Silence("art-solid", "panel"))
		case art.Ground:
			dr.notes.Warn(p.Quiet, "art-ground", m.At, "%s, %s: this fills the page with %s, which is nearly white and yet drawn as ink%s", m.File, n.Where, n.Color, more).
				WithHelp("leave it out, as in without-colour = \"%s\", or make it white in the drawing program%s", n.Color, advise.Silence("art-ground", "panel"))
		case art.Vanished:
			dr.notes.Warn(p.Quiet, "art-white", m.At, "%s, %s: this white line lies on nothing, so nothing is drawn of it%s", m.File, n.Where, more).
				WithHelp("give it another colour in the drawing program if it should be seen%s", advise.Silence("art-white", "panel"))
		case art.Faint:
			dr.notes.Warn(p.Quiet, "art-white", m.At, "%s, %s: this white lets through more than half of what lies under it, so it takes nothing away%s", m.File, n.Where, more).
				WithHelp("make it opaque in the drawing program if what lies under it is to go, or take it out%s", advise.Silence("art-white", "panel"))
		case art.Beyond:
			dr.notes.Warn(p.Quiet, "art-page", m.At, "%s, %s: this lies beyond the edge of the drawing's page, wholly or in part, and is cut off there%s", m.File, n.Where, more).
				WithHelp("make the page as large as what is drawn in the drawing program, or move it%s", advise.Silence("art-page", "panel"))
		}
	}
}

// tellTwice tells of lines of a drawing that lie on others, once it is known that they are drawn.
func (dr *draft) tellTwice(p *design.Panel, m *design.Artwork, pic *art.Picture) {
	for _, n := range pic.Notes {
		if n.Kind == art.Twice {
			dr.notes.Warn(p.Quiet, "art-twice", m.At, "%s, %s: this line lies on another one, wholly or in part; what they share is drawn once%s", m.File, n.Where, others(n.More+1)).
				WithHelp("take it out in the drawing program, or move it, if two were meant%s", advise.Silence("art-twice", "panel"))
		}
	}
}

// opsOf are the operations of what is filled in a drawing and of its lines, where neither
// colours nor layers have others.
func opsOf(m *design.Artwork) (fill, line word.Operation) {
	if m.Op != 0 {
		return m.Op, m.Op
	}
	return word.Engrave, word.Mark
}

// A drawnPart has one operation: 0 is for all that has none of its own.
type drawnPart struct {
	op word.Operation
	*art.Picture
}

// partsOf splits a drawing by its operations: all of it, and those of its parts.
func partsOf(m *design.Artwork, pic *art.Picture) []drawnPart {
	fill, line := opsOf(m)
	var parts []drawnPart
	for _, op := range append([]word.Operation{0}, word.Operations()...) {
		part := drawnPart{op, &art.Picture{Name: pic.Name, Size: pic.Size}}
		of := func(c art.Contour, usual word.Operation) bool {
			return c.Op == int(op) && op != usual || op == 0 && c.Op == int(usual)
		}
		for _, c := range pic.Fill {
			if of(c, fill) {
				part.Fill = append(part.Fill, c)
			}
		}
		for _, c := range pic.Lines {
			if of(c, line) {
				part.Lines = append(part.Lines, c)
			}
		}
		if len(part.Fill)+len(part.Lines) > 0 {
			parts = append(parts, part)
		}
	}
	return parts
}
