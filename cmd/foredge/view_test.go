package main

import (
	"context"
	"io"
	"net/http"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"foredge/lang/foretest"
)

// view prints an address of this machine alone, at which the design is shown until it
// is told to end.
func TestView(t *testing.T) {
	dir := t.TempDir()
	foretest.Write(t, filepath.Join(dir, "slip.fore"), "panel cover { width = 120; height = 80 }\n")
	var out log
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	ended := make(chan int)
	go func() {
		ended <- run(ctx, &terminal{stdout: &out, stderr: &out}, []string{"view", filepath.Join(dir, "slip.fore")})
	}()
	eventually(t, "the address", func() bool { return strings.Contains(out.String(), "Ctrl-C") })
	address := regexp.MustCompile(`^http://127\.0\.0\.1:\d+/`).FindString(out.String())
	if address == "" {
		t.Fatalf("it says %q", out.String())
	}
	answer, err := http.Get(address + "designs/0")
	foretest.Must(t, err)
	text, err := io.ReadAll(answer.Body)
	answer.Body.Close()
	foretest.Must(t, err)
	if !strings.Contains(string(text), "cover.outline") {
		t.Errorf("shown is %.300s", text)
	}
	// A port that is taken is told with a way out.
	var second log
	port := strings.TrimSuffix(strings.TrimPrefix(address, "http://127.0.0.1:"), "/")
	if status := run(ctx, &terminal{stdout: &second, stderr: &second}, []string{"view", "--port", port, filepath.Join(dir, "slip.fore")}); status != misuse ||
		!strings.Contains(second.String(), "port "+port+" of 127.0.0.1 can't be had") || !strings.Contains(second.String(), "leave out --port") {
		t.Errorf("status %d: %s", status, second.String())
	}
	stop()
	if status := <-ended; status != done {
		t.Errorf("ended with status %d", status)
	}
	if got := foretest.Contents(t, dir); len(got) != 1 {
		t.Errorf("view left %d files", len(got))
	}
}
