package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
	"unicode/utf8"

	"foredge/lang/foretest"

	"golang.org/x/sys/unix"
)

// A pty is both ends of a terminal that a program makes believe.
type pty struct{ master, slave *os.File }

// openPty opens a terminal (ptmx(4), ioctl_tty(2)).
func openPty(t *testing.T, columns int) pty {
	t.Helper()
	master, err := os.OpenFile("/dev/ptmx", os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		foretest.Missing(t, "a kernel with pseudo-terminals ("+err.Error()+")")
	}
	t.Cleanup(func() { master.Close() })
	foretest.Must(t, unix.IoctlSetPointerInt(int(master.Fd()), unix.TIOCSPTLCK, 0))
	number, err := unix.IoctlGetInt(int(master.Fd()), unix.TIOCGPTN)
	foretest.Must(t, err)
	slave, err := os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|syscall.O_NOCTTY, 0)
	foretest.Must(t, err)
	t.Cleanup(func() { slave.Close() })
	p := pty{master, slave}
	p.resize(t, columns)
	return p
}

func (p pty) resize(t *testing.T, columns int) {
	foretest.Must(t, unix.IoctlSetWinsize(int(p.master.Fd()), unix.TIOCSWINSZ, &unix.Winsize{Row: 24, Col: uint16(columns)}))
}

func (p pty) modes(t *testing.T) unix.Termios {
	modes, err := unix.IoctlGetTermios(int(p.slave.Fd()), unix.TCGETS)
	foretest.Must(t, err)
	return *modes
}

// A screen does what a terminal does with what is written to it.
type screen struct {
	columns int
	lines   [][]rune
	at      int
	broken  int // lines that ran on to the next
	bars    int // how often the bar was drawn
}

func (s *screen) write(data []byte) {
	if len(s.lines) == 0 {
		s.lines = [][]rune{nil}
	}
	for len(data) > 0 {
		line := &s.lines[len(s.lines)-1]
		c, n := utf8.DecodeRune(data)
		switch {
		case c == '\r':
			s.at = 0
		case c == '\n':
			s.lines = append(s.lines, nil)
		case bytes.HasPrefix(data, []byte("\x1b[K")):
			*line = (*line)[:min(s.at, len(*line))]
			n = 3
		case c == '\x1b': // a colour
			n = bytes.IndexByte(data, 'm') + 1
		default:
			if s.at == s.columns {
				s.lines, s.at = append(s.lines, nil), 0
				s.broken++
				line = &s.lines[len(s.lines)-1]
			}
			for len(*line) <= s.at {
				*line = append(*line, ' ')
			}
			(*line)[s.at] = c
			s.at++
			if c == '%' {
				s.bars++
			}
		}
		data = data[n:]
	}
}

func (s *screen) text() string {
	var b strings.Builder
	for _, l := range s.lines {
		b.WriteString(strings.TrimRight(string(l), " ") + "\n")
	}
	return strings.TrimRight(b.String(), "\n")
}

// onTerminal runs a batch of n orders whose standard error is a terminal, and
// gives what that terminal shows in the end. At the bar's every drawing during is
// called.
func onTerminal(t *testing.T, n, columns int, during func(p pty, s *screen), args ...string) (*screen, *exec.Cmd, string) {
	dir := t.TempDir()
	foretest.Must(t, os.WriteFile(filepath.Join(dir, "tag.fore"), []byte("laser bench { kerf = 0.2; quiet = caution }\norders \"orders.csv\" { name = text }\n"+
		"panel tag { width = 80; height = 30; region r { width = 60; height = 9; engrave text order.name { cap = 4; fit = shrink } } }\n"), 0o666))
	var table strings.Builder
	table.WriteString("name\n")
	for i := range n {
		fmt.Fprintf(&table, "Ada Quill %d\n", i)
	}
	foretest.Must(t, os.WriteFile(filepath.Join(dir, "orders.csv"), []byte(table.String()), 0o666))
	self, err := os.Executable()
	foretest.Must(t, err)
	program := filepath.Join(dir, "foredge")
	foretest.Must(t, os.Symlink(self, program))

	p := openPty(t, columns)
	before := p.modes(t)
	ctx, stop := context.WithTimeout(context.Background(), 2*time.Minute)
	defer stop()
	cmd := exec.CommandContext(ctx, program, append([]string{"batch", "tag.fore", "-o", "cut"}, args...)...)
	cmd.Dir, cmd.Stdin, cmd.Stderr = dir, p.slave, p.slave
	cmd.Env = append(os.Environ(), "TERM=xterm", "NO_COLOR=1")
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	foretest.Must(t, cmd.Start())
	if columns == 0 {
		columns = 80 // it doesn't say how wide it is
	}
	s := &screen{columns: columns}
	var mu sync.Mutex
	quiet := make(chan bool)
	go func() {
		defer close(quiet)
		data := make([]byte, 4096)
		for {
			n, err := p.master.Read(data)
			if err != nil {
				return
			}
			mu.Lock()
			drawn := s.bars
			s.write(data[:n])
			if during != nil && s.bars > drawn {
				during(p, s)
			}
			mu.Unlock()
		}
	}()
	cmd.Wait()
	if p.modes(t) != before {
		t.Error("the terminal is left in another mode")
	}
	p.slave.Close()
	<-quiet // reading ends where nobody has the other end open any more
	mu.Lock()
	defer mu.Unlock()
	return s, cmd, dir
}

// On terminals of any width the bar keeps to its line, and nothing of it is left
// in the end.
func TestBarOnTerminal(t *testing.T) {
	for _, columns := range []int{80, 40, 20, 12, 6, 3, 0} {
		s, cmd, _ := onTerminal(t, 40, columns, nil)
		if cmd.ProcessState.ExitCode() != done || s.text() != "" {
			t.Errorf("%d columns: status %d, and the terminal shows\n%s", columns, cmd.ProcessState.ExitCode(), s.text())
		}
		if s.broken > 0 {
			t.Errorf("%d columns: %d lines ran on", columns, s.broken)
		}
		if s.bars < 20 && columns != 3 {
			t.Errorf("%d columns: the bar was drawn %d times", columns, s.bars)
		}
	}
}

// A window made narrower or wider while the bar runs.
func TestBarResized(t *testing.T) {
	var seen []string
	s, _, _ := onTerminal(t, 40, 80, func(p pty, s *screen) {
		seen = append(seen, s.text())
		switch len(seen) {
		case 3:
			p.resize(t, 30)
		case 10:
			p.resize(t, 120)
		}
	})
	if s.text() != "" || s.broken > 0 {
		t.Errorf("the terminal shows %q", s.text())
	}
	widths := map[bool]int{}
	for _, line := range seen {
		if len(line) > 0 {
			widths[len(line) < 30]++
		}
	}
	if widths[true] == 0 || widths[false] == 0 {
		t.Errorf("the bar never changed its length: %q", seen)
	}
}

// Ctrl-C ends a batch: the terminal shows that, and no bar, and the folder can be
// resumed.
func TestInterruptOnTerminal(t *testing.T) {
	s, cmd, dir := onTerminal(t, 400, 80, func(p pty, s *screen) {
		if strings.Contains(s.text(), "]  7") { // past the checks, while files are written
			p.master.Write([]byte{3})
		}
	})
	if cmd.ProcessState.ExitCode() != misuse {
		t.Errorf("status %v", cmd.ProcessState)
	}
	if text := s.text(); !strings.Contains(text, "stopped before it was done") || strings.Contains(text, "#") || strings.Contains(text, "%") {
		t.Errorf("the terminal shows\n%s", text)
	}
	made, _ := filepath.Glob(filepath.Join(dir, "cut", "*"))
	hidden, _ := filepath.Glob(filepath.Join(dir, "cut", ".*"))
	if len(made) == 0 || len(made) >= 400*3 || len(hidden) > 0 {
		t.Errorf("%d files are there, and %v", len(made), hidden)
	}
	cmd = exec.Command(filepath.Join(dir, "foredge"), "batch", "tag.fore", "-o", "cut", "--resume")
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	if made, _ := filepath.Glob(filepath.Join(dir, "cut", "*")); err != nil || len(made) != 400*3+2 {
		t.Errorf("resumed: %v, %d files: %s", err, len(made), out)
	}
	if strings.ContainsAny(string(out), "#\r") {
		t.Errorf("a bar is shown where there is no terminal: %q", out)
	}
}

func TestColorOnTerminal(t *testing.T) {
	p := openPty(t, 80)
	for term, want := range map[string]bool{"": true, "xterm": true, "dumb": false} {
		env := func(name string) string { return map[string]string{"TERM": term}[name] }
		if got := wantsColor(p.slave, env); got != want {
			t.Errorf("TERM=%s: colour %v", term, got)
		}
		if got := rewrites(p.slave, env); got != want {
			t.Errorf("TERM=%s: a bar %v", term, got)
		}
	}
	if wantsColor(p.slave, func(name string) string { return map[string]string{"NO_COLOR": "1"}[name] }) {
		t.Error("colour though none is wanted")
	}
}
