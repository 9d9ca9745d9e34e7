package outcome

import (
	"math"

	"foredge/eval/design"
	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/opening"
	"foredge/eval/solution"
)

// mostStitches is more than any drawing can hold, so that those are told there.
const mostStitches = 1e7

// stitch is a line of holes to sew through.
func stitch(s *solution.Solution, m *model.Stitch) design.Stitch {
	out := design.Stitch{Name: m.Name, At: m.At, HoleAt: m.At, Inset: s.Of(&m.Thing, dim.Inset)}
	if m.Hole != nil {
		out.HoleAt = m.Hole.At
		out.Opening = opening.Opening{Form: m.Hole.Form, Along: s.Of(&m.Thing, dim.HoleAlong), Across: s.Of(&m.Thing, dim.HoleAcross),
			Radius: max(0, s.Stated(m.Hole.Radius).Or(0))}
	}
	switch n := m.Around.(type) {
	case *model.Cutout:
		out.Around = &design.Around{Cutout: cutout(s, n)}
	case *model.Region:
		out.Around = &design.Around{Cutout: design.Cutout{Box: box(s, &n.Box)}, Region: true}
	}
	for _, r := range m.Runs {
		out.Runs = append(out.Runs, design.StitchRun{Pieces: r.Pieces, Closed: r.Closed, Ends: r.Ends, Stitches: int(math.Round(max(0, min(s.Value(r.Stitches), mostStitches))))})
	}
	return out
}
