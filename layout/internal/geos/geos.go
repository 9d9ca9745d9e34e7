package geos

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"testing"
)

// Ask runs a Python script that finds in as the variable data and leaves its
// answer in the variable answer, and decodes that into out. Without shapely the
// test is skipped, unless the environment says CI=true: then it fails.
func Ask(t testing.TB, script string, in, out any) {
	t.Helper()
	python := interpreter()
	if python == "" {
		if os.Getenv("CI") == "true" {
			t.Fatal("no Python with shapely: install python3-shapely")
		}
		t.Skip("no Python with shapely here: the check against GEOS is skipped")
	}
	data, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(python, "-c", "import json, sys\nfrom math import *\ndata = json.load(sys.stdin)\n"+script+"\njson.dump(answer, sys.stdout)\n")
	cmd.Stdin = bytes.NewReader(data)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	answer, err := cmd.Output()
	if err != nil {
		t.Fatalf("shapely: %v\n%s", err, stderr.String())
	}
	if err := json.Unmarshal(answer, out); err != nil {
		t.Fatalf("shapely's answer: %v", err)
	}
}

// interpreter is a Python that can import shapely: Debian's own comes first,
// for its packages aren't seen by others.
func interpreter() string {
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(name, "-c", "import shapely.geometry").Run() == nil {
			return name
		}
	}
	return ""
}
