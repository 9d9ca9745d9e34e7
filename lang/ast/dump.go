package ast

import (
	"fmt"
	"strconv"
	"strings"
)

// Dump shows a file's tree as text, one statement a line, blocks indented.
// It is for tests and for looking at; its form is no promise.
//
// Operators stand before what they join, in brackets. Comments follow their
// statement, marked by where they belong: ^ before it, > at its end, { at its
// opening brace, } before its closing one.
func Dump(f *File) string {
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

func (d *dumper) comments(mark string, cs []Comment) {
	for _, c := range cs {
		blank := ""
		if c.Blank {
			blank = " blank"
		}
		d.line("%s %q%s", mark, c.At.Text(), blank)
	}
}

func (d *dumper) stmts(list []Stmt) {
	for _, s := range list {
		d.stmt(s)
	}
}

func (d *dumper) stmt(s Stmt) {
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
func Head(s Stmt) (string, *Block) {
	switch s := s.(type) {
	case *Units:
		return "units " + s.Unit.Name, nil
	case *Use:
		if s.Path != nil {
			return "use " + Show(s.Path), nil
		}
		return "use " + s.Shelf.Name, nil
	case *Decl:
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
	case *Relation:
		head := Show(s.First)
		for _, r := range s.Rest {
			head += " " + r.Op.String() + " " + Show(r.Value)
		}
		return head, nil
	case *Prefer:
		head := "prefer " + Show(s.Left) + " " + s.Op.String() + " " + Show(s.Right)
		if s.Weight != nil {
			head += " weight " + Show(s.Weight)
		}
		return head, nil
	case *Check:
		head := "check " + Show(s.Cond)
		if s.Message != nil {
			head += " else " + Show(s.Message)
		}
		return head, nil
	case *Let:
		return "let " + s.Name.Name + " " + Show(s.Value), nil
	case *Without:
		return "without " + s.Name.Name, nil
	case *Mark:
		head := "mark " + s.Verb.Name + " " + s.What.Name
		if s.Value != nil {
			head += " " + Show(s.Value)
		}
		return head, s.Body
	case *BadStmt:
		return "bad", s.Body
	}
	return fmt.Sprintf("%T", s), nil
}

// Show shows a value in the form of [Dump].
func Show(x Expr) string {
	switch x := x.(type) {
	case nil:
		return "nil"
	case *Number:
		s := strconv.FormatFloat(x.Value, 'g', -1, 64)
		if x.Denominator != 0 {
			s += fmt.Sprintf("/%dths", x.Denominator)
		}
		return s + x.Unit
	case *String:
		return strconv.Quote(x.Value)
	case *Name:
		return x.Dotted()
	case *Indexed:
		return x.Word.Name + "[" + x.Index.Name + "]"
	case *Binary:
		return list(x.Op.String(), x.L, x.R)
	case *Unary:
		return list(x.Op.String(), x.X)
	case *Paren:
		return list("paren", x.X)
	case *Call:
		return list("call "+x.Func.Name, x.Args...)
	case *List:
		return list("list", x.Elems...)
	case *Shape:
		parts := []Expr{x.A}
		if x.B != nil {
			parts = append(parts, x.B)
		}
		s := list(x.Word.Name, parts...)
		if x.Radius != nil {
			s = strings.TrimSuffix(s, ")") + " radius " + Show(x.Radius) + ")"
		}
		return s
	case *Pair:
		return list("by", x.A, x.B)
	case *Stated:
		if x.Exact {
			return list("exact", x.X)
		}
		return list("within", x.X, x.Within)
	case *Grain:
		return "(along " + x.Along.Name + ")"
	case *Column:
		if x.Default != nil {
			return "(column " + x.Type.Name + " default " + Show(x.Default) + ")"
		}
		return "(column " + x.Type.Name + ")"
	case *BadExpr:
		return "BAD"
	}
	return fmt.Sprintf("%T", x)
}

func list(word string, xs ...Expr) string {
	s := "(" + word
	for _, x := range xs {
		s += " " + Show(x)
	}
	return s + ")"
}
