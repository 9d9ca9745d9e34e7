package compile

import (
	"regexp"
	"strings"

	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/diag"
)

// partsOfArt are the options that give parts of a drawing an operation of their
// own, by colour or by layer: cut-colour = "red"; without-layer = "Guides".
func (m *markReader) partsOfArt(to *[]design.ArtPart) []option {
	var out []option
	add := func(verb string, op word.Operation) {
		for _, layer := range []bool{false, true} {
			name := verb + "-colour"
			if layer {
				name = verb + "-layer"
			}
			out = append(out, option{name, func(p property) bool { return m.partOfArt(name, op, layer, p, to) }})
		}
	}
	for _, op := range word.Operations() {
		add(op.String(), op)
	}
	add("without", 0)
	return out
}

// partOfArt reads one of them: a text, or several.
func (m *markReader) partOfArt(name string, op word.Operation, layer bool, p property, to *[]design.ArtPart) bool {
	values := []ast.Expr{p.value}
	if list, ok := p.value.(*ast.List); ok {
		values = list.Elems
	}
	example := name + ` = "#ff0000", "blue"`
	if layer {
		example = name + ` = "Outline"`
	}
	for _, e := range values {
		wrong := func(code diag.Code) {
			what := "a colour of the drawing"
			if layer {
				what = "a layer of the drawing"
			}
			m.Diags.Errorf(code, e.Span(), "%s is named in quotes", what).WithHelp("as in %s", example)
		}
		v, ok := m.text(property{value: e, line: p.line, scope: p.scope}, wrong)
		if !ok {
			return false
		}
		text := strings.TrimSpace(v.Text)
		switch {
		case text == "":
			m.Diags.Errorf("option", e.Span(), "nothing is named here").WithHelp("as in %s", example)
			return false
		case !layer && !colourOfArt().MatchString(text):
			m.Diags.Errorf("colour", e.Span(), "%q is not a colour", text).WithHelp("write it as the drawing does: a name, or #rrggbb, as in %s", example)
			return false
		}
		for _, other := range *to {
			if other.Layer == layer && strings.EqualFold(other.Name, text) {
				m.Diags.Errorf("option-clash", e.Span(), "%q has an operation already", text).Note(other.At, "here").WithHelp("take one of the two out")
				return false
			}
		}
		*to = append(*to, design.ArtPart{Name: text, Layer: layer, Op: op, At: e.Span()})
	}
	return true
}

// colourOfArt is the form of a colour's name or number.
func colourOfArt() *regexp.Regexp {
	return regexp.MustCompile(`^(#([0-9A-Fa-f]{3}|[0-9A-Fa-f]{6})|[A-Za-z]+)$`)
}
