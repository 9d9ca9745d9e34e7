package serve

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"foredge/cmd/internal/glance"
	"foredge/cmd/internal/rename"
	"foredge/eval/mention"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// at is what is named at a place of a document, with what came of checking it.
func (s *server) at(ctx context.Context, p inDocument) (*state, mention.Mention, bool) {
	st := s.checked(ctx, p.TextDocument.URI)
	if st == nil || st.mentions() == nil {
		return st, mention.Mention{}, false
	}
	m, ok := st.mentions().At(st.text, st.offset(st.text, p.Position))
	return st, m, ok
}

// hover tells what is named at a place: the value of a dimension and where that comes
// from, where a named value is given, how large a thing is.
func (s *server) hover(ctx context.Context, p inDocument) (*hover, error) {
	st, m, ok := s.at(ctx, p)
	if !ok {
		return nil, nil
	}
	text := st.explain(m)
	if text == "" {
		return nil, nil
	}
	return &hover{markup{"markdown", "```\n" + strings.TrimRight(text, "\n") + "\n```"}, st.span(m.At)}, nil
}

// mostLines is how many lines of an explanation a hover shows.
const mostLines = 30

// explain says in lines what is named.
func (s *state) explain(m mention.Mention) string {
	var b strings.Builder
	switch solution := s.result.Solution; {
	case m.Dimension() != "" && solution != nil:
		id, ok := solution.Dimension(m.Dimension())
		if !ok {
			return m.Dimension()
		}
		glance.StepsWithin(&b, solution.Why(id))
		return firstLines(b.String())
	case m.Dimension() != "":
		return m.Dimension()
	case m.Let != nil:
		return m.Let.Stmt.Span().Text()
	case m.Order != "":
		return "order." + m.Order + ", a column of the table of orders"
	case m.Thing != nil:
		fmt.Fprintf(&b, "%s %s\n", m.Thing.Kind.Name, m.Thing.Path())
		if size := s.size(m.Thing.Path()); size != "" {
			fmt.Fprintln(&b, size)
		}
	}
	return b.String()
}

// firstLines is as much of an explanation as is shown.
func firstLines(text string) string {
	lines := strings.SplitAfter(text, "\n")
	if len(lines) > mostLines {
		lines = append(lines[:mostLines], "...\n")
	}
	return strings.Join(lines, "")
}

// size says how large a thing is, "" where that isn't known.
func (s *state) size(path string) string {
	if s.result.Solution == nil {
		return ""
	}
	var sizes []string
	for _, name := range []string{"width", "height"} {
		id, ok := s.result.Solution.Dimension(path + "." + name)
		if !ok || !s.result.Solution.Known(id) {
			return ""
		}
		sizes = append(sizes, unit.FormatLength(s.result.Solution.Value(id), s.result.Solution.Unit))
	}
	return sizes[0] + " by " + sizes[1]
}

// definition leads to where what is named gets its name.
func (s *server) definition(ctx context.Context, p inDocument) ([]location, error) {
	st, m, ok := s.at(ctx, p)
	if !ok {
		return nil, nil
	}
	to := m.Declaration()
	if m.Dimension() != "" && st.result.Solution != nil {
		// A dimension is not declared: the line that gives it says most.
		for _, d := range st.result.Solution.Dimensions() {
			if d.Name == m.Dimension() {
				to = d.At
			}
		}
	}
	if m.Order != "" {
		for _, other := range st.mentions().All(m) {
			if other.Declares {
				to = other.At
			}
		}
	}
	return st.locations(p.TextDocument.URI, to), nil
}

// locations are those of spans that lie in files an editor can open.
func (s *state) locations(of string, spans ...source.Span) []location {
	var out []location
	for _, at := range spans {
		if uri := s.uri(at.File, of); !at.IsZero() && uri != "" {
			out = append(out, location{uri, s.span(at)})
		}
	}
	return out
}

// references lists where the same is spoken of.
func (s *server) references(ctx context.Context, p inDocument) ([]location, error) {
	st, m, ok := s.at(ctx, p)
	if !ok {
		return nil, nil
	}
	if rename.Nameable(m) {
		bench, _ := s.bench(ctx)
		return s.everywhere(ctx, bench, st, p), nil
	}
	var spans []source.Span
	for _, other := range st.mentions().All(m) {
		if !other.Declares || p.Context.IncludeDeclaration {
			spans = append(spans, other.At)
		}
	}
	return st.locations(p.TextDocument.URI, spans...), nil
}

// everywhere lists where all designs of the workspace speak of what is named at a place.
func (s *server) everywhere(ctx context.Context, bench *rename.Bench, st *state, p inDocument) []location {
	found, ok := s.find(ctx, bench, st, p)
	if !ok {
		return nil
	}
	var out []location
	for _, at := range found.Places {
		if p.Context.IncludeDeclaration || !slices.Contains(found.Declared, at) {
			out = append(out, location{s.uriOfPath(at.Path), st.span(found.Span(at))})
		}
	}
	return out
}

// highlight lists where the same is spoken of in the document.
func (s *server) highlight(ctx context.Context, p inDocument) (any, error) {
	st, m, ok := s.at(ctx, p)
	if !ok {
		return nil, nil
	}
	type mark struct {
		Range textRange `json:"range"`
	}
	var out []mark
	for _, other := range st.mentions().All(m) {
		if other.At.File == st.text {
			out = append(out, mark{st.span(other.At)})
		}
	}
	return out, nil
}
