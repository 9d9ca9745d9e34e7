package watch

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/watch/watchtest"
	"foredge/lang/foretest"
)

// A bench is a folder with a design of two files, and a build that copies them
// into one, backwards, unless one of them is not complete.
type bench struct {
	log, lib, out string

	mu     sync.Mutex
	last   []disk.Input
	builds int
	broken int
}

func (b *bench) build(ctx context.Context, _ []string) Built {
	var text []byte
	var read []disk.Input
	complete := true
	for _, path := range []string{b.log, b.lib} {
		data, state, err := disk.Read(path, filepath.Base(path), disk.MaxDesign)
		read = append(read, disk.Input{Path: path, State: state})
		complete = complete && err == nil && bytes.HasSuffix(data, []byte("end\n"))
		text = append(text, data...)
	}
	if complete {
		complete = disk.WriteSet(ctx, outputs(b.out, text), disk.Rules{}) == nil
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.last = read
	b.builds++
	if !complete {
		b.broken++
	}
	return Built{Inputs: read}
}

// outputs is what a clean build of text writes.
func outputs(dir string, text []byte) []disk.File {
	return []disk.File{
		{Path: filepath.Join(dir, "log.svg"), Data: bytes.ToUpper(text)},
		{Path: filepath.Join(dir, "log.dxf"), Data: bytes.Repeat(text, 2)},
	}
}

// built waits until the files as they are now have been built.
func (b *bench) built(t *testing.T) {
	t.Helper()
	for deadline := time.Now().Add(20 * time.Second); time.Now().Before(deadline); time.Sleep(5 * time.Millisecond) {
		b.mu.Lock()
		last := b.last
		b.mu.Unlock()
		same := len(last) > 0
		for _, in := range last {
			same = same && in.State == disk.Look(in.Path)
		}
		if same {
			return
		}
	}
	t.Fatal("the last save was not built")
}

func (b *bench) wantOutputs(t *testing.T, text []byte) {
	t.Helper()
	for _, f := range outputs(b.out, text) {
		if got, err := os.ReadFile(f.Path); err != nil || !bytes.Equal(got, f.Data) {
			t.Fatalf("%s is not what a clean build writes (%d bytes, want %d; %v)", filepath.Base(f.Path), len(got), len(f.Data), err)
		}
	}
	entries, _ := os.ReadDir(b.out)
	if len(entries) != 2 {
		t.Errorf("other files than the outputs are there: %v", entries)
	}
}

// Two hundred saves in each way (fewer when polling) end in the files of a clean build, and a
// broken save leaves the last good ones.
func TestSaves(t *testing.T) {
	for _, poll := range []bool{false, true} {
		for _, way := range watchtest.Ways() {
			t.Run(fmt.Sprintf("%s, poll %v", way.Name, poll), func(t *testing.T) {
				t.Parallel()
				saves := foretest.Sample(200, 25)
				if poll {
					saves = foretest.Sample(60, 15) // the way of saving matters less when only the content is looked at
				}
				dir := t.TempDir()
				b := &bench{log: filepath.Join(dir, "log.fore"), lib: filepath.Join(dir, "lib", "lib.fore"), out: filepath.Join(dir, "out")}
				foretest.Write(t, b.log, "panel 0 end\n")
				foretest.Write(t, b.lib, "shop 0 end\n")
				opts := Options{Every: time.Hour} // events alone must do
				if poll {
					opts = Options{Poll: true, Every: 50 * ms}
				}
				ctx, stop := context.WithCancel(t.Context())
				ready, ended := make(chan bool), make(chan error)
				go func() { ended <- Run(ctx, opts, func() { close(ready) }, b.build) }()
				<-ready
				text := func(i int, path string) []byte {
					return fmt.Appendf(nil, "%s %d %s end\n", filepath.Base(path), i, bytes.Repeat([]byte("web "), 50+i))
				}
				for i := range saves {
					path := b.log
					if i%5 == 4 {
						path = b.lib
					}
					foretest.Must(t, way.Save(path, text(i, path)))
					if i%10 == 0 {
						b.built(t)
					} else {
						time.Sleep(time.Duration(i*7%31) * ms) // so that saves meet a build at every point of it
					}
				}
				good := append(text(saves-2, b.log), text(saves-1, b.lib)...)
				b.built(t)
				b.wantOutputs(t, good)

				foretest.Must(t, way.Save(b.log, []byte("panel broken\n")))
				b.built(t)
				b.wantOutputs(t, good)
				stop()
				if err := <-ended; err != context.Canceled {
					t.Errorf("the watch ended with %v", err)
				}
				t.Logf("%d builds, %d of an incomplete design", b.builds, b.broken)
			})
		}
	}
}
