package compile

import (
	"fmt"
	"slices"
	"strings"

	"foredge/eval/design"
	"foredge/eval/expr"
	"foredge/eval/kind"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// inlay is the verb of what is laid into the board.
const inlay = "inlay"

// A markReader reads one mark of a region.
type markReader struct {
	*compiler
	stmt    *ast.Mark
	scope   *resolve.Scope
	verb    string         // engrave, mark, score, cut or inlay
	what    string         // text, art or frame
	op      word.Operation // that the verb names; 0 for an inlay
	inlay   *model.Inlay   // nil for what isn't laid in
	several bool           // a field's members have the mark, or a set of dividers
}

// An option is one of what a mark's braces may hold.
type option struct {
	name string
	read func(p property) bool
}

// marks reads the marks of a region.
func (c *compiler) marks(d *draft, region *model.Region) {
	for _, m := range d.thing.Lost {
		what := m.Stmt.What.Name
		if m.Stmt.Value != nil {
			what += " " + m.Stmt.Value.Span().Short()
		}
		region.Lost = append(region.Lost, model.Lost{At: m.Stmt.Span(), What: what})
	}
	for _, m := range d.thing.Marks {
		s := m.Stmt
		op, _ := word.Find(s.Verb.Name, word.Operations()...)
		reader := &markReader{compiler: c, stmt: s, scope: m.Scope, verb: s.Verb.Name, what: s.What.Name, op: op, several: region.Field != nil || d.Kind == kind.Tabs}
		if reader.verb == inlay {
			reader.inlay = &model.Inlay{}
		}
		if mark, ok := reader.compile(); ok {
			region.Marks = append(region.Marks, mark)
		}
	}
}

func (m *markReader) compile() (model.Mark, bool) {
	s := m.stmt
	if m.op == word.Score && m.what != "art" || m.op == word.Cut && m.what == "frame" {
		done := map[word.Operation]string{word.Score: "scored", word.Cut: "cut"}[m.op]
		e := m.Diags.Errorf("mark", s.Verb.At, "a %s can't be %s", m.what, done)
		switch {
		case m.what == "frame" && m.op == word.Cut:
			e.WithHelp("write mark frame; an opening is a cutout, as in cutout window { shape = rect 20 by 15 }")
		case m.what == "frame":
			e.WithHelp("write mark frame; a fold is a line, as in line fold { from = spine; at = 22 }")
		default:
			e.WithHelp("write engrave text for letters that are filled, mark text for their edges, cut text to cut them through; a fold is a line, as in line fold { from = spine; at = 22 }")
		}
		return nil, false
	}
	switch m.what {
	case "text":
		return m.lettering()
	case "frame":
		return m.frame()
	case "art":
		return m.artwork()
	}
	d := m.Diags.Errorf("mark", s.What.At, "%q can't be put into a region", s.What.Name)
	if near := spell.Nearest(s.What.Name, []string{"text", "art", "frame"}); near != "" {
		d.Meant(s.What.Name, near)
	} else {
		d.WithHelp("write text \"...\", art \"file.svg\" or frame")
	}
	return nil, false
}

func (m *markReader) frame() (model.Mark, bool) {
	if m.op != word.Mark {
		done := map[string]string{"engrave": "engraved", inlay: "laid in"}[m.verb]
		m.Diags.Errorf("mark", m.stmt.Span(), "a frame is a line: it can be marked, not %s", done).WithHelp("write mark frame")
		return nil, false
	}
	f := &model.Frame{Known: design.Frame{At: m.stmt.Span()}}
	return f, m.options([]option{m.length("radius", &f.Radius, fromZero)})
}

func (m *markReader) artwork() (model.Mark, bool) {
	s := m.stmt
	v, good := m.Text(s.Value, m.scope)
	if good && v.Kind != unit.Text {
		m.Diags.Errorf("kind-mismatch", v.At, "art needs the name of a file, in quotes").WithHelp("as in %s art \"gull.svg\"", m.verb)
		good = false
	}
	var data []byte
	if good {
		data, good = m.read(v, v.Text, "file")
	}
	a := &model.Artwork{Known: design.Artwork{At: s.Span(), File: v.Text, FileAt: s.Value.Span(), Data: data}, Inlay: m.inlay}
	if m.op != word.Engrave {
		a.Known.Op = m.op
	}
	k := &a.Known
	options := []option{
		pick(m, "fit", &k.Fit, "a way to fit", word.Fits()),
		pick(m, "align", &k.Align, "a way to align", word.OfArt()),
		m.length("width", &a.Width, aboveZero),
		{"rotate", func(p property) bool { return m.value("rotate", p, unit.Angle, &a.Turn, signed) }},
		pick(m, "mirror", &k.Mirror, "a way to mirror", word.Mirrors()),
		{"font", func(p property) bool { k.Font = &design.Font{}; return m.oneFont(k.Font, p) }},
	}
	if m.inlay != nil {
		options = append(options, m.length("bridge", &a.Bridge, aboveZero))
	} else {
		options = append(options, pick(m, "as", &k.Op, "an operation", word.Operations()),
			m.length("line-distance", &a.LineDistance, aboveZero),
			pick(m, "shade", &k.Dots.Shade, "a way to shade", word.Shades()),
			m.ratio("brightness", &a.Brightness, signed), m.ratio("contrast", &a.Contrast, signed), m.ratio("gamma", &a.Gamma, aboveZero))
		options = append(options, m.partsOfArt(&k.Parts)...)
	}
	good = m.options(options) && good
	if a.Width.Present() && k.Fit == word.Fill {
		good = m.wrong("take one of the two out", "width says how large the drawing is, and fit = fill makes it as large as the region allows")
	}
	if m.inlay != nil {
		good = m.checkInlay(a.Bridge) && good
	}
	return a, good
}

func (m *markReader) lettering() (model.Mark, bool) {
	s := m.stmt
	each, good := m.texts()
	v := each[0]
	none := !slices.ContainsFunc(each, func(t model.MemberText) bool { return strings.TrimSpace(t.Text) != "" })
	if len(each) == 1 {
		each = nil
	}
	if good && none {
		m.Diags.Warnf("no-text", s.Value.Span(), "there is nothing to letter here").
			WithHelp("leave the line out, or put the region under a `when`")
	}
	l := &model.Lettering{Known: design.Lettering{At: s.Span(), Op: m.op, Text: v.Text, TextAt: s.Value.Span(),
		Font: design.Font{At: s.Span()}}, Inlay: m.inlay, Each: each}
	k := &l.Known
	var curve word.Curve
	var side word.Side
	var wrap word.Answer
	good = m.options([]option{
		{"font", func(p property) bool { return m.fonts(k, p) }},
		{"cap", func(p property) bool { return m.capital(l, p) }},
		pick(m, "fit", &k.Fit, "a way to fit", word.Fits()),
		pick(m, "align", &k.Align, "a way to align", word.OfText()),
		m.length("least", &l.Least, aboveZero),
		pick(m, "wrap", &wrap, "an answer", word.Answers()),
		m.length("spacing", &l.Spacing, signed),
		pick(m, "along", &curve, "a curve", word.Curves()),
		m.length("radius", &l.Radius, aboveZero),
		pick(m, "side", &side, "a side of a curve", word.Sides()),
		m.length("bridge", &l.Bridge, aboveZero),
	}) && good
	k.Wrap = wrap == word.Yes
	if curve != 0 {
		k.Curve = &design.Curve{Form: curve, Inside: side == word.Inside}
	}
	good = m.checkLettering(l, side) && good
	if m.inlay != nil {
		good = m.checkInlay(l.Bridge) && good
	}
	return l, good
}

// texts reads what is to be lettered: one text, or one for each member of a field.
func (m *markReader) texts() ([]model.MemberText, bool) {
	values := []ast.Expr{m.stmt.Value}
	if list, ok := m.stmt.Value.(*ast.List); ok {
		values = list.Elems
		if !m.several && slices.ContainsFunc(values, isBad) {
			return []model.MemberText{{}}, false
		}
		if !m.several {
			m.Diags.Errorf("several-texts", list.Span(), "there are several texts here, and only the members of a field and a set of dividers take one each").
				WithHelp("give each text a mark of its own, or separate lines by \\n in one text")
			return []model.MemberText{{}}, false
		}
	}
	texts := make([]model.MemberText, len(values))
	good := true
	for i, e := range values {
		v, ok := m.Text(e, m.scope)
		if ok && v.Kind != unit.Text {
			m.Diags.Errorf("kind-mismatch", v.At, "%s is %s, and only text can be lettered", v.At.Short(), v.Describe()).
				WithHelp("write it as text: text(%s)", v.At.Short())
			ok = false
		}
		if _, alone := bare(e).(*ast.String); alone {
			m.quotedName(v)
		} else {
			v.Text = strings.Trim(v.Text, "\n") // the line of a part that is empty
		}
		texts[i], good = model.MemberText{Text: v.Text, At: e.Span()}, good && ok
	}
	return texts, good
}

// quotedName warns of a text in quotes that is the name of a column of the orders; without
// order before it one of which nothing speaks, as it may be meant.
func (m *markReader) quotedName(v expr.Value) {
	name, whole := strings.CutPrefix(strings.TrimSpace(v.Text), "order.")
	if m.Orders == nil || m.Orders.Column(name) < 0 || !whole && m.info.ColumnsUsed()[name] {
		return
	}
	m.Diags.Warnf("quoted-name", v.At, "these words are lettered as they stand, %s, and not what an order says", strings.TrimSpace(v.Text)).
		WithHelp("take the quotes away, as in %s text order.%s", m.verb, name)
}

// bare is an expression without brackets round all of it.
func bare(e ast.Expr) ast.Expr {
	for {
		p, ok := e.(*ast.Paren)
		if !ok {
			return e
		}
		e = p.X
	}
}

// options reads the braces of a mark.
func (m *markReader) options(options []option) bool {
	if m.inlay != nil {
		options = append(options,
			option{"stock", m.stockOfInlay},
			option{"recess", func(p property) bool {
				recess, ok := choose(m.compiler, p, "a kind of recess", word.Recesses()...)
				m.inlay.Through = recess == word.Through
				return ok
			}},
			m.length("ease", &m.inlay.Ease, signed))
	}
	good := true
	stated := map[string]source.Span{}
	if m.stmt.Body != nil {
		for _, s := range m.stmt.Body.Stmts {
			name := optionName(s)
			if first, twice := stated[name]; twice && name != "" {
				m.Diags.Errorf("stated-twice", s.Span(), "this %s states its %s twice", m.what, name).
					Note(first, "the first is here").WithHelp("take one of the two lines out")
				good = false
				continue
			}
			stated[name] = s.Span()
			good = m.option(options, name, s) && good
		}
	}
	return good
}

// optionName is the option that a line of a mark's braces states, "" if it is none.
func optionName(s ast.Stmt) string {
	if r, ok := s.(*ast.Relation); ok {
		if n, ok := r.First.(*ast.Name); ok {
			return n.Dotted()
		}
	}
	return ""
}

// option reads one line of a mark's braces.
func (m *markReader) option(options []option, name string, s ast.Stmt) bool {
	if _, bad := s.(*ast.BadStmt); bad {
		return false
	}
	r, _ := s.(*ast.Relation)
	var read func(p property) bool
	for _, o := range options {
		if o.name == name {
			read = o.read
		}
	}
	if now, ok := word.Former(name); ok && len(r.Rest) == 1 && slices.ContainsFunc(options, func(o option) bool { return o.name == now }) {
		m.Diags.Errorf("option", r.First.Span(), "%s is called %s now", name, now).
			WithHelp("write %s = %s", now, r.Rest[0].Value.Span().Short())
		return false
	}
	if read == nil || len(r.Rest) != 1 {
		if !m.turnedOption(options, r) {
			m.unknownOption(options, name, s.Span())
		}
		return false
	}
	side := r.Rest[0]
	if side.Op != ast.Eq && !(name == "cap" && side.Op == ast.Le) {
		or := ""
		if name == "cap" {
			or = " or <="
		}
		m.Diags.Errorf("only-equal", side.OpAt, "%s can only be stated with =%s", name, or).
			WithHelp("write %s", equal(name, side))
		return false
	}
	return read(property{value: side.Value, line: r, scope: m.scope})
}

// turnedOption reports a line that has an option's name at its end, as in 8 = cap; false if
// it has none there.
func (m *markReader) turnedOption(options []option, r *ast.Relation) bool {
	if r == nil || len(r.Rest) != 1 {
		return false
	}
	name, ok := r.Rest[0].Value.(*ast.Name)
	if !ok || !slices.ContainsFunc(options, func(o option) bool { return o.name == name.Dotted() }) {
		return false
	}
	op := "="
	if name.Dotted() == "cap" && r.Rest[0].Op == ast.Ge {
		op = "<="
	}
	m.Diags.Errorf("option", r.Span(), "a line in the braces of %s begins with its name", m.what).
		WithHelp("write %s %s %s", name.Dotted(), op, r.First.Span().Short())
	return true
}

// equal is what can be written in place of a limit on an option.
func equal(name string, side ast.Side) string {
	value := side.Value.Span().Short()
	if name == "cap" && side.Op == ast.Ge {
		return fmt.Sprintf("cap = %s, or least = %s for capitals that must not come out lower", value, value)
	}
	return name + " = " + value
}

// unknownOption reports a line that a mark's braces can't hold.
func (m *markReader) unknownOption(options []option, name string, at source.Span) {
	words := make([]string, len(options))
	for i, o := range options {
		words[i] = o.name
	}
	d := m.Diags.Errorf("option", at, "this is not an option of %s", m.what)
	if say := word.Elsewhere(name, func(w string) bool { return slices.Contains(words, w) }); say != "" {
		word.Tell(d, name, say)
	} else if near := spell.Nearest(name, words); near != "" && name != near {
		d.Meant(name, near)
	} else if say := word.Anywhere(name); say != "" {
		d.WithHelp("%s", say)
	} else {
		d.WithHelp("its braces may hold %s", spell.Or(words))
	}
	switch name {
	case "stock", "recess", "ease":
		d.WithHelp("only what is laid into the board has it: write inlay %s", m.what)
	case "face":
		d.WithHelp("on which face of the board it is stands in the braces of its region, as face = inside; a typeface is called font")
	}
}

// pick is an option that is one of a few words.
func pick[C word.Choice](m *markReader, name string, to *C, what string, among []C) option {
	return option{name, func(p property) bool {
		choice, ok := choose(m.compiler, p, what, among...)
		if ok {
			*to = choice
		}
		return ok
	}}
}

// numbers says which numbers an option may have. What is not known until the
// design is solved is not checked.
type numbers uint8

const (
	aboveZero numbers = iota
	fromZero
	signed
)

// length is an option that is a length.
func (m *markReader) length(name string, to *maybe.Of[relation.Expr], may numbers) option {
	return option{name, func(p property) bool { return m.value(name, p, unit.Length, to, may) }}
}

// ratio is an option that is a plain factor.
func (m *markReader) ratio(name string, to *maybe.Of[relation.Expr], may numbers) option {
	return option{name, func(p property) bool { return m.value(name, p, unit.Ratio, to, may) }}
}

// value reads an option that is a number.
func (m *markReader) value(name string, p property, k unit.Kind, to *maybe.Of[relation.Expr], may numbers) bool {
	x, ok := m.As(p.value, p.scope, k, name)
	if !ok {
		return false
	}
	if v, known := x.Constant(); known {
		switch {
		case may == aboveZero && v <= 0:
			m.Diags.Errorf("positive", p.value.Span(), "%s must be above 0", name).WithHelp("state a number above 0, or take the line out")
			return false
		case may == fromZero && v < 0:
			m.Diags.Errorf("negative", p.value.Span(), "%s can't be below 0", name).WithHelp("state 0 or more, or take the line out")
			return false
		}
	}
	m.needExpr(x)
	*to = maybe.Is(x)
	return true
}

// capital reads the height of a text's capitals. With <= it may be less.
func (m *markReader) capital(l *model.Lettering, p property) bool {
	if !m.value("cap", p, unit.Length, &l.Cap, aboveZero) {
		return false
	}
	if p.line.Rest[0].Op == ast.Le && l.Known.Fit == 0 {
		l.Known.Fit = word.Shrink
	}
	return true
}

// mostFonts is how many fonts a text may name, one after another.
const mostFonts = 16

// fonts notes which font is meant, and which are for what those before them lack.
func (m *markReader) fonts(l *design.Lettering, p property) bool {
	list, several := p.value.(*ast.List)
	if !several {
		return m.font(&l.Font, p)
	}
	if len(list.Elems) > mostFonts {
		m.Diags.Errorf("font", list.Span(), "%d fonts are named here, and a text takes at most %d", len(list.Elems), mostFonts).
			WithHelp("name the one that is meant, and behind it those for the letters that it lacks")
		return false
	}
	good := true
	for i, e := range list.Elems {
		var f design.Font
		good = m.font(&f, property{value: e, line: p.line, scope: p.scope}) && good
		if i == 0 {
			l.Font = f
		} else {
			l.Spare = append(l.Spare, f)
		}
	}
	return good
}

// oneFont notes which font is meant where there can be only one.
func (m *markReader) oneFont(f *design.Font, p property) bool {
	if list, several := p.value.(*ast.List); several {
		m.Diags.Errorf("font", list.Span(), "%d fonts are named here, and the texts of a drawing take one", len(list.Elems)).
			WithHelp("name the one that is meant, or letter the text in the design, where several may be named")
		return false
	}
	return m.font(f, p)
}

// font notes which font is meant, and reads a font file.
func (m *markReader) font(f *design.Font, p property) bool {
	f.At = p.at()
	if n, ok := p.value.(*ast.Name); ok && word.SingleLine(n.Dotted()) {
		f.Name = n.Dotted()
		return true
	}
	wrong := func(code diag.Code, message string) {
		m.Diags.Errorf(code, p.at(), "%s", message).WithHelp("as in font = \"Go Bold\", or a file: font = \"letters.ttf\"")
	}
	v, ok := m.text(p, func(code diag.Code) { wrong(code, "a font is named in quotes") })
	if !ok {
		return false
	}
	if f.Name = v.Text; strings.TrimSpace(f.Name) == "" {
		wrong("font", "no font is named here")
		return false
	}
	file, which := f.Name, ""
	if i := strings.LastIndex(file, "#"); i >= 0 && fontEnding(file) == "" {
		file, which = file[:i], file[i:] // which font of a collection is meant
	}
	switch fontEnding(file) {
	case "": // a built-in one
		return true
	case ".ttf", ".otf":
		if which != "" {
			m.Diags.Errorf("font", p.at(), "%q is one font, and %s asks for one of a collection", file, which).
				WithHelp("write font = %q; a collection ends in .ttc", file)
			return false
		}
	}
	f.Data, ok = m.read(v, file, "font file")
	return ok
}

// fontEnding is how the name of a font file ends; "" for any other name.
func fontEnding(name string) string {
	for _, ending := range []string{".ttf", ".otf", ".ttc"} {
		if strings.HasSuffix(strings.ToLower(name), ending) {
			return ending
		}
	}
	return ""
}

// read reads the file that a text names; what says in help what it is.
func (m *markReader) read(v expr.Value, path, what string) ([]byte, bool) {
	if m.apart != nil {
		return nil, false // what isn't there needs no files
	}
	data, err := m.files.Read(v.Base, path)
	if err != nil {
		from := "this one"
		if v.Base != v.At.File {
			from = v.Base.Name() + ", where it is written"
		}
		m.Diags.Fail("file", v.At, err, fmt.Sprintf("name a %s by its path from %s, inside the design's folder", what, from))
	}
	return data, err == nil
}

// stockOfInlay finds what an inlay's pieces are cut from.
func (m *markReader) stockOfInlay(p property) bool {
	t := m.stockThere(nil, m.namedStock("the stock of an inlay", p), p)
	if t == nil {
		return false
	}
	m.inlay.Stock, _ = m.draft(t).node.(*model.Stock)
	return true
}
