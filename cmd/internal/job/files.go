package job

import (
	"cmp"
	"path/filepath"
	"slices"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/layout"
)

// files makes the files of the sheets, and the page that shows them.
func (r *run) files(laid *layout.Laid, wanted []wanted) {
	suffixes := driver.Suffixes(laid.Sheets)
	var sheets []driver.Sheet
	for i, s := range laid.Sheets {
		title := r.job.Name
		if suffixes[i] != "" {
			title += ", " + suffixes[i][1:]
		}
		s.Outer.Title = title
		if s.Inside != nil {
			s.Inside.Title = title + " (inside)"
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
	name := func(suffix string) (files []string) {
		for _, enc := range r.opts.Encoders {
			if !enc.Picture() {
				files = append(files, filepath.Base(path(suffix, enc.Extension())))
			}
		}
		return files
	}
	p := r.page(laid, wanted, func(i int) (sheet string, outer, inside []string) {
		if laid.Sheets[i].Inside != nil {
			inside = name(suffixes[i] + driver.InsideSuffix)
		}
		return filepath.Base(path(suffixes[i], "")), name(suffixes[i]), inside
	})
	r.result.Files = append(cut, disk.File{Path: path("", PageExt), Data: export.Mark(p.html(), r.result.Origin)})
}

// page gathers what the job's page shows; files names a sheet and what it is cut from.
func (r *run) page(laid *layout.Laid, wanted []wanted, files func(i int) (sheet string, outer, inside []string)) *page {
	p := &page{Title: r.job.Name, Unit: r.own.Unit, Uses: laid.Stocks}
	total := 0
	for i, s := range laid.Sheets {
		on := pageSheet{Sheet: s}
		on.Name, on.Files, on.InsideFiles = files(i)
		p.Sheets = append(p.Sheets, on)
		total += len(s.Outer.Parts)
	}
	p.Parts, p.Plain = total, total > mostInDetail
	rows := make([]pageLot, len(r.lots))
	for i := range r.lots {
		l := &r.lots[i]
		rows[i] = pageLot{Title: l.title(), Say: l.say, Copies: l.copies}
	}
	for i, all := range laid.On {
		row := &rows[wanted[i].lot]
		for _, on := range all {
			p.Sheets[on.Sheet].Rows = append(p.Sheets[on.Sheet].Rows, pagePart{Place: on.Place, Part: on.Part, Of: r.lots[wanted[i].lot].ofOrder(), Turned: on.Turned})
			row.Parts++
			if name := p.Sheets[on.Sheet].Name; !slices.Contains(row.Sheets, name) {
				row.Sheets = append(row.Sheets, name)
			}
		}
	}
	for i := range p.Sheets {
		slices.SortFunc(p.Sheets[i].Rows, func(a, b pagePart) int { return cmp.Compare(a.Place, b.Place) })
	}
	p.Lots = rows
	return p
}
