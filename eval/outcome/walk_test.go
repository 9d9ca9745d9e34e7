package outcome_test

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"foredge/eval/design"
	"foredge/eval/evaltest"
	"foredge/eval/maybe"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// everything states all that a design may state.
const everything = `units in
use materials
let board = 3 mm

laser bench {
  engrave-speed = 300 mm; mark-speed = 200 mm; score-speed = 100 mm; cut-speed = 20 mm; passes = 1; travel-speed = 500 mm; acceleration = 2000 mm; corner-speed = 5 mm
  engrave-distance = 0.1 mm; run-out = 4 mm; one-way = yes; heat-spread = 8 mm; rate = 0.5; labour = 3; waste = 10 %; profit = 20 %
  bed = 600 mm by 400 mm; kerf = 0.2 mm; line-width = 0.02 mm; scale-x = 1.002; scale-y = 0.998; quiet = caution
  engrave-colour = "#000001"; mark-colour = "#000002"; score-colour = "#000003"; cut-colour = "#000004"
}
material ply {
  kerf = 0.25 mm; thick-over = 0.3 mm; thick-under = 0.2 mm; least-web = 2 mm; least-detail = 0.8 mm
  least-edge = 3 mm; least-radius = 0.5 mm; movement = 1.2 %
  gives-off = "smoke"; burns = "slowly"; ask = "nobody knows it"; never = "it is kept for a trial"; shear-modulus = 1000; allowed-shear = 5
}
stock birch { size = 600 mm by 300 mm; material = ply; thick = board; kerf = 0.22 mm; grain = along height; greys = 5 %, 80 %; price = 8; quantity = 9; offcuts = 90 mm by 90 mm less 20 mm by 30 mm at tail-right; knife = yes; shared-cuts = yes; bridge = 0.5 mm; bridge-below = 30 mm; margin = 4 mm; spacing = 3 mm; cut-speed = 10 mm; passes = 2
  allow = "a trial"; quiet = small-part }
stock veneer { material = "walnut veneer"; thick = 0.6 mm }
stock foil { material = "PVC"; thick = 0.1 mm }

notebook log { width = 148 mm exact; height = 210 mm exact; thick = 9 mm exact
  row wire on spine { count = 3; pitch = 60 mm exact; first = 40 mm exact; inset = 5 mm exact; hole = rect 4 mm by 5 mm radius 1 mm exact; neck = 2 mm } }

panel front covers log {
  stock = birch; over-head = 1 mm; over-tail = 2 mm; over-spine = 3 mm; over-foredge = 4 mm; ease = 0.4 mm
  corners = radius 4 mm; corner head-spine = chamfer 3 mm; copies = 2; quiet = thin-web
  row own on foredge { count = 2; pitch = 30 mm; hole = round 3 mm; inset = 6 mm; binding clip { ring = 40 mm; wire = 1 mm } }
  region title { head = 20 mm; spine = 30 mm; width = 80 mm; height = 30 mm; clear = 1 mm; face = inside
    engrave text "Harbour\nLog" { font = "letters.ttf", "Go Bold"; cap <= 6 mm; least = 3 mm; align = right; wrap = yes; spacing = 0.2 mm } }
  region seal { head = 60 mm; spine = 30 mm; width = 80 mm; height = 80 mm
    cut text "Ledger" { along = arc; radius = 30 mm; side = inside; bridge = 0.7 mm }
    inlay text "Tern" { stock = veneer; recess = through; ease = 0.1 mm; bridge = 0.5 mm }
    engrave art "gull.png" { as = engrave; fit = shrink; align = tail; width = 20 mm; rotate = 90 deg; mirror = along; font = "Go Bold"; cut-colour = "red"; mark-layer = "Folds"
      line-distance = 0.1 mm; shade = ordered; brightness = 10 %; contrast = 20 %; gamma = 1.2 }
    inlay art "gull.svg" { stock = veneer; recess = through; ease = 0.1 mm; bridge = 0.5 mm }
    mark frame { radius = 3 mm } }
  cutout thumb { tail = 0; spine = 60 mm; shape = rect 20 mm by 10 mm radius 2 mm; open = tail; neck = 8 mm }
  line crease { from = foredge; at = 12 mm; op = mark }
}
panel back mirrors front
panel wrap { width = 200 mm; height = 210 mm; stock = birch
  lattice fold { turn = 180 deg; radius = 14 mm; head = 5 mm; spine = 50 mm; height = 190 mm } }

gap joint { width = 7 mm }
panel lid { width = 50 mm; height = 80 mm; stock = foil }
panel mount { width = 200 mm; height = 210 mm; stock = birch; arch = 9 mm
  region badge { head = 50 mm; spine = 20 mm; width = 40 mm; height = 40 mm }
  stitch seam { hole = round 1 mm; inset = 3 mm; stitch-length = 5 mm; along = spine, tail }
  stitch sewn { around = badge; hole = round 1 mm; inset = 3 mm; stitch-length = 5 mm }
  cutout porthole { shape = round 12 mm; tail = 20 mm; spine = 100 mm }
  stitch ring { around = porthole; hole = round 1 mm; inset = 3 mm; stitch-length = 5 mm }
  cutout pocket { shape = slot 20 mm by 2 mm; rotate = 45 deg }
  cutout disc { shape = round 10 mm; depth = 2 mm; face = inside; tail = 30 mm } }
panel divider { width = 200 mm; height = 210 mm; stock = birch
  tabs index on head { places = 8; place = 5; extension = 10 mm; radius = 2 mm } }
case cover { lay = lid, joint; turn-in = 15 mm; mitre = 4 mm; lining = 2 mm; covering-stock = foil; lining-stock = veneer; quiet = thin-detail }
notebook bare { width = 100 mm exact; height = 150 mm exact
  row sewing on spine { count = 3; pitch = 60 mm exact; first = 10 mm exact; inset = 5 mm exact; hole = round 2 mm exact; guide-stock = veneer } }
panel left { width = 50 mm; height = 80 mm; stock = foil }
panel right mirrors left
case in-half { lay = left, joint, right; bound = half; turn-in = 15 mm; spine-reach = 10 mm; corner-reach = 8 mm; overlap = 3 mm; spine-stock = foil }
`

// Each field of a design is filled from the text by some part of a design that
// states everything, or by one that makes nothing.
func TestEachFieldIsFilled(t *testing.T) {
	files := evaltest.Files{"letters.ttf": "a font", "gull.png": "a picture", "gull.svg": "a drawing"}
	s := evaltest.SoundWith(t, everything, files)
	filled := map[string]bool{}
	fields := map[string]bool{}
	fill(reflect.ValueOf(s.Design()), filled)
	fill(reflect.ValueOf(evaltest.Sound(t, "stock birch { thick = 3 }").Design()), filled)
	fill(reflect.ValueOf(evaltest.Sound(t, "let thin = 1\nstock birch when thin = 1 { thick = 3 }\npanel lid { width = 50; height = 80; stock = birch }").Design()), filled)
	for _, mark := range []reflect.Type{reflect.TypeFor[design.Lettering](), reflect.TypeFor[design.Artwork](), reflect.TypeFor[design.Frame](),
		reflect.TypeFor[design.Design]()} {
		list(mark, fields)
	}
	if len(fields) < 100 {
		t.Fatalf("only %d fields were found", len(fields))
	}
	for name := range fields {
		if !filled[name] {
			t.Errorf("%s stays empty, though a design states it", name)
		}
	}
}

// leaf reports whether a type is looked at as a whole.
func leaf(t reflect.Type) bool {
	return t.Kind() != reflect.Struct || t == reflect.TypeFor[source.Span]() || t == reflect.TypeFor[unit.Unit]() || isMaybe(t)
}

func isMaybe(t reflect.Type) bool {
	return t.PkgPath() == reflect.TypeFor[maybe.Of[int]]().PkgPath() && strings.HasPrefix(t.Name(), "Of[")
}

// list lists the fields of a struct and of those in it.
func list(t reflect.Type, fields map[string]bool) {
	switch {
	case slices.Contains([]reflect.Kind{reflect.Pointer, reflect.Slice, reflect.Array}, t.Kind()):
		list(t.Elem(), fields)
	case isMaybe(t):
		list(t.Field(0).Type, fields)
	case leaf(t):
	default:
		for i := range t.NumField() {
			name := t.Name() + "." + t.Field(i).Name
			if fields[name] {
				continue
			}
			fields[name] = true
			list(t.Field(i).Type, fields)
		}
	}
}

// fill notes the fields that hold something.
func fill(v reflect.Value, filled map[string]bool) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			fill(v.Elem(), filled)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			fill(v.Index(i), filled)
		}
	case reflect.Struct:
		switch {
		case isMaybe(v.Type()):
			if v.FieldByName("present").Bool() {
				fill(v.Field(0), filled)
			}
		case !leaf(v.Type()):
			for i := range v.NumField() {
				if !v.Field(i).IsZero() {
					filled[v.Type().Name()+"."+v.Type().Field(i).Name] = true
				}
				fill(v.Field(i), filled)
			}
		}
	}
}

// What the text of one panel says comes out as it says it.
func TestNumbers(t *testing.T) {
	files := evaltest.Files{"letters.ttf": "a font", "gull.png": "a picture", "gull.svg": "a drawing"}
	d := evaltest.SoundWith(t, everything, files).Design()
	front, back := d.Panels[0], d.Panels[1]
	for what, pair := range map[string][2]any{
		"width":                   {front.Width, 148.0 + 3 + 4},
		"height":                  {front.Height, 210.0 + 1 + 2},
		"thickness":               {front.Thick, maybe.Is(3.0)},
		"copies where none said":  {d.Panels[2].Copies, 1},
		"mirrored":                {[2]bool{front.Mirrored, back.Mirrored}, [2]bool{false, true}},
		"warnings not told":       {fmt.Sprint(front.Quiet), "[caution small-part thin-web]"},
		"rows":                    {[2]string{front.Rows[0].Name, front.Rows[1].Name}, [2]string{"wire", "own"}},
		"radius of covering hole": {front.Rows[0].Opening.Radius, 1 + 0.4/2},
		"neck of covering hole":   {front.Rows[0].Neck.Wide, 2 + 0.4},
		"own hole":                {front.Rows[1].Neck == nil, true},
		"operation of an inlay":   {front.Regions[1].Marks[1].(*design.Lettering).Op.String(), "cut"},
		"shear":                   {d.Panels[2].Lattices[0].Shear, maybe.Is(design.Shear{Modulus: 1000, Allowed: 5})},
		"material on the shelf":   {d.Panels[3].Stock.Material.OnShelf, "pvc"},
		"panel of a case":         {d.Cases[0].Parts[0].Board, &d.Panels[3]},
		"gap of a case":           {d.Cases[0].Parts[1].Board, (*design.Panel)(nil)},
	} {
		if !same(pair[0], pair[1]) {
			t.Errorf("%s: %v, want %v", what, pair[0], pair[1])
		}
	}
}

// same compares two values, numbers but for rounding.
func same(got, want any) bool {
	if g, ok := got.(float64); ok {
		d := g - want.(float64)
		return d < 1e-9 && d > -1e-9
	}
	return got == want
}
