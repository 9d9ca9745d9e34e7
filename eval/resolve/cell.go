package resolve

import (
	"foredge/eval/kind"
	"foredge/lang/ast"
	"foredge/lang/diag"
)

// A Cell says which of a field's members is meant: pane.2.3 is the second from
// the spine and the third from the head. Both are as they are written.
type Cell struct{ Across, Down string }

// isCell reports whether what follows a thing's name says which of a field's members
// is meant.
func isCell(t *Thing, part ast.Ident) bool {
	return t.Kind.ID == kind.Field && isNumber(part.Name)
}

// cell follows what comes after a field's name: two numbers, then a dimension.
func cell(t *Thing, n *ast.Name, rest []ast.Ident) (Symbol, *diag.Diagnostic) {
	var l diag.List
	if len(rest) < 2 || !isNumber(rest[1].Name) {
		return Symbol{}, l.Errorf("which-member", n.Span(), "%s has its members across and down, so it takes two numbers to say which is meant", t.Path()).
			WithHelp("write %s.%s.1.head for one in the first row from the head", t.Path(), rest[0].Name)
	}
	sym := Symbol{Thing: t, Cell: Cell{rest[0].Name, rest[1].Name}}
	if len(rest) == 2 {
		return Symbol{}, l.Errorf("which-member", n.Span(), "%s is one of the members of a field, of which only the dimensions can be spoken of", n.Dotted()).
			WithHelp("say which of them is meant, as in %s.head; where a thing is to be named, name one that stands by itself", n.Dotted())
	}
	d, ok := t.Kind.Dim(rest[2].Name)
	if !ok || !d.OfBox() || len(rest) > 3 {
		e := l.Errorf("unknown-name", rest[2].At, "a member of the %s has no %q", describe(t), rest[2].Name)
		suggest(e, rest[2].Name, boxNames(t.Kind), "it has its size and its distances from the edges: width, height, head, tail, spine and foredge")
		return Symbol{}, e
	}
	sym.Dim = d
	return sym, nil
}

// boxNames are the dimensions of a kind that a member of a field has too.
func boxNames(k *kind.Kind) []string {
	var names []string
	for _, d := range k.Dims {
		if d.OfBox() {
			names = append(names, d.String())
		}
	}
	return names
}

func isNumber(word string) bool { return word != "" && word[0] >= '0' && word[0] <= '9' }
