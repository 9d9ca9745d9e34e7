package serve

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"strconv"
	"strings"
	"sync"

	"github.com/creachadair/jrpc2"
	"github.com/creachadair/jrpc2/channel"
)

// A line is what leads to an editor and back: messages, each under headers that say how long
// it is (Language Server Protocol 3.17, base protocol). Nothing is read after the editor has
// said that it goes: it may keep its end open, or say it twice. What is told is told one
// after the other, as answers and diagnostics come from several goroutines.
type line struct {
	channel.Channel // sends and closes
	in              *bufio.Reader
	gone            bool
	telling         sync.Mutex
	// closing is the call by which the editor said that it will go, nil before, and
	// closed ends once that is answered.
	closing json.RawMessage
	closed  chan struct{}
}

func newLine(in io.Reader, out io.WriteCloser) *line {
	return &line{Channel: channel.LSP(nil, out), in: bufio.NewReader(in)}
}

// requestCancelled is the protocol's code for a request that was cancelled (Language Server
// Protocol 3.17, ErrorCodes).
const requestCancelled = -32800

// mostBytes is how long a message may be: a text and all that is said of it.
const mostBytes = 64 << 20

// Send tells one message.
func (u *line) Send(message []byte) error {
	message = cancelled(message)
	u.telling.Lock()
	defer u.telling.Unlock()
	err := u.Channel.Send(message)
	if u.closing != nil {
		var answer call
		if json.Unmarshal(message, &answer) == nil && answer.Method == nil && bytes.Equal(answer.ID, u.closing) {
			close(u.closed)
			u.closing = nil
		}
	}
	return err
}

// cancelled gives the answer to a request that was cancelled the protocol's code in place of
// the library's, which answers some of them before anything here is asked.
func cancelled(message []byte) []byte {
	if !bytes.Contains(message, []byte(strconv.Itoa(int(jrpc2.Cancelled)))) {
		return message // as most are
	}
	var answer struct {
		ID    json.RawMessage `json:"id"`
		Error *refusal        `json:"error"`
	}
	if json.Unmarshal(message, &answer) != nil || answer.Error == nil || answer.Error.Code != int(jrpc2.Cancelled) {
		return message
	}
	out, err := json.Marshal(map[string]any{"jsonrpc": "2.0", "id": answer.ID, "error": refusal{requestCancelled, "the request was cancelled"}})
	if err != nil {
		return message // can't be: the id came as JSON
	}
	return out
}

// Recv gives the next message that is a request, a notice or an answer, and ends what is
// said after the one by which the editor goes, when what it asked for before that is answered. Others are answered here: the library
// would do so too, but not where the line ends at the same time.
func (u *line) Recv() ([]byte, error) {
	for !u.gone {
		message, err := u.read()
		if err != nil {
			return nil, err
		}
		m, wrong := understood(message)
		if wrong == nil {
			switch m.name() {
			case "shutdown":
				u.telling.Lock()
				u.closing, u.closed = m.ID, make(chan struct{})
				u.telling.Unlock()
			case "exit":
				u.gone = true
				u.telling.Lock()
				waits, closed := u.closing != nil, u.closed
				u.telling.Unlock()
				if waits {
					<-closed
				}
			}
			return message, nil
		}
		answer, err := json.Marshal(map[string]any{"jsonrpc": "2.0", "id": nil, "error": wrong})
		if err == nil {
			err = u.Send(answer)
		}
		if err != nil {
			return nil, err
		}
	}
	return nil, io.EOF
}

// read reads the headers of a message and as many bytes as they promise.
func (u *line) read() ([]byte, error) {
	length := -1
	for {
		header, err := u.in.ReadSlice('\n')
		switch {
		case errors.Is(err, bufio.ErrBufferFull):
			return nil, errors.New("a header is too long")
		case err != nil && (length >= 0 || len(header) > 0) && errors.Is(err, io.EOF):
			return nil, io.ErrUnexpectedEOF
		case err != nil:
			return nil, err
		}
		name, value, ok := strings.Cut(strings.TrimRight(string(header), "\r\n"), ":")
		switch value = strings.TrimSpace(value); {
		case !ok && name != "":
			return nil, errors.New("a line of the headers is none")
		case !ok && length < 0:
			return nil, errors.New("no header says how long the message is")
		case !ok:
			var body bytes.Buffer // grows as far as there is something to read
			if _, err := io.CopyN(&body, u.in, int64(length)); err != nil {
				return nil, io.ErrUnexpectedEOF
			}
			return body.Bytes(), nil
		case strings.EqualFold(name, "Content-Length"):
			if length, err = strconv.Atoi(value); err != nil || length < 0 || length > mostBytes {
				return nil, fmt.Errorf("a message can't be %s bytes long", value)
			}
		case strings.EqualFold(name, "Content-Type"):
			// Without a charset it is UTF-8; utf8 is an old spelling that servers are to take.
			_, more, err := mime.ParseMediaType(value)
			if set := strings.ToLower(more["charset"]); err != nil || set != "" && set != "utf-8" && set != "utf8" {
				return nil, fmt.Errorf("messages must be in UTF-8, and this one has the content type %s", value)
			}
		}
	}
}

// A call is what the library needs of a message.
type call struct {
	Version *string         `json:"jsonrpc"`
	ID      json.RawMessage `json:"id"`
	Method  *string         `json:"method"`
}

func (c *call) name() string {
	if c.Method == nil {
		return ""
	}
	return *c.Method
}

// A refusal is what is answered to a message that is none.
type refusal struct {
	Code    int    `json:"code"`
	Message string `json:"message"`
}

// understood reads a message; wrong if it is none (JSON-RPC 2.0, sections 4 and 5).
func understood(message []byte) (parts call, wrong *refusal) {
	if !json.Valid(message) {
		return parts, &refusal{-32700, "this is no JSON"}
	}
	id := func() bool {
		return len(parts.ID) == 0 || parts.ID[0] == '"' || parts.ID[0] == '-' || parts.ID[0] >= '0' && parts.ID[0] <= '9' || string(parts.ID) == "null"
	}
	if err := json.Unmarshal(message, &parts); err != nil || parts.Version == nil || *parts.Version != "2.0" || !id() {
		return parts, &refusal{-32600, "this is no message of JSON-RPC 2.0"}
	}
	if parts.Method == nil && len(parts.ID) == 0 {
		return parts, &refusal{-32600, "this calls no method and answers no call"}
	}
	return parts, nil
}
