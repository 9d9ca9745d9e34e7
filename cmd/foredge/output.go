package main

import (
	"flag"
	"slices"
	"strings"

	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/export/dxf"
)

// outputFlags are the flags of the commands that write cut files.
type outputFlags struct {
	folder, formats, dxf string
	each, force          bool
	effort               float64
}

func (o *outputFlags) declare(flags *flag.FlagSet) {
	o.declareForSheets(flags)
	flags.BoolVar(&o.each, "each", false, "write a file for each panel")
}

// declareForSheets declares those of what makes sheets alone.
func (o *outputFlags) declareForSheets(flags *flag.FlagSet) {
	flags.StringVar(&o.folder, "o", "", "write into the folder `DIR`, not into that of the design")
	flags.StringVar(&o.formats, "as", usualFormats(), "write these `FORMATS`, separated by commas: "+formatsHelp())
	flags.BoolVar(&o.force, "force", false, "replace also files that foredge didn't make, that were changed since, or that are of another design")
	flags.Float64Var(&o.effort, "effort", 1, "look `TIMES` as long for fewer sheets: 0.1 to 1000")
	flags.StringVar(&o.dxf, "dxf", "", "write this `KIND` of DXF: r12 (for old controllers), inches, or r12,inches")
}

// usualFormats are those that are written when nothing else is asked for.
func usualFormats() string {
	var names []string
	for _, e := range export.CutFiles(export.Options{}) {
		names = append(names, e.Name())
	}
	return strings.Join(names, ",")
}

// formatsHelp lists all formats; of those that are written only when asked for
// it says what they are for: svg, dxf, or png to look at.
func formatsHelp() string {
	usual := list(usualFormats())
	var words []string
	for _, e := range export.Encoders(export.Options{}) {
		word := e.Name()
		if !slices.Contains(usual, word) {
			word += " " + e.Purpose()
		}
		words = append(words, word)
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + ", or " + words[last]
}

// options turns the flags into what the driver wants.
func (o *outputFlags) options() (driver.Options, error) {
	var kinds export.Options
	for _, kind := range list(o.dxf) {
		switch kind {
		case "r12":
			kinds.DXF.Version = dxf.R12
		case "inches", "in":
			kinds.DXF.Inches = true
		default:
			return driver.Options{}, misused("write r12, inches or both: --dxf r12,inches", "--dxf doesn't know %q", kind)
		}
	}
	if !(o.effort >= 0.1 && o.effort <= 1000) {
		return driver.Options{}, misused("as in --effort 10, which looks ten times as long as usual", "--effort is from 0.1 to 1000")
	}
	opts := driver.Options{Naming: driver.Naming{Folder: o.folder, Each: o.each}, Force: o.force, Effort: o.effort}
	seen := map[string]bool{}
	for _, format := range list(o.formats) {
		enc, err := export.Lookup(format, kinds)
		if err != nil {
			return opts, misused("", "%v", err)
		}
		if !seen[enc.Name()] {
			seen[enc.Name()] = true
			opts.Encoders = append(opts.Encoders, enc)
		}
	}
	if len(opts.Encoders) == 0 {
		return opts, misused("as in --as svg,dxf", "--as names no format")
	}
	return opts, nil
}

// list splits what a person separates by commas.
func list(s string) []string {
	var items []string
	for _, item := range strings.Split(s, ",") {
		if item = strings.ToLower(strings.TrimSpace(item)); item != "" {
			items = append(items, item)
		}
	}
	return items
}
