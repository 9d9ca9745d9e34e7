package eval

import (
	"strings"

	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// A mark is one `engrave`, `mark` or `inlay` line with its options read.
type mark struct {
	verb   string      // engrave, mark, score, cut or inlay
	what   string      // text, art or frame
	text   string      // of art the name of its file
	at     source.Span // the whole line
	where  source.Span // the text
	font   string
	fontAt source.Span // its name; the whole line where none is stated
	data   []byte      // of a font file or of art
	fit    string      // shrink, fill or ""
	align  string
	cap    *relation.Expr // nil where not stated
	round  *relation.Expr // a frame's radius, or that of the circle along which text runs
	// Of text: whether its lines are broken, what it runs along and on which side.
	wrap, along, side      string
	spacing, least, bridge *relation.Expr
	// Of art: what is done with all of it, which way it is turned and mirrored, its
	// width, and for pictures of dots their distance and how they are shaded.
	as, mirror, shade     string
	turn, width, interval *relation.Expr
	// Of what is laid in: whether its recess is engraved or goes through, what its
	// pieces are cut from and by how much less they are.
	recess string
	stock  *item
	ease   *relation.Expr
}

// markOptions are the words that a mark's block may hold.
func markOptions(m *mark) []string {
	var words []string
	switch m.what {
	case "frame":
		words = []string{"radius"}
	case "art":
		words = []string{"fit", "align", "width", "rotate", "mirror"}
		if m.verb == "inlay" {
			words = append(words, "bridge")
		} else {
			words = append(words, "as", "line-distance", "shade")
		}
	default:
		words = []string{"font", "cap", "fit", "align", "least", "wrap", "spacing", "along", "radius", "side", "bridge"}
	}
	if m.verb == "inlay" {
		words = append(words, "stock", "recess", "ease")
	}
	return words
}

// mark reads the marks of a region.
func (b *builder) mark(it *item) {
	for _, m := range it.thing.Marks {
		s := m.Stmt
		out := mark{verb: s.Verb.Name, what: s.What.Name, at: s.Span(), fontAt: s.Span()}
		if out.verb == "score" && out.what != "art" || out.verb == "cut" && out.what == "frame" {
			b.diags.Errorf("mark", s.Verb.At, "a region can be engraved or marked, not %s", s.Verb.Name).
				WithHelp("openings are cutouts, cut text \"...\" or cut art \"file.svg\"; lines through the board are `line` things")
			continue
		}
		switch out.what {
		case "text":
			v, ok := b.value(s.Value, m.Scope)
			if !ok {
				continue
			}
			if v.kind != unit.Text {
				b.diags.Errorf("kind-mismatch", v.at, "%s is %s, and only text can be lettered", short(v.at), v.describe()).
					WithHelp("put it in quotes")
				continue
			}
			out.text, out.where = v.text, s.Value.Span()
			if strings.TrimSpace(out.text) == "" {
				b.diags.Warnf("no-text", s.Value.Span(), "there is nothing to letter here").
					WithHelp("leave the line out, or put the region under a `when`")
			}
		case "frame":
			if out.verb != "mark" {
				done := map[string]string{"engrave": "engraved", "inlay": "laid in"}[out.verb]
				b.diags.Errorf("mark", s.Span(), "a frame is a line: it can be marked, not %s", done).WithHelp("write mark frame")
				continue
			}
		case "art":
			if !b.art(&out, s, m.Scope) {
				continue
			}
		default:
			d := b.diags.Errorf("mark", s.What.At, "%q is nothing that can be put into a region", s.What.Name)
			if near := spell.Nearest(s.What.Name, []string{"text", "art", "frame"}); near != "" {
				d.WithHelp("did you mean %s?", near)
			} else {
				d.WithHelp("write text \"...\", art \"file.svg\" or frame")
			}
			continue
		}
		if b.options(&out, s, m.Scope) {
			it.marks = append(it.marks, out)
		}
	}
}

// art reads an artwork file.
func (b *builder) art(m *mark, s *ast.Mark, scope *resolve.Scope) bool {
	v, ok := b.value(s.Value, scope)
	if !ok {
		return false
	}
	if v.kind != unit.Text {
		b.diags.Errorf("kind-mismatch", v.at, "art needs the name of a file, in quotes").WithHelp("as in %s art \"gull.svg\"", m.verb)
		return false
	}
	data, err := b.files.Read(v.at.File, v.text)
	if err != nil {
		b.diags.Fail("file", v.at, err, "name a file by its path from this one, inside the design's folder")
		return false
	}
	m.text, m.where, m.data = v.text, s.Value.Span(), data
	if m.verb != "engrave" {
		m.as = m.verb
	}
	return true
}

// options reads the block of a mark.
func (b *builder) options(m *mark, s *ast.Mark, scope *resolve.Scope) bool {
	good := true
	if s.Body != nil {
		for _, st := range s.Body.Stmts {
			good = b.option(m, st, scope) && good
		}
	}
	if m.what == "text" {
		good = b.lettering(m, s) && good
	}
	if m.verb == "inlay" {
		good = b.inlay(m, s) && good
	}
	return good
}

func (b *builder) option(m *mark, st ast.Stmt, scope *resolve.Scope) bool {
	r, ok := st.(*ast.Relation)
	if _, bad := st.(*ast.BadStmt); bad {
		return false
	}
	name := ""
	if ok {
		if n, isName := r.First.(*ast.Name); isName {
			name = n.Dotted()
		}
	}
	words := markOptions(m)
	if name == "interval" && contains(words, "line-distance") && len(r.Rest) == 1 {
		b.diags.Errorf("option", r.First.Span(), "interval is called line-distance now").
			WithHelp("write line-distance = %s", short(r.Rest[0].Value.Span()))
		return false
	}
	if !ok || len(r.Rest) != 1 || !contains(words, name) {
		d := b.diags.Errorf("option", st.Span(), "this can't be said of %s", m.what)
		if near := spell.Nearest(name, words); near != "" && name != near {
			d.WithHelp("did you mean %s?", near)
		} else {
			d.WithHelp("its braces may hold %s", either(words))
		}
		if name == "stock" || name == "recess" || name == "ease" {
			d.WithHelp("only of what is laid into the board: write inlay %s", m.what)
		}
		return false
	}
	side := r.Rest[0]
	if side.Op != ast.Eq && !(name == "cap" && side.Op == ast.Le) {
		b.diags.Errorf("option", side.OpAt, "%s can only be stated with =", name)
		return false
	}
	p := prop{value: side.Value, line: r, scope: scope}
	switch name {
	case "font":
		return b.font(m, p)
	case "fit":
		return b.optionWord(&m.fit, p, []string{"shrink", "fill"}, "way to fit")
	case "wrap":
		return b.optionWord(&m.wrap, p, []string{"yes", "no"}, "answer")
	case "along":
		return b.optionWord(&m.along, p, []string{"arc", "circle"}, "curve")
	case "side":
		return b.optionWord(&m.side, p, []string{"outside", "inside"}, "side of a curve")
	case "align":
		ways := []string{"left", "centre", "right", "spread"}
		if m.what == "art" {
			ways = []string{"left", "centre", "right", "head", "tail"}
		}
		return b.optionWord(&m.align, p, ways, "way to align")
	case "mirror":
		return b.optionWord(&m.mirror, p, []string{"across", "along"}, "way to mirror")
	case "as":
		return b.optionWord(&m.as, p, []string{"engrave", "mark", "score", "cut"}, "operation")
	case "stock":
		t := b.namedStock("the stock of an inlay", p)
		if t != nil {
			m.stock = b.item(t)
		}
		return t != nil
	case "recess":
		return b.optionWord(&m.recess, p, []string{"engrave", "through"}, "kind of recess")
	case "shade":
		return b.optionWord(&m.shade, p, []string{"diffusion", "ordered", "levels"}, "way to shade")
	}
	wanted := unit.Length
	if name == "rotate" {
		wanted = unit.Angle
	}
	x, ok := b.expr(side.Value, scope, wanted, name)
	if !ok {
		return false
	}
	signed := name == "rotate" || name == "spacing" || name == "ease"
	if c, known := constant(x); known && !signed && (c < 0 || c == 0 && !(name == "radius" && m.what == "frame")) {
		b.diags.Errorf("negative", side.Value.Span(), "%s must be above 0", name)
		return false
	}
	b.needExpr(x)
	if name == "cap" {
		m.cap = &x
		if side.Op == ast.Le && m.fit == "" {
			m.fit = "shrink"
		}
		return true
	}
	*map[string]**relation.Expr{"radius": &m.round, "rotate": &m.turn, "width": &m.width, "line-distance": &m.interval,
		"spacing": &m.spacing, "least": &m.least, "bridge": &m.bridge, "ease": &m.ease}[name] = &x
	return true
}

func (b *builder) optionWord(to *string, p prop, words []string, what string) bool {
	n, ok := p.value.(*ast.Name)
	if ok && contains(words, n.Dotted()) {
		*to = n.Dotted()
		return true
	}
	b.word(p, words, what)
	return false
}

// font notes which font is meant, and reads a font file.
func (b *builder) font(m *mark, p prop) bool {
	m.fontAt = p.at()
	switch v := p.value.(type) {
	case *ast.Name:
		if singleLine(v.Dotted()) {
			m.font = v.Dotted()
			return true
		}
	case *ast.String:
		m.font = v.Value
		for _, ending := range []string{".ttf", ".otf", ".ttc"} {
			file := v.Value
			if i := strings.LastIndex(file, "#"); i >= 0 && ending == ".ttc" {
				file = file[:i] // behind it stands which font of the collection is meant
			}
			if strings.HasSuffix(strings.ToLower(file), ending) {
				data, err := b.files.Read(v.Span().File, file)
				if err != nil {
					b.diags.Fail("file", v.Span(), err, "name a font file by its path from this one, inside the design's folder")
					return false
				}
				m.data = data
			}
		}
		return true
	}
	b.diags.Errorf("font", p.at(), "a font is named in quotes").WithHelp("as in font = \"Go Bold\", or a file: font = \"letters.ttf\"")
	return false
}
