package compile_test

import (
	"fmt"
	"reflect"
	"slices"
	"sort"
	"strings"
	"testing"

	"foredge/eval/dim"
	"foredge/eval/evaltest"
	"foredge/eval/kind"
	"foredge/eval/model"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// around holds, for each kind, a design with one thing of it; LINE stands where
// the thing's lines do.
var around = map[kind.ID]string{
	kind.Notebook: "notebook x { LINE }",
	kind.Panel: `notebook log { width = 148 exact; height = 210 exact }
		stock grey { thick = 2 }
		stock birch { thick = 3 }
		panel x covers log { LINE }`,
	kind.Row: `stock cloth { thick = 0.3 }
		stock paper { thick = 0.1 }
		binding loop { ring = 9.5; wire = 0.9 }
		binding coil { ring = 9.5; wire = 0.9; form = coil }
		notebook log { width = 148 exact; height = 210 exact; row x on spine { LINE } }
		panel front covers log { row x { neck = 1 } }
		panel back { row x on spine { LINE } }`,
	kind.Gap:     "gap x { LINE }",
	kind.Case:    "stock cloth { thick = 0.3 }\nstock paper { thick = 0.1 }\npanel front { width = 10 }\npanel back { width = 10 }\ngap joint { width = 7 }\ncase x { LINE }",
	kind.Region:  "panel front { width = 100; region x { LINE } }",
	kind.Cutout:  "panel front { width = 100; cutout x { LINE } }",
	kind.Line:    "panel front { width = 100; line x { LINE } }",
	kind.Lattice: "panel front { width = 100; thick = 3; lattice x { turn = 90 deg; radius = 20; LINE } }",
	kind.Pattern: "pattern x { LINE }\npanel front { width = 100; row r on spine like x { inset = 3 } }",
	kind.Stock:   "material ply { kerf = 0.2 }\nmaterial board { kerf = 0.2 }\nstock x { LINE }",
	kind.Material: `material x { LINE }
		stock sheet { material = x; thick = 3 }
		panel front { stock = sheet; thick = 3; lattice fold { turn = 90 deg; radius = 20; shear-modulus = 1000; allowed-shear = 5 } }`,
	kind.Laser:   "laser x { LINE }\npanel front { width = 100 }",
	kind.Binding: "binding x { LINE }",
	kind.Field:   "panel front { width = 100; height = 100; field x { cutout each { height = 4 } LINE } }",
	kind.Tabs:    "panel front { width = 100; height = 100; tabs x on head { LINE } }",
	kind.Stitch: `panel front { width = 100; height = 100; cutout hatch { shape = rect 20 by 30 }; region note { width = 30; height = 40 }
		stitch x { inset = 4; LINE } }`,
	// What a style states counts in the panel that is like it.
	kind.Style: `notebook log { width = 148 exact; height = 210 exact }
		stock grey { thick = 2 }
		stock birch { thick = 3 }
		style x { LINE }
		panel y covers log like x`,
}

// properties holds, for each kind, two lines that state each of its properties
// differently. What is only checked, and used for nothing yet, has one that is
// wrong.
var properties = map[kind.ID]map[string][]string{
	kind.Notebook: {
		"accuracy": {"accuracy = 0.03", "accuracy = 0.02"}, "resolution": {"resolution = 0.01", "resolution = 0.02"},
		"jaw-flat": {"jaw-flat = 0.3", "jaw-flat = 0.2"},
	},
	kind.Panel: {
		"corners": {"corners = radius 4", "corners = square"}, "corner": {"corner tail-foredge = chamfer 4", "corner head-spine = chamfer 4"},
		"arch":   {"arch = 4", "arch = 5"},
		"copies": {"copies = 2", "copies = 3"}, "stock": {"stock = birch", "stock = grey"}, "quiet": {"quiet = thin-web", "quiet = small-part"},
	},
	kind.Row: {
		"hole": {"hole = rect 4 by 5", "hole = slot 4 by 5"}, "gaps": {"gaps = 19, 19 exact", "gaps = 19, 20 exact"},
		"gap": {"gap 2 = 19 exact", "gap 1 = 19 exact"}, "neck": {"neck = 2", "neck = 3"}, "binding": {"binding = loop", "binding = coil"},
		"guide-stock": {"guide-stock = cloth", "guide-stock = paper"},
	},
	kind.Case: {
		"lay":            {"lay = front, joint", "lay = joint, front"},
		"covering-stock": {"lay = front, joint; covering-stock = cloth", "lay = front, joint; covering-stock = paper"},
		"lining-stock":   {"lay = front, joint; lining-stock = cloth", "lay = front, joint; lining-stock = paper"},
		"bound":          {"lay = back, joint, front; bound = full", "lay = back, joint, front; bound = quarter"},
		"spine-stock":    {"lay = front, joint; spine-stock = cloth", "lay = front, joint; spine-stock = paper"},
		"quiet":          {"quiet = small-part", "quiet = thin-web"},
	},
	kind.Region: {"clear": {"clear = 2", "clear = 3"}, "face": {"face = inside", "face = outside"}},
	kind.Cutout: {
		"shape": {"shape = slot 20 by 10", "shape = rect 20 by 10"}, "clear": {"clear = 2", "clear = 3"},
		"open": {"open = tail", "open = foredge"}, "neck": {"open = head; neck = 4", "open = head; neck = 5"},
		"rotate": {"rotate = 30 deg", "rotate = 40 deg"}, "depth": {"depth = 1", "depth = 2"},
		"face": {"depth = 1; face = inside", "depth = 1; face = outside"},
	},
	kind.Line:    {"from": {"from = head", "from = tail"}, "op": {"op = cut", "op = mark"}},
	kind.Lattice: {"shear-modulus": {"shear-modulus = 1000", "shear-modulus = 900"}, "allowed-shear": {"allowed-shear = 5", "allowed-shear = 4"}},
	kind.Pattern: {
		"hole": {"hole = round 6", "hole = round 5"}, "gaps": {"gaps = 19, 19", "gaps = 19, 20"},
		"gap": {"gap 1 = 19", "gap 1 = 20"}, "neck": {"neck = 2", "neck = 3"},
	},
	kind.Stock: {
		"size": {"size = 600 by 300", "size = 600 by 400"}, "material": {"material = ply", "material = board"},
		"grain": {"grain = along width", "grain = along height"}, "greys": {"greys = 5 %, 50 %, 90 %", "greys = 5 %, 40 %, 90 %"}, "price": {"price = thick"},
		"kerf": {"kerf = 0.2", "kerf = 0.2 ± 0.01"}, "quantity": {"quantity = 0.5"}, "offcuts": {"offcuts = 20"}, "margin": {"margin = -1"}, "spacing": {"spacing = -1"}, "knife": {"knife = maybe"}, "shared-cuts": {"shared-cuts = 2"}, "bridge": {"bridge = 0"}, "bridge-below": {"bridge-below = -1"}, "cut-speed": {"cut-speed = 0"}, "score-speed": {"score-speed = 0"}, "passes": {"passes = 1.5"}, "accuracy": {"accuracy = 0.02", "accuracy = 0.03"},
		"resolution": {"resolution = 0.01", "resolution = 0.02"}, "allow": {`allow = "a test piece"`, `allow = "a trial"`},
		"quiet": {"quiet = thin-web", "quiet = small-part"},
	},
	kind.Material: {
		"kerf": {"kerf = 0.3", "kerf = 0.1 * thick"}, "thick-over": {"thick-over = 0.1 * thick", "thick-over = 0.1"},
		"thick-under": {"thick-under = 0.2", "thick-under = 0.1"}, "least-web": {"least-web = 2", "least-web = 3"},
		"least-detail": {"least-detail = 1", "least-detail = 2"}, "least-edge": {"least-edge = 2", "least-edge = thick"},
		"least-radius": {"least-radius = 0.5", "least-radius = 1"}, "movement": {"movement = 1.3 %", "movement = 0.2 %"}, "gives-off": {`gives-off = "formaldehyde"`, `gives-off = "smoke"`},
		"never":         {`never = "it gives off chlorine"`, `never = "it burns"`},
		"burns":         {`burns = "readily"`, `burns = "slowly"`},
		"ask":           {`ask = "lists disagree"`, `ask = "nobody knows it"`},
		"shear-modulus": {"shear-modulus = 900", "shear-modulus = 800"}, "allowed-shear": {"allowed-shear = 4", "allowed-shear = 3"},
	},
	kind.Laser: {
		"bed": {"bed = 600 by 400", "bed = 600 by 500"}, "kerf": {"kerf = 0.18 ± 0.02", "kerf = 0.18"},
		"line-width":    {"line-width = 0.01", "line-width = 0.02"},
		"engrave-speed": {"engrave-speed = 0"}, "mark-speed": {"mark-speed = 0"}, "score-speed": {"score-speed = 0"}, "cut-speed": {"cut-speed = 0"},
		"travel-speed": {"travel-speed = 0"}, "acceleration": {"acceleration = 0"}, "corner-speed": {"corner-speed = -1"},
		"engrave-distance": {"engrave-distance = 0"}, "run-out": {"run-out = -1"}, "one-way": {"one-way = maybe"}, "heat-spread": {"heat-spread = 0"},
		"passes": {"passes = 1.5"}, "rate": {"rate = -1"}, "labour": {"labour = -1"}, "waste": {"waste = 15"}, "profit": {"profit = 20"},
		"scale-x": {"scale-x = 1.002", "scale-x = 1.001"}, "scale-y": {"scale-y = 0.999", "scale-y = 0.998"},
		"engrave-colour": {`engrave-colour = "#102030"`, `engrave-colour = "#102031"`}, "mark-colour": {`mark-colour = "#102030"`, `mark-colour = "#102031"`},
		"score-colour": {`score-colour = "#102030"`, `score-colour = "#102031"`}, "cut-colour": {`cut-colour = "#102030"`, `cut-colour = "#102031"`},
		"quiet": {"quiet = caution", "quiet = thin-web"},
	},
	kind.Tabs: {
		"count": {"count = 2", "count = 3"}, "places": {"places = 5", "places = 6"}, "place": {"place = 1", "place = 2"},
		"extension": {"extension = 6", "extension = 7"}, "radius": {"radius = 1", "radius = 2"},
	},
	kind.Stitch: {
		"hole": {"hole = round 2", "hole = slot 2 by 1"}, "stitch-length": {"hole = round 1; stitch-length = 6", "hole = round 1; stitch-length = 7"},
		"around": {"hole = round 1; stitch-length = 6; around = hatch", "hole = round 1; stitch-length = 6; around = note"},
		"along":  {"hole = round 1; stitch-length = 6; along = spine", "hole = round 1; stitch-length = 6; along = tail, foredge"},
	},
	kind.Binding: {"form": {"form = loop", "form = coil"}},
	kind.Style: {
		"corners": {"corners = radius 4", "corners = square"}, "corner": {"corner tail-foredge = chamfer 4", "corner head-spine = chamfer 4"},
		"arch":   {"arch = 4", "arch = 5"},
		"copies": {"copies = 2", "copies = 3"}, "stock": {"stock = birch", "stock = grey"}, "quiet": {"quiet = thin-web", "quiet = small-part"},
	},
}

// Each kind of thing becomes one of the model.
func TestEachKindIsMade(t *testing.T) {
	for _, k := range declared(t) {
		m, _, fault := build(strings.ReplaceAll(around[k.ID], "LINE", ""), evaltest.Files{})
		if fault != "" {
			t.Errorf("a %s can't be compiled: %s", k.Name, fault)
			continue
		}
		if k.ID == kind.Style {
			continue // panels are like it
		}
		if !slices.ContainsFunc(m.Things, func(n model.Node) bool { return n.Base().Kind == k.ID && n.Base().Name == "x" }) {
			t.Errorf("no thing of the model is the %s that a design declares", k.Name)
		}
	}
}

// What a design states of a thing makes a difference: in the model, in its
// system of relations, or to what is wrong with it.
func TestEachLineCounts(t *testing.T) {
	for _, k := range declared(t) {
		names := slices.Clone(k.Props)
		if k.Indexed != "" {
			names = append(names, k.Indexed)
		}
		for _, name := range names {
			lines, ok := properties[k.ID][name]
			if !ok {
				t.Errorf("no line of this test states the %s of a %s", name, k.Name)
				continue
			}
			counts(t, around[k.ID], k.Name, name, lines...)
		}
		for name := range properties[k.ID] {
			if !slices.Contains(names, name) {
				t.Errorf("this test states the %s of a %s, which has none", name, k.Name)
			}
		}
		for _, d := range k.Dims {
			if k.ID == kind.Material { // its thickness is that of the sheet: it can't be stated
				counts(t, around[k.ID], k.Name, d.String(), d.String()+" = 1")
				continue
			}
			design := around[k.ID]
			if k.ID == kind.Row && d == dim.Ease { // only what covers a row has it
				design = strings.Replace(strings.Replace(design, "LINE", "", 1), "neck = 1", "LINE", 1)
			}
			if k.ID == kind.Case { // some only one in half has
				design = strings.Replace(design, "LINE", "lay = back, joint, front; bound = half; LINE", 1)
			}
			in := ""
			if d.Kind() == unit.Angle {
				in = " deg"
			}
			counts(t, design, k.Name, d.String(), d.String()+" = 1"+in+" exact", d.String()+" = 2"+in+" exact")
		}
	}
}

// declared lists the kinds of which things are made: all but tables of orders and jobs.
func declared(t *testing.T) []*kind.Kind {
	var kinds []*kind.Kind
	for _, name := range kind.Names() {
		k := kind.Find(name)
		switch {
		case k.ID == kind.Orders, k.ID == kind.Job, k.ID == kind.Make:
		case around[k.ID] == "":
			t.Errorf("no design of this test declares a %s", k.Name)
		default:
			kinds = append(kinds, k)
		}
	}
	return kinds
}

// counts checks that each of some lines makes a difference to the thing of a
// kind in a design, and another one than the rest.
func counts(t *testing.T, design, kind, name string, lines ...string) {
	t.Helper()
	with := func(line string) string {
		text, _ := outcome(strings.ReplaceAll(design, "LINE", line), evaltest.Files{})
		return text
	}
	// Of what has to be stated together with the line, all but the last is there
	// without it, too.
	before := ""
	if i := strings.LastIndex(lines[0], ";"); i >= 0 {
		before = lines[0][:i]
	}
	seen := []string{with(before)}
	for _, line := range lines {
		got := with(line)
		if slices.Contains(seen, got) {
			t.Errorf("`%s` makes no difference to a %s: compile forgets its %s", line, kind, name)
		}
		seen = append(seen, got)
	}
	// It is what the line states that differs, not where all else stands.
	if with("\n"+before+"\n") != seen[0] {
		t.Fatalf("a blank line in a %s makes a difference", kind)
	}
}

func build(text string, files evaltest.Files) (m *model.Design, ds diag.List, fault string) {
	defer func() {
		if p := recover(); p != nil {
			fault = fmt.Sprint(p)
		}
	}()
	built, ds := evaltest.Build(text, files)
	return built.Design, ds, ""
}

// outcome writes all that a design comes to, but where it stands in the text.
func outcome(text string, files evaltest.Files) (string, diag.List) {
	m, ds, fault := build(text, files)
	w := writer{seen: map[uintptr]int{}}
	w.value(reflect.ValueOf(m))
	for _, d := range ds {
		fmt.Fprintf(&w.text, "%v %s: %s (%s)\n", d.Severity, d.Code, d.Message, d.Help)
	}
	return fault + w.text.String(), ds
}

// A writer writes values in depth, each thing once, without the places in the
// text.
type writer struct {
	text strings.Builder
	seen map[uintptr]int
}

func (w *writer) value(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			w.text.WriteString("nil\n")
			return
		}
		if n, ok := w.seen[v.Pointer()]; ok {
			fmt.Fprintf(&w.text, "thing %d\n", n)
			return
		}
		w.seen[v.Pointer()] = len(w.seen)
		w.value(v.Elem())
	case reflect.Interface:
		if v.IsNil() {
			w.text.WriteString("nil\n")
			return
		}
		fmt.Fprintf(&w.text, "%v ", v.Elem().Type())
		w.value(v.Elem())
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[source.Span]() {
			return
		}
		for i := range v.NumField() {
			if name := v.Type().Field(i).Name; name != "units" && name != "dims" { // by file; the names of Vars
				fmt.Fprintf(&w.text, "%s: ", name)
				w.value(v.Field(i))
			}
		}
	case reflect.Slice, reflect.Array:
		fmt.Fprintf(&w.text, "%d of\n", v.Len())
		for i := range v.Len() {
			w.value(v.Index(i))
		}
	case reflect.Map:
		keys := v.MapKeys()
		sort.Slice(keys, func(i, j int) bool { return fmt.Sprint(keys[i]) < fmt.Sprint(keys[j]) })
		for _, k := range keys {
			fmt.Fprintf(&w.text, "%v: ", k)
			w.value(v.MapIndex(k))
		}
	default:
		fmt.Fprintf(&w.text, "%v\n", v)
	}
}
