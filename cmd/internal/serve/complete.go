package serve

import (
	"context"
	"slices"

	"foredge/cmd/internal/disk"
	"foredge/eval/kind"
	"foredge/eval/resolve"
	"foredge/eval/shelf"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/parse"
	"foredge/lang/source"
	"foredge/lang/unit"
	"foredge/layout/lettering"
)

// A completer gathers what may stand at a place.
type completer struct {
	*state
	path   string // of the document
	before []parse.Token
	offset int
	around []*ast.Decl
	items  []completionItem
}

// completion lists what may stand at a place: at the start of a line what a thing may
// hold, after a clause's word the things that it may name, after a sign what a value is
// made of.
func (s *server) completion(ctx context.Context, p inDocument) ([]completionItem, error) {
	st := s.checked(ctx, p.TextDocument.URI)
	if st == nil {
		return nil, nil
	}
	s.mu.Lock()
	d := s.docs[p.TextDocument.URI]
	s.mu.Unlock()
	if d == nil {
		return nil, nil
	}
	c := completer{state: st, path: d.path, offset: st.offset(st.text, p.Position), items: []completionItem{}}
	c.around = inside(st.tree.Stmts, st.text, c.offset)
	start := lineStart(st.text, c.offset)
	for _, t := range parse.Tokens(st.text) {
		if t.Start >= start && t.Start < c.offset {
			c.before = append(c.before, t)
		}
	}
	c.complete()
	return c.items, nil
}

// lineStart is where the line of an offset begins.
func lineStart(f *source.File, offset int) int {
	_, start := f.Line(f.LineNumber(offset))
	return start
}

// word is the text of a token.
func (c *completer) word(t parse.Token) string { return c.text.Text()[t.Start:t.End] }

func (c *completer) add(kind int, detail string, labels ...string) {
	for _, l := range labels {
		if l != "" && !slices.ContainsFunc(c.items, func(i completionItem) bool { return i.Label == l }) {
			c.items = append(c.items, completionItem{Label: l, Kind: kind, Detail: detail})
		}
	}
}

// complete finds out what is begun, and adds what may stand there.
func (c *completer) complete() {
	tokens := c.statement()
	if n := len(tokens); n > 0 && tokens[n-1].Kind == parse.Comment {
		return
	}
	if inside, ok := c.quoted(tokens); ok {
		c.inQuotes(tokens, inside)
		return
	}
	// The word under the cursor is what is being written, and says nothing yet.
	if n := len(tokens); n > 0 && tokens[n-1].Kind == parse.Word && tokens[n-1].End >= c.offset {
		tokens = tokens[:n-1]
	}
	if len(tokens) == 0 {
		c.statements()
		return
	}
	last := tokens[len(tokens)-1]
	first, previous := c.word(tokens[0]), c.word(last)
	switch {
	case previous == ".":
		c.parts(tokens[:len(tokens)-1])
	case first == kind.Make.String() && len(tokens) == 1:
		c.files("", `"`, disk.DesignExt)
	case c.inJob():
	case first == "use":
		c.add(completeValue, "of the shelf", shelf.Names()...)
		c.files("", `"`, disk.DesignExt)
	case previous == "without":
		c.inherited()
	case previous == "like", previous == "mirrors", previous == "covers":
		c.things(previous, first)
	case previous == "on":
		c.add(completeValue, "edge", word.Strings(word.Edges()...)...)
	case first == "offcuts" && previous == "at":
		c.add(completeValue, "corner of a sheet", word.Strings(word.SheetCorners()...)...)
	case last.Kind == parse.Number:
		c.add(completeUnit, "unit", unit.Names()...)
	case slices.ContainsFunc(tokens, func(t parse.Token) bool { return c.sign(t) }), first == "check", first == "prefer", first == "let":
		c.values(first)
	case len(tokens) >= 2 && tokens[0].Kind == parse.Word && kind.Find(first) != nil:
		c.add(completeKeyword, "clause", kind.Find(first).Clauses...)
	}
}

// sign reports whether a value stands after a token.
func (c *completer) sign(t parse.Token) bool {
	return slices.Contains([]string{"=", ">=", "<="}, c.word(t))
}

// statement is the tokens of the statement that is begun.
func (c *completer) statement() []parse.Token {
	from := 0
	for i, t := range c.before {
		if s := c.word(t); t.Kind == parse.Sign && (s == ";" || s == "{" || s == "}") {
			from = i + 1
		}
	}
	return c.before[from:]
}

// statements are what a line may begin with.
func (c *completer) statements() {
	k := c.kind()
	if k == nil {
		c.add(completeKeyword, "statement", "use", "let", "prefer", "check", "units")
		for _, name := range kind.Names() {
			if n := kind.Find(name); n.Top || n.Template {
				c.add(completeClass, "kind", name)
			}
		}
		c.names(nil)
		return
	}
	for _, d := range k.Dims {
		c.add(completeProperty, "dimension of a "+k.Name, d.String())
	}
	c.add(completeProperty, "of a "+k.Name, k.Props...)
	for _, name := range kind.Names() {
		if kind.Find(name).In(k.ID) {
			c.add(completeClass, "kind", name)
		}
	}
	if c.inJob() {
		return
	}
	if k.Marks {
		c.add(completeKeyword, "mark", "engrave", "mark", "score", "cut", "inlay")
	}
	c.add(completeKeyword, "statement", "let", "prefer", "check", "without")
}

// kind is that of the innermost thing around the place, nil at the top.
func (c *completer) kind() *kind.Kind {
	if len(c.around) == 0 {
		return nil
	}
	return kind.Find(c.around[len(c.around)-1].Kind.Name)
}

// inJob reports whether the place is in a job's braces, or those of what it makes, where no
// values are named and nothing is computed.
func (c *completer) inJob() bool {
	k := c.kind()
	return k != nil && (k.ID == kind.Job || k.ID == kind.Make)
}

// scope is that of the innermost thing around the place.
func (c *completer) scope() *resolve.Scope {
	x := c.mentions()
	if x == nil {
		return nil
	}
	for i := len(c.around) - 1; i >= 0; i-- {
		for _, m := range x.In(c.text) {
			if m.Declares && m.Thing != nil && m.Thing.Decl == c.around[i] {
				return m.Thing.Scope()
			}
		}
	}
	return x.Top()
}

// names are those that are known where the place is.
func (c *completer) names(scope *resolve.Scope) {
	if scope == nil {
		scope = c.scope()
	}
	if scope != nil {
		c.add(completeVariable, "", scope.Visible()...)
	}
}

// parts are those of what a dotted name has named so far.
func (c *completer) parts(tokens []parse.Token) {
	var name []string
	for i := len(tokens) - 1; i >= 0; i -= 2 {
		name = append([]string{c.word(tokens[i])}, name...)
		if i == 0 || c.word(tokens[i-1]) != "." {
			break
		}
	}
	if len(name) == 1 && name[0] == "order" {
		if x := c.mentions(); x != nil {
			for _, column := range x.Columns() {
				c.add(completeProperty, "column of the orders", column)
			}
		}
		return
	}
	n := &ast.Name{}
	for _, part := range name {
		n.Parts = append(n.Parts, ast.Ident{Name: part})
	}
	scope := c.scope()
	if scope == nil || len(n.Parts) == 0 {
		return
	}
	if sym, problem := scope.LookupThing(n); problem == nil && sym.Thing != nil {
		for _, d := range sym.Thing.Kind.Dims {
			c.add(completeProperty, "dimension", d.String())
		}
		for _, child := range sym.Thing.Children {
			c.add(completeVariable, child.Kind.Name, child.Name)
		}
	}
}

// things are those that a clause may name.
func (c *completer) things(clause, of string) {
	x := c.mentions()
	if x == nil {
		return
	}
	k := kind.Find(of)
	for _, t := range x.Things() {
		allowed := k == nil || slices.Contains(k.Like, t.Kind.ID) || t.Kind == k
		if clause == "covers" {
			allowed = t.Kind.ID == kind.Notebook
		}
		if allowed {
			c.add(completeVariable, t.Kind.Name, t.Path())
		}
	}
}

// values are what may stand on the right of a sign.
func (c *completer) values(first string) {
	switch first {
	case "font":
		for _, name := range lettering.Names() {
			c.add(completeValue, "font", `"`+name+`"`)
		}
		c.add(completeValue, "font", word.Strings(word.LineFonts()...)...)
		return
	case "form":
		c.add(completeValue, "form", "ring", "loop", "coil")
	case "knife", "shared-cuts", "one-way":
		c.add(completeValue, "answer", word.Strings(word.Answers()...)...)
		return
	case kind.Material.String():
		c.ofKind(kind.Material)
		return
	case kind.Stock.String(), "covering-stock", "lining-stock", "spine-stock":
		c.ofKind(kind.Stock)
		return
	case "hole", "shape":
		for _, s := range ast.ShapeWords() {
			if !s.Corner {
				c.add(completeKeyword, "form", s.Word)
			}
		}
	case "corners", "corner":
		for _, s := range ast.ShapeWords() {
			if s.Corner {
				c.add(completeKeyword, "form of a corner", s.Word)
			}
		}
	case "count", "across", "down":
		c.add(completeKeyword, "as many as fit", "most")
	}
	c.names(nil)
	c.add(completeFunction, "function", "min", "max", "abs", "sqrt", "floor", "ceil", "nearest")
}

// ofKind are the things of a kind.
func (c *completer) ofKind(id kind.ID) {
	if x := c.mentions(); x != nil {
		for _, t := range x.Things() {
			if t.Kind.ID == id {
				c.add(completeVariable, t.Kind.Name, t.Path())
			}
		}
	}
}
