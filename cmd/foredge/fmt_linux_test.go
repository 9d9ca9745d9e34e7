package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"foredge/lang/foretest"
)

// Where the folder can't be written fmt says so, and names no option that it hasn't. The
// superuser may write everywhere, so for one the program runs as nobody.
func TestFmtWithoutPermission(t *testing.T) {
	dir := t.TempDir()
	program, err := exec.LookPath("foredge") // of testscript.Main
	foretest.Must(t, err)
	copied := foretest.Write(t, filepath.Join(dir, "foredge"), foretest.Read(t, program))
	folder := filepath.Join(dir, "tide")
	foretest.Must(t, os.Mkdir(folder, 0o755))
	path := foretest.Write(t, filepath.Join(folder, "gull.fore"), "let  a=3\n")
	foretest.Must(t, os.Chmod(filepath.Dir(dir), 0o755), os.Chmod(dir, 0o755), os.Chmod(copied, 0o755), os.Chmod(path, 0o666), os.Chmod(folder, 0o555))
	defer os.Chmod(folder, 0o755) // so that it can be removed
	cmd := exec.Command(copied, "fmt", path)
	if os.Geteuid() == 0 {
		const nobody = 65534
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	}
	out, _ := cmd.CombinedOutput()
	if text := string(out); cmd.ProcessState.ExitCode() != misuse || !strings.Contains(text, "you don't have permission") ||
		!strings.Contains(text, "have its folder let you write there") || strings.Contains(text, "-o") {
		t.Errorf("it ends with %v: %s", cmd.ProcessState, out)
	}
	if got := foretest.Read(t, path); got != "let  a=3\n" {
		t.Errorf("it holds %q", got)
	}
}
