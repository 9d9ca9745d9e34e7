package resolve

import (
	"strconv"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/lang/ast"
)

// A said is what lines say of a thing that decides which dimensions it has, wherever
// they stand.
type said struct {
	pitch, pair bool // of a binding: a line is about it, or names it in full
	listed      bool // of a row: a line is about a gap
	gaps        int  // the highest number of one; 0 is that of none
	// outside are the lines outside its braces that are about the count of a row, about a
	// binding, or about the thickness of a stock.
	outside []*Line
}

// Gaps is the highest number of a gap that a line is about, wherever it stands; 0 if
// none is.
func (t *Thing) Gaps() int { return t.said.gaps }

// Outside are the lines outside the thing's braces that are about the count of a row, about
// a binding, or about the thickness of a stock.
func (t *Thing) Outside() []*Line { return t.said.outside }

// sayTop notes what stands at the top of a file and in its things says of things. It comes
// after all that is brought along, and before what things lack is settled.
func (r *resolver) sayTop(f *File) {
	for _, l := range f.Lines {
		r.sayLine(nil, l)
	}
	for _, l := range f.Lets {
		r.sayForms(nil, l.Scope, l.Stmt)
	}
	for _, t := range f.Things {
		r.say(t)
	}
}

// say notes what a thing and what is in it say of things.
func (r *resolver) say(t *Thing) {
	for _, l := range t.Lines {
		r.sayLine(t, l)
	}
	for _, l := range t.Lets {
		r.sayForms(t, l.Scope, l.Stmt)
	}
	for _, m := range t.Marks {
		r.sayForms(t, m.Scope, m.Stmt)
	}
	for _, c := range t.Children {
		r.say(c)
	}
}

// sayLine notes what a line of a thing, nil at the top of a file, says of it or of others.
func (r *resolver) sayLine(t *Thing, l *Line) {
	link := -1
	eachLink(l.Stmt, func(left ast.Expr, _ ast.Op, right ast.Expr) {
		link++
		if !decides(left) && !decides(right) || l.Drops(link) {
			return // as most
		}
		r.sayForms(t, l.Scope, &ast.Binary{L: left, R: right})
		if t != nil && t.Property(left) != "" {
			return
		}
		one, alone := l.subject(left)
		other, both := l.subject(right)
		switch {
		case alone && both && !OnLeft(pathOf(t), one.Thing.Path(), other.Thing.Path()), both && !alone:
			r.saidOf(t, l, other)
		case alone:
			r.saidOf(t, l, one)
		default:
			ast.Walk(&ast.Binary{L: left, R: right}, func(n ast.Node) bool {
				e, _ := n.(ast.Expr)
				sym, ok := l.subject(e)
				if ok {
					r.saidOf(t, l, sym)
				}
				return !ok
			})
		}
	})
}

// sayForms notes of which bindings what stands in a thing, nil at the top of a file, names
// the pitch or pair in full, as loop.pair, which only one form has.
func (r *resolver) sayForms(t *Thing, scope *Scope, within ast.Node) {
	ast.Walk(within, func(n ast.Node) bool {
		name, ok := n.(*ast.Name)
		if !ok || len(name.Parts) < 2 {
			return true
		}
		switch name.Parts[len(name.Parts)-1].Name {
		case "pitch", "pair":
			if sym, ok := scope.subject(name); ok && r.holdsWith(t, sym.Thing) {
				sym.Thing.said.form(sym)
			}
		}
		return true
	})
}

// form notes what a line that names a dimension of a binding says of its form.
func (s *said) form(about Symbol) {
	if about.Thing.Kind.ID == kind.Binding {
		s.pitch = s.pitch || about.Dim == dim.Pitch
		s.pair = s.pair || about.Dim == dim.Pair
	}
}

// pathOf is the path of a thing, empty at the top of a file.
func pathOf(t *Thing) string {
	if t == nil {
		return ""
	}
	return t.Path()
}

// decides reports whether a side of a line has a name that may decide what
// dimensions a thing has.
func decides(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.Number:
		return false
	case *ast.Indexed:
		return e.Word.Name == dim.Gap.String()
	case *ast.Name:
		switch last := len(e.Parts) - 1; e.Parts[last].Name {
		case "pitch", "pair", "count", "wire", "ring", "outside", "thick":
			return true
		default:
			return last > 0 && e.Parts[last-1].Name == dim.Gap.String()
		}
	}
	found := false
	ast.Children(e, func(n ast.Node) {
		if x, ok := n.(ast.Expr); ok && !found {
			found = decides(x)
		}
	})
	return found
}

// subject is the dimension that an expression names.
func (l *Line) subject(e ast.Expr) (Symbol, bool) {
	switch e := e.(type) {
	case *ast.Paren:
		return l.subject(e.X)
	case *ast.Stated:
		return l.subject(e.X)
	case *ast.Indexed:
		if t := l.Scope.thing; t != nil && isGap(t, e.Word.Name) {
			return Symbol{Thing: t, Dim: dim.Gap, Gap: e.Index.Name}, true
		}
	case *ast.Name:
		return l.Scope.subject(e)
	}
	return Symbol{}, false
}

// subject is the dimension that a name means as what a line is about.
func (s *Scope) subject(n *ast.Name) (Symbol, bool) {
	sym, problem, known := s.seek(n, asSubject)
	return sym, known && problem == nil && sym.Thing != nil && sym.Dim != dim.None
}

// Says reports whether an expression in the line is the name of a dimension of a thing
// and nothing else.
func (l *Line) Says(e ast.Expr, t *Thing, n dim.Name) bool {
	sym, ok := l.subject(e)
	return ok && sym.Thing == t && sym.Dim == n
}

// isAbout reports whether a line states a dimension by its name alone on one side.
func (l *Line) isAbout(s Symbol) bool {
	about := false
	eachLink(l.Stmt, func(left ast.Expr, _ ast.Op, right ast.Expr) {
		about = about || l.Says(left, s.Thing, s.Dim) || l.Says(right, s.Thing, s.Dim)
	})
	return about
}

// saidOf notes that a line of a thing in is about a dimension.
func (r *resolver) saidOf(in *Thing, l *Line, about Symbol) {
	t := about.Thing
	if !r.holdsWith(in, t) {
		return
	}
	t.said.form(about)
	if about.Dim == dim.Gap {
		t.said.listed = true
		if n, err := strconv.Atoi(about.Gap); err == nil {
			t.said.gaps = max(t.said.gaps, n)
		}
	}
	if in != t && (t.Kind.ID == kind.Binding || t.Kind.ID == kind.Row && about.Dim == dim.Count || t.Kind.ID == kind.Stock && l.isAbout(about)) {
		t.said.outside = append(t.said.outside, l)
	}
}

// holdsWith reports whether a line in one thing surely holds where another thing is
// there: what has a condition of its own, is only there for others to be like, or
// stands in a file that is used, may not be made.
func (r *resolver) holdsWith(in, t *Thing) bool {
	for ; in != nil && !in.Holds(t); in = in.Parent {
		if len(in.When) > 0 || in.Parent == nil && (in.Kind.Template || in.Kind.ID == kind.Style || in.File != r.info.Main) {
			return false
		}
	}
	return true
}
