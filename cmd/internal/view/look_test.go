package view_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"foredge/lang/foretest"
)

// ready waits until every design of a page is drawn.
const ready = `document.querySelectorAll("article").length > 0 && [...document.querySelectorAll("article")].every((a) => a.dataset.revision)`

// The page at three widths, light and dark: FOREDGE_PICTURES names a folder into which
// its pictures are put, to be looked at. Nothing sticks out sideways.
func TestPictures(t *testing.T) {
	b := newBrowser(t, func(method string, params json.RawMessage) {
		if method == "Runtime.exceptionThrown" {
			t.Errorf("%s", params)
		}
	})
	dir := shop(t, "harbour-log.fore", "ledger-case.fore")
	address := shows(t, nil, filepath.Join(dir, "harbour-log.fore"), filepath.Join(dir, "ledger-case.fore"))
	for _, scheme := range []string{"light", "dark"} {
		for _, width := range []int{360, 800, 1600} {
			b.size(width, 900, scheme)
			b.open(address + "/")
			b.until("the drawings", ready)
			var over int
			b.run(`document.documentElement.scrollWidth - document.documentElement.clientWidth`, &over)
			if over > 0 {
				t.Errorf("%d px wide, the page is %d px wider than the window", width, over)
			}
			if folder := os.Getenv("FOREDGE_PICTURES"); folder != "" {
				foretest.Must(t, os.WriteFile(filepath.Join(folder, fmt.Sprintf("%d-%s.png", width, scheme)), b.picture(), 0o666))
			}
		}
	}
}
