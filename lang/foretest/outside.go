package foretest

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// CI reports whether the environment variable CI is true. Then nothing may be
// left unchecked.
func CI() bool { return os.Getenv("CI") == "true" }

// Missing says that a check can't be made because what it needs isn't
// installed: a failure where the environment variable CI is true, else a skip.
func Missing(t testing.TB, what string) {
	t.Helper()
	if CI() {
		t.Fatalf("%s is not installed, and CI leaves nothing unchecked", what)
	}
	t.Skipf("needs %s: not installed here, so this is not checked", what)
}

// Program returns the path of an outside program. debian is the package of
// Debian that has it, if it isn't named like the program. A short run asks
// nobody outside: the test is skipped.
func Program(t testing.TB, name string, debian ...string) string {
	t.Helper()
	Long(t, "asks "+name)
	path, err := exec.LookPath(name)
	if err != nil {
		if len(debian) > 0 {
			name += " (Debian's " + strings.Join(debian, " ") + ")"
		}
		Missing(t, name)
	}
	return path
}

// Python returns a Python that has the modules asked for: the system's own, for
// which Debian packages them, or else the one in the path. A short run asks
// nobody outside: the test is skipped.
func Python(t testing.TB, modules ...string) string {
	t.Helper()
	Long(t, "asks Python with "+strings.Join(modules, ", "))
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		path, err := exec.LookPath(name)
		if err == nil && exec.Command(path, "-c", "import "+strings.Join(modules, ", ")).Run() == nil {
			return path
		}
	}
	Missing(t, "Python with "+strings.Join(modules, ", "))
	return ""
}

// Output runs a program and returns what it prints. The test fails if the
// program does.
func Output(t testing.TB, cmd *exec.Cmd) []byte {
	t.Helper()
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %v\n%s", filepath.Base(cmd.Path), err, Tail(errs.Bytes()))
	}
	return out
}

// Tail is the end of what a program said, where the reason stands.
func Tail(b []byte) []byte {
	const most = 4000
	if len(b) > most {
		b = b[len(b)-most:]
	}
	return b
}

// Ask gives a program the value in as JSON and decodes the JSON of its answer
// into out.
func Ask(t testing.TB, cmd *exec.Cmd, in, out any) {
	t.Helper()
	data, err := json.Marshal(in)
	Must(t, err)
	cmd.Stdin = bytes.NewReader(data)
	if err := json.Unmarshal(Output(t, cmd), out); err != nil {
		t.Fatalf("the answer of %s: %v", filepath.Base(cmd.Path), err)
	}
}

// AskScript does the same with a Python script, which wants these modules.
func AskScript(t testing.TB, script string, in, out any, modules ...string) {
	t.Helper()
	Ask(t, exec.Command(Python(t, modules...), script), in, out)
}
