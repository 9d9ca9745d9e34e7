package driver

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"foredge/cmd/internal/disk"
	"foredge/export"
	"foredge/lang/diag"
	"foredge/lang/lookalike"
	"foredge/lang/source"
	"foredge/lang/spell"
)

// LeftOver takes away files of earlier builds of a design that its build doesn't make any
// more, such as those of a panel that is gone or has another name, and tells of them. Only
// files count that stand as foredge made them of a design of that name, by the same command
// and in a format that is written now. One that may be of another design of that name stays.
func (s *Session) LeftOver(ctx context.Context, r *Result, opts Options) (diags diag.List) {
	if !r.OK() {
		return nil
	}
	folder := opts.Dir(r.Design)
	entries, _ := os.ReadDir(folder) // none if it isn't there
	now := map[string]bool{}
	for _, f := range r.Files {
		now[lookalike.Key(filepath.Base(f.Path))] = true
	}
	var gone, stay []string
	for _, e := range entries {
		if !e.Type().IsRegular() || now[lookalike.Key(e.Name())] || !opts.mayMake(r.Design, e.Name()) {
			continue
		}
		path := filepath.Join(folder, e.Name())
		ours, another := false, false
		removed := disk.Remove(ctx, path, func(data []byte) bool {
			of, ok := export.OriginOf(data)
			ours = ok && of.Made == r.Origin.Made && lookalike.Key(of.Design) == lookalike.Key(r.Origin.Design)
			another = Another(of, r.Origin)
			return ours && !another
		})
		switch {
		case removed:
			gone = append(gone, fmt.Sprintf("%q", path))
		case ours:
			stay = append(stay, fmt.Sprintf("%q", path))
		}
	}
	tell := func(files []string, one, many, help string) {
		switch len(files) {
		case 0:
		case 1:
			diags.Warnf("earlier-build", source.Span{}, "%s is of an earlier build, and this one doesn't make it%s", spell.And(files), one).WithHelp("%s", help)
		default:
			diags.Warnf("earlier-build", source.Span{}, "%s are of earlier builds, and this one doesn't make them%s", spell.And(files), many).WithHelp("%s", help)
		}
	}
	tell(gone, ": it is taken away", ": they are taken away", "if one is still wanted, build it from the design as it was, into another folder")
	tell(stay, "", "", "remove what isn't wanted any more, so that it isn't cut by mistake")
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
