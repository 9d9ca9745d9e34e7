package serve_test

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"foredge/lang/foretest"
)

// A client made of npm's vscode-languageserver-protocol: every request that the server
// answers. The answers are golden.
func TestProtocolClient(t *testing.T) {
	dir := t.TempDir()
	program := filepath.Join(dir, "foredge")
	foretest.Output(t, exec.Command("go", "build", "-o", program, "foredge/cmd/foredge"))
	design := foretest.Write(t, filepath.Join(dir, "gull.fore"), slipped)
	recorder, env := recording(t, dir, "testdata/client.trace")
	if recorder != "" {
		program = recorder
	}
	for _, e := range env {
		name, value, _ := strings.Cut(e, "=")
		t.Setenv(name, value)
	}
	foretest.Golden(t, "testdata/client.json", npm(t, "testdata/client.js", program, design))
}
