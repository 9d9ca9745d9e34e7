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
// a broken statement, too. A test holds it against the fields of the nodes'
// structures.
func Children(n Node, visit func(Node)) {
	v := visitor(visit)
	switch n := n.(type) {
	case *Version:
		v.name(n.Number)
	case *Units:
		v.name(n.Unit)
	case *Use:
		v.text(n.Path)
		if n.Shelf != nil {
			v.name(*n.Shelf)
		}
	case *Decl:
		v.name(n.Kind, n.Name)
		v.text(n.Title)
		for _, c := range n.Clauses {
			visit(c)
		}
		v.block(n.Body)
	case Clause:
		v.name(n.Word)
		v.expr(n.Target)
	case *Block:
		for _, s := range n.Stmts {
			visit(s)
		}
	case *Relation:
		v.expr(n.First)
		for _, s := range n.Rest {
			v.expr(s.Value)
		}
	case *Prefer:
		v.expr(n.Left, n.Right, n.Weight)
	case *Check:
		v.expr(n.Cond, n.Message)
	case *Let:
		v.name(n.Name)
		v.expr(n.Value)
	case *Without:
		v.name(n.Name)
	case *Mark:
		v.name(n.Verb, n.What)
		v.expr(n.Value)
		v.block(n.Body)
	case *BadStmt:
		v.block(n.Body)
	case Option:
		v.expr(n.Value, n.When)
	case Expr:
		v.below(n)
	}
}

// A visitor is called for nodes.
type visitor func(Node)

// below visits what is right below an expression.
func (v visitor) below(x Expr) {
	switch x := x.(type) {
	case *Name:
		v.name(x.Parts...)
	case *Indexed:
		v.name(x.Word, x.Index)
	case *Binary:
		v.expr(x.L, x.R)
	case *Unary:
		v.expr(x.X)
	case *Paren:
		v.expr(x.X)
	case *Call:
		v.name(x.Func)
		v.expr(x.Args...)
	case *List:
		v.expr(x.Elems...)
	case *Shape:
		v.name(x.Word)
		v.expr(x.A, x.B, x.Radius)
	case *Pair:
		v.expr(x.A, x.B)
	case *Less:
		v.expr(x.Of, x.Gone)
		v.name(x.At)
	case *Stated:
		v.expr(x.X, x.Within)
	case *Choice:
		for _, o := range x.Options {
			v(o)
		}
	case *Grain:
		v.name(x.Along)
	case *Column:
		v.name(x.Type)
		v.expr(x.Values...)
		v.expr(x.From...)
		v.expr(x.Default)
	}
}

func (v visitor) name(ids ...Ident) {
	for _, id := range ids {
		if !id.At.IsZero() {
			v(id)
		}
	}
}

func (v visitor) expr(xs ...Expr) {
	for _, x := range xs {
		if x != nil {
			v(x)
		}
	}
}

func (v visitor) text(s *String) {
	if s != nil {
		v(s)
	}
}

func (v visitor) block(b *Block) {
	if b != nil {
		v(b)
	}
}
