package batch

import (
	"path/filepath"
	"strings"
	"testing"

	"foredge/lang/foretest"
)

// Words that are in another font than the design's are on the ticket, and among what to
// look at; what a list of the design or a default says is not.
func TestOtherFontsAreToldToTheBench(t *testing.T) {
	design := strings.Replace(tag, "engrave text order.name", `engrave text order.name { font = "Go Bold" }`, 1)
	design = strings.Replace(design, "copies = count default 1", `copies = count default 1; motif = one of "gull", "none" default "none"; note = text default "-"`, 1)
	design = strings.Replace(design, "panel back", "panel other { thick = 3; width = 80; height = 40; check order.motif = \"none\"; check order.note = \"-\" }\npanel back", 1)
	dir := t.TempDir()
	r := tagBatch(t, dir, design, Options{}, 0, "Ada Đỗ")
	if r.Err != nil || r.Done != 1 {
		t.Fatalf("%v %v", r.Err, r.Diagnostics)
	}
	ticket := foretest.Contents(t, filepath.Join(dir, "cut"))["0001-ada-do.txt"]
	if !strings.Contains(ticket, "tag.r: Ada Đỗ, capitals 11.94 mm high, “Đỗ” in ") {
		t.Errorf("the ticket is %s", ticket)
	}
	for _, s := range r.Seen {
		if what := strings.Join(s.What, "; "); s.Text != "Ada Đỗ" || !strings.Contains(what, "is lettered in other fonts in ") {
			t.Errorf("%q: %s", s.Text, what)
		}
	}
	if len(r.Seen) == 0 {
		t.Error("nothing is to be looked at")
	}
}
