package resolve

import (
	"foredge/eval/kind"
	"foredge/lang/ast"
	"foredge/lang/spell"
)

// idleTemplates reports what belongs in a panel but stands at the top of the
// file that is built, and nothing is like it: it would be passed over in
// silence. A file that makes no panels and no cases is one for others to use.
func (r *resolver) idleTemplates() {
	liked, makes := map[*Thing]bool{}, false
	inIdle := r.likedInIdle()
	var note func(list []*Thing)
	note = func(list []*Thing) {
		for _, t := range list {
			liked[t.Like] = true
			note(t.Children)
		}
	}
	for _, f := range r.info.All {
		note(f.Things)
	}
	for _, t := range r.info.Main.Things {
		makes = makes || t.Kind.ID == kind.Panel || t.Kind.ID == kind.Case
	}
	for _, t := range r.info.Main.Things {
		if makes && t.Kind.Template && !liked[t] && !inIdle[t.Name] {
			r.diags.Errorf("misplaced", t.At, "%s can't be on its own: %s belongs in a %s", t.Name, t.Kind.One(), spell.Or(kind.Words(t.Kind.Within...))).
				WithHelp("put it in the braces of a %s, or let one there be like it, as in %s other like %s", t.Kind.Within[0], t.Kind.Name, t.Name)
		}
	}
}

// likedInIdle names all that things which aren't there this time, or something in them, are like.
func (r *resolver) likedInIdle() map[string]bool {
	names := map[string]bool{}
	for _, t := range r.info.Idle {
		ast.Walk(t.Decl, func(n ast.Node) bool {
			if d, ok := n.(*ast.Decl); ok {
				for _, c := range d.Clauses {
					if name, ok := c.Target.(*ast.Name); ok {
						names[name.Parts[0].Name] = true
					}
				}
			}
			return true
		})
	}
	return names
}
