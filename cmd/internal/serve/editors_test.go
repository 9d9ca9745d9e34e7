package serve_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"foredge/lang/foretest"
)

// What Vim and its kin need is loaded, and colours an example.
func TestVimFiles(t *testing.T) {
	nvim := foretest.Program(t, "nvim", "neovim")
	root := foretest.Root(t)
	out := filepath.Join(t.TempDir(), "out")
	script := `let r = []
for p in ["notebook log", "let ", "148.2", "# what", "engrave text"]
  call cursor(1, 1)
  if search("\\V" . p, "cW")
    call add(r, p . " " . synIDattr(synID(line("."), col("."), 1), "name"))
  endif
endfor
call writefile([&filetype, &shiftwidth, &equalprg] + r, $OUT)
qall!`
	file := foretest.Write(t, filepath.Join(t.TempDir(), "try.vim"), script)
	cmd := exec.Command(nvim, "--headless", "-i", "NONE", "-u", "NONE", "--cmd", "set rtp^="+filepath.Join(root, "examples/editors/vim"),
		"-c", "filetype plugin on", "-c", "syntax on", "-c", "edit "+filepath.Join(root, "examples/harbour-log.fore"), "-c", "source "+file)
	cmd.Env = append(os.Environ(), "OUT="+out)
	foretest.Output(t, cmd)
	const want = "foredge\n2\nforedge fmt -\nnotebook log foredgeKind\n148.2 foredgeNumber\n# what foredgeComment\nengrave text foredgeMark\n"
	if got := foretest.Read(t, out); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// What Emacs needs compiles without a word and colours an example.
func TestEmacsMode(t *testing.T) {
	emacs := foretest.Program(t, "emacs", "emacs-nox")
	root, dir := foretest.Root(t), t.TempDir()
	mode := filepath.Join(dir, "foredge-mode.el")
	foretest.Write(t, mode, foretest.Read(t, filepath.Join(root, "examples/editors/emacs/foredge-mode.el")))
	cmd := exec.Command(emacs, "-Q", "--batch", "--eval", "(setq byte-compile-error-on-warn t)", "-f", "batch-byte-compile", mode)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	cmd = exec.Command(emacs, "-Q", "--batch", "-l", mode, filepath.Join(root, "examples/harbour-log.fore"), "--eval",
		`(progn (font-lock-ensure)
  (dolist (p '("notebook log" "log {" "use" "three readings" "engrave" "\"Harbour"))
    (goto-char (point-min)) (search-forward p)
    (princ (format "%s %s\n" p (get-text-property (match-beginning 0) 'face))))
  (princ major-mode))`)
	out := string(foretest.Output(t, cmd))
	for _, want := range []string{"notebook log font-lock-type-face", "log { font-lock-variable-name-face", "use font-lock-keyword-face", "three readings font-lock-comment-face", "engrave font-lock-builtin-face", `"Harbour font-lock-string-face`, "foredge-mode"} {
		if !strings.Contains(out, want) {
			t.Errorf("missing %q in\n%s", want, out)
		}
	}
}
