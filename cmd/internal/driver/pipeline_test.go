package driver

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/disk"
	"foredge/export"
)

const slip = "laser bench { kerf = 0.2 }\npanel front { width = 100; height = 80\n row wire on spine { hole = round 4; pitch = 8; count = 5; inset = 4 } }\npanel back mirrors front\n"

func options() Options { return Options{Encoders: export.CutFiles(export.Options{})} }

func names(files []disk.File) []string {
	var all []string
	for _, f := range files {
		all = append(all, filepath.Base(f.Path))
	}
	return all
}

func TestBuild(t *testing.T) {
	dir := tree(t, "slip.fore="+slip, "bad.fore=panel a { widht = 3 }", "torn.fore=panel a {\n width = \n widht = 3 }",
		"clash.fore=laser b { kerf = 0 }\npanel a { width = 3; width + 1 = 5; height = 3 }",
		"uses.fore=use \"gone.fore\"\nlaser b { kerf = 0 }\npanel a { width = 3; height = 3 }")
	each, card := options(), options()
	each.Each, card.Card = true, true
	for _, test := range []struct {
		design string
		opts   Options
		files  []string
		codes  string // of the errors, "file" for one of the file itself
	}{
		{"slip.fore", options(), []string{"slip.svg", "slip.dxf"}, ""},
		{"slip.fore", each, []string{"slip-front.svg", "slip-front.dxf", "slip-back.svg", "slip-back.dxf"}, ""},
		{"slip.fore", card, []string{"slip-card.svg", "slip-card.dxf"}, ""},
		{"slip.fore", Options{}, nil, ""},
		{"bad.fore", options(), nil, "unknown-name"},
		{"clash.fore", options(), nil, "clash"},
		{"gone.fore", options(), nil, "file"},
	} {
		r := NewSession(nil).Build(t.Context(), filepath.Join(dir, test.design), test.opts)
		var codes []string
		for _, d := range r.Diagnostics {
			if d.Severity == 0 {
				codes = append(codes, string(d.Code))
			}
		}
		if r.Err != nil {
			codes = append(codes, "file")
		}
		if got := strings.Join(codes, " "); got != test.codes || !slices.Equal(names(r.Files), test.files) || r.OK() != (test.codes == "") {
			t.Errorf("%s: got files %v and errors %q (%v), want %v and %q", test.design, names(r.Files), got, r.Err, test.files, test.codes)
		}
		if len(r.Inputs) == 0 {
			t.Errorf("%s: nothing was read", test.design)
		}
	}
	// One file shows all its errors, also after a line that can't be read.
	if r := NewSession(nil).Build(t.Context(), filepath.Join(dir, "torn.fore"), options()); len(r.Diagnostics) < 2 {
		t.Errorf("torn.fore: got %d diagnostics", len(r.Diagnostics))
	}
	if r := NewSession(nil).Build(t.Context(), filepath.Join(dir, "uses.fore"), options()); r.OK() || len(r.Inputs) != 2 {
		t.Errorf("uses.fore: the missing file is not among the inputs: %v", r.Inputs)
	}
}

// What is written depends on the design alone: not on the folder it lies in,
// how it is named, or how often it was built.
func TestBuildIsPure(t *testing.T) {
	one, two := tree(t, "slip.fore="+slip), tree(t, "deep/er/slip.fore="+slip)
	t.Chdir(one)
	first := NewSession(nil).Build(t.Context(), "slip.fore", options())
	for _, path := range []string{"./slip.fore", filepath.Join(one, "slip.fore"), filepath.Join(two, "deep/er/slip.fore")} {
		r := NewSession(nil).Build(t.Context(), path, options())
		for i, f := range r.Files {
			if !bytes.Equal(f.Data, first.Files[i].Data) {
				t.Errorf("%s gives another %s", path, filepath.Base(f.Path))
			}
		}
		if !r.OK() || len(r.Files) != len(first.Files) {
			t.Errorf("%s: %v %v", path, r.Err, r.Diagnostics)
		}
	}
}

func TestBuildCancelled(t *testing.T) {
	dir := tree(t, "slip.fore="+slip)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	r := NewSession(nil).Build(ctx, filepath.Join(dir, "slip.fore"), options())
	if !errors.Is(r.Err, context.Canceled) || r.Files != nil {
		t.Errorf("got %v and %d files", r.Err, len(r.Files))
	}
	if err := NewSession(nil).Write(ctx, &Result{Files: []disk.File{{Path: filepath.Join(dir, "slip.svg")}}}, false); !errors.Is(err, context.Canceled) {
		t.Errorf("writing: %v", err)
	}
	if _, err := os.Stat(filepath.Join(dir, "slip.svg")); err == nil {
		t.Error("a file was written")
	}
}

func BenchmarkBuild(b *testing.B) {
	path := filepath.Join(b.TempDir(), "slip.fore")
	if err := os.WriteFile(path, []byte(slip), 0o666); err != nil {
		b.Fatal(err)
	}
	s := NewSession(nil)
	for b.Loop() {
		if r := s.Build(b.Context(), path, options()); !r.OK() {
			b.Fatal(r.Err, r.Diagnostics)
		}
	}
}
