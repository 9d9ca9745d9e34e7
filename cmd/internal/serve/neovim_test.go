package serve_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"foredge/lang/foretest"
)

// The text that Neovim opens: a slip, a name to change, blanks to set right. The
// letters before the slip are longer in UTF-16 than they look.
const slipped = `let margin = 3 # 🐦 é
laser bench { kerf = 0.2 }
panel front { width=100 + margin; thick = 3
  hieght = 50
  row s on spine { count = 5;  pitch = 8; hole = round 3; inset = margin + 2 }
}
`

// Neovim's own client, which knows nothing of foredge: diagnostics, a code action,
// hover, definition, completion, rename and formatting.
func TestNeovim(t *testing.T) {
	nvim := foretest.Program(t, "nvim", "neovim")
	dir := t.TempDir()
	program := filepath.Join(dir, "foredge")
	foretest.Output(t, exec.Command("go", "build", "-o", program, "foredge/cmd/foredge"))
	design, out := filepath.Join(dir, "gull.fore"), filepath.Join(dir, "out.json")
	foretest.Write(t, design, slipped)
	cmd := exec.Command(nvim, "--headless", "-u", "NONE", "-i", "NONE", "-c", "luafile testdata/neovim.lua", "-c", "cquit")
	recorder, env := recording(t, dir, "testdata/neovim.trace")
	if recorder != "" {
		program = recorder
	}
	cmd.Env = append(append(os.Environ(), env...), "FOREDGE="+program, "DESIGN="+design, "OUT="+out, "XDG_STATE_HOME="+dir, "XDG_CACHE_HOME="+dir)
	if log, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, log)
	}
	var got struct {
		Diagnostics, Mended, Last []struct {
			Line, Column, Severity int
			Message                string
		}
		Action, Hover      string
		Definition         int
		Completes          map[string]bool
		Renamed, Formatted []string
	}
	foretest.Must(t, json.Unmarshal([]byte(foretest.Read(t, out)), &got))
	if d := got.Diagnostics; len(d) != 1 || d[0].Line != 4 || d[0].Column != 3 || d[0].Severity != 1 || !strings.Contains(d[0].Message, "did you mean height?") {
		t.Errorf("diagnostics: %v", d)
	}
	if got.Action != "write height for hieght" || len(got.Mended) != 0 {
		t.Errorf("action %q, then %v", got.Action, got.Mended)
	}
	if !strings.Contains(got.Hover, "front.s.inset = 5 mm") || !strings.Contains(got.Hover, "gull.fore:5") {
		t.Errorf("hover: %s", got.Hover)
	}
	if got.Definition != 1 || !got.Completes["units"] || !got.Completes["panel"] {
		t.Errorf("definition in line %d, completes %v", got.Definition, got.Completes)
	}
	want := strings.Split(strings.NewReplacer("margin", "border", "hieght", "height").Replace(strings.TrimSuffix(slipped, "\n")), "\n")
	if strings.Join(got.Renamed, "\n") != strings.Join(want, "\n") {
		t.Errorf("renamed:\n%s", strings.Join(got.Renamed, "\n"))
	}
	const formatted = `let border = 3  # 🐦 é
laser bench { kerf = 0.2 }
panel front {
  width = 100 + border; thick = 3
  height = 50
  row s on spine { count = 5; pitch = 8; hole = round 3; inset = border + 2 }
}`
	if strings.Join(got.Formatted, "\n") != formatted || len(got.Last) != 0 {
		t.Errorf("formatted:\n%s\nthen %v", strings.Join(got.Formatted, "\n"), got.Last)
	}
}
