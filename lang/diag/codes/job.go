package codes

// refusedJobs is the script that tries what only `foredge job` tells.
const refusedJobs = "testdata/script/job_refused.txtar"

// jobs are the codes of jobs.
func jobs() []Entry { return append(jobTexts(), jobDesigns()...) }

// jobTexts are those of what stands in the file of a job, and of its making.
func jobTexts() []Entry {
	return []Entry{
		{
			Code:  "job-copies",
			Means: "How often a job makes a design isn't written as a whole number from 1 to 1,000.",
			Do:    "Write it out, as in copies = 12.",
			Example: `
job market-day { make "harbour-log.fore" { copies = 0 } }
`,
		},
		{
			Code:  "job-empty",
			Means: "A job names no design.",
			Do:    "Name what it makes, as in make \"harbour-log.fore\" { copies = 12 }.",
			Example: `
job market-day { }
`,
		},
		{
			Code:  "job-line",
			Means: "A job holds designs to make, and these how often, and nothing else.",
			Do:    "Write what else there is outside of its braces.",
			Example: `
job market-day { width = 100 }
`,
		},
		{
			Code:  "job-own",
			Means: "The file of a job declares panels, cases or orders of its own, which the job doesn't make.",
			Do:    "Move them into a file of their own, and name that in the job.",
			Test:  refusedJobs,
		},
		{
			Code: "job-stopped", As: warning(),
			Means: "The search for fewer sheets was stopped, as by Ctrl-C, and the best that was found by then was made, whole.",
			Do:    "Make the job again for the usual result.",
			Test:  "cmd/internal/job.TestJobStopped",
		},
		{
			Code:  "no-job",
			Means: "The file states no job.",
			Do:    "Say which designs it makes, or use foredge build.",
			Test:  refusedJobs,
		},
	}
}

// jobDesigns are those of the designs that a job makes.
func jobDesigns() []Entry {
	return []Entry{
		{
			Code:  "job-file",
			Means: "A design that a job names can't be read.",
			Do:    "Give its path from the file of the job.",
			Test:  refusedJobs,
		},
		{
			Code:  "job-laser",
			Means: "Two designs of a job, or one and the job itself, or two orders that are to lie together, are made for lasers of another scale, kerf, colours or line-width, or two that run otherwise, as by another cut-speed, so their parts can't stand in one file.",
			Do:    "Let both use one file that states the laser, or say in the file of the job how it runs.",
			Test:  refusedJobs,
		},
		{
			Code:  "job-name",
			Means: "Two designs of a job have one name, or one has a name without a letter or a digit: their parts couldn't be told apart.",
			Do:    "Rename one of the files.",
			Test:  refusedJobs,
		},
		{
			Code:  "job-nothing",
			Means: "A design that a job makes declares no panel.",
			Do:    "Name the file that declares them.",
			Test:  refusedJobs,
		},
		{
			Code:  "job-stock",
			Means: "Designs of a job, or its file, or orders that are to lie together, call two things by the name of one stock: another thickness, another material, another size of sheets. Their parts would lie on one sheet.",
			Do:    "Give two stocks two names, or correct one.",
			Test:  refusedJobs,
		},
		{
			Code: "job-stock-unused", As: warning(),
			Means: "The file of a job says how much there is of a stock from which none of its parts is cut.",
			Do:    "Call it as the designs do, or take it out.",
			Test:  refusedJobs,
		},
	}
}
