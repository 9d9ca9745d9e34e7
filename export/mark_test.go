package export_test

import (
	"bytes"
	"image/png"
	"reflect"
	"strings"
	"testing"

	"foredge/export"
	"foredge/export/dxf"
	"foredge/export/exporttest"
)

// A file is ours as long as nothing in it was changed; what programs do to the ends
// of lines doesn't count.
func TestMark(t *testing.T) {
	of := export.Origin{Design: "gull--log, sum", Made: "card", Panels: []string{"front", "übung", "a-b"}}
	drawing := exporttest.HarbourLog(1)
	for _, o := range []export.Options{{}, {DXF: dxf.Encoder{Version: dxf.R12, Inches: true}}} {
		for _, enc := range export.Encoders(o) {
			var b bytes.Buffer
			if err := enc.Encode(&b, drawing); err != nil {
				t.Fatal(err)
			}
			plain := b.Bytes()
			marked := export.Mark(bytes.Clone(plain), of)
			if export.Ours(plain) || !export.Ours(marked) {
				t.Errorf("%s: ours without its mark %v, with it %v", enc.Name(), export.Ours(plain), export.Ours(marked))
			}
			if got, ok := export.OriginOf(marked); !ok || !reflect.DeepEqual(got, of) {
				t.Errorf("%s: it says that it was made of %+v", enc.Name(), got)
			}
			if rest, _ := export.Unmark(marked); !bytes.Equal(rest, plain) {
				t.Errorf("%s: without its mark it isn't what it was", enc.Name())
			}
			if enc.Name() != "png" && !export.Ours(bytes.ReplaceAll(marked, []byte("\n"), []byte("\r\n"))) {
				t.Errorf("%s: with other ends of lines it isn't ours", enc.Name())
			}
			for i := 0; i < len(marked); i += 1 + len(marked)/500 {
				changed := bytes.Clone(marked)
				changed[i] ^= 1
				if export.Ours(changed) || export.Ours(marked[:i]) {
					t.Errorf("%s: changed or cut off at byte %d it is ours", enc.Name(), i)
				}
			}
			if enc.Name() == "png" {
				if _, err := png.Decode(bytes.NewReader(marked)); err != nil {
					t.Errorf("a marked picture can't be read: %v", err)
				}
			}
		}
	}
	ticket := export.Mark([]byte("Order 0007\n"), of)
	if want := "Order 0007\n\nmade by foredge of gull"; !strings.HasPrefix(string(ticket), want) || !export.Ours(ticket) ||
		export.Ours(append(ticket, "to be gilded\n"...)) || export.Ours(bytes.Replace(ticket, []byte("7"), []byte("8"), 1)) {
		t.Errorf("a text is marked so: %q", ticket)
	}
	for _, other := range []string{"", "</svg>\n", "<svg/>", "999\nmade by foredge, sum ", "  <!-- made by foredge, sum 00 -->\n</svg>\n", "tEXtSoftware\x00made by foredge, sum "} {
		if export.Ours([]byte(other)) {
			t.Errorf("%q is ours", other)
		}
	}
}

// An origin is short and harms no format, and what has no room in it is left out.
func TestOriginAsWritten(t *testing.T) {
	many := make([]string, 60)
	for i := range many {
		many[i] = "panel"
	}
	for _, test := range []struct {
		of   export.Origin
		want string
	}{
		{export.Origin{}, ""},
		{export.Origin{Panels: []string{"front"}}, ""},
		{export.Origin{Design: "gull"}, " of gull"},
		{export.Origin{Design: "gull", Panels: []string{"front", "back"}}, " of gull (front back)"},
		{export.Origin{Design: "gull", Made: "jig", Panels: []string{"front"}}, " of gull jig (front)"},
		{export.Origin{Design: "job day", Made: "job", In: "market in town", Panels: []string{"log"}}, " of job%20day job in market%20in%20town (log)"},
		{export.Origin{Design: "a--b (c)"}, " of a-%2Db%20%28c%29"},
		{export.Origin{Design: "möwe%", Panels: []string{"--->"}}, " of m%C3%B6we%25 (-%2D%2D%3E)"},
		{export.Origin{Design: "gull", Panels: many}, " of gull"},
		{export.Origin{Design: strings.Repeat("g", 200)}, ""},
	} {
		if got := test.of.String(); got != test.want {
			t.Errorf("%+v is written %q, want %q", test.of, got, test.want)
		}
	}
}
