package main

import (
	"bufio"
	"context"
	"flag"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strings"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/glance"
	"foredge/eval"
	"foredge/eval/dim"
	"foredge/eval/relation"
	"foredge/eval/solution"
	"foredge/lang/data"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

func solveCommand() *command {
	return &command{
		name:    "solve",
		follows: designThenName,
		args:    "FILE [NAME]",
		most:    "[--all] [--json] [--why NAME]",
		short:   "show how large things are and where they lie, and why",
		long: "It shows each board, the row of holes in it and what is left over. NAME, as in front.wire or\n" +
			"front.wire.pitch, lists the dimensions of one thing in full, each with the line that gives it,\n" +
			"and --all those of all things, in the unit of the design. u is a standard uncertainty: the\n" +
			"readings leave the dimension open by twice that, 95 times in a hundred. With --json it is data;\n" +
			"lengths are in mm, to 1e-9. What is known is shown too where a dimension stays open or readings\n" +
			"contradict each other.",
		setup: func(flags *flag.FlagSet) runner {
			asked := question{}
			flags.BoolVar(&asked.json, "json", false, "print all dimensions as JSON (and errors too, on standard error)")
			flags.BoolVar(&asked.all, "all", false, "list every dimension, in full")
			flags.StringVar(&asked.why, "why", "", "tell how the dimension `NAME`, or those of the thing NAME, came to its value")
			return func(ctx context.Context, t *terminal, args []string) int {
				if len(args) == 0 {
					return t.fail(misused("as in foredge solve harbour-log.fore", "solve works on one design at a time, and none is named"))
				}
				asked.names = args[1:]
				if err := asked.clash(); err != nil {
					return t.fail(err)
				}
				r := driver.NewSession(t.stdin).Solve(ctx, args[0], asked.dimensions()...)
				status := t.report(t.stderr, []*driver.Result{r}, asked.json)
				if status != done && !partly(r) {
					return status
				}
				w := bufio.NewWriter(t.stdout)
				defer w.Flush()
				if err := asked.answer(w, r); err != nil {
					return t.fail(err)
				}
				return status
			}
		},
	}
}

// A question is what of a solved design is asked for.
type question struct {
	json, all bool
	why       string
	names     []string // of things or dimensions
}

// clash says which parts of a question don't go together.
func (q question) clash() error {
	switch {
	case len(q.names) > 1:
		return misused("name one: foredge solve FILE front.wire", "solve works on one design and shows one thing of it at a time, and %d follow the design", len(q.names))
	case len(q.names) == 1 && strings.HasSuffix(q.names[0], ".fore"):
		return misused("as in foredge solve harbour-log.fore", "solve works on one design at a time, and 2 are named")
	case q.json && q.why != "":
		return misused("leave one of them out", "--why prints text and --json data")
	case q.json && len(q.names) > 0:
		return misused("leave the name out: the data holds all dimensions", "--json prints all dimensions, not one thing's")
	case q.all && (q.json || q.why != "" || len(q.names) > 0):
		return misused("leave --all out", "--all lists every dimension as text, and something else is asked for too")
	case q.why != "" && len(q.names) > 0:
		return misused("leave one of them out", "both --why and %s ask for one thing", q.names[0])
	}
	return nil
}

// dimensions are those that are asked for. A member of a field has only those of
// which somebody speaks, so that all of one that is asked for are named.
func (q question) dimensions() (all []string) {
	for _, name := range append(q.names, q.why) {
		all = append(all, name)
		if regexp.MustCompile(`\.\d+\.\d+$`).MatchString(name) {
			for n := dim.None + 1; n < dim.Number; n++ {
				if n.OfBox() {
					all = append(all, name+"."+n.String())
				}
			}
		}
	}
	return all
}

// answer writes what is asked for.
func (q question) answer(w io.Writer, r *driver.Result) error {
	s := r.Solution
	switch {
	case q.why != "":
		return writeWhy(w, s, q.why)
	case len(q.names) > 0:
		dimensions := within(s, q.names[0])
		if len(dimensions) == 0 {
			return unknown(s, q.names[0])
		}
		writeDimensions(w, s, dimensions)
	case q.json:
		writeDimensionsJSON(w, r)
	case q.all:
		writeDimensions(w, s, s.Dimensions())
	default:
		glance.Write(w, s, source.Plain(r.Design))
	}
	return nil
}

// within are the dimensions of the thing of that name and of all in it, or the one
// dimension.
func within(s *eval.Solution, name string) []solution.Dimension {
	return slices.DeleteFunc(s.Dimensions(), func(d solution.Dimension) bool {
		return d.Name != name && !strings.HasPrefix(d.Name, name+".")
	})
}

// unknown says that a design has nothing of that name, and what may be meant.
func unknown(s *eval.Solution, name string) error {
	var known []string
	for _, n := range s.Things {
		known = append(known, n.Base().Path)
	}
	help := "foredge solve FILE --all lists every dimension"
	if near := spell.Nearest(name, append(known, s.Names()...)); near != "" {
		help = fmt.Sprintf("did you mean %s?", near)
	}
	return misused(help, "the design has no thing and no dimension %q", name)
}

// partly reports whether a design is solved but for dimensions that nothing
// decides and readings that don't agree, so that the rest is worth showing.
func partly(r *driver.Result) bool {
	if r.Err != nil || r.Solution == nil {
		return false
	}
	for _, d := range r.Diagnostics {
		if d.Severity == diag.Error && !slices.Contains([]diag.Code{"open", "readings", "repeats", "row-misfit"}, d.Code) {
			return false
		}
	}
	return true
}

// A dimensionJSON is a dimension in solve --json.
type dimensionJSON struct {
	Value       data.Number `json:"value"` // null where it is open
	Kind        string      `json:"kind"`
	From        string      `json:"from"`
	Uncertainty data.Number `json:"uncertainty"`
	At          *data.Place `json:"at"`
}

// writeDimensionsJSON writes all dimensions as data: lengths in mm.
func writeDimensionsJSON(w io.Writer, r *driver.Result) error {
	all := map[string]dimensionJSON{}
	for _, d := range r.Solution.Dimensions() {
		all[d.Name] = dimensionJSON{data.Number(d.Value), d.Kind.String(), d.From.String(), data.Number(d.Uncertainty), data.At(d.At)}
	}
	return data.Write(w, struct {
		data.Head
		File       string                   `json:"file"`
		Unit       string                   `json:"unit"`
		Dimensions map[string]dimensionJSON `json:"dimensions"`
	}{data.NewHead(), shownName(r.Design), "mm", all})
}

// writeDimensions lists dimensions for a person, in the design's unit.
func writeDimensions(w io.Writer, s *eval.Solution, dimensions []solution.Dimension) {
	rows := [][]string{{"dimension", "value", "u", "from", "line"}}
	unsure := false
	for _, d := range dimensions {
		row := []string{d.Name, "open", "", d.From.String(), d.At.String()}
		if !math.IsNaN(d.Value) {
			row[1] = unit.Format(d.Value, d.Kind, s.Unit)
			if d.Uncertainty > leastShown {
				row[2] = unit.Format(d.Uncertainty, d.Kind, s.Unit)
				unsure = true
			}
		}
		rows = append(rows, row)
	}
	if !unsure { // nothing rests on readings
		for i, row := range rows {
			rows[i] = slices.Delete(row, 2, 3)
		}
	}
	glance.Table(w, "", rows)
}

// leastShown is the least uncertainty that is worth showing, in mm.
const leastShown = 5e-5

// writeWhy tells how a dimension, or each of a thing's own, came to its value.
func writeWhy(w io.Writer, s *eval.Solution, name string) error {
	if id, ok := s.Dimension(name); ok {
		glance.Steps(w, s.Why(id))
		return nil
	}
	var ids []relation.VarID
	for _, n := range s.Things {
		if n.Base().Path != name {
			continue
		}
		for _, d := range n.Base().Dims() {
			if id, _ := s.Dimension(s.System.Vars[d.ID].Name); id == d.ID {
				ids = append(ids, d.ID)
			}
		}
	}
	if len(ids) > 0 {
		glance.Steps(w, s.Why(ids...))
		return nil
	}
	for _, d := range within(s, name) { // of a member of a field, which is no thing by itself
		id, _ := s.Dimension(d.Name)
		ids = append(ids, id)
	}
	if len(ids) == 0 {
		return unknown(s, name)
	}
	glance.Steps(w, s.Why(ids...))
	return nil
}
