package rename

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"foredge/cmd/internal/driver"
	"foredge/lang/diag"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// A Refusal says in a maker's words why a name isn't changed.
type Refusal struct{ Message string }

func (r *Refusal) Error() string { return r.Message }

func refuse(format string, args ...any) error { return &Refusal{fmt.Sprintf(format, args...)} }

// Rename says whether what was found may be called name. The error is a [*Refusal], or
// that of ctx.
func (b *Bench) Rename(ctx context.Context, f *Found, name string) error {
	switch {
	case !isName(name):
		return refuse("%q can't be a name: a name is made of letters and digits, with hyphens between them", name)
	case name == f.Name:
		return nil
	case f.shelf && len(f.Declared) > 0:
		return refuse("%s takes the place of what the shelf calls %s, which can't be changed: with another name it would stand beside it", f.Name, f.Name)
	case f.shelf:
		return refuse("%s is a name of the shelf, which can't be changed", f.Name)
	}
	if err := f.unread(); err != nil {
		return err
	}
	after, err := b.session(f.renamed(name))
	if err != nil {
		return err
	}
	before, err := b.session(nil)
	if err != nil {
		return err
	}
	for _, d := range f.designs {
		if !f.touches(d) {
			continue
		}
		t := &trial{found: f, name: name, before: d, after: read(ctx, after, d.path)}
		if err := t.hold(ctx, before, after); err != nil {
			return err
		}
		if err := ctx.Err(); err != nil {
			return err
		}
	}
	return ctx.Err()
}

// isName reports whether a text is one name.
func isName(text string) bool {
	t := parse.Tokens(source.New("", []byte(text)))
	return len(t) == 1 && t[0].Kind == parse.Word && t[0].End == len(text) && !strings.Contains(text, "_")
}

// touches reports whether a design is made of a file in which something is renamed.
func (f *Found) touches(d *reading) bool {
	return slices.ContainsFunc(f.Places, func(p Place) bool { return d.files[p.Path] != nil })
}

// renamed are the texts of the files with another name.
func (f *Found) renamed(name string) map[string]string {
	texts := map[string]string{}
	for _, p := range slices.Backward(f.Places) { // so that places before stay as they are
		text, begun := texts[p.Path]
		if !begun {
			text = f.file(p.Path).Text()
		}
		texts[p.Path] = text[:p.Start] + name + text[p.End:]
	}
	return texts
}

// file is a file that one of the designs is made of.
func (f *Found) file(path string) *source.File {
	for _, d := range f.designs {
		if file := d.files[path]; file != nil {
			return file
		}
	}
	return nil
}

// unread refuses where the name stands in a text that can't be read as a whole, in a
// place of which nothing is known.
func (f *Found) unread() error {
	for _, d := range f.designs {
		if !f.touches(d) {
			continue
		}
		for path, file := range d.files {
			tree, _ := parse.File(file)
			if !tree.Broken {
				continue
			}
			for _, t := range parse.Tokens(file) {
				if t.Kind != parse.Word || file.Text()[t.Start:t.End] != f.Name {
					continue
				}
				if _, known := d.index.At(file, t.Start); !known {
					return refuse("%s has an error, so it can't be told what %s stands for in line %d of it; mend it first", filepath.Base(path), f.Name, file.LineNumber(t.Start))
				}
			}
		}
	}
	return nil
}

// faults counts the errors of a design.
func faults(l diag.List) map[string]int {
	n := map[string]int{}
	for _, e := range l {
		if e.Severity == diag.Error {
			n[faultKey(e)]++
		}
	}
	return n
}

func faultKey(d *diag.Diagnostic) string { return fmt.Sprint(d.Code, d.Span.File != nil) }

// newFault is the first error of a design that it hadn't before; nil if there is none.
func newFault(before, after *driver.Result) *diag.Diagnostic {
	now := faults(before.Diagnostics)
	for _, e := range after.Diagnostics {
		if e.Severity != diag.Error {
			continue
		}
		if now[faultKey(e)]--; now[faultKey(e)] < 0 {
			return e
		}
	}
	return nil
}
