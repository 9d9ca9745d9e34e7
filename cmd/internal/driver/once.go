package driver

import (
	"regexp"
	"slices"
	"strings"
	"sync"

	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/source"
)

// mostPlaces is how many places of a name that means nothing are shown.
const mostPlaces = 3

// Once leaves out of what was found in a design what one slip makes told several
// times: of a panel and of those that mirror it or are like it, of all that a line
// is brought along to, of each line that speaks of a name which means nothing.
func Once(tree *ast.File, found diag.List) diag.List {
	o := alike{place: map[string]int{}, root: map[string]string{}, heads: map[source.Span]string{}}
	for i, s := range tree.Stmts {
		if d, ok := s.(*ast.Decl); ok && d.Name.Name != "" {
			o.declare(d, i)
		}
	}
	type trouble struct {
		severity      diag.Severity
		code          diag.Code
		at            source.Span
		message, help string
	}
	found = withoutFollowers(found)
	found.Sort()
	told := map[trouble]int{} // the place in out
	var out diag.List
	open := map[string][]map[string]bool{} // by each of their names
	for _, d := range found {
		if d.Code == "open" {
			names := o.names(d.Message)
			if slices.ContainsFunc(open[anyOf(names)], func(all map[string]bool) bool { return allIn(names, all) }) {
				continue // a panel that is like another leaves the same open
			}
			for n := range names {
				open[n] = append(open[n], names)
			}
		}
		keys := []trouble{{d.Severity, d.Code, d.Span, o.without(d.Message), ""}}
		if d.Code == "unknown-name" {
			keys[0] = trouble{d.Severity, d.Code, source.Span{}, d.Message, d.Help}
		}
		if head, ok := o.heads[d.Span]; ok {
			keys = append(keys, trouble{d.Severity, d.Code, source.Span{}, head + o.rooted(d.Message), o.rooted(d.Help)})
		}
		before := -1
		for _, k := range keys {
			if i, ok := told[k]; ok && before < 0 {
				before = i
			}
		}
		if before < 0 {
			for _, k := range keys {
				told[k] = len(out)
			}
			out = append(out, d)
			continue
		}
		switch first := out[before]; {
		case d.Code == "unknown-name":
			if d.Span != first.Span && len(first.Notes) < mostPlaces {
				first.Note(d.Span, "it stands here too")
			}
		case slices.Compare(o.places(d.Message), o.places(first.Message)) < 0:
			out[before] = d // of what is declared first
		}
	}
	return out
}

// withoutFollowers leaves out a warning of a width of cut that is none, where it is so
// wide that something can't be cut: that says enough.
func withoutFollowers(found diag.List) diag.List {
	if !slices.ContainsFunc(found, func(d *diag.Diagnostic) bool { return d.Code == "kerf" && d.Severity == diag.Error }) {
		return found
	}
	return slices.DeleteFunc(slices.Clone(found), func(d *diag.Diagnostic) bool { return d.Code == "odd-kerf" })
}

// alike knows what things of a file's top bring along from one another.
type alike struct {
	place map[string]int    // of each in the file
	root  map[string]string // what each mirrors or is like in the end
	heads map[source.Span]string
}

func (o *alike) declare(d *ast.Decl, i int) {
	name := d.Name.Name
	if _, twice := o.place[name]; twice {
		return
	}
	o.place[name], o.root[name] = i, name
	for _, c := range d.Clauses {
		n, ok := c.Target.(*ast.Name)
		if w := c.Word.Name; !ok || w != "mirrors" && w != "like" {
			continue
		}
		if root, known := o.root[n.Dotted()]; known {
			o.root[name] = root
		}
	}
	o.heads[d.Kind.At.To(d.Name.At)] = o.root[name]
}

// dotted is a name in a message: what begins it is the name of a thing at the top.
var dotted = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`[\pL][\pL\pN-]*(\.[\pL\pN-]+)*`) })

// firstPart is the part of such a name that comes before its first dot.
func firstPart(name string) string {
	first, _, _ := strings.Cut(name, ".")
	return first
}

func (o *alike) replace(text string, by func(name string) string) string {
	return dotted().ReplaceAllStringFunc(text, func(n string) string {
		first := firstPart(n)
		if _, known := o.place[first]; !known {
			return n
		}
		return by(first) + n[len(first):]
	})
}

// names are the dimensions of which a message speaks, as those of what each thing
// mirrors or is like.
func (o *alike) names(text string) map[string]bool {
	all := map[string]bool{}
	for _, n := range dotted().FindAllString(o.rooted(text), -1) {
		if _, known := o.place[firstPart(n)]; known {
			all[n] = true
		}
	}
	return all
}

// anyOf is the first of some names.
func anyOf(names map[string]bool) string {
	first := ""
	for n := range names {
		if first == "" || n < first {
			first = n
		}
	}
	return first
}

// allIn reports whether a set that isn't empty lies in another.
func allIn(names, all map[string]bool) bool {
	for n := range names {
		if !all[n] {
			return false
		}
	}
	return len(names) > 0
}

// without is a message without the names of the things at the top.
func (o *alike) without(text string) string {
	return o.replace(text, func(string) string { return "" })
}

// rooted is a message that speaks of what each thing mirrors or is like.
func (o *alike) rooted(text string) string {
	return o.replace(text, func(n string) string { return o.root[n] })
}

// places are those of the things of which a message speaks, in its order.
func (o *alike) places(text string) (list []int) {
	for _, n := range dotted().FindAllString(text, -1) {
		if i, ok := o.place[firstPart(n)]; ok {
			list = append(list, i)
		}
	}
	return list
}

// inPlace leaves out what was found where things stand in the wrong braces.
func inPlace(tree *ast.File, found diag.List) diag.List {
	if tree.Astray.File == nil {
		return found
	}
	return slices.DeleteFunc(found, func(d *diag.Diagnostic) bool {
		return d.Span.File == tree.Astray.File && d.Span.Start >= tree.Astray.Start
	})
}
