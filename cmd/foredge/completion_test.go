package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/lang/foretest"
)

// runs runs the program here and gives what it prints.
func runs(t *testing.T, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run(t.Context(), &terminal{stdin: strings.NewReader(""), stdout: &out, stderr: &errs}, args); status != done {
		t.Fatalf("foredge %v ends with %d: %s", args, status, errs.String())
	}
	return out.String()
}

// What is asked for at the tab key, and answered to any shell.
func TestCompletions(t *testing.T) {
	log := filepath.Join(foretest.Root(t), "examples", "harbour-log.fore")
	for asked, want := range map[string][]string{
		"b":                                {"batch", "build"},
		"solve " + log + " --why front.wi": {"front.width", "front.wire", "front.wire.web", "front.wire.pitch"},
		"solve " + log + " front.wire.w":   {"front.wire.web"},
		"solve gone.fore --why a":          {},
		"solve " + log + " front front.wi": {},
		"build --as svg,":                  {"svg,dxf", "svg,png"},
		"build --dxf r":                    {"r12", "r12,inches"},
		"build --f":                        {"--force"},
		"shelf twin-loop-3-a":              {"twin-loop-3-a4", "twin-loop-3-a5", "twin-loop-3-a6"},
		"shelf chipb":                      {"chipboard"},
		"help thin-w":                      {"thin-web"},
		"help sa":                          {"safety"},
		"help bu":                          {"build"},
		"help build bu":                    {},
		"completion ":                      {"bash", "zsh", "fish", "powershell"},
		"completion bash z":                {},
		"version ":                         {},
		"check ":                           {"fore"}, // an ending
		"batch " + log + " --orders ":      {"csv", "tsv", "txt"},
	} {
		answer := runs(t, append([]string{"__complete"}, strings.Split(asked, " ")...)...)
		var got []string
		for line := range strings.Lines(answer) {
			if word, _, _ := strings.Cut(strings.TrimSpace(line), "\t"); !strings.HasPrefix(word, ":") {
				got = append(got, word)
			}
		}
		for _, w := range want {
			if !slices.Contains(got, w) {
				t.Errorf("foredge %s: %v lacks %s", asked, got, w)
			}
		}
		if len(want) == 0 && len(got) > 0 {
			t.Errorf("foredge %s: %v", asked, got)
		}
		for _, w := range got {
			if begun := asked[strings.LastIndexByte(asked, ' ')+1:]; !strings.HasPrefix(w, begun) {
				t.Errorf("foredge %s: %s begins otherwise", asked, w)
			}
		}
	}
}

// Revisions and designs are versions of a design; names of dimensions are known before a
// design is named.
func TestCompletionsHere(t *testing.T) {
	r := newRepository(t)
	r.git("tag", "sold-1")
	r.git("branch", "harbour")
	t.Chdir(r.dir)
	foretest.Write(t, "gull.fore", "panel front { width = 100; height = 50; thick = 3 }\n")
	foretest.Write(t, "tern.fore", "panel back { width = 100; height = 50; thick = 3 }\n")
	for asked, want := range map[string]string{
		"diff h":                    "harbour",
		"diff ":                     "HEAD HEAD~1 bench harbour sold-1 covers/ gull.fore tern.fore",
		"diff HEAD~1 covers/h":      "covers/harbour-log.fore",
		"diff HEAD HEAD~1 ":         "covers/ gull.fore tern.fore",
		"diff HEAD HEAD gull.fore ": "",
		"solve --why front.t":       "front.thick",
		"solve --why back.t":        "back.thick",
	} {
		var got []string
		for line := range strings.Lines(runs(t, append([]string{"__complete"}, strings.Split(asked, " ")...)...)) {
			if word, _, _ := strings.Cut(strings.TrimSpace(line), "\t"); !strings.HasPrefix(word, ":") {
				got = append(got, word)
			}
		}
		if strings.HasPrefix(asked, "solve") {
			if !slices.Contains(got, want) {
				t.Errorf("foredge %s: %v lacks %s", asked, got, want)
			}
		} else if strings.Join(got, " ") != want {
			t.Errorf("foredge %s: %v, want %s", asked, got, want)
		}
	}
}

// Each shell that is there completes a dimension with what foredge made for it. There is
// no Debian package of PowerShell: of its script only what it asks is looked at.
func TestShellsComplete(t *testing.T) {
	dir := t.TempDir()
	foretest.Write(t, filepath.Join(dir, "gull.fore"), "panel front { width = 100; height = 50; thick = 3 }\n")
	cases := [][2]string{{"foredge solve gull.fore --why front.he", "front.height"}, {"foredge build gull.fore --as svg,d", "svg,dxf"}}
	scripts := map[string]string{
		"bash": `source /usr/share/bash-completion/bash_completion
source foredge.bash
COMP_LINE="$ASKED"; COMP_POINT=${#COMP_LINE}; COMP_TYPE=9; read -ra COMP_WORDS <<<"$ASKED"; COMP_CWORD=4
__start_foredge
printf '%s\n' "${COMPREPLY[@]}"`,
		"zsh": `zmodload zsh/zpty
zpty -b z zsh -f -i
zpty -w z 'autoload -U compinit; compinit -u -D; source foredge.zsh; shown() { print -r -- "$BUFFER" > line }; zle -N shown; bindkey "^X" shown; : > ready'
for i in {1..200}; do [[ -e ready ]] && break; sleep 0.05; done
zpty -w -n z "$ASKED"$'\t\x18'
for i in {1..200}; do [[ -s line ]] && break; sleep 0.05; done
cat line; zpty -d z`,
		"fish": `source foredge.fish; complete -C "$ASKED"`,
	}
	for shell, script := range scripts {
		t.Run(shell, func(t *testing.T) {
			sh := foretest.Program(t, shell, shell)
			if shell == "bash" {
				if _, err := os.Stat("/usr/share/bash-completion/bash_completion"); err != nil {
					foretest.Missing(t, "bash-completion")
				}
			}
			foretest.Write(t, filepath.Join(dir, "foredge."+shell), runs(t, "completion", shell))
			for _, c := range cases {
				os.Remove(filepath.Join(dir, "line"))
				cmd := exec.Command(sh, "-c", script)
				cmd.Dir = dir
				cmd.Env = append(os.Environ(), "ASKED="+c[0], "TERM=dumb", "HOME="+dir)
				if got := strings.ReplaceAll(string(foretest.Output(t, cmd)), "\\", ""); !strings.Contains(got, c[1]) {
					t.Errorf("%s answers %q to %s", shell, got, c[0])
				}
			}
		})
	}
	if got := runs(t, "completion", "powershell"); !strings.Contains(got, "Register-ArgumentCompleter") || !strings.Contains(got, "__complete") {
		t.Errorf("for PowerShell: %s", got)
	}
}

// The manual pages name each option and are such as man and mandoc read without a
// warning, but for the date that they don't bear.
func TestManPages(t *testing.T) {
	pages := map[string]string{"foredge": runs(t, "help", "--man")}
	for _, c := range commands() {
		pages["foredge-"+c.name] = runs(t, "help", "--man", c.name)
		flags := flag.NewFlagSet(c.name, flag.ContinueOnError)
		c.setup(flags)
		flags.VisitAll(func(f *flag.Flag) {
			for _, page := range []string{"foredge", "foredge-" + c.name} {
				if !strings.Contains(pages[page], fmt.Sprintf("\\fB%s\\fR", roff(dashed(f.Name)))) {
					t.Errorf("%s(1) doesn't name %s", page, dashed(f.Name))
				}
			}
		})
	}
	for _, reader := range [][]string{{"man", "--warnings", "-E", "ascii", "-l"}, {"mandoc", "-T", "lint", "-W", "warning"}} {
		t.Run(reader[0], func(t *testing.T) {
			program := foretest.Program(t, reader[0], map[string]string{"man": "man-db", "mandoc": "mandoc"}[reader[0]])
			for name, page := range pages {
				file := foretest.Write(t, filepath.Join(t.TempDir(), name+".1"), page)
				cmd := exec.Command(program, append(reader[1:], file)...)
				cmd.Env = append(os.Environ(), "MANWIDTH=80", "LC_ALL=C")
				var out, errs bytes.Buffer
				cmd.Stdout, cmd.Stderr = &out, &errs
				err := cmd.Run()
				if reader[0] == "mandoc" {
					out, errs = bytes.Buffer{}, out
				}
				for line := range strings.Lines(errs.String()) {
					if !strings.Contains(line, "missing date") {
						t.Errorf("%s", line)
					}
				}
				if reader[0] == "man" && (err != nil || !strings.Contains(out.String(), "NAME")) {
					t.Errorf("%s: %v", name, err)
				}
			}
		})
	}
}
