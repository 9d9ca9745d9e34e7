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
// files go that stand as foredge made them of a design of that name, by the same command
// and in a format that is written now. One that may be of another design of that name stays,
// and so do one that was changed since and one in another format; these are told.
// Of a file that states jobs those are taken away of jobs that it doesn't state any more.
func (s *Session) LeftOver(ctx context.Context, r *Result, opts Options) (diags diag.List) {
	if !r.OK() {
		return nil
	}
	folder := opts.Dir(r.Design)
	entries, _ := os.ReadDir(folder) // none if it isn't there
	now := namesOf(r.Files)
	var found leftOver
	for _, e := range entries {
		written := opts.inFormat(e.Name())
		if !e.Type().IsRegular() || !r.mayHaveLeft(e.Name(), now, written) {
			continue
		}
		path := filepath.Join(folder, e.Name())
		ours, stays := false, &found.another
		removed := disk.Remove(ctx, path, func(data []byte) bool {
			of, unchanged := export.OriginOf(data)
			if r.Jobs != nil {
				ours = r.ofGoneJob(of, e.Name())
			} else {
				ours = of.Made == r.Origin.Made && of.Design != "" && lookalike.Key(of.Design) == lookalike.Key(r.Origin.Design)
			}
			switch {
			case !unchanged:
				stays = &found.changed
			case !written:
				stays = &found.format
			case r.Jobs == nil && Another(of, r.Origin):
				stays = &found.another
			default:
				return ours
			}
			return false
		})
		switch {
		case removed:
			found.gone = append(found.gone, fmt.Sprintf("%q", path))
		case ours:
			*stays = append(*stays, fmt.Sprintf("%q", path))
		}
	}
	found.tell(&diags)
	return diags
}

// A leftOver are files of earlier builds that aren't made any more, as they are named.
type leftOver struct {
	gone    []string // taken away
	another []string // that stay as they may be another design's
	changed []string // that stay as they were changed since
	format  []string // that stay as they are in a format that isn't written now
}

// tell tells of them.
func (l *leftOver) tell(diags *diag.List) {
	tell := func(files []string, one, many, help string) {
		switch len(files) {
		case 0:
		case 1:
			diags.Warnf("earlier-build", source.Span{}, "%s is of an earlier build, and this one doesn't make it%s", spell.And(files), one).WithHelp("%s", help)
		default:
			diags.Warnf("earlier-build", source.Span{}, "%s are of earlier builds, and this one doesn't make them%s", spell.And(files), many).WithHelp("%s", help)
		}
	}
	const remove = "remove what isn't wanted any more, so that it isn't cut by mistake"
	tell(l.gone, ": it is taken away", ": they are taken away", "if one is still wanted, build it from the design as it was, into another folder")
	tell(l.another, "", "", remove)
	tell(l.changed, "; it was changed since, so it stays", "; they were changed since, so they stay", remove+"; give what is wanted a name that doesn't begin with the design's")
	tell(l.format, "; it is in a format that isn't written now, so it stays", "; they are in a format that isn't written now, so they stay", remove)
}

// mayHaveLeft reports whether a file is by its name one of those that an earlier build left.
func (r *Result) mayHaveLeft(name string, now builtNames, written bool) bool {
	if r.Jobs == nil {
		return isOf(r.Design, name) && now.dropped(name, written)
	}
	_, known := now.of(name)
	return !now.files[lookalike.Key(name)] && (known || written)
}

// builtNames are the names of a build's files.
type builtNames struct {
	files map[string]bool
	// looks and cuts are those of pictures and of what is cut from, without their endings.
	looks, cuts map[string]bool
}

func namesOf(files []disk.File) builtNames {
	n := builtNames{map[string]bool{}, map[string]bool{}, map[string]bool{}}
	for _, f := range files {
		name := filepath.Base(f.Path)
		n.files[lookalike.Key(name)] = true
		if same, known := n.of(name); known {
			same[lookalike.Key(withoutEnding(name))] = true
		}
	}
	return n
}

// of are the names of pictures or of what is cut from, of which a file is one by its format;
// not known if it is in none that foredge writes.
func (n builtNames) of(name string) (same map[string]bool, known bool) {
	enc, err := export.Lookup(filepath.Ext(name), export.Options{})
	switch {
	case err != nil:
		return nil, false
	case enc.Picture():
		return n.looks, true
	}
	return n.cuts, true
}

// dropped reports whether a build makes no such file any more. Of one in a format that isn't
// written now that is known where others are written for the same use, and none is called so.
func (n builtNames) dropped(name string, written bool) bool {
	if n.files[lookalike.Key(name)] || written {
		return !n.files[lookalike.Key(name)]
	}
	same, _ := n.of(name)
	return len(same) > 0 && !same[lookalike.Key(withoutEnding(name))]
}

func withoutEnding(name string) string { return strings.TrimSuffix(name, filepath.Ext(name)) }

// isOf reports whether a file is called as those of a design.
func isOf(design, name string) bool {
	stem := lookalike.Key(withoutEnding(name))
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
