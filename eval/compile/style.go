package compile

import (
	"slices"

	"foredge/eval/kind"
	"foredge/eval/resolve"
	"foredge/lang/diag"
	"foredge/lang/source"
)

// A style is compiled with each panel that is like it, and by itself takes no part
// in a design.

// inStyle reports a line that speaks of a dimension of a style.
func (c *compiler) inStyle(t *resolve.Thing, at source.Span) bool {
	t = t.Top()
	if t.Kind.ID != kind.Style || t == c.trying {
		return false
	}
	c.Diags.Errorf("style", at, "%s is a style, which is drawn nowhere: it has no dimensions of its own", t.Name).
		WithHelp("speak of a panel that is like it")
	return true
}

// idleStyles tells what is wrong in the lines of styles that no panel of the file
// is like, as in a file of shared things.
func (c *compiler) idleStyles() {
	used := c.liked()
	for _, t := range c.info.Main.Things {
		if t.Kind.ID != kind.Style || used[t] {
			continue
		}
		c.tell(slices.DeleteFunc(c.try(t), func(d *diag.Diagnostic) bool { return d.Severity != diag.Error }), nil)
	}
}

// try compiles a style by itself, as if it were a panel, and gives what is wrong in
// its lines and in those of the styles that it is like. What it leaves out a
// panel may state.
func (c *compiler) try(style *resolve.Thing) (wrong diag.List) {
	var diags diag.List
	apart := newCompiler(Input{Info: c.info, Files: c.files, Orders: c.Orders, Order: c.Order}, &diags)
	apart.trying = style
	apart.draft(style)
	apart.stitchesApart()
	c.absent = append(c.absent, apart.absent...)
	missing := map[source.Span]bool{} // told of a thing as a whole
	for _, d := range apart.present {
		missing[d.At] = true
	}
	for _, d := range diags {
		for s := style; s != nil && !missing[d.Span]; s = s.Like {
			if s.Decl.Span().File == d.Span.File && s.Decl.Span().Start <= d.Span.Start && d.Span.End <= s.Decl.Span().End {
				wrong = append(wrong, d)
				break
			}
		}
	}
	return wrong
}
