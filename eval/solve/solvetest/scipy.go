package solvetest

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"testing"
)

// Scipy runs one of the scripts of testdata on in and decodes its answer.
// Without SciPy the test is skipped, unless the environment says CI=true: then
// it fails.
func Scipy(t testing.TB, script string, in, out any) {
	t.Helper()
	python := ""
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(name, "-c", "import scipy.optimize").Run() == nil {
			python = name
			break
		}
	}
	if python == "" {
		if os.Getenv("CI") == "true" {
			t.Fatal("no Python with SciPy: install python3-scipy")
		}
		t.Skip("no Python with SciPy here: the check against an independent solver is skipped")
	}
	data, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(python, "testdata/"+script)
	cmd.Stdin = bytes.NewReader(data)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	answer, err := cmd.Output()
	if err != nil {
		t.Fatalf("SciPy: %v\n%s", err, stderr.String())
	}
	if err := json.Unmarshal(answer, out); err != nil {
		t.Fatalf("SciPy's answer: %v", err)
	}
}
