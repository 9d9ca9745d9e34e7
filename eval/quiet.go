package eval

import (
	"slices"

	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/diag/codes"
	"foredge/lang/spell"
)

// quietWords are the codes of what a design may silence. Errors are not among
// them.
func quietWords() []string {
	return codes.Quiet()
}

// A Quiet lists what is not to be told of a thing, by its code.
type Quiet []diag.Code

// Has reports whether a warning is silenced.
func (q Quiet) Has(code diag.Code) bool { return slices.Contains(q, code) }

// silence is how a warning about a panel ends that can be silenced.
func silence(code diag.Code) string {
	return "; quiet = " + string(code) + " in the panel silences this"
}

// quietLine checks `quiet = thin-web, small-part`.
func (b *builder) quietLine(p prop) {
	values, _, _ := unwrap(p.value)
	for _, e := range values {
		n, ok := e.(*ast.Name)
		if ok && contains(quietWords(), n.Dotted()) {
			continue
		}
		d := b.diags.Errorf("quiet", e.Span(), "%s is no warning that can be silenced", short(e.Span()))
		if ok {
			if near := spell.Nearest(n.Dotted(), quietWords()); near != "" {
				d.WithHelp("did you mean %s?", near)
				continue
			}
		}
		d.WithHelp("the warning itself says its name, as in quiet = thin-web")
	}
}

// quietOf is what is not to be told of a thing: what it says itself, and what
// holds for all that is cut from its stock, laid in its spread or cut on the
// laser.
func (s *Solution) quietOf(it *item) Quiet {
	var q Quiet
	for _, from := range []*item{s.laser, it.spread, it.stock, it} {
		if from == nil {
			continue
		}
		p, ok := from.props["quiet"]
		if !ok {
			continue
		}
		values, _, _ := unwrap(p.value)
		for _, e := range values {
			if n, ok := e.(*ast.Name); ok {
				q = append(q, diag.Code(n.Dotted()))
			}
		}
	}
	return q
}
