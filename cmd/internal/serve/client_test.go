package serve_test

import (
	"os/exec"
	"path/filepath"
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
	foretest.Golden(t, "testdata/client.json", npm(t, "testdata/client.js", program, design))
}
