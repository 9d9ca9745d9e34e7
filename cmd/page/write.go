//go:build !js

package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"embed"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/pagelook"
)

//go:embed static
var static embed.FS

// compilerName is what the page fetches as its compiler; a folder that has it is a page.
const compilerName = "compiler.gz"

// write writes the whole page into a folder, or nothing. The command runs inside the
// repository, whose compiler and examples it takes.
func write(ctx context.Context, folder string) error {
	if there, err := os.ReadDir(folder); err == nil && len(there) > 0 {
		if _, err := os.Stat(filepath.Join(folder, compilerName)); err != nil {
			return fmt.Errorf("the folder %q holds other files: name an empty one, or one that isn't there", folder)
		}
	}
	root, err := ask(ctx, "", "go", "list", "-m", "-f", "{{.Dir}}", "foredge")
	if err != nil {
		return err
	}
	var files []disk.File
	add := func(name string, data []byte) {
		files = append(files, disk.File{Path: filepath.Join(folder, name), Data: data})
	}
	own, err := static.ReadDir("static")
	if err != nil {
		return err
	}
	for _, f := range own {
		data, err := static.ReadFile("static/" + f.Name())
		if err != nil {
			return err
		}
		add(f.Name(), data)
	}
	add(pagelook.Name, pagelook.CSS())
	for _, part := range []struct {
		name string
		make func(context.Context, string) ([]byte, error)
	}{
		{compilerName, compiler},
		{"wasm_exec.js", support},
		{"examples.json", examples},
		{"reference.txt", reference},
		{"licences.txt", func(context.Context, string) ([]byte, error) {
			return os.ReadFile(filepath.Join(root, "cmd", "foredge", "licences.txt"))
		}},
	} {
		data, err := part.make(ctx, root)
		if err != nil {
			return err
		}
		add(part.name, data)
	}
	return disk.WriteSet(ctx, files, disk.Rules{Sweep: true})
}

// compiler is the compiler for browsers. It is compressed here, as not every server
// does that on its way, and browsers of after 2023 all undo it.
func compiler(ctx context.Context, root string) ([]byte, error) {
	temp, err := os.MkdirTemp("", "foredge-page-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(temp)
	path := filepath.Join(temp, "compiler.wasm")
	if _, err := ask(ctx, root, "go", "build", "-trimpath", "-buildvcs=false", "-ldflags", "-s -w", "-o", path, "./cmd/page"); err != nil {
		return nil, err
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var packed bytes.Buffer
	w, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return packed.Bytes(), nil
}

// support is what Go has for browsers in which its programs run. It goes with the very
// version that compiles.
func support(ctx context.Context, _ string) ([]byte, error) {
	goroot, err := ask(ctx, "", "go", "env", "GOROOT")
	if err != nil {
		return nil, err
	}
	return os.ReadFile(filepath.Join(goroot, "lib", "wasm", "wasm_exec.js"))
}

// An example is a file as the page has it at first.
type example struct {
	Name   string `json:"name"`
	Text   []byte `json:"text"`            // in base 64
	About  string `json:"about,omitempty"` // of a design, what it says of itself
	Design bool   `json:"design"`          // it declares panels, and so can be built by itself
}

// examples are the designs of the tree with every file that they are read from.
func examples(ctx context.Context, root string) ([]byte, error) {
	folder := filepath.Join(root, "examples")
	names, err := disk.Designs(folder)
	if err != nil {
		return nil, err
	}
	session := driver.NewSession(nil)
	known := map[string]bool{}
	var all []example
	add := func(name string, of example) error {
		if known[name] {
			return nil
		}
		known[name] = true
		if of.Text, err = os.ReadFile(filepath.Join(folder, name)); err != nil {
			return err
		}
		if of.Design {
			of.About = about(string(of.Text))
		}
		of.Name = name
		all = append(all, of)
		return nil
	}
	for _, name := range names {
		r := session.Check(ctx, filepath.Join(folder, name))
		if !r.OK() {
			return nil, fmt.Errorf("%s has errors", name)
		}
		if err := add(name, example{Design: !r.Shared}); err != nil {
			return nil, err
		}
		for _, in := range r.Inputs {
			name, err := filepath.Rel(folder, in.Path)
			if err != nil || !filepath.IsLocal(name) || in.State.Kind != disk.Plain || filepath.Ext(name) == disk.DesignExt {
				continue
			}
			if err := add(filepath.ToSlash(name), example{}); err != nil {
				return nil, err
			}
		}
	}
	return json.Marshal(all)
}

// about is the first sentence of the comment at the head of a design.
func about(text string) string {
	var comment []string
	for line := range strings.Lines(text) {
		words, ok := strings.CutPrefix(line, "#")
		if !ok {
			break
		}
		comment = append(comment, strings.TrimSpace(words))
	}
	first, _, more := strings.Cut(strings.Join(comment, " "), ". ")
	if more {
		first += "."
	}
	return first
}

// reference is the page that describes the language, without the marks by which tests
// find what tries it.
func reference(_ context.Context, root string) ([]byte, error) {
	text, err := os.ReadFile(filepath.Join(root, "lang", "REFERENCE.md"))
	return regexp.MustCompile(` *<!--[^>]*-->`).ReplaceAll(text, nil), err
}

// ask runs a program for a browser's kind of machine and gives what it prints.
func ask(ctx context.Context, folder, program string, args ...string) (string, error) {
	cmd := exec.CommandContext(ctx, program, args...)
	cmd.Dir = folder
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("%s %s: %w\n%s", program, args[0], err, said.String())
	}
	return strings.TrimSpace(string(out)), nil
}
