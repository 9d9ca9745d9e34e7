package resolve

import (
	"foredge/eval/kind"
	"foredge/lang/ast"
	"foredge/lang/diag"
)

// lookup finds a name at the top of the file or of one that it uses. Of several
// meanings it reports the second, and gives the first.
func (f *File) lookup(n *ast.Name) (member, *diag.Diagnostic) {
	if m, ok := f.members[n.Parts[0].Name]; ok {
		return m, nil
	}
	return f.used(n)
}

// used finds a name at the top of the files that this one uses. What a maker
// wrote wins over the shelf.
func (f *File) used(n *ast.Name) (member, *diag.Diagnostic) {
	if len(f.Uses) == 0 {
		return member{}, nil
	}
	var own, shelf []member
	f.gather(n.Parts[0].Name, map[*File]bool{}, func(m member, in *File) {
		if in.Shelf {
			shelf = append(shelf, m)
		} else {
			own = append(own, m)
		}
	})
	found := own
	if len(own) == 0 {
		found = shelf
	}
	switch len(found) {
	case 0:
		return member{}, nil
	case 1:
		return found[0], nil
	}
	var l diag.List
	return found[0], l.Errorf("two-meanings", n.Span(), "%q could be either of two things that this file uses", n.Parts[0].Name).
		Note(found[0].at, "this one").Note(found[1].at, "or this one").
		WithHelp("declare one of that name in this file: a file's own name wins")
}

// gather visits what a name means in the files that this one uses, or that they
// use where they have none of that name, each once.
func (f *File) gather(name string, seen map[*File]bool, visit func(m member, in *File)) {
	for _, u := range f.Uses {
		if seen[u] {
			continue
		}
		seen[u] = true
		if m, ok := u.members[name]; ok {
			visit(m, u)
			continue
		}
		u.gather(name, seen, visit)
	}
}

// Visible finds all things of a kind that the file and those it uses hold at
// their top, own ones first.
func (f *File) Visible(k kind.ID) []*Thing {
	var found []*Thing
	f.reach(func(f *File) {
		for _, t := range f.Things {
			if t.Kind.ID == k {
				found = append(found, t)
			}
		}
	})
	return found
}

// Nearest finds the things of a kind at the top of the file or, where it has none,
// at the top of those that it uses, by the same rule: a file's own win over those of
// the files that it uses.
func (f *File) Nearest(k kind.ID) []*Thing {
	var found []*Thing
	seen := map[*File]bool{}
	var look func(f *File)
	look = func(f *File) {
		if seen[f] {
			return
		}
		seen[f] = true
		before := len(found)
		for _, t := range f.Things {
			if t.Kind.ID == k {
				found = append(found, t)
			}
		}
		if len(found) > before {
			return
		}
		for _, u := range f.Uses {
			look(u)
		}
	}
	look(f)
	return found
}

// reach visits the file and all that it uses, directly or by way of others,
// each once.
func (f *File) reach(visit func(*File)) {
	seen := map[*File]bool{}
	var walk func(f *File)
	walk = func(f *File) {
		if seen[f] {
			return
		}
		seen[f] = true
		visit(f)
		for _, u := range f.Uses {
			walk(u)
		}
	}
	walk(f)
}
