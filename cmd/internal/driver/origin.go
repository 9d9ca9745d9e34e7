package driver

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"foredge/cmd/internal/disk"
	"foredge/eval/kind"
	"foredge/export"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/lookalike"
	"foredge/lang/source"
	"foredge/lang/spell"
)

// Origin is what the files of a design say of where they come from. It rests on the
// text alone, whichever of its panels an order has.
func Origin(tree *ast.File, design, made string) export.Origin {
	of := export.Origin{Design: Name(design), Made: made}
	for _, s := range tree.Stmts {
		d, ok := s.(*ast.Decl)
		if !ok || d.Name.Name == "" || slices.Contains(of.Panels, d.Name.Name) {
			continue
		}
		if k := kind.Find(d.Kind.Name); k != nil && (k.ID == kind.Panel || k.ID == kind.Case) {
			of.Panels = append(of.Panels, d.Name.Name)
		}
	}
	return of
}

// made is by which command files are made, as their origin says.
func (o Options) made() string {
	switch {
	case o.Card:
		return "card"
	case o.Guide:
		return "guide"
	case o.Jig:
		return "jig"
	case o.Greys:
		return "greys"
	}
	return ""
}

// Another reports whether files of two origins were surely made of two designs: they
// have other names, or no panel of one has a name of the other's. Of what isn't known
// it says nothing. Designs of one name that share the name of a panel can't be told
// from one that was edited.
func Another(a, b export.Origin) bool {
	if a.Design == "" || b.Design == "" {
		return false
	}
	if lookalike.Key(a.Design) != lookalike.Key(b.Design) {
		return true
	}
	shared := func(name string) bool {
		return slices.ContainsFunc(b.Panels, func(other string) bool { return lookalike.Key(other) == lookalike.Key(name) })
	}
	return len(a.Panels) > 0 && len(b.Panels) > 0 && !slices.ContainsFunc(a.Panels, shared)
}

// Differs says in which way the origin of a file is another than that of a design.
func Differs(file, design export.Origin) string {
	if lookalike.Key(file.Design) != lookalike.Key(design.Design) {
		return fmt.Sprintf("it was made of %q, and this design is called %q", source.Plain(file.Design), source.Plain(design.Design))
	}
	return fmt.Sprintf("that one has %s, and this one has %s", list(file.Panels), list(design.Panels))
}

// mostNamed is how many panels a message names.
const mostNamed = 6

func list(names []string) string {
	if len(names) > mostNamed {
		names = append(slices.Clone(names[:mostNamed-1]), fmt.Sprintf("%d more", len(names)-mostNamed+1))
	}
	return spell.And(names)
}

// refuse refuses to replace a file that was made of another design, unless the
// session has made it of this one.
func (s *Session) refuse(r *Result) func(shown string, old []byte) error {
	return func(shown string, old []byte) error {
		of, ok := export.OriginOf(old)
		if !ok || !Another(of, r.Origin) || s.wrote(r, shown, old) {
			return nil
		}
		return &disk.Error{Code: "another-design",
			Message: fmt.Sprintf("%q was made of another design: %s", shown, Differs(of, r.Origin)),
			Hint:    "build into another folder with -o, or rename the design; if it is the same design, write --force once"}
	}
}

// made is a file that a session has written.
type made struct {
	design string
	sum    [sha256.Size]byte
}

// noteWritten notes what a session has written.
func (s *Session) noteWritten(r *Result) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, f := range r.Files {
		s.made[f.Path] = made{r.Design, sha256.Sum256(f.Data)}
	}
}

// wrote reports whether a file holds what the session has written of a design.
func (s *Session) wrote(r *Result, path string, data []byte) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	m, ok := s.made[path]
	return ok && m.design == r.Design && m.sum == sha256.Sum256(data)
}

// Gone reports whether a file of a result that was written isn't there any more as
// it was written.
func (s *Session) Gone(r *Result) bool {
	for _, f := range r.Files {
		if data, err := os.ReadFile(f.Path); err != nil || !bytes.Equal(data, f.Data) {
			return true
		}
	}
	return false
}

// LeftOver tells of files of earlier builds of a design that its build doesn't make
// any more, such as those of a panel that is gone. Only files count that stand as
// foredge made them, by the same command and in a format that is written now. They
// stay.
func (s *Session) LeftOver(r *Result, opts Options) (diags diag.List) {
	if !r.OK() {
		return nil
	}
	folder := opts.Dir(r.Design)
	entries, _ := os.ReadDir(folder) // none if it isn't there
	now := map[string]bool{}
	for _, f := range r.Files {
		now[lookalike.Key(filepath.Base(f.Path))] = true
	}
	var left []string
	for _, e := range entries {
		if !e.Type().IsRegular() || now[lookalike.Key(e.Name())] || !opts.mayMake(r.Design, e.Name()) {
			continue
		}
		path := filepath.Join(folder, e.Name())
		data, _, err := disk.Read(path, path, disk.MaxInput)
		if err != nil {
			continue
		}
		if of, ok := export.OriginOf(data); ok && of.Design != "" && of.Made == r.Origin.Made && !Another(of, r.Origin) {
			left = append(left, path)
		}
	}
	if len(left) == 0 {
		return nil
	}
	quoted := make([]string, len(left))
	for i, path := range left {
		quoted[i] = fmt.Sprintf("%q", path)
	}
	is, it := "is of an earlier build, and this one doesn't make it", "it isn't"
	if len(left) > 1 {
		is, it = "are of earlier builds, and this one doesn't make them", "they aren't"
	}
	diags.Warnf("earlier-build", source.Span{}, "%s %s", list(quoted), is).WithHelp("remove what isn't wanted any more, so that %s cut by mistake", it)
	return diags
}

// mayMake reports whether a file of that name may be one of a design's.
func (o Options) mayMake(design, name string) bool {
	end := filepath.Ext(name)
	stem := lookalike.Key(strings.TrimSuffix(name, end))
	ours := lookalike.Key(Name(design))
	if stem != ours && !strings.HasPrefix(stem, ours+"-") {
		return false
	}
	return slices.ContainsFunc(o.Encoders, func(e export.Encoder) bool { return strings.EqualFold(e.Extension(), end) })
}
