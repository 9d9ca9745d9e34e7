package serve_test

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"strings"
	"testing"

	"foredge/cmd/internal/serve"
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

var _ io.WriteCloser = &closer{}
