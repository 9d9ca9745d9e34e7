package serve_test

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/creachadair/jrpc2/channel"

	"foredge/cmd/internal/serve"
	"foredge/lang/foretest"
)

// recordTo names the file into which the test's own program writes what an editor and the
// server that it then is say to each other.
const recordTo = "FOREDGE_RECORD"

func TestMain(m *testing.M) {
	if path := os.Getenv(recordTo); path != "" {
		os.Exit(record(path))
	}
	os.Exit(m.Run())
}

// bench is what traces call the folder of the design.
const bench = "/bench"

// record is a server that writes down what is said, a message a line: > from the editor,
// < to it.
func record(path string) int {
	said, err := os.Create(path)
	if err != nil {
		return 1
	}
	defer said.Close()
	dir := os.Getenv("FOREDGE_BENCH")
	folder := strings.NewReplacer(dir, bench, strings.ReplaceAll(dir, "/", `\/`), bench) // as some write it
	var mu sync.Mutex                                                                    // an editor may end it at any time, so each is written at once
	note := func(who string, message []byte) {
		mu.Lock()
		defer mu.Unlock()
		fmt.Fprintf(said, "%s %s\n", who, folder.Replace(string(message)))
	}
	toServer, fromEditor := io.Pipe()
	toEditor, fromServer := io.Pipe()
	relay := func(who string, from, to channel.Channel) {
		for {
			message, err := from.Recv()
			if err != nil {
				return
			}
			note(who, message)
			if to.Send(message) != nil {
				return
			}
		}
	}
	outer, inner := channel.LSP(os.Stdin, os.Stdout), channel.LSP(toEditor, fromEditor)
	go relay(">", outer, inner)
	answered := make(chan struct{})
	go func() { relay("<", inner, outer); close(answered) }()
	orderly, err := serve.Serve(context.Background(), toServer, fromServer, "test")
	fromServer.Close()
	<-answered
	if err != nil || !orderly {
		return 1
	}
	return 0
}

// recording gives the program that an editor is to start, and what its environment needs
// for that. With -update it is one that writes the trace anew.
func recording(t *testing.T, dir, trace string) (program string, env []string) {
	if !foretest.Update() {
		return "", nil
	}
	program, err := os.Executable()
	foretest.Must(t, err)
	trace, err = filepath.Abs(trace)
	foretest.Must(t, err)
	return program, []string{recordTo + "=" + trace, "FOREDGE_BENCH=" + dir}
}

// What Neovim and the client of npm once said is said again, and answered as it was.
func TestTraces(t *testing.T) {
	for _, name := range []string{"neovim", "client"} {
		t.Run(name, func(t *testing.T) { replay(t, foretest.Read(t, "testdata/"+name+".trace")) })
	}
}

// replay says each message of an editor once all that was told before it has come.
func replay(t *testing.T, trace string) {
	toServer, fromEditor := io.Pipe()
	toEditor, fromServer := io.Pipe()
	ended := make(chan error, 1)
	go func() {
		_, err := serve.Serve(t.Context(), toServer, fromServer, "test")
		fromServer.Close()
		ended <- err
	}()
	editor := channel.LSP(toEditor, fromEditor)
	told := make(chan []byte, 100)
	go func() {
		defer close(told)
		for {
			m, err := editor.Recv()
			if err != nil {
				return
			}
			told <- bytes.Clone(m) // what Recv gives is written over by the next
		}
	}()
	var waiting [][]byte // told, and not yet looked for
	said, answered, leaves := 0, 0, false
	lines := bufio.NewScanner(strings.NewReader(trace))
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		who, message, _ := strings.Cut(lines.Text(), " ")
		if who == ">" {
			if said++; leaves { // Neovim says it twice, and nobody hears the second
				continue
			}
			foretest.Must(t, editor.Send([]byte(message)))
			leaves = strings.Contains(message, `"method":"exit"`)
			continue
		}
		if !await(t, told, &waiting, message) {
			t.Logf("said %d, answered %d", said, answered)
			return
		}
		answered++
	}
	if said < 10 || answered < 10 {
		t.Fatalf("only %d messages and %d answers", said, answered)
	}
	fromEditor.Close() // one that ends without saying so is no reason to wait
	if err := <-ended; err != nil {
		t.Errorf("the server ended with %v", err)
	}
	for m := range told {
		waiting = append(waiting, m)
	}
	for _, m := range waiting {
		// Of texts that change quickly more or fewer are checked, as time allows.
		if !bytes.Contains(m, []byte(`"textDocument/publishDiagnostics"`)) {
			t.Errorf("told besides: %s", m)
		}
	}
}

// await waits for a message of the server's, in whatever order it tells.
func await(t *testing.T, told chan []byte, waiting *[][]byte, want string) bool {
	t.Helper()
	late := time.After(20 * time.Second)
	for {
		for i, m := range *waiting {
			if same(m, []byte(want)) {
				*waiting = append((*waiting)[:i], (*waiting)[i+1:]...)
				return true
			}
		}
		select {
		case m, ok := <-told:
			if !ok {
				t.Errorf("it ended before it told\n%s\nbut told\n%s", want, bytes.Join(*waiting, []byte("\n")))
				return false
			}
			*waiting = append(*waiting, m)
		case <-late:
			t.Errorf("it never told\n%s\nbut\n%s", want, bytes.Join(*waiting, []byte("\n")))
			return false
		}
	}
}

// same reports whether two messages say the same.
func same(a, b []byte) bool {
	var x, y any
	return json.Unmarshal(a, &x) == nil && json.Unmarshal(b, &y) == nil && reflect.DeepEqual(x, y)
}
