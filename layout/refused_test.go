package layout_test

import (
	"encoding/binary"
	"slices"
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/layout"
)

// toldOnce fails the test unless there is one error, of the given code.
func toldOnce(t *testing.T, what string, diags diag.List, code diag.Code) {
	t.Helper()
	errors := slices.DeleteFunc(slices.Clone(diags), func(d *diag.Diagnostic) bool { return d.Severity != diag.Error })
	if len(errors) != 1 || errors[0].Code != code || errors[0].Help == "" {
		t.Errorf("%s: want %s with help, got\n%s", what, code, diagtest.Text(diags))
	}
}

// What can't be done with a picture of dots, and what would take too many.
func TestPictureRefusals(t *testing.T) {
	data := quarterPicture(t)
	for what, c := range map[string]struct {
		mark design.Artwork
		want diag.Code
	}{
		"cut":       {design.Artwork{Op: word.Cut}, "art-dots"},
		"turned":    {design.Artwork{Turn: 30}, "art-dots"},
		"fine":      {design.Artwork{Dots: design.Dots{LineDistance: maybe.Is(0.01)}}, "too-many-dots"},
		"just fine": {design.Artwork{Dots: design.Dots{LineDistance: maybe.Is(0.0141)}, Width: maybe.Is(40.0)}, "too-many-dots"},
	} {
		c.mark.Data = data
		_, diags := withArt(t, c.mark, "")
		toldOnce(t, what, diags, c.want)
	}
	_, vast := withArt(t, design.Artwork{Data: data, Dots: design.Dots{LineDistance: maybe.Is(0.000001)}}, "")
	if text := diagtest.Text(vast); !strings.Contains(text, "lines 0.000001 mm apart") {
		t.Errorf("told %s", text)
	}
	_, diags := withArt(t, design.Artwork{Data: data, Dots: design.Dots{LineDistance: maybe.Is(0.015)}}, "")
	if diags.HasErrors() {
		t.Errorf("3.6 million dots are refused: %s", diagtest.Text(diags))
	}
}

// Of a font file that holds several fonts one must be named.
func TestFontCollection(t *testing.T) {
	file := collection(goregular.TTF, gobold.TTF)
	for name, want := range map[string]diag.Code{"shop.ttc#2": "", "shop.ttc#Go Bold": "", "shop.ttc": "font-collection", "shop.ttc#3": "font-collection"} {
		d := mustSolve(t, `panel front { width = 120; height = 160; region title { width = 80; height = 30; engrave text "Tern" } }`)
		text := d.Panels[0].Regions[0].Marks[0].(*design.Lettering)
		text.Font = design.Font{Name: name, Data: file, At: text.At}
		_, diags := layout.Draw(d)
		if want != "" {
			toldOnce(t, name, diags, want)
		} else if diags.HasErrors() {
			t.Errorf("%s: %s", name, diagtest.Text(diags))
		}
	}
}

// collection joins font files to one (OpenType specification, "Font
// collections"): a header, their directories with the offsets moved, the tables.
func collection(files ...[]byte) []byte {
	head := binary.BigEndian.AppendUint32([]byte("ttcf\x00\x01\x00\x00"), uint32(len(files)))
	at := len(head) + 4*len(files)
	var body []byte
	for _, f := range files {
		start := uint32(at + len(body))
		head = binary.BigEndian.AppendUint32(head, start)
		f = slices.Clone(f)
		for i := range int(binary.BigEndian.Uint16(f[4:])) {
			offset := f[12+16*i+8:]
			binary.BigEndian.PutUint32(offset, binary.BigEndian.Uint32(offset)+start)
		}
		body = append(body, f...)
	}
	return append(head, body...)
}

// A character that can't be seen is not lettered as nothing.
func TestUnseenCharacter(t *testing.T) {
	d := mustSolve(t, `panel front { width = 120; height = 160; region title { width = 80; height = 30; engrave text "Tern" } }`)
	text := d.Panels[0].Regions[0].Marks[0].(*design.Lettering)
	text.Text = "Te\arn"
	_, diags := layout.Draw(d)
	toldOnce(t, "a bell", diags, "unseen")
}
