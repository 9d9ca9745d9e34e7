package parse

import (
	"fmt"
	goparser "go/parser"
	gotoken "go/token"
	"os/exec"
	"strings"
	"testing"

	"foredge/lang/foretest"
	"foredge/lang/source"
)

// harbourLog returns the harbour log design n times over, as one file.
func harbourLog(b testing.TB, n int) string {
	return strings.Repeat(foretest.Corpus(b, "harbour-log"), n)
}

// goSource returns as many bytes of Go source, to the end of the declaration
// that reaches them. It is that of go/scanner, which is ordinary commented
// code, as often as needed.
func goSource(b testing.TB, bytes int) string {
	root := strings.TrimSpace(string(foretest.Output(b, exec.Command("go", "env", "GOROOT"))))
	_, body, ok := strings.Cut(foretest.Read(b, root+"/src/go/scanner/scanner.go"), "\n)\n\n") // after the imports
	if !ok {
		b.Fatal("go/scanner is not as it was")
	}
	var s strings.Builder
	s.WriteString("package scanner\n")
	for {
		for _, decl := range strings.SplitAfter(body, "\n}\n") {
			if s.Len() >= bytes {
				return s.String()
			}
			s.WriteString(decl)
		}
	}
}

// BenchmarkParse reads the harbour log at three sizes, and beside each as many
// bytes of Go source with go/parser. Compare the MB/s: the goal is 0.2 times
// the speed of go/parser or better.
func BenchmarkParse(b *testing.B) {
	for _, n := range []int{1, 10, 100} {
		text := harbourLog(b, n)
		b.Run(fmt.Sprintf("foredge-%dx", n), func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				file, diags := File(source.New("log.fore", []byte(text)))
				if len(file.Stmts) != 4*n || len(diags) != 0 {
					b.Fatalf("%d statements, %d errors", len(file.Stmts), len(diags))
				}
			}
		})
		b.Run(fmt.Sprintf("go-parser-%dx", n), func(b *testing.B) {
			code := goSource(b, len(text))
			b.SetBytes(int64(len(code)))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := goparser.ParseFile(gotoken.NewFileSet(), "x.go", code, goparser.ParseComments|goparser.SkipObjectResolution); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
