package view_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/scene"
	"foredge/cmd/internal/watch/watchtest"
	"foredge/lang/foretest"
)

// However programs save a design and what it uses, what is shown at last is what a clean
// session makes of it, but for the drawing of a broken design, which is the last good one.
func TestShownAsFromNothing(t *testing.T) {
	design := func(i int) string {
		return fmt.Sprintf("use \"bench.fore\"\npanel cover {\n  width = %d; height = 180 + more     # %s\n  row wire on spine { hole = rect 4 by 4.5; pitch = 8.5; count = %d; inset = 4 }\n}\n",
			100+i, strings.Repeat("sawdust ", i), 8+i%12)
	}
	for _, way := range watchtest.Ways() {
		t.Run(way.Name, func(t *testing.T) {
			dir := t.TempDir()
			path, lib := filepath.Join(dir, "slip.fore"), filepath.Join(dir, "bench.fore")
			foretest.Write(t, path, design(0))
			foretest.Write(t, lib, "laser bench { kerf = 0.2 }\nlet more = 1 mm\n")
			address := shows(t, nil, path)
			for i := range foretest.Sample(60, 15) {
				if i%5 == 4 {
					foretest.Must(t, way.Save(lib, fmt.Appendf(nil, "laser bench { kerf = 0.2 }\nlet more = %d mm\n", i)))
				} else {
					foretest.Must(t, way.Save(path, []byte(design(i))))
				}
				time.Sleep(time.Duration(i*17%41) * time.Millisecond) // so that saves meet a build at every point of it
			}
			good := scene.Of(driver.NewSession(strings.NewReader("")).Look(t.Context(), path), nil)
			same(t, address, good)
			foretest.Must(t, way.Save(path, []byte(strings.Replace(design(1), "width", "widht", 1))))
			bad := scene.Of(driver.NewSession(strings.NewReader("")).Look(t.Context(), path), good)
			if bad.Good || len(bad.Problems) == 0 || len(bad.Views) == 0 {
				t.Fatalf("the broken design: %+v", bad)
			}
			same(t, address, bad)
			foretest.Must(t, os.Remove(path))
			gone := scene.Of(driver.NewSession(strings.NewReader("")).Look(t.Context(), path), bad)
			if gone.Good || len(gone.Views) == 0 || !strings.Contains(gone.Problems[0].Message, "slip.fore") {
				t.Fatalf("the design that is gone: %+v", gone.Problems)
			}
			same(t, address, gone)
		})
	}
}

// same waits for the first design of a page to be shown as want.
func same(t *testing.T, address string, want *scene.Scene) {
	t.Helper()
	data, err := json.Marshal(want)
	foretest.Must(t, err)
	var wanted any
	foretest.Must(t, json.Unmarshal(data, &wanted))
	for end := time.Now().Add(20 * time.Second); ; time.Sleep(10 * time.Millisecond) {
		answer, err := http.Get(address + "/designs/0")
		foretest.Must(t, err)
		var got any
		err = json.NewDecoder(answer.Body).Decode(&got)
		answer.Body.Close()
		foretest.Must(t, err)
		if reflect.DeepEqual(got, wanted) {
			return
		}
		if time.Now().After(end) {
			shown, _ := json.Marshal(got)
			t.Fatalf("shown is\n%.2000s\nwant\n%.2000s", shown, data)
		}
	}
}

// A text that is empty for a moment, as while it is saved slowly, doesn't take the last good
// drawing from one that is broken then.
func TestEmptyTextKeepsTheDrawing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "slip.fore")
	const text = "laser bench { kerf = 0.2 }\npanel cover { width = 100; height = 180 }\n"
	look := func(last *scene.Scene) *scene.Scene {
		return scene.Of(driver.NewSession(strings.NewReader("")).Look(t.Context(), path), last)
	}
	foretest.Write(t, path, text)
	address := shows(t, nil, path)
	good := look(nil)
	same(t, address, good)
	save(t, path, "")
	empty := look(good)
	if !empty.Good || len(empty.Views) != 0 {
		t.Fatalf("the empty text: %+v", empty)
	}
	same(t, address, empty)
	save(t, path, strings.Replace(text, "width", "widht", 1))
	bad := look(good)
	if bad.Good || len(bad.Views) == 0 {
		t.Fatalf("the broken text: %+v", bad)
	}
	same(t, address, bad)
}
