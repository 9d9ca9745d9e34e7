package driver_test

import (
	"context"
	"slices"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/lang/diag"
	"foredge/lang/diag/codes"
)

// The example of each code is told that code, in one of the ways that its entry
// says, and no other warning or error.
func TestExamples(t *testing.T) {
	for _, e := range codes.All() {
		if e.Example == "" {
			continue
		}
		t.Run(string(e.Code), func(t *testing.T) {
			r := driver.Example(context.Background(), e)
			if r.Err != nil {
				t.Fatal(r.Err)
			}
			told := false
			for _, d := range r.Diagnostics {
				switch {
				case d.Code == e.Code && !slices.Contains(e.Severities(), d.Severity):
					t.Errorf("%s is told with the severity %s, which its entry doesn't have: %s", e.Code, d.Severity, d.Message)
				case d.Code != e.Code && d.Severity != diag.Info:
					t.Errorf("the example of %s is also told %s: %s [%s]", e.Code, d.Severity, d.Message, d.Code)
				}
				told = told || d.Code == e.Code
			}
			if !told {
				t.Errorf("the example of %s is not told it", e.Code)
			}
		})
	}
}
