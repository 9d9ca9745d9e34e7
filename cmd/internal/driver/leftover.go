package driver

import (
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
)

// LeftOver tells of files of earlier builds of a design that its build doesn't make
// any more, such as those of a panel that is gone or has another name. Only files count
// that stand as foredge made them of a design of that name, by the same command and in
// a format that is written now. They stay.
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
		if of, ok := export.OriginOf(data); ok && of.Made == r.Origin.Made && lookalike.Key(of.Design) == lookalike.Key(r.Origin.Design) {
			left = append(left, fmt.Sprintf("%q", path))
		}
	}
	if len(left) == 0 {
		return nil
	}
	is, it := "is of an earlier build, and this one doesn't make it", "it isn't"
	if len(left) > 1 {
		is, it = "are of earlier builds, and this one doesn't make them", "they aren't"
	}
	diags.Warnf("earlier-build", source.Span{}, "%s %s", list(left), is).WithHelp("remove what isn't wanted any more, so that %s cut by mistake", it)
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
