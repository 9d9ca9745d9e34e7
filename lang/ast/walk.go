package ast

// Walk calls visit for a node and then for all that is below it, in the order
// in which it was written. Where visit returns false, what is below is left
// out.
func Walk(n Node, visit func(Node) bool) {
	if !visit(n) {
		return
	}
	Children(n, func(c Node) { Walk(c, visit) })
}

// Children calls visit for each node right below n, in the order in which
// they were written. Missing parts are left out; names without a place, as of
// a broken statement, too.
//
// It is long because it has one case for each kind of node; a test holds it
// against the fields of their structures.
func Children(n Node, visit func(Node)) {
	name := func(ids ...Ident) {
		for _, id := range ids {
			if !id.At.IsZero() {
				visit(id)
			}
		}
	}
	expr := func(xs ...Expr) {
		for _, x := range xs {
			if x != nil {
				visit(x)
			}
		}
	}
	text := func(s *String) {
		if s != nil {
			visit(s)
		}
	}
	block := func(b *Block) {
		if b != nil {
			visit(b)
		}
	}
	switch n := n.(type) {
	case *Version:
		name(n.Number)
	case *Units:
		name(n.Unit)
	case *Use:
		text(n.Path)
		if n.Shelf != nil {
			name(*n.Shelf)
		}
	case *Decl:
		name(n.Kind, n.Name)
		text(n.Title)
		for _, c := range n.Clauses {
			visit(c)
		}
		block(n.Body)
	case Clause:
		name(n.Word)
		expr(n.Target)
	case *Block:
		for _, s := range n.Stmts {
			visit(s)
		}
	case *Relation:
		expr(n.First)
		for _, s := range n.Rest {
			expr(s.Value)
		}
	case *Prefer:
		expr(n.Left, n.Right, n.Weight)
	case *Check:
		expr(n.Cond, n.Message)
	case *Let:
		name(n.Name)
		expr(n.Value)
	case *Without:
		name(n.Name)
	case *Mark:
		name(n.Verb, n.What)
		expr(n.Value)
		block(n.Body)
	case *BadStmt:
		block(n.Body)
	case *Name:
		name(n.Parts...)
	case *Indexed:
		name(n.Word, n.Index)
	case *Binary:
		expr(n.L, n.R)
	case *Unary:
		expr(n.X)
	case *Paren:
		expr(n.X)
	case *Call:
		name(n.Func)
		expr(n.Args...)
	case *List:
		expr(n.Elems...)
	case *Shape:
		name(n.Word)
		expr(n.A, n.B, n.Radius)
	case *Pair:
		expr(n.A, n.B)
	case *Less:
		expr(n.Of, n.Gone)
		name(n.At)
	case *Stated:
		expr(n.X, n.Within)
	case *Choice:
		for _, o := range n.Options {
			visit(o)
		}
	case Option:
		expr(n.Value, n.When)
	case *Grain:
		name(n.Along)
	case *Column:
		name(n.Type)
		expr(n.Values...)
		expr(n.From...)
		expr(n.Default)
	case *Number, *String, *BadExpr, Ident:
		// nothing below
	}
}
