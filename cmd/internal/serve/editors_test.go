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
call writefile([&filetype, &shiftwidth, &indentexpr] + r, $OUT)
qall!`
	file := foretest.Write(t, filepath.Join(t.TempDir(), "try.vim"), script)
	cmd := exec.Command(nvim, "--headless", "-i", "NONE", "-u", "NONE", "--cmd", "set rtp^="+filepath.Join(root, "examples/editors/vim"),
		"-c", "filetype plugin indent on", "-c", "syntax on", "-c", "edit "+filepath.Join(root, "examples/harbour-log.fore"), "-c", "source "+file)
	cmd.Env = append(os.Environ(), "OUT="+out)
	foretest.Output(t, cmd)
	const want = "foredge\n2\nForedgeIndent(v:lnum)\nnotebook log foredgeKind\n148.2 foredgeNumber\n# what foredgeComment\nengrave text foredgeMark\n"
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

// A text as it is typed, and with the blanks that the editors' recipes give it.
const (
	typedText    = "panel front {\nregion title { # {\nengrave text \"}\",\n\"{\" {\ncap = 3\n}\n}\n\nheight = 80\n}"
	indentedText = "panel front {\n  region title { # {\n    engrave text \"}\",\n        \"{\" {\n      cap = 3\n    }\n  }\n\n  height = 80\n}"
)

// unread is a text with an error, whose lines are out of place.
const (
	unread         = "panel front {\nwidth = 1,5\n    region title {\n  head = ;\n}\n  }\n"
	unreadIndented = "panel front {\n  width = 1,5\n  region title {\n    head = ;\n  }\n}\n"
)

// built is the folder of the program, for the path of others.
func built(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	foretest.Output(t, exec.Command("go", "build", "-o", filepath.Join(dir, "foredge"), "foredge/cmd/foredge"))
	return dir
}

// designsOf are the examples, which are laid out.
func designsOf(t *testing.T) []string {
	t.Helper()
	designs, err := filepath.Glob(filepath.Join(foretest.Root(t), "examples", "*.fore"))
	foretest.Must(t, err)
	if len(designs) < 20 {
		t.Fatalf("%d examples", len(designs))
	}
	return designs
}

// In Vim and Neovim = moves lines and writes nothing else into them; what is laid out stays
// as it is. Enter indents. :LayOut lays out, but for a text with errors.
func TestVimIndents(t *testing.T) {
	path := built(t) + string(os.PathListSeparator) + os.Getenv("PATH")
	root := foretest.Root(t)
	for _, editor := range []struct {
		name, debian string
		args         []string
	}{{"vim", "vim", []string{"-N", "-es"}}, {"nvim", "neovim", []string{"--headless"}}} {
		program := foretest.Program(t, editor.name, editor.debian)
		dir := t.TempDir()
		foretest.Write(t, filepath.Join(dir, "unread.fore"), unread)
		foretest.Write(t, filepath.Join(dir, "gull.fore"), "let  a=3\n\n\nlet b=4\n")
		script := `set nomore
for f in split($DESIGNS, "\n")
  execute "edit! " . fnameescape(f)
  normal! gg=G
  call writefile(getline(1, "$") == readfile(f) ? [] : [f], "moved", "a")
endfor
edit! unread.fore
normal! gg=G
call writefile(getline(1, "$"), "equal")
edit! unread.fore
LayOut
call writefile(getline(1, "$"), "refused")
edit! gull.fore
LayOut
call writefile(getline(1, "$"), "laid")
edit! new.fore
execute "normal! i" . substitute($TYPED, "\n", "\<CR>", "g") . "\<Esc>"
call writefile(getline(1, "$"), "typed")
qall!`
		file := foretest.Write(t, filepath.Join(dir, "try.vim"), script)
		args := append(editor.args, "-i", "NONE", "-u", "NONE", "--cmd", "set rtp^="+filepath.Join(root, "examples/editors/vim"),
			"-c", "filetype plugin indent on", "-c", "source "+file, "-c", "qall!")
		cmd := exec.Command(program, args...)
		cmd.Dir = dir
		cmd.Env = append(os.Environ(), "PATH="+path, "DESIGNS="+strings.Join(designsOf(t), "\n"), "TYPED="+typedText, "HOME="+dir, "XDG_STATE_HOME="+dir)
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("%s: %v\n%s", editor.name, err, out)
		}
		for name, want := range map[string]string{"moved": "", "equal": unreadIndented, "refused": unread, "laid": "let a = 3\n\nlet b = 4\n", "typed": indentedText + "\n"} {
			if got := foretest.Read(t, filepath.Join(dir, name)); got != want {
				t.Errorf("%s, %s: got\n%s\nwant\n%s", editor.name, name, got, want)
			}
		}
	}
}

// The recipe for Neovim starts the server by itself, one for all designs of a repository.
func TestNeovimStartsTheServer(t *testing.T) {
	nvim := foretest.Program(t, "nvim", "neovim")
	path := built(t) + string(os.PathListSeparator) + os.Getenv("PATH")
	dir := t.TempDir()
	foretest.Write(t, filepath.Join(dir, "gull.fore"), slipped)
	foretest.Must(t, os.MkdirAll(filepath.Join(dir, ".git"), 0o777), os.MkdirAll(filepath.Join(dir, "low tide, high"), 0o777))
	foretest.Write(t, filepath.Join(dir, "low tide, high", "tern.fore"), slipped)
	script := foretest.Write(t, filepath.Join(dir, "try.lua"), `
local out = {}
for _, name in ipairs({ "gull.fore", "low tide, high/tern.fore" }) do
  vim.cmd("edit " .. vim.fn.fnameescape(name))
  vim.wait(10000, function() return #vim.diagnostic.get(0) > 0 end, 20)
  table.insert(out, name .. " " .. #vim.diagnostic.get(0))
end
for _, client in pairs(vim.lsp.get_active_clients()) do
  table.insert(out, "server of " .. vim.fn.fnamemodify(client.config.root_dir, ":t"))
end
vim.fn.writefile(out, "out")
vim.cmd("qall!")`)
	cmd := exec.Command(nvim, "--headless", "-i", "NONE", "-u", "NONE", "--cmd", "set rtp^="+filepath.Join(foretest.Root(t), "examples/editors/vim"),
		"-c", "filetype plugin indent on", "-c", "luafile "+script, "-c", "cquit")
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "PATH="+path, "HOME="+dir, "XDG_STATE_HOME="+dir, "XDG_CACHE_HOME="+dir)
	foretest.Output(t, cmd)
	if got := foretest.Read(t, filepath.Join(dir, "out")); got != "gull.fore 1\nlow tide, high/tern.fore 1\nserver of "+filepath.Base(dir)+"\n" {
		t.Errorf("got\n%s", got)
	}
}

// In Emacs Tab and Enter indent as designs are laid out, and what is laid out stays as it is.
func TestEmacsIndents(t *testing.T) {
	emacs := foretest.Program(t, "emacs", "emacs-nox")
	dir := t.TempDir()
	foretest.Write(t, filepath.Join(dir, "unread.fore"), unread)
	foretest.Write(t, filepath.Join(dir, "try.el"), `
(defun try (name text)
  (with-temp-buffer (insert text) (write-region nil nil (expand-file-name name (getenv "DIR")))))
(dolist (f (split-string (getenv "DESIGNS") "\n"))
  (find-file f)
  (let ((was (buffer-string)))
    (indent-region (point-min) (point-max))
    (unless (string= was (buffer-string)) (princ (format "moved: %s\n" f)))))
(find-file (expand-file-name "unread.fore" (getenv "DIR")))
(goto-char (point-min))
(while (not (eobp)) (indent-for-tab-command) (forward-line))
(try "equal" (buffer-string))
(find-file (expand-file-name "new.fore" (getenv "DIR")))
(electric-indent-mode 1)
(dolist (line (split-string (getenv "TYPED") "\n"))
  (unless (bobp) (newline nil t))
  (dolist (c (append line nil))
    (let ((last-command-event c)) (self-insert-command 1))))
(try "typed" (buffer-string))`)
	cmd := exec.Command(emacs, "-Q", "--batch", "-l", filepath.Join(foretest.Root(t), "examples/editors/emacs/foredge-mode.el"), "-l", "try.el")
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "DESIGNS="+strings.Join(designsOf(t), "\n"), "TYPED="+typedText, "DIR="+dir)
	if out := string(foretest.Output(t, cmd)); out != "" {
		t.Error(out)
	}
	for name, want := range map[string]string{"equal": unreadIndented, "typed": indentedText} {
		if got := foretest.Read(t, filepath.Join(dir, name)); got != want {
			t.Errorf("%s: got\n%s\nwant\n%s", name, got, want)
		}
	}
}

// With its package eglot (part of Emacs from 29 on) Emacs starts the server by the recipe.
func TestEglot(t *testing.T) {
	emacs := foretest.Program(t, "emacs", "emacs-nox")
	var load strings.Builder
	for _, name := range []string{"eglot", "project", "seq", "xref"} {
		if found, _ := filepath.Glob("/usr/share/emacs/site-lisp/elpa-src/" + name + "-*"); len(found) > 0 {
			load.WriteString(`(push "` + found[0] + `" load-path)`)
		}
	}
	if !strings.Contains(load.String(), "eglot") {
		foretest.Missing(t, "elpa-eglot")
	}
	path := built(t) + string(os.PathListSeparator) + os.Getenv("PATH")
	dir := t.TempDir()
	foretest.Write(t, filepath.Join(dir, "gull.fore"), slipped)
	foretest.Write(t, filepath.Join(dir, "try.el"), load.String()+`
(load "`+filepath.Join(foretest.Root(t), "examples/editors/emacs/foredge-mode.el")+`")
(require 'foredge-mode)
(require 'eglot)
(add-hook 'foredge-mode-hook #'eglot-ensure)
(setq eglot-sync-connect 20)
(find-file "gull.fore")
(run-hooks 'post-command-hook)
(let ((left 200))
  (while (and (> left 0) (not (flymake-diagnostics)))
    (setq left (1- left))
    (accept-process-output nil 0.1)))
(dolist (d (flymake-diagnostics)) (princ (flymake-diagnostic-text d)))`)
	cmd := exec.Command(emacs, "-Q", "--batch", "-l", "try.el")
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "PATH="+path, "HOME="+dir)
	if out := string(foretest.Output(t, cmd)); !strings.Contains(out, "did you mean height?") {
		t.Errorf("it shows %q", out)
	}
}
