package serve_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/creachadair/jrpc2/channel"

	"foredge/cmd/internal/serve"
	"foredge/lang/foretest"
)

// closer is where a server writes.
type closer struct{ bytes.Buffer }

func (c *closer) Close() error { return nil }

func framed(messages ...string) string {
	var b strings.Builder
	for _, m := range messages {
		fmt.Fprintf(&b, "Content-Length: %d\r\n\r\n%s", len(m), m)
	}
	return b.String()
}

// speak says something to a server until its end, and gives what it answers.
func speak(text string) (answers string, orderly bool, err error) {
	var out closer
	orderly, err = serve.Serve(context.Background(), strings.NewReader(text), &out, "test")
	return out.String(), orderly, err
}

// What is no message is answered, and what can't be framed ends the server with an error,
// never with a panic, also where the input ends at once.
func TestHostileMessages(t *testing.T) {
	hello := `{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"capabilities":{}}}`
	for _, message := range []string{
		`{"jsonrpc":"2.0","id":[1],"method":"nope"}`, `{"jsonrpc":"2.0","id":true,"method":"nope"}`, `{"jsonrpc":"2.0","id":{"a":1},"method":"nope"}`,
		`{}`, `[]`, `[{"jsonrpc":"2.0","id":[1],"method":"nope"}]`, `{"jsonrpc":"1.0","id":1,"method":"x"}`, `{"jsonrpc":2,"id":1}`, `3`, `nonsense`, ``,
	} {
		for range 20 {
			answers, _, err := speak(framed(hello, message))
			if err != nil || !strings.Contains(answers, `"code":-32`) {
				t.Fatalf("%s: %v, answered %q", message, err, answers)
			}
		}
	}
	for _, head := range []string{"Content-Length: 99999999999\r\n\r\n{}", "Content-Length: 3000000000\r\n\r\n{}", "Content-Length: -1\r\n\r\n", "Content-Length: x\r\n\r\n",
		"\r\n", "nonsense\r\n\r\n", "Content-Length: 60000000\r\n\r\n{}", "Content-Length: 2\r\nContent-Type: application/vscode-jsonrpc; charset=latin1\r\n\r\n{}",
		"X: " + strings.Repeat("x", 10000) + "\r\n"} {
		if _, _, err := speak(head); err == nil {
			t.Errorf("%.60q is taken", head)
		}
	}
}

// The content types of the protocol are understood.
func TestContentTypes(t *testing.T) {
	hello := `{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"capabilities":{}}}`
	for _, is := range []string{"application/vscode-jsonrpc", "application/vscode-jsonrpc; charset=utf-8", "application/vscode-jsonrpc; charset=utf8"} {
		answers, _, err := speak(fmt.Sprintf("Content-Type: %s\r\nContent-Length: %d\r\n\r\n%s", is, len(hello), hello) +
			framed(`{"jsonrpc":"2.0","id":2,"method":"shutdown"}`, `{"jsonrpc":"2.0","method":"exit"}`))
		if err != nil || !strings.Contains(answers, `"id":2`) {
			t.Errorf("%s: %v, %q", is, err, answers)
		}
	}
}

// An editor that says in one go that it will go and goes is answered, and it was orderly.
func TestGoesInOneGo(t *testing.T) {
	for range 50 {
		answers, orderly, err := speak(framed(`{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"capabilities":{}}}`,
			`{"jsonrpc":"2.0","id":2,"method":"shutdown"}`, `{"jsonrpc":"2.0","method":"exit"}`))
		if err != nil || !orderly || !strings.Contains(answers, `"id":2`) {
			t.Fatalf("orderly %v, %v, answered %q", orderly, err, answers)
		}
	}
}

// An answer is what is answered to a request.
type answer struct {
	ID    int `json:"id"`
	Error *struct {
		Code    int    `json:"code"`
		Message string `json:"message"`
	} `json:"error"`
}

// talk says something to a server that goes on, and ask waits for the answer to one request.
func talk(t *testing.T) (say func(messages ...string), ask func(id int) answer) {
	toServer, fromEditor := io.Pipe()
	toEditor, fromServer := io.Pipe()
	t.Cleanup(func() { fromEditor.Close(); toEditor.Close() })
	go serve.Serve(context.Background(), toServer, fromServer, "test")
	answers := channel.LSP(toEditor, nil)
	say = func(messages ...string) {
		_, err := io.WriteString(fromEditor, framed(messages...))
		foretest.Must(t, err)
	}
	return say, func(id int) (a answer) {
		for a.ID != id { // what is told of texts has none
			message, err := answers.Recv()
			foretest.Must(t, err)
			a = answer{}
			foretest.Must(t, json.Unmarshal(message, &a))
		}
		return a
	}
}

// The number of a request that no method answers can be used again, as any other.
func TestNumbersAreFreeAgain(t *testing.T) {
	say, ask := talk(t)
	for range 3 {
		for _, c := range []struct {
			message string
			code    int
		}{
			{`{"jsonrpc":"2.0","id":7,"method":"gulls"}`, -32601},
			{`{"jsonrpc":"2.0","id":7,"method":"initialize","params":[3]}`, -32602},
			{`{"jsonrpc":"2.0","id":7,"method":"textDocument/rename","params":{}}`, -32803},
		} {
			say(c.message)
			if a := ask(7); a.Error == nil || a.Error.Code != c.code || a.Error.Message == "" {
				t.Errorf("%s: %+v, want the code %d", c.message, a.Error, c.code)
			}
		}
	}
}

// A request that was cancelled has the code that the protocol has for it, RequestCancelled
// (Language Server Protocol 3.17, ErrorCodes), also where it had not begun.
func TestCancelled(t *testing.T) {
	say, ask := talk(t)
	say(`{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"capabilities":{}}}`)
	ask(1)
	_, text := example(t, "harbour-log.fore")
	quoted, err := json.Marshal(text)
	foretest.Must(t, err)
	cancelled := 0
	for id := 2; id < 60 && cancelled < 5; id++ {
		say(fmt.Sprintf(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"file:///gull.fore","version":%d,"text":%s}}}`, id, quoted),
			fmt.Sprintf(`{"jsonrpc":"2.0","id":%d,"method":"textDocument/hover","params":{"textDocument":{"uri":"file:///gull.fore"},"position":{"line":1,"character":1}}}`, id),
			fmt.Sprintf(`{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":%d}}`, id))
		if a := ask(id); a.Error != nil {
			cancelled++
			if a.Error.Code != -32800 {
				t.Fatalf("a cancelled request: %+v", a.Error)
			}
		}
	}
	if cancelled == 0 {
		t.Error("nothing could be cancelled")
	}
}

var _ io.WriteCloser = &closer{}
