package asttest

import (
	"fmt"
	"strconv"
	"strings"

	"foredge/lang/ast"
)

// Dump shows a file's tree as text, one statement a line, blocks indented.
func Dump(f *ast.File) string {
	d := new(dumper)
	d.stmts(f.Stmts)
	d.comments("}", f.Comments.End)
	return d.String()
}

type dumper struct {
	strings.Builder
	depth int
}

func (d *dumper) line(format string, args ...any) {
	d.WriteString(strings.Repeat("  ", d.depth))
	fmt.Fprintf(d, format, args...)
	d.WriteByte('\n')
}

func (d *dumper) comments(mark string, cs []ast.Comment) {
	for _, c := range cs {
		blank := ""
		if c.Blank {
			blank = " blank"
		}
		d.line("%s %q%s", mark, c.At.Text(), blank)
	}
}

func (d *dumper) stmts(list []ast.Stmt) {
	for _, s := range list {
		d.stmt(s)
	}
}

func (d *dumper) stmt(s ast.Stmt) {
	c := s.Comment()
	d.comments("^", c.Before)
	head, body := Head(s)
	d.line("(%s)", head)
	d.depth++
	d.comments("{", c.Open)
	if body != nil {
		d.stmts(body.Stmts)
		d.comments("}", c.End)
	} else {
		d.comments("}?", c.End)
	}
	d.depth--
	d.comments(">", c.Suffix)
}

// Head shows a statement in the form of [Dump] without its block, and returns
// the block.
func Head(s ast.Stmt) (string, *ast.Block) {
	switch s := s.(type) {
	case *ast.Version:
		return "foredge " + s.Number.Name, nil
	case *ast.Units:
		return "units " + s.Unit.Name, nil
	case *ast.Use:
		if s.Path != nil {
			return "use " + Show(s.Path), nil
		}
		return "use " + s.Shelf.Name, nil
	case *ast.Decl:
		head := "decl " + s.Kind.Name
		if s.Title != nil {
			head += " " + Show(s.Title)
		} else {
			head += " " + s.Name.Name
		}
		for _, c := range s.Clauses {
			head += " (" + c.Word.Name + " " + Show(c.Target) + ")"
		}
		return head, s.Body
	case *ast.Relation:
		head := Show(s.First)
		for _, r := range s.Rest {
			head += " " + r.Op.String() + " " + Show(r.Value)
		}
		return head, nil
	case *ast.Prefer:
		head := "prefer " + Show(s.Left) + " " + s.Op.String() + " " + Show(s.Right)
		if s.Weight != nil {
			head += " weight " + Show(s.Weight)
		}
		return head, nil
	case *ast.Check:
		head := "check " + Show(s.Cond)
		if s.Message != nil {
			head += " else " + Show(s.Message)
		}
		return head, nil
	case *ast.Let:
		return "let " + s.Name.Name + " " + Show(s.Value), nil
	case *ast.Without:
		return "without " + s.Name.Name, nil
	case *ast.Mark:
		head := "mark " + s.Verb.Name + " " + s.What.Name
		if s.Value != nil {
			head += " " + Show(s.Value)
		}
		return head, s.Body
	case *ast.BadStmt:
		return "bad", s.Body
	}
	return fmt.Sprintf("%T", s), nil
}

// Show shows a value in the form of [Dump].
func Show(x ast.Expr) string {
	switch x := x.(type) {
	case nil:
		return "nil"
	case *ast.Number:
		s := strconv.FormatFloat(x.Value, 'g', -1, 64)
		if x.Denominator != 0 {
			s += fmt.Sprintf("/%dths", x.Denominator)
		}
		return s + x.Unit
	case *ast.String:
		return strconv.Quote(x.Value)
	case *ast.Name:
		return x.Dotted()
	case *ast.Indexed:
		return x.Word.Name + "[" + x.Index.Name + "]"
	case *ast.Binary:
		return list(x.Op.String(), x.L, x.R)
	case *ast.Unary:
		return list(x.Op.String(), x.X)
	case *ast.Paren:
		return list("paren", x.X)
	case *ast.Call:
		return list("call "+x.Func.Name, x.Args...)
	case *ast.List:
		return list("list", x.Elems...)
	case *ast.Shape:
		parts := []ast.Expr{x.A}
		if x.B != nil {
			parts = append(parts, x.B)
		}
		s := list(x.Word.Name, parts...)
		if x.Radius != nil {
			s = strings.TrimSuffix(s, ")") + " radius " + Show(x.Radius) + ")"
		}
		return s
	case *ast.Pair:
		return list("by", x.A, x.B)
	case *ast.Less:
		return list("less "+x.At.Name, x.Of, x.Gone)
	case *ast.Stated:
		if x.Exact {
			return list("exact", x.X)
		}
		return list("within", x.X, x.Within)
	case *ast.Choice:
		s := "(choice"
		for _, o := range x.Options {
			if s += " " + Show(o.Value); o.When != nil {
				s += " (when " + Show(o.When) + ")"
			}
		}
		return s + ")"
	case *ast.Grain:
		return "(along " + x.Along.Name + ")"
	case *ast.Column:
		s := "(column " + x.Type.Name
		if x.Values != nil {
			s += " " + list("of", x.Values...)
		}
		if x.From != nil {
			s += " " + list("from", x.From...)
		}
		if x.Default != nil {
			s += " default " + Show(x.Default)
		}
		return s + ")"
	case *ast.BadExpr:
		return "BAD"
	}
	return fmt.Sprintf("%T", x)
}

func list(word string, xs ...ast.Expr) string {
	s := "(" + word
	for _, x := range xs {
		s += " " + Show(x)
	}
	return s + ")"
}

// Walk visits all nodes of a file, in the manner of [ast.Walk].
func Walk(f *ast.File, visit func(ast.Node) bool) {
	for _, s := range f.Stmts {
		ast.Walk(s, visit)
	}
}
