package disk

import (
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"

	"foredge/lang/foretest"
)

// The superuser may read everything, so as one the test reads as nobody: Linux
// lets a single thread take another identity towards files (setfsuid(2)).
func TestReadWithoutPermission(t *testing.T) {
	dir := t.TempDir()
	foretest.Must(t, os.Chmod(filepath.Dir(dir), 0o755))
	path := foretest.Write(t, filepath.Join(dir, "secret.fore"), "x")
	foretest.Must(t, os.Chmod(path, 0))
	type looks struct {
		read, looked State
		err          error
	}
	seen := make(chan looks)
	go func() {
		runtime.LockOSThread() // and never unlocked, so that the thread ends with the goroutine
		if os.Geteuid() == 0 {
			const nobody = 65534
			syscall.Setfsuid(nobody)
		}
		var l looks
		_, l.read, l.err = Read(path, "secret.fore", MaxDesign)
		l.looked = Look(path)
		seen <- l
	}()
	l := <-seen
	if l.err == nil || l.err.Error() != `"secret.fore" can't be read: you don't have permission` {
		t.Errorf("got %v", l.err)
	}
	if l.read != l.looked {
		t.Error("the state differs from that of a look")
	}
}
