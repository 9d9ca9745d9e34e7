package view_test

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"foredge/lang/foretest"
)

// A browser is Chromium without a window, told what to do over two pipes by its own
// protocol for that (messages of JSON with a 0 behind each).
type browser struct {
	t    testing.TB
	to   io.Writer
	wait time.Duration

	mu      sync.Mutex
	next    int
	answers map[int]chan answer
	seen    func(method string, params json.RawMessage)
	session string
}

type answer struct {
	Result json.RawMessage
	Error  *struct{ Message string }
}

// newBrowser starts a browser, which ends with the test. seen, if not nil, is told of
// its events.
func newBrowser(t testing.TB, seen func(method string, params json.RawMessage)) *browser {
	t.Helper()
	program := foretest.Program(t, "chromium-headless-shell", "chromium-headless-shell")
	inRead, inWrite, err := os.Pipe()
	foretest.Must(t, err)
	outRead, outWrite, err := os.Pipe()
	foretest.Must(t, err)
	cmd := exec.Command(program, "--remote-debugging-pipe", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
		"--no-first-run", "--user-data-dir="+t.TempDir(), "about:blank")
	cmd.ExtraFiles = []*os.File{inRead, outWrite}
	foretest.Must(t, cmd.Start())
	inRead.Close()
	outWrite.Close()
	b := &browser{t: t, to: inWrite, wait: 30 * time.Second, answers: map[int]chan answer{}, seen: seen}
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		b.listen(outRead)
	}()
	t.Cleanup(func() {
		inWrite.Close() // it ends itself
		select {
		case <-ended:
		case <-time.After(10 * time.Second):
			cmd.Process.Kill()
		}
		cmd.Wait()
		outRead.Close()
	})
	var target struct{ TargetID string }
	b.call("Target.createTarget", map[string]any{"url": "about:blank"}, &target)
	var attached struct{ SessionID string }
	b.call("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &attached)
	b.session = attached.SessionID
	b.call("Page.enable", nil, nil)
	b.call("Runtime.enable", nil, nil)
	b.call("Network.enable", nil, nil)
	return b
}

func (b *browser) listen(from io.Reader) {
	in := bufio.NewReaderSize(from, 1<<20)
	for {
		text, err := in.ReadBytes(0)
		if err != nil {
			return
		}
		var m struct {
			ID     int
			Method string
			Params json.RawMessage
			answer
		}
		if json.Unmarshal(text[:len(text)-1], &m) != nil {
			continue
		}
		b.mu.Lock()
		to := b.answers[m.ID]
		delete(b.answers, m.ID)
		b.mu.Unlock()
		switch {
		case to != nil:
			to <- m.answer
		case m.Method != "" && b.seen != nil:
			b.seen(m.Method, m.Params)
		}
	}
}

// call has the browser do something and gives what it answers.
func (b *browser) call(method string, params any, out any) {
	b.t.Helper()
	b.mu.Lock()
	b.next++
	id := b.next
	to := make(chan answer, 1)
	b.answers[id] = to
	m := map[string]any{"id": id, "method": method}
	if params != nil {
		m["params"] = params
	}
	if b.session != "" {
		m["sessionId"] = b.session
	}
	text, err := json.Marshal(m)
	if err == nil {
		_, err = b.to.Write(append(text, 0))
	}
	b.mu.Unlock()
	foretest.Must(b.t, err)
	select {
	case a := <-to:
		if a.Error != nil {
			b.t.Fatalf("%s: %s", method, a.Error.Message)
		}
		if out != nil {
			foretest.Must(b.t, json.Unmarshal(a.Result, out))
		}
	case <-time.After(b.wait):
		b.t.Fatalf("%s: the browser doesn't answer", method)
	}
}

// run runs a script in the page, waits for its promise if it gives one, and puts what
// it gives into out.
func (b *browser) run(script string, out any) {
	b.t.Helper()
	var r struct {
		Result struct {
			Value json.RawMessage
		}
		ExceptionDetails *struct {
			Text      string
			Exception struct{ Description string }
		}
	}
	b.call("Runtime.evaluate", map[string]any{"expression": script, "awaitPromise": true, "returnByValue": true}, &r)
	if r.ExceptionDetails != nil {
		b.t.Fatalf("%.200s: %s %s", script, r.ExceptionDetails.Text, r.ExceptionDetails.Exception.Description)
	}
	if out != nil {
		foretest.Must(b.t, json.Unmarshal(r.Result.Value, out))
	}
}

// until waits for a script to give true.
func (b *browser) until(what, script string) {
	b.t.Helper()
	for end := time.Now().Add(b.wait); ; time.Sleep(20 * time.Millisecond) {
		var ok bool
		b.run("Boolean("+script+")", &ok)
		if ok {
			return
		}
		if time.Now().After(end) {
			b.t.Fatalf("%s never came", what)
		}
	}
}

// open goes to a page.
func (b *browser) open(address string) {
	b.t.Helper()
	b.call("Page.navigate", map[string]any{"url": address}, nil)
	b.until("the page", fmt.Sprintf(`location.href.startsWith(%q) && document.readyState === "complete"`, address))
}

// size makes the window so wide and high, and light or dark.
func (b *browser) size(width, height int, scheme string) {
	b.t.Helper()
	b.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": height, "deviceScaleFactor": 1, "mobile": false}, nil)
	b.call("Emulation.setEmulatedMedia", map[string]any{"features": []any{map[string]any{"name": "prefers-color-scheme", "value": scheme}}}, nil)
}

// picture is the whole page as a PNG.
func (b *browser) picture() []byte {
	b.t.Helper()
	var shot struct{ Data string }
	b.call("Page.captureScreenshot", map[string]any{"format": "png", "captureBeyondViewport": true}, &shot)
	data, err := base64.StdEncoding.DecodeString(shot.Data)
	foretest.Must(b.t, err)
	return data
}

// key presses keys, one after another; Shift+ before one holds Shift down.
func (b *browser) key(names ...string) {
	b.t.Helper()
	codes := map[string]int{"Tab": 9, "Enter": 13, "Escape": 27, "ArrowLeft": 37, "ArrowUp": 38, "ArrowRight": 39, "ArrowDown": 40, " ": 32}
	for _, name := range names {
		modifiers := 0
		if rest, ok := strings.CutPrefix(name, "Shift+"); ok {
			name, modifiers = rest, 8
		}
		event := map[string]any{"type": "keyDown", "key": name, "modifiers": modifiers, "windowsVirtualKeyCode": codes[name]}
		if len(name) == 1 {
			event["text"] = name
		}
		if name == "Enter" {
			event["text"] = "\r"
		}
		b.call("Input.dispatchKeyEvent", event, nil)
		b.call("Input.dispatchKeyEvent", map[string]any{"type": "keyUp", "key": name, "windowsVirtualKeyCode": codes[name]}, nil)
	}
}

// mouse moves the pointer to a place of the window, and clicks there if it is to.
func (b *browser) mouse(x, y float64, click bool) {
	b.t.Helper()
	b.call("Input.dispatchMouseEvent", map[string]any{"type": "mouseMoved", "x": x, "y": y}, nil)
	if click {
		for _, what := range []string{"mousePressed", "mouseReleased"} {
			b.call("Input.dispatchMouseEvent", map[string]any{"type": what, "x": x, "y": y, "button": "left", "buttons": 1, "clickCount": 1}, nil)
		}
	}
}
