package main

import (
	"fmt"
	"go/ast"
	"go/token"
	"slices"
	"strings"
)

// A change is an edit with a few words for what it does.
type change struct {
	what string
	edit
}

// opposites are the signs that are put for others.
var opposites = map[token.Token][]token.Token{
	token.LSS: {token.LEQ, token.GEQ},
	token.LEQ: {token.LSS, token.GTR},
	token.GTR: {token.GEQ, token.LEQ},
	token.GEQ: {token.GTR, token.LSS},
	token.EQL: {token.NEQ},
	token.NEQ: {token.EQL},

	token.ADD: {token.SUB},
	token.SUB: {token.ADD},
	token.MUL: {token.QUO},
	token.QUO: {token.MUL},
	token.REM: {token.MUL},
	token.AND: {token.OR},
	token.OR:  {token.AND},
	token.SHL: {token.SHR},
	token.SHR: {token.SHL},

	token.LAND: {token.LOR},
	token.LOR:  {token.LAND},

	token.ADD_ASSIGN: {token.SUB_ASSIGN},
	token.SUB_ASSIGN: {token.ADD_ASSIGN},
	token.MUL_ASSIGN: {token.QUO_ASSIGN},
	token.QUO_ASSIGN: {token.MUL_ASSIGN},
	token.INC:        {token.DEC},
	token.DEC:        {token.INC},
}

// others are the names that are put for others.
var others = map[string]string{
	"min": "max", "max": "min", "Min": "Max", "Max": "Min", "Floor": "Ceil", "Ceil": "Floor", "Sin": "Cos", "Cos": "Sin",
	"true": "false", "false": "true",
}

// A finder collects the changes of one part of a file.
type finder struct {
	file    *token.File
	source  []byte
	results []*ast.FieldList // of the functions around, the innermost last
	found   []change
}

// changes lists what can be changed in a part of a file, in the order of the
// text.
func changes(files *token.FileSet, source []byte, p part) []change {
	d := &finder{file: files.File(p.node.Pos()), source: source, results: []*ast.FieldList{p.results}}
	d.walk(p.node)
	slices.SortStableFunc(d.found, func(a, b change) int { return a.start - b.start })
	return d.found
}

func (d *finder) walk(n ast.Node) {
	ast.Inspect(n, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncLit:
			d.results = append(d.results, n.Type.Results)
			d.walk(n.Body)
			d.results = d.results[:len(d.results)-1]
			return false
		case *ast.ArrayType, *ast.ImportSpec, *ast.TypeSpec:
			return false // a length or a type is no behaviour
		case *ast.CaseClause:
			d.statements(n.Body)
		case *ast.CommClause:
			d.statements(n.Body)
		case *ast.BlockStmt:
			d.statements(n.List)
		case *ast.BinaryExpr:
			d.sign(n.OpPos, n.Op)
		case *ast.AssignStmt:
			d.sign(n.TokPos, n.Tok)
		case *ast.IncDecStmt:
			d.sign(n.TokPos, n.Tok)
		case *ast.UnaryExpr:
			if n.Op == token.SUB || n.Op == token.NOT {
				d.add(n.OpPos, n.OpPos+1, n.Op.String()+" -> ", "")
			}
		case *ast.BasicLit:
			d.literal(n)
		case *ast.IfStmt:
			d.negate(n.Cond)
		case *ast.ForStmt:
			if n.Cond != nil {
				d.add(n.Cond.Pos(), n.Cond.End(), "for condition -> false", "false && ("+d.text(n.Cond)+")")
			}
		case *ast.CallExpr:
			d.call(n)
		case *ast.Ident:
			if n.Name == "true" || n.Name == "false" {
				d.add(n.Pos(), n.End(), n.Name+" -> "+others[n.Name], others[n.Name])
			}
		case *ast.SliceExpr:
			d.slice(n)
		case *ast.ReturnStmt:
			d.zeroes(n)
		case *ast.BranchStmt:
			if n.Tok == token.CONTINUE && n.Label == nil {
				d.add(n.Pos(), n.End(), "continue -> break", "break")
			}
		}
		return true
	})
}

// add notes a change of what stands from one place to another.
func (d *finder) add(from, to token.Pos, what, text string) {
	d.found = append(d.found, change{what, edit{d.file.Offset(from), d.file.Offset(to), text}})
}

// text is the source of a node.
func (d *finder) text(n ast.Node) string {
	return string(d.source[d.file.Offset(n.Pos()):d.file.Offset(n.End())])
}

func (d *finder) sign(at token.Pos, op token.Token) {
	for _, other := range opposites[op] {
		d.add(at, at+token.Pos(len(op.String())), op.String()+" -> "+other.String(), other.String())
	}
}

// literal makes a number another: a whole one larger by one, any other twice
// as large.
func (d *finder) literal(n *ast.BasicLit) {
	switch n.Kind {
	case token.INT:
		d.add(n.Pos(), n.End(), n.Value+" -> "+n.Value+"+1", "("+n.Value+" + 1)")
	case token.FLOAT:
		with := "*2"
		if strings.Trim(n.Value, "0.") == "" {
			with = "+1"
		}
		d.add(n.Pos(), n.End(), n.Value+" -> "+n.Value+with, "("+n.Value+with+")")
	}
}

// negate turns the condition of an if round, unless a sign in it does that.
func (d *finder) negate(cond ast.Expr) {
	if b, ok := cond.(*ast.BinaryExpr); ok && b.Op != token.LAND && b.Op != token.LOR {
		return
	}
	if u, ok := cond.(*ast.UnaryExpr); ok && u.Op == token.NOT {
		return
	}
	d.add(cond.Pos(), cond.End(), "if c -> if !c", "!("+d.text(cond)+")")
}

func (d *finder) call(n *ast.CallExpr) {
	name, ok := n.Fun.(*ast.Ident)
	if s, is := n.Fun.(*ast.SelectorExpr); is {
		if x, plain := s.X.(*ast.Ident); plain && x.Name == "math" {
			name, ok = s.Sel, true
		}
	}
	if ok && others[name.Name] != "" {
		d.add(name.Pos(), name.End(), name.Name+" -> "+others[name.Name], others[name.Name])
	}
}

// slice moves the ends of a part inwards by one.
func (d *finder) slice(n *ast.SliceExpr) {
	if n.Low != nil {
		d.add(n.Low.Pos(), n.Low.End(), "[low:] -> [low+1:]", "("+d.text(n.Low)+")+1")
	}
	if n.High != nil {
		d.add(n.High.Pos(), n.High.End(), "[:high] -> [:high-1]", "("+d.text(n.High)+")-1")
	}
}

// statements leaves each statement out that only has an effect. It stays as a
// function that is never called, so that what it alone uses is still used.
func (d *finder) statements(list []ast.Stmt) {
	for _, s := range list {
		switch s := s.(type) {
		case *ast.ExprStmt, *ast.DeferStmt, *ast.IncDecStmt, *ast.SendStmt:
		case *ast.AssignStmt:
			if s.Tok == token.DEFINE {
				continue
			}
		default:
			continue
		}
		d.add(s.Pos(), s.End(), "statement left out", "_ = func() { "+d.text(s)+" }")
	}
}

// zeroes returns zero values instead.
func (d *finder) zeroes(n *ast.ReturnStmt) {
	results := d.results[len(d.results)-1]
	if results == nil || len(n.Results) == 0 {
		return
	}
	var types, zeroes []string
	for _, f := range results.List {
		for range max(1, len(f.Names)) {
			types = append(types, d.text(f.Type))
			zeroes = append(zeroes, "*new("+d.text(f.Type)+")")
		}
	}
	if !slices.ContainsFunc(n.Results, func(e ast.Expr) bool { return !isZero(e) }) {
		return
	}
	d.add(n.Pos(), n.End(), "return zero values", fmt.Sprintf("_ = func() (%s) { %s }; return %s", strings.Join(types, ", "), d.text(n), strings.Join(zeroes, ", ")))
}

// isZero reports whether an expression is written as a zero value, or is a word
// for true or false, which is changed by itself.
func isZero(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name == "nil" || e.Name == "false" || e.Name == "true"
	case *ast.BasicLit:
		return e.Value == "0" || e.Value == `""`
	case *ast.CompositeLit:
		return len(e.Elts) == 0
	}
	return false
}
