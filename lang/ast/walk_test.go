package ast_test

import (
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"foredge/lang/ast"
	"foredge/lang/ast/asttest"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// all holds a statement or value of every kind.
const all = `units mm; use "a.fore"; use bindings; let a = b + 2; let c = 3 when a = 2, slot 3 by 4
orders "o.csv" { name = text default "x"; motif = one of "fox", "owl" from "Motif?" }
panel front covers log when not (a = 3 and b < 4) {
  3 <= a <= max(b, 4 3/4 in); gap 3 = 70, 71 ± 0.1
  corner head-spine = radius 3; hole = rect 4 by 5 radius 1; size = 600 by 300 exact; offcuts = 9 by 8, 7 by 6 less 5 by 4 at tail-left; grain = along width
  prefer a.b.3 = -4 weight 2
  check a >= 3 else "no"
  without x
  region r { engrave text "a" { cap <= 14 }; mark frame }
  broken = = 3
  broken 3
}
`

// Children gives just the nodes that are found by looking at every field of
// the tree's structures.
func TestChildren(t *testing.T) {
	files, err := filepath.Glob("../../testdata/corpus/*.fore")
	if err != nil || len(files) == 0 {
		t.Fatalf("no designs: %v", err)
	}
	texts := []string{all}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		texts = append(texts, string(data))
	}
	kinds := map[reflect.Type]bool{}
	for _, text := range texts {
		f, _ := parse.File(source.New("t.fore", []byte(text)))
		asttest.Walk(f, func(n ast.Node) bool {
			kinds[reflect.TypeOf(n)] = true
			want := nodesIn(reflect.Indirect(reflect.ValueOf(n)))
			got := map[source.Span]int{}
			ast.Children(n, func(c ast.Node) { got[c.Span()]++ })
			if !reflect.DeepEqual(got, want) {
				t.Errorf("%T %q has the children %v, want %v", n, n.Span().Text(), got, want)
			}
			return true
		})
	}
	if len(kinds) != 32 {
		t.Errorf("%d of 32 kinds of nodes were looked at: %v", len(kinds), kinds)
	}
}

// nodesIn returns the places of all nodes in the fields of a structure.
func nodesIn(v reflect.Value) map[source.Span]int {
	out := map[source.Span]int{}
	var look func(v reflect.Value, top bool)
	look = func(v reflect.Value, top bool) {
		switch v.Kind() {
		case reflect.Pointer, reflect.Interface:
			if v.IsNil() {
				return
			}
			if n, ok := v.Interface().(ast.Node); ok {
				out[n.Span()]++
				return
			}
			look(v.Elem(), false)
		case reflect.Slice:
			for i := range v.Len() {
				look(v.Index(i), false)
			}
		case reflect.Struct:
			if !top && v.CanInterface() {
				if n, ok := v.Interface().(ast.Node); ok {
					if !n.Span().IsZero() {
						out[n.Span()]++
					}
					return
				}
			}
			for i := range v.NumField() {
				if f := v.Type().Field(i); f.IsExported() {
					look(v.Field(i), false)
				}
			}
		}
	}
	look(v, true)
	return out
}

// Walk leaves out what is below a node where it is told to.
func TestWalkLeavesOut(t *testing.T) {
	f, _ := parse.File(source.New("t.fore", []byte("panel a { x = 1 + 2 }\ny = 3")))
	numbers := 0
	asttest.Walk(f, func(n ast.Node) bool {
		if _, ok := n.(*ast.Number); ok {
			numbers++
		}
		_, isBlock := n.(*ast.Block)
		return !isBlock
	})
	if numbers != 1 {
		t.Errorf("%d numbers outside blocks, want 1", numbers)
	}
}
