package job

import (
	"path/filepath"

	"foredge/cmd/internal/cost"
	"foredge/cmd/internal/cutplan"
	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/layout"
)

// files makes the files of the sheets, and the page that shows them.
func (r *run) files(laid *layout.Laid, wanted []cutplan.Wanted) {
	suffixes := driver.Suffixes(laid.Sheets)
	var sheets []driver.Sheet
	for i, s := range laid.Sheets {
		title := r.job.Name
		if suffixes[i] != "" {
			title += ", " + suffixes[i][1:]
		}
		s.Outer.Title = title
		r.stocks.run(s.Outer)
		if s.Inside != nil {
			s.Inside.Title = title + " (inside)"
			r.stocks.run(s.Inside)
			sheets = append(sheets, driver.Sheet{Suffix: suffixes[i] + driver.InsideSuffix, Inside: true, Drawing: s.Inside.Scaled()})
		}
		sheets = append(sheets, driver.Sheet{Suffix: suffixes[i], Drawing: s.Outer.Scaled()})
	}
	sheets = r.session.Sequenced(r.ctx, sheets, r.opts.Options)
	path := func(suffix, ext string) string { return r.opts.Path(r.result.Design, suffix, ext) }
	cut, err := driver.Encode(sheets, r.opts.Encoders, "job "+r.job.Name, r.result.Origin, path)
	if err != nil {
		r.result.Err = err
		return
	}
	p := r.plan(laid, wanted, sheets, suffixes)
	page := disk.File{Path: path("", driver.PageExt), Data: export.Mark(p.Page(), r.result.Origin)}
	r.result.Files, r.result.Plan, r.result.Page = append(cut, page), p, filepath.Base(page.Path)
}

// plan is what lies on the sheets, which are run in the order of the files.
func (r *run) plan(laid *layout.Laid, wanted []cutplan.Wanted, sequenced []driver.Sheet, suffixes []string) *cutplan.Plan {
	p := &cutplan.Plan{Title: r.job.Name, Unit: r.own.Unit}
	for i := range r.lots {
		p.Lots = append(p.Lots, r.lots[i].Lot)
	}
	what := cutplan.Laid{Laid: laid, Of: wanted}
	for i, s := range laid.Sheets {
		names := cutplan.Names{Sheet: filepath.Base(r.opts.Path(r.result.Design, suffixes[i], "")), Outer: r.names(suffixes[i])}
		var inside *layout.Drawing
		if s.Inside != nil {
			names.Insides = r.names(suffixes[i] + driver.InsideSuffix)
			inside, sequenced = sequenced[0].Drawing, sequenced[1:]
		}
		what.Names = append(what.Names, names)
		what.Runs = append(what.Runs, cost.RunOf(s.Stock, sequenced[0].Drawing, inside))
		sequenced = sequenced[1:]
	}
	p.Add(what)
	return p
}

// names are how the files of one side of a sheet are called.
func (r *run) names(suffix string) (files []string) {
	for _, enc := range r.opts.Encoders {
		if !enc.Picture() {
			files = append(files, filepath.Base(r.opts.Path(r.result.Design, suffix, enc.Extension())))
		}
	}
	return files
}
