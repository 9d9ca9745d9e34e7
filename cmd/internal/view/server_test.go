package view_test

import (
	"bufio"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"foredge/cmd/internal/view"
	"foredge/lang/foretest"
)

// asked is what a server answers to a request with these headers, and how.
func asked(t *testing.T, method, address, body string, headers ...string) (int, string, http.Header) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, address, strings.NewReader(body))
	foretest.Must(t, err)
	for i := 0; i < len(headers); i += 2 {
		if r.Header.Set(headers[i], headers[i+1]); headers[i] == "Host" {
			r.Host = headers[i+1]
		}
	}
	client := &http.Client{Transport: &http.Transport{DisableKeepAlives: true}, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	answer, err := client.Do(r)
	foretest.Must(t, err)
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	foretest.Must(t, err)
	return answer.StatusCode, string(text), answer.Header
}

// Whoever calls the server by another name, or asks from a page of another origin,
// gets nothing, not a letter.
func TestOnlyItsOwnPageIsAnswered(t *testing.T) {
	dir := shop(t, "harbour-log.fore")
	address := shows(t, nil, filepath.Join(dir, "harbour-log.fore"))
	host := strings.TrimPrefix(address, "http://")
	_, port, _ := net.SplitHostPort(host)
	for _, path := range []string{"/", "/page.js", "/designs", "/designs/0", "/designs/0/why?name=front.width", "/events"} {
		for _, wrong := range [][]string{
			{"Host", "drawings.example"}, {"Host", "drawings.example:" + port}, {"Host", "127.0.0.1"}, {"Host", "127.0.0.1:1"},
			{"Host", "127.0.0.1." + "example:" + port}, {"Host", "[::1]:" + port},
			{"Origin", "http://drawings.example"}, {"Origin", "null"}, {"Origin", "https://" + host}, {"Origin", "http://127.0.0.1:1"},
			{"Origin", "http://" + host + ".example"}, {"Origin", "http://localhost:" + port}, {"Origin", ""},
			{"Sec-Fetch-Site", "cross-site"}, {"Sec-Fetch-Site", "same-site"},
		} {
			status, text, _ := asked(t, "GET", address+path, "", wrong...)
			if status != http.StatusForbidden || text != "" {
				t.Errorf("%s with %q: status %d, %q", path, wrong, status, text)
			}
		}
	}
	for _, right := range [][]string{{}, {"Origin", address}, {"Sec-Fetch-Site", "none"}, {"Sec-Fetch-Site", "same-origin"}, {"Host", "localhost:" + port}} {
		if status, text, _ := asked(t, "GET", address+"/designs/0", "", right...); status != http.StatusOK || !strings.Contains(text, "front.width") {
			t.Errorf("with %q: status %d", right, status)
		}
	}
}

// Only what the page consists of and what is drawn is served: no way leads to a file.
func TestNoFileIsServed(t *testing.T) {
	dir := shop(t, "harbour-log.fore")
	address := shows(t, nil, filepath.Join(dir, "harbour-log.fore"))
	for _, path := range []string{
		"/../harbour-log.fore", "/../../etc/passwd", "/%2e%2e/harbour-log.fore", "/..%2fharbour-log.fore", "/..%5cshop.fore", "/designs/../harbour-log.fore",
		"/designs/0/../../shop.fore", "/designs/0/..", "//etc/passwd", "/./page.js", "/harbour-log.fore", "/shop.fore", filepath.ToSlash(filepath.Join("/", dir, "shop.fore")),
		"/page/", "/page/index.html", "/index.html", "/server.go", "/designs/", "/designs/1", "/designs/-1", "/designs/0x0", "/designs/harbour-log.fore", "/designs/0/why", "/designs/0/why?name=../shop.fore", "/page.css%00",
	} {
		status, text, header := asked(t, "GET", address+path, "")
		if status != http.StatusNotFound || strings.Contains(text, "fore") || header.Get("Location") != "" {
			t.Errorf("%s: status %d, to %q, %q", path, status, header.Get("Location"), text)
		}
	}
	// What net/http's client would tidy is sent as it is.
	conn, err := net.Dial("tcp", strings.TrimPrefix(address, "http://"))
	foretest.Must(t, err)
	defer conn.Close()
	io.WriteString(conn, "GET /../harbour-log.fore HTTP/1.1\r\nHost: "+strings.TrimPrefix(address, "http://")+"\r\nConnection: close\r\n\r\n")
	raw, err := io.ReadAll(conn)
	foretest.Must(t, err)
	if !strings.HasPrefix(string(raw), "HTTP/1.1 404") || strings.Contains(string(raw), "notebook") {
		t.Errorf("/../ as it is: %s", raw)
	}
	for _, method := range []string{"POST", "PUT", "DELETE"} {
		if status, _, _ := asked(t, method, address+"/designs/0", "", "Origin", address); status != http.StatusMethodNotAllowed {
			t.Errorf("%s: status %d", method, status)
		}
	}
}

// The page may ask nobody but its server, and nobody may frame it or guess what its
// files are.
func TestHeaders(t *testing.T) {
	dir := shop(t, "harbour-log.fore")
	address := shows(t, nil, filepath.Join(dir, "harbour-log.fore"))
	for _, path := range []string{"/", "/page.css", "/page.js", "/designs/0"} {
		status, _, h := asked(t, "GET", address+path, "")
		if status != http.StatusOK || !strings.HasPrefix(h.Get("Content-Security-Policy"), "default-src 'self';") ||
			h.Get("X-Content-Type-Options") != "nosniff" || h.Get("Cache-Control") != "no-store" || h.Get("Access-Control-Allow-Origin") != "" {
			t.Errorf("%s: status %d, %v", path, status, h)
		}
	}
}

// A page is told the revisions of all designs at once, then again as soon as one is
// new: of what the design uses, too, and not where nothing comes out otherwise.
func TestEvents(t *testing.T) {
	dir := shop(t, "harbour-log.fore", "ledger-case.fore")
	log, shopFile := filepath.Join(dir, "harbour-log.fore"), filepath.Join(dir, "shop.fore")
	address := shows(t, nil, log, filepath.Join(dir, "ledger-case.fore"))
	r, err := http.NewRequestWithContext(t.Context(), "GET", address+"/events", nil)
	foretest.Must(t, err)
	answer, err := http.DefaultClient.Do(r)
	foretest.Must(t, err)
	defer answer.Body.Close()
	if kind := answer.Header.Get("Content-Type"); kind != "text/event-stream" {
		t.Errorf("a stream of %s", kind)
	}
	lines := make(chan string)
	go func() {
		defer close(lines)
		for in := bufio.NewScanner(answer.Body); in.Scan(); {
			if data, ok := strings.CutPrefix(in.Text(), "data: "); ok {
				lines <- data
			}
		}
	}()
	expect := func(want string) {
		t.Helper()
		select {
		case got := <-lines:
			if got != want {
				t.Errorf("told %s, want %s", got, want)
			}
		case <-time.After(10 * time.Second):
			t.Fatalf("never told %s", want)
		}
	}
	expect("[1,1]")
	text := foretest.Read(t, log)
	save(t, log, replaced(t, text, "count = 24", "count = 2 4"))
	expect("[2,1]")
	save(t, log, text)
	expect("[3,1]")
	save(t, log, text)
	// The same again is nothing new; what both use is, to both, one after the other.
	save(t, shopFile, replaced(t, foretest.Read(t, shopFile), "thick", "thicc"))
	got := <-lines
	if got == "[4,1]" {
		got = <-lines
	}
	if got != "[4,2]" {
		t.Errorf("told %s, want [4,2]", got)
	}
}

// A click opens the place in the stated editor, by no shell; only files of the shown
// designs can be named, and only by their number.
func TestOpen(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("the editor of this test is a script of a Unix shell")
	}
	dir := shop(t, "harbour-log.fore")
	said := filepath.Join(dir, "said")
	script := filepath.Join(dir, "an editor")
	foretest.Must(t, os.WriteFile(script, []byte("#!/bin/sh\nprintf '%s\\n' \"$@\" >'"+said+"'\n"), 0o777))
	editor, err := view.NewEditor("'" + script + `' +{line}:{column} "{file}" '; $(x)'`)
	foretest.Must(t, err)
	log := filepath.Join(dir, "harbour-log.fore")
	address := shows(t, editor, log)
	status, text, _ := asked(t, "POST", address+"/open", `{"design":0,"file":0,"line":13,"column":3}`, "Origin", address)
	if status != http.StatusNoContent {
		t.Fatalf("status %d: %s", status, text)
	}
	for end := time.Now().Add(5 * time.Second); ; time.Sleep(10 * time.Millisecond) {
		if got, _ := os.ReadFile(said); string(got) == "+13:3\n"+log+"\n; $(x)\n" {
			break
		} else if time.Now().After(end) {
			t.Fatalf("the editor was told %q", got)
		}
	}
	for _, wrong := range []string{`{"design":0,"file":9,"line":1,"column":1}`, `{"design":1,"file":0,"line":1,"column":1}`, `{"design":0,"file":-1,"line":1,"column":1}`} {
		if status, _, _ := asked(t, "POST", address+"/open", wrong, "Origin", address); status != http.StatusNotFound {
			t.Errorf("%s: status %d", wrong, status)
		}
	}
	for _, wrong := range []string{"", "{}", `{"design":0,"file":0,"line":0,"column":1}`, `{"design":0,"file":"../x","line":1,"column":1}`, strings.Repeat(" ", 5000) + "{}"} {
		if status, _, _ := asked(t, "POST", address+"/open", wrong, "Origin", address); status != http.StatusBadRequest {
			t.Errorf("%.60s: status %d", wrong, status)
		}
	}
	for _, headers := range [][]string{{}, {"Origin", "http://drawings.example"}, {"Sec-Fetch-Site", "cross-site", "Origin", address}} {
		if status, _, _ := asked(t, "POST", address+"/open", `{"design":0,"file":0,"line":1,"column":1}`, headers...); status != http.StatusForbidden {
			t.Errorf("with %q: status %d", headers, status)
		}
	}
}

// What is wrong with the command of an editor is told before anything is shown, and
// one that fails says so on the page.
func TestEditors(t *testing.T) {
	for command, want := range map[string]string{
		"": "is empty", "gvim +{line}": "write {file} there", "gvim 'x {file}": "isn't closed", "{file}": "write {file} there",
		"sh {fiel} {file}": "{fiel}, and only {file}, {line} and {column} stand for something", "no-such-editor-anywhere {file}": `"no-such-editor-anywhere" can't be found`,
	} {
		if _, err := view.NewEditor(command); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", command, err, want)
		}
	}
	if runtime.GOOS == "windows" {
		return
	}
	failing, err := view.NewEditor(`sh -c 'echo no display >&2; exit 3' {file}`)
	foretest.Must(t, err)
	if err := failing.Open("log.fore", 1, 1); err == nil || !strings.Contains(err.Error(), "no display") {
		t.Errorf("an editor that fails: %v", err)
	}
}

// Why a value is what it is can be asked, and names files as the page does.
func TestWhy(t *testing.T) {
	dir := shop(t, "harbour-log.fore")
	address := shows(t, nil, filepath.Join(dir, "harbour-log.fore"))
	status, text, _ := asked(t, "GET", address+"/designs/0/why?name=front.width", "")
	if status != http.StatusOK || !strings.Contains(text, "reading: width  (harbour-log.fore:8:3)") || strings.Contains(text, dir) {
		t.Errorf("status %d: %s", status, text)
	}
	if _, text, _ := asked(t, "GET", address+"/designs/0", ""); strings.Contains(text, dir) {
		t.Error("the page is told the folder")
	}
	var about struct {
		Designs []string
		Editor  bool
	}
	_, text, _ = asked(t, "GET", address+"/designs", "")
	foretest.Must(t, json.Unmarshal([]byte(text), &about))
	if about.Editor || len(about.Designs) != 1 || about.Designs[0] != "harbour-log.fore" {
		t.Errorf("%+v", about)
	}
}

// streamOnce takes the first event of a stream and goes away.
func streamOnce(t *testing.T, address string, data *json.RawMessage) {
	t.Helper()
	client := &http.Client{Transport: &http.Transport{DisableKeepAlives: true}}
	answer, err := client.Get(address)
	foretest.Must(t, err)
	defer answer.Body.Close()
	if answer.StatusCode != http.StatusOK {
		t.Fatalf("status %d", answer.StatusCode)
	}
	in := bufio.NewReader(answer.Body)
	for {
		line, err := in.ReadString('\n')
		foretest.Must(t, err)
		if text, ok := strings.CutPrefix(line, "data: "); ok {
			*data = json.RawMessage(strings.TrimSpace(text))
			return
		}
	}
}
