package resolve

import (
	"foredge/lang/ast"
	"foredge/lang/lookalike"
	"foredge/lang/source"
)

// A look is how a name looks to a person or a disk, at one place.
type look struct {
	in   *Thing // nil at the top of a file
	file *source.File
	key  string
}

// A looked is a name that looks so.
type looked struct {
	name  ast.Ident
	thing bool
}

// looks tells of a name that has letters of two alphabets, and of one that can't be
// told from another of its place: by nobody, or, if both are things and files may be
// called after them, by a disk that takes capitals and small letters for one.
func (r *resolver) looks(name ast.Ident, m member, in *Thing) {
	if mix := lookalike.Mixed(name.Name); mix != "" {
		r.diags.Warnf("mixed-alphabets", name.At, "the name %q has letters of two alphabets: %s", name.Name, mix).
			WithHelp("type it again in one of them, so that whoever reads it can write it")
	}
	key := look{in, name.At.File, lookalike.Key(name.Name)}
	before, there := r.seen[key]
	if !there {
		r.seen[key] = looked{name, m.thing != nil}
		return
	}
	switch {
	case lookalike.Composed(before.name.Name) == lookalike.Composed(name.Name):
		r.diags.Warnf("names-alike", name.At, "two names read %q here, but their accents are written differently: %+q and %+q", lookalike.Composed(name.Name), before.name.Name, name.Name).
			Note(before.name.At, "the first is here").WithHelp("give one of them another name; if they are to be one, write it the same way")
	case before.thing && m.thing != nil:
		r.diags.Warnf("names-alike", name.At, "only capitals tell %q from %q, and many disks take them for one name", name.Name, before.name.Name).
			Note(before.name.At, "the first is here").WithHelp("give one of them another name: files may be called after it")
	}
}
