package job

import (
	"cmp"
	"context"
	"path/filepath"
	"slices"

	"foredge/cmd/internal/cutplan"
	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/eval"
	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/layout"
	"foredge/layout/advise"
	"foredge/layout/sheet"
)

// Options say how jobs are made.
type Options struct {
	driver.Options
	// Progress, if it isn't nil, is told now and then of a job how far the search for few
	// sheets is in one stock, the Group.
	Progress func(job string, p sheet.Progress)
}

// A Result is what became of the file, or of one of its jobs.
type Result struct {
	*driver.Result
	Job  eval.Job
	Plan *cutplan.Plan // nil for the file, and after an error
	Page string        // how the file of its page is called
}

// run is one job at work.
type run struct {
	ctx     context.Context
	opts    Options
	session *driver.Session
	reader  *driver.Reader
	file    *source.File   // in which the job stands
	own     *design.Design // what else stands there: stocks and a laser
	job     eval.Job
	result  *Result

	gatherings []*gathering
	lots       []lot
	gathered   bool // all of them
	stocks     shelf
	grained    map[*design.Stock]source.Span // where another design says how the grain of a stock runs
	wood       wood                          // which the jobs before this one have taken
	called     *[]called                     // the stocks that they and this one cut
	laser      maybe.Of[design.Laser]        // of the first design, whose colours are those of all
	hazards    []string
	caution    bool // some part is to be cut with a caution
}

// Make makes all jobs of a file. The first result is that of the file itself and has no
// files; the others, in the order of the text, are those of its jobs, and there are none if
// something is wrong in the file.
func Make(ctx context.Context, session *driver.Session, file string, opts Options) []*Result {
	own := session.Solve(ctx, file)
	if !own.OK() {
		return []*Result{{Result: own}}
	}
	own.Origin.Made = driver.JobMade // nothing here is of a build, and it takes none of its files away
	solved := own.Solution.Design()
	jobs := own.Prepared.Jobs()
	switch {
	case len(jobs) == 0:
		own.Diagnostics.Errorf("no-job", source.Span{File: own.Prepared.File()}, "this file states no job").
			WithHelp(`say which designs it makes, as in job market-day { make "harbour-log.fore" { copies = 12 } }; or use foredge build`)
	case len(solved.Panels) > 0:
		notOwn(own, "panel", solved.Panels[0].Name, solved.Panels[0].At)
	case len(solved.Cases) > 0:
		notOwn(own, "case", solved.Cases[0].Name, solved.Cases[0].At)
	case own.Prepared.HasOrders():
		own.Diagnostics.Errorf("job-own", source.Span{File: own.Prepared.File()}, "this file names a table of orders, which its job doesn't make").
			WithHelp("a design names its orders, and the job the design")
	}
	results, taken := []*Result{{Result: own}}, wood{}
	var shelves []*shelf // of all jobs
	var names []called   // of all stocks that these cut
	known := true        // all that these cut from
	if !own.OK() {
		return results
	}
	for _, j := range jobs {
		r := &run{ctx: ctx, opts: opts, session: session, own: solved, job: j, stocks: newShelf(solved), wood: taken, called: &names,
			// Its files go where those of a design of its name beside the file would.
			result: &Result{Job: j, Result: &driver.Result{Design: filepath.Join(filepath.Dir(file), j.Name+disk.DesignExt)}}}
		r.stocks.before = slices.Clone(shelves)
		r.result.Origin = driver.JobOrigin(j.Name, file)
		own.Jobs = append(own.Jobs, r.result.Origin.Design)
		fault := driver.Guard("making the job "+j.Name, func() { r.make(file) })
		if fault != nil {
			r.result.Err = fault
		}
		if r.reader != nil {
			r.result.Inputs = r.reader.Inputs()
		}
		if !r.result.OK() {
			r.result.Files, r.result.Plan = nil, nil
		}
		r.result.Diagnostics.Sort()
		results = append(results, r.result)
		shelves, known = append(shelves, &r.stocks), known && r.gathered
	}
	if last := results[len(results)-1]; known {
		unspoken(&last.Diagnostics, solved, shelves)
		last.Diagnostics.Sort()
	}
	return results
}

func notOwn(r *driver.Result, kind, name string, at source.Span) {
	r.Diagnostics.Errorf("job-own", at, "%s %s stands in the file of a job, which doesn't make it", kind, name).
		WithHelp(`move it into a file of its own and name that in the job, as in make "%s%s"`, name, disk.DesignExt)
}

func (r *run) diags() *diag.List { return &r.result.Diagnostics }

// make makes the job's files.
func (r *run) make(file string) {
	if r.reader, r.file, r.result.Err = r.session.Open(file); r.result.Err != nil {
		return
	}
	for i := range r.job.Makes {
		r.gather(i)
		if r.result.Err = r.ctx.Err(); r.result.Err != nil {
			return
		}
	}
	if r.draw(); r.ctx.Err() != nil {
		r.result.Err = r.ctx.Err()
		return
	}
	r.gathered = !r.diags().HasErrors()
	r.stocks.settle(r.diags())
	if r.diags().HasErrors() {
		return
	}
	var doing layout.Doing
	for i := range r.lots {
		l := &r.lots[i]
		r.stocks.cutFrom(l.kerfed)
		doing.Add(l.kerfed, l.faces)
	}
	r.checkColours(doing)
	for name, supply := range r.stocks.supplies {
		r.stocks.supplies[name] = r.wood.left(supply)
	}
	laid, wanted := r.lay()
	if laid == nil {
		return
	}
	if r.files(laid, wanted); r.result.OK() {
		r.wood.take(r, laid)
	}
	if r.caution && !r.diags().HasErrors() {
		r.diags().Add(diag.List{advise.CautionOf(r.hazards)})
	}
}

// checkColours warns of what is drawn in one colour on the sheets of all designs, and in none of
// these alone.
func (r *run) checkColours(doing layout.Doing) {
	laser, ok := r.laser.Get()
	if !ok || r.own.Laser.Quiet.Has("same-colour") {
		return
	}
	for _, d := range doing.Clashes(&laser, r.lots[0].kerfed.Colors) {
		if !slices.ContainsFunc(*r.diags(), func(told *diag.Diagnostic) bool { return told.Code == d.Code && told.Message == d.Message }) {
			r.diags().Add(diag.List{d})
		}
	}
}

// lay lays the parts of all lots, and says which cover each drawing is of. It gives nil
// after an error.
func (r *run) lay() (*layout.Laid, []cutplan.Wanted) {
	tally := layout.Tally{}
	for i := range r.lots {
		if err := tally.Add(r.lots[i].kerfed, r.lots[i].copies); err != nil {
			r.diags().Add(driver.NotLaid(err, r.job.At))
			return nil, nil
		}
	}
	var all []cutplan.Wanted
	var what []layout.Wanted
	for i := range r.lots {
		l := &r.lots[i]
		shop := r.stocks.shop(l.shop)
		for copy := range l.copies {
			w := cutplan.Wanted{Lot: i, Name: l.label(copy), Drawing: l.kerfed, Shop: shop}
			all = append(all, w)
			what = append(what, layout.Wanted{Name: w.Name, Drawing: l.kerfed, Faces: l.faces})
		}
	}
	how := layout.Search{Effort: cmp.Or(r.opts.Effort, 1), KeepBest: true}
	if tell := r.opts.Progress; tell != nil {
		how.Progress = func(p sheet.Progress) { tell(r.job.Name, p) }
	}
	laid, err := layout.Lay(r.ctx, what, r.stocks.supplies, how)
	if err != nil {
		found := driver.NotLaid(err, r.job.At)
		r.wood.note(found, err)
		r.diags().Add(found)
		r.result.Err = r.ctx.Err()
		return nil, nil
	}
	if r.ctx.Err() != nil {
		r.diags().Warnf("job-stopped", r.job.At, "the search for fewer sheets was stopped, and what was found by then is made").
			WithHelp("it is whole; make the job again for the usual result")
	}
	for _, u := range laid.Stocks {
		r.diags().Add(driver.Sawn(u, laid, r.own.Unit))
		r.diags().Add(driver.Used(u, r.own.Unit))
		r.diags().Add(driver.NotShared(u))
		r.diags().Add(driver.Unmeant(u, r.own.Unit))
	}
	return laid, all
}
