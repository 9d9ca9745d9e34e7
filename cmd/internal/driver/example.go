package driver

import (
	"context"

	"foredge/export"
	"foredge/lang/diag/codes"
)

// Example builds the example of a code, of which nothing is saved.
func Example(ctx context.Context, e codes.Entry) *Result {
	s := NewSession(nil)
	for _, f := range e.Files() {
		if err := s.SetText(f.Name, []byte(f.Text)); err != nil {
			return &Result{Design: codes.ExampleName, Err: err}
		}
	}
	return s.Build(ctx, codes.ExampleName, Options{Encoders: export.CutFiles(export.Options{})})
}
