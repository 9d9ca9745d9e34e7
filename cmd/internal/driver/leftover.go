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
// Of a file that states jobs those are taken away of jobs that it doesn't state any more.
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
		if !e.Type().IsRegular() || now[lookalike.Key(e.Name())] || !opts.inFormat(e.Name()) || r.Jobs == nil && !isOf(r.Design, e.Name()) {
			continue
		}
		path := filepath.Join(folder, e.Name())
		ours, another := false, false
		removed := disk.Remove(ctx, path, func(data []byte) bool {
			of, ok := export.OriginOf(data)
			if r.Jobs != nil {
				ours = ok && r.ofGoneJob(of, e.Name())
				return ours
			}
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

// isOf reports whether a file is called as those of a design.
func isOf(design, name string) bool {
	stem := lookalike.Key(strings.TrimSuffix(name, filepath.Ext(name)))
	ours := lookalike.Key(Name(design))
	return stem == ours || strings.HasPrefix(stem, ours+"-")
}

// PageExt is how the name of a page ends, which goes with cut files of any format.
const PageExt = ".html"

// inFormat reports whether a file is in a format that is written now.
func (o Options) inFormat(name string) bool {
	end := filepath.Ext(name)
	return strings.EqualFold(end, PageExt) || slices.ContainsFunc(o.Encoders, func(e export.Encoder) bool { return strings.EqualFold(e.Extension(), end) })
}

// ofGoneJob reports whether a file was made for a job that this file stated and doesn't any
// more, and is still called as that job's are.
func (r *Result) ofGoneJob(of export.Origin, name string) bool {
	job, is := strings.CutPrefix(of.Design, jobBegins)
	return is && of.Made == r.Origin.Made && of.In == Name(r.Design) && isOf(job+disk.DesignExt, name) &&
		!slices.ContainsFunc(r.Jobs, func(d string) bool { return lookalike.Key(d) == lookalike.Key(of.Design) })
}

// jobBegins begins what files of a job say that they were made of.
const jobBegins = "job "

// JobOrigin is what the files of a job of a file say of where they come from.
func JobOrigin(job, file string) export.Origin {
	return export.Origin{Design: jobBegins + job, Made: JobMade, In: Name(file)}
}

// JobMade is by which command these are made.
const JobMade = "job"
