package view_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"foredge/cmd/internal/view"
	"foredge/cmd/internal/watch"
	"foredge/lang/foretest"
)

// shows shows designs as the command does, until the test ends, and gives the address
// of the page.
func shows(t testing.TB, editor *view.Editor, names ...string) string {
	t.Helper()
	l, err := view.Listen(0)
	foretest.Must(t, err)
	ctx, stop := context.WithCancel(context.Background())
	d := view.NewDesigns(names)
	served, watched, ready := make(chan error, 1), make(chan struct{}), make(chan struct{})
	go func() { served <- view.NewServer(d, editor).Serve(ctx, l) }()
	go func() {
		defer close(watched)
		watch.Run(ctx, watch.Options{Quiet: 20 * time.Millisecond}, func() { close(ready) }, d.Build)
	}()
	<-ready
	t.Cleanup(func() {
		stop()
		<-watched
		if err := <-served; err != nil {
			t.Error(err)
		}
	})
	return "http://" + l.Addr().String()
}

// shop is a folder of its own with some of the examples.
func shop(t testing.TB, names ...string) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range append(names, "shop.fore") {
		foretest.Write(t, filepath.Join(dir, name), foretest.Read(t, filepath.Join(foretest.Root(t), "examples", name)))
	}
	return dir
}

// save replaces a file as a careful editor does.
func save(t testing.TB, path, text string) {
	t.Helper()
	foretest.Must(t, os.WriteFile(path+"~", []byte(text), 0o666), os.Rename(path+"~", path))
}

// replaced is a text with the one place changed where from stands.
func replaced(t testing.TB, text, from, to string) string {
	t.Helper()
	if strings.Count(text, from) != 1 {
		t.Fatalf("%q stands %d times in the text", from, strings.Count(text, from))
	}
	return strings.Replace(text, from, to, 1)
}
