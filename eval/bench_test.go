package eval_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"foredge/eval"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// harbourLogs is the harbour log several times in one file, its things
// renamed.
func harbourLogs(t testing.TB, copies int) string {
	text := corpus(t, "harbour-log.fore")
	names := regexp.MustCompile(`\b(log|front|back)\b`)
	var b strings.Builder
	for i := 0; i < copies; i++ {
		part := strings.Replace(text, "units mm", "", 1)
		b.WriteString(names.ReplaceAllString(part, fmt.Sprintf("${1}%d", i)))
	}
	return b.String()
}

// BenchmarkDesign builds and solves the harbour log 1, 10 and 100 times in one
// file. Each size reports its time over that of one log, which linear growth
// keeps at 1, 10 and 100. The answer is checked in the same run.
func BenchmarkDesign(b *testing.B) {
	var one time.Duration
	for _, copies := range []int{1, 10, 100} {
		tree, ds := parse.File(source.New("bench.fore", []byte(harbourLogs(b, copies))))
		if ds.HasErrors() {
			b.Fatal(show(ds))
		}
		b.Run(fmt.Sprintf("%dx", copies), func(b *testing.B) {
			var s *eval.Solution
			for b.Loop() {
				m, more := eval.Build(tree, memory{})
				if more.HasErrors() {
					b.Fatal(show(more))
				}
				s, more = m.Solve()
				if more.HasErrors() {
					b.Fatal(show(more))
				}
			}
			each := b.Elapsed() / time.Duration(b.N)
			if copies == 1 {
				one = each
			}
			if one > 0 {
				b.ReportMetric(float64(each)/float64(one), "x-one")
			}
			near(b, s, fmt.Sprintf("front%d.wire.pitch", copies-1), 8.468, 0.0005)
		})
	}
}

// BenchmarkBuild is the part of it that turns the tree into relations.
func BenchmarkBuild(b *testing.B) {
	for _, copies := range []int{1, 10, 100} {
		tree, _ := parse.File(source.New("bench.fore", []byte(harbourLogs(b, copies))))
		b.Run(fmt.Sprintf("%dx", copies), func(b *testing.B) {
			for b.Loop() {
				if _, ds := eval.Build(tree, memory{}); ds.HasErrors() {
					b.Fatal(show(ds))
				}
			}
		})
	}
}
