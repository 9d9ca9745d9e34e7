package advise

import (
	"fmt"

	"foredge/eval/design"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// Notes are what is told of a design, in its own unit. Errors go straight into
// the list.
type Notes struct {
	diag.List
	Unit unit.Unit
}

// Warn adds a warning, unless it is silenced; what is then noted with it is
// lost.
func (n *Notes) Warn(q design.Quiet, code diag.Code, at source.Span, format string, args ...any) *diag.Diagnostic {
	if q.Has(code) {
		return &diag.Diagnostic{}
	}
	return n.Warnf(code, at, format, args...)
}

// Length writes a length for the maker.
func (n *Notes) Length(mm float64) string { return unit.FormatLength(mm, n.Unit) }

// Silence is how a warning ends that a thing of a kind may silence.
func Silence(code diag.Code, kind string) string {
	return fmt.Sprintf("; quiet = %s in the %s silences this", code, kind)
}
