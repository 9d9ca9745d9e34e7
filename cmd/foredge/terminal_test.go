package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"strings"
	"testing"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/lang/diag"
	"foredge/lang/foretest"
	"foredge/lang/source"
)

func TestWantsColor(t *testing.T) {
	env := func(pairs ...string) func(string) string {
		return func(name string) string {
			for i := 0; i < len(pairs); i += 2 {
				if pairs[i] == name {
					return pairs[i+1]
				}
			}
			return ""
		}
	}
	device, err := os.Open(os.DevNull) // a character device, and no terminal
	foretest.Must(t, err)
	defer device.Close()
	file, err := os.Create(t.TempDir() + "/log")
	foretest.Must(t, err)
	defer file.Close()
	for _, test := range []struct {
		f    *os.File
		env  func(string) string
		want bool
	}{
		{device, env("TERM", "xterm"), false},
		{file, env(), false},
	} {
		if got := wantsColor(test.f, test.env); got != test.want {
			t.Errorf("%s: got %v, want %v", test.f.Name(), got, test.want)
		}
	}
}

// Whatever goes wrong, a maker reads neither a Go type nor a panic.
func TestToldErrors(t *testing.T) {
	t.Setenv("FOREDGE_TRACE", "")
	internal := driver.Guard("building slip", func() { panic(errors.New("index out of range [3] with length 2")) })
	for _, test := range []struct {
		result *driver.Result
		status int
		text   string
	}{
		{&driver.Result{Err: internal}, faulty, "internal error while building slip: this is a fault of foredge"},
		{&driver.Result{Err: internal}, faulty, "[internal]"},
		{&driver.Result{Err: context.Canceled}, misuse, "error: stopped before it was done [stopped]\n"},
		{&driver.Result{Err: &disk.Error{Code: "x", Message: "there is no file", Hint: "look"}}, misuse, "error: there is no file [x]\n  hint: look\n"},
		{&driver.Result{Diagnostics: diag.List{{Severity: diag.Warning, Message: "thin"}}}, done, "warning: thin"},
		{&driver.Result{Diagnostics: diag.List{{Severity: diag.Error, Message: "wrong", Span: source.Span{}}}}, faulty, "error: wrong"},
	} {
		var out bytes.Buffer
		term := &terminal{stderr: &out}
		if status := term.report(&out, []*driver.Result{test.result}, false); status != test.status || !strings.Contains(out.String(), test.text) {
			t.Errorf("got status %d and\n%swant status %d and %q", status, out.String(), test.status, test.text)
		}
		if strings.Contains(out.String(), "index out of range") {
			t.Errorf("a maker reads %q", out.String())
		}
	}
	stops := []*driver.Result{{Err: context.Canceled}, {Err: context.Canceled}, {Err: context.Canceled}}
	if all, status := gathered(stops); len(all) != 1 || status != misuse {
		t.Errorf("three that were stopped are told as %d, with status %d", len(all), status)
	}
	t.Setenv("FOREDGE_TRACE", "1")
	if d := diagnosticOf(internal); len(d.Notes) < 3 {
		t.Error("there is nothing to put into a report")
	}
}
