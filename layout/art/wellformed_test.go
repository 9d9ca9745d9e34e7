package art_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/art"
)

// What libxml2's xmllint finds not to be well-formed XML is refused: drawings with
// bytes and attributes left out, doubled and changed.
func TestNotWellFormedIsRefused(t *testing.T) {
	xmllint := foretest.Program(t, "xmllint", "libxml2-utils")
	good, err := filepath.Glob("testdata/good/*.svg")
	foretest.Must(t, err)
	if len(good) < 5 {
		t.Fatalf("only %d drawings", len(good))
	}
	rnd := rand.New(rand.NewPCG(9, 13))
	attribute := regexp.MustCompile(`\s[a-z-]+="[^"]*"`)
	dir := t.TempDir()
	args := []string{"--noout", "--nonet", "--huge"}
	for i := range foretest.Sample(3000, 400) {
		data, err := os.ReadFile(good[i%len(good)])
		foretest.Must(t, err)
		at := rnd.IntN(len(data))
		switch i / len(good) % 5 {
		case 0: // a byte is left out
			data = append(bytes.Clone(data[:at]), data[at+1:]...)
		case 1: // or doubled
			data = append(bytes.Clone(data[:at+1]), data[at:]...)
		case 2: // or another
			data[at] = "<>&\"'=/ ]x-!?;"[rnd.IntN(14)]
		case 3: // an attribute stands there twice
			if all := attribute.FindAllIndex(data, -1); len(all) > 0 {
				m := all[rnd.IntN(len(all))]
				data = append(bytes.Clone(data[:m[1]]), data[m[0]:]...)
			}
		default: // or has no blank before it
			if all := attribute.FindAllIndex(data, -1); len(all) > 0 {
				m := all[rnd.IntN(len(all))]
				data = append(bytes.Clone(data[:m[0]]), data[m[0]+1:]...)
			}
		}
		args = append(args, foretest.Write(t, filepath.Join(dir, fmt.Sprint(i, ".svg")), string(data)))
	}
	said, _ := exec.Command(xmllint, args...).CombinedOutput()
	wrong := map[string]string{}
	for line := range strings.Lines(string(said)) {
		if path, rest, ok := strings.Cut(line, ".svg:"); ok && strings.Contains(rest, "parser error") && wrong[path] == "" {
			wrong[path] = strings.TrimSpace(rest)
		}
	}
	if len(wrong) < len(args)/4 {
		t.Errorf("only %d of %d drawings are wrong: this tries little\n%s", len(wrong), len(args), foretest.Tail(said))
	}
	for path, why := range wrong {
		data, err := os.ReadFile(path + ".svg")
		foretest.Must(t, err)
		if _, err := art.Parse(path, data); err == nil {
			t.Errorf("%s.svg is read, though xmllint says: %s", filepath.Base(path), why)
		}
	}
}
