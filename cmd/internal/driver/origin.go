package driver

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"slices"

	"foredge/cmd/internal/disk"
	"foredge/eval/kind"
	"foredge/export"
	"foredge/lang/ast"
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
		return fmt.Sprintf("it was made of %q, and this design is called %q", file.Design, design.Design)
	}
	return fmt.Sprintf("that one has %s, and this one has %s", panels(file), panels(design))
}

func panels(of export.Origin) string {
	names := make([]string, len(of.Panels))
	for i, name := range of.Panels {
		names[i] = source.Plain(name)
	}
	return list(names)
}

// mostNamed is how many panels or files a message names.
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
