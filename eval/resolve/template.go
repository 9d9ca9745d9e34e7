package resolve

import (
	"foredge/eval/kind"
	"foredge/lang/spell"
)

// idleTemplates reports what belongs in a panel but stands at the top of the
// file that is built, and nothing is like it: it would be passed over in
// silence. A file that makes no panels and no cases is one for others to use.
func (r *resolver) idleTemplates() {
	if r.decide != nil {
		return // what isn't there this time may be like them
	}
	liked, makes := map[*Thing]bool{}, false
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
		if makes && t.Kind.Template && !liked[t] {
			r.diags.Errorf("misplaced", t.At, "%s can't be on its own: %s belongs in a %s", t.Name, t.Kind.One(), spell.Or(kind.Words(t.Kind.Within...))).
				WithHelp("put it in the braces of a %s, or let one there be like it, as in %s other like %s", t.Kind.Within[0], t.Kind.Name, t.Name)
		}
	}
}
