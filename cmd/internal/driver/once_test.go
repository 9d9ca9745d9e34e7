package driver_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/lang/diag"
	"foredge/lang/foretest"
)

// A slip puts one text in the place of another in a right design.
type slip struct{ name, old, new string }

// A right design, into which each of a maker's common slips is put: one slip is told
// by one message, whatever else comes of it. Not here are those that leave two things
// wrong on the board, and those that others tell of.
func TestSlipsAreToldOnce(t *testing.T) {
	const right = `notebook log {
  accuracy = 0.05
  width = 148.2; height = 210.1; thick = 12
  row wire on spine {
    count = 23
    hole = rect 4 by 4
    pitch = 8.47
    first = 9.9
    last = 9.9
    inset = 4.1
  }
}
stock ply { thick = 3 }
laser bench { kerf = 0.2; bed = 600 by 400 }
panel front covers log {
  over-foredge = 2; ease = 0.2
  corners = radius 4
  region title { head = 30; height = 24; spine = 20; foredge = 20
    engrave text "Harbour Log" { fit = shrink }
  }
  cutout thumb { shape = round 22; open = foredge; foredge = -11; head = tail }
}
panel back mirrors front { without title }
`
	trySlips(t, right, []slip{
		{"accuracy forgotten", `  accuracy = 0.05
`, ""},
		{"accuracy misspelt", "accuracy = 0.05", "accurracy = 0.05"},
		{"accuracy old", "accuracy = 0.05", "gauge = 0.05"},
		{"accuracy of nothing", "accuracy = 0.05", "accuracy ="},
		{"accuracy unit", "accuracy = 0.05", "accuracy = 0.05 deg"},
		{"covers misspelt", "covers log", "cover log"},
		{"covers misspelt2", "covers log", "coverz log"},
		{"covers unknown", "covers log", "covers lgo"},
		{"mirrors misspelt", "mirrors front", "mirror front"},
		{"mirrors unknown", "mirrors front", "mirrors frnt"},
		{"missing brace row", `    inset = 4.1
  }
}`, `    inset = 4.1
}`},
		{"missing brace notebook", `  }
}
stock`, `  }
stock`},
		{"missing brace region", `  }
  cutout`, "  cutout"},
		{"missing brace panel", `head = tail }
}`, `head = tail }
`},
		{"extra brace", "  over-foredge", `  }
  over-foredge`},
		{"kind misspelt panel", "panel front", "pannel front"},
		{"kind misspelt notebook", "notebook log", "notebok log"},
		{"kind misspelt row", "row wire", "rwo wire"},
		{"kind misspelt region", "region title", "regoin title"},
		{"kind misspelt cutout", "cutout thumb", "cuotut thumb"},
		{"kind misspelt stock", "stock ply", "stok ply"},
		{"kind misspelt laser", "laser bench", "lazer bench"},
		{"dim misspelt height", "height = 210.1", "heigth = 210.1"},
		{"dim misspelt pitch", "pitch = 8.47", "picth = 8.47"},
		{"dim misspelt count", "count = 23", "cuont = 23"},
		{"prop misspelt hole", "hole = rect", "hol = rect"},
		{"prop misspelt corners", "corners =", "corner ="},
		{"wrong unit pitch", "pitch = 8.47", "pitch = 8.47 deg"},
		{"wrong unit count", "count = 23", "count = 23 mm"},
		{"unknown unit", "width = 148.2", "width = 148.2 mn"},
		{"edge wrong", "on spine", "on spin"},
		{"no edge", "row wire on spine", "row wire"},
		{"missing equals", "pitch = 8.47", "pitch 8.47"},
		{"double equals", "pitch = 8.47", "pitch == 8.47"},
		{"decimal comma", "pitch = 8.47", "pitch = 8,47"},
		{"decimal comma2", "hole = rect 4 by 4", "hole = rect 4,1 by 4,1"},
		{"x for by", "rect 4 by 4", "rect 4 x 4"},
		{"colon", "pitch = 8.47", "pitch: 8.47"},
		{"quote open", `"Harbour Log"`, `"Harbour Log`},
		{"no quotes", `"Harbour Log"`, "Harbour"},
		{"hole without form", "hole = rect 4 by 4", "hole = 4 by 4"},
		{"hole form", "hole = rect 4 by 4", "hole = circle 4"},
		{"hole one size", "hole = rect 4 by 4", "hole = rect 4"},
		{"font", "{ fit = shrink }", `{ font = "Go Blod" }`},
		{"option", "fit = shrink", "fitt = shrink"},
		{"option word", "fit = shrink", "fit = shrnk"},
		{"shared: no ease word", "ease = 0.2", "eaze = 0.2"},
		{"shared region outside", "foredge = 20", "foredge = -20"},
		{"shared thumb", "head = tail }", "head = -4 }"},
		{"shared corner", "radius 4", "radius 90"},
		{"shared text too large", "{ fit = shrink }", "{ cap = 40 }"},
		{"shared overlap", "head = 30; height", "spine = 4; head = 30; height"},
		{"shared thin web", "hole = rect 4 by 4", "hole = rect 8 by 4"},
		{"shared clear", "head = 30; height", "clear = 50; head = 30; height"},
		{"hole forgotten", `    hole = rect 4 by 4
`, ""},
		{"inset forgotten", `    inset = 4.1
`, ""},
		{"width forgotten", "width = 148.2; ", ""},
		{"kerf wrong unit", "kerf = 0.2", "kerf = 0.2 deg"},
		{"bed", "bed = 600 by 400", "bed = 600"},
		{"comment slash", "  over-foredge", `  // edge
  over-foredge`},
		{"two stocks", "stock ply { thick = 3 }", `stock ply { thick = 3 }
stock grey { thick = 2 }`},
		{"without misspelt", "without title", "without tilte"},
		{"engrave missing text", `engrave text "Harbour Log"`, `engrave "Harbour Log"`},
		{"verb misspelt", "engrave text", "engave text"},
		{"name with blank", "panel front covers", "panel front cover covers"},
		{"last off", "last = 9.9", "last = 19.9"},
		{"count off", "count = 23", "count = 22"},
		{"first wrong unit", "first = 9.9", "first = 9.9 cm"},
		{"ply too thick", "thick = 3 }", "thick = 3 4 }"},
		{"panel height stated", "over-foredge = 2", "height = 100; over-foredge = 2"},
		{"kerf large", "kerf = 0.2", "kerf = 5"},
		{"bed small", "bed = 600 by 400", "bed = 100 by 100"},
		{"text small", "{ fit = shrink }", "{ cap = 1 }"},
		{"missing name", "panel back mirrors", "panel mirrors"},
		{"no notebook name", "notebook log", "notebook"},
		{"let missing", "over-foredge = 2", "over-foredge = rim"},
		{"let in notebook unknown", "width = 148.2", "width = w"},
		{"several unknown", "over-foredge = 2", "over-foredge = rim; over-head = rim; over-tail = rim"},
	})
}

// The same of a pad in inches, bound at its head.
func TestSlipsInInchesAreToldOnce(t *testing.T) {
	const right = `units in
notebook pad {
  accuracy = 0.002
  width = 5 7/8
  height = 8.27; thick = 0.5
  row wire on head {
    count = 12
    hole = round 0.2
    pitch = 0.45
    first = 0.36
    inset = 0.16
  }
}
laser bench { kerf = 0.008; bed = 24 in by 16 in }
panel front covers pad {
  thick = 0.118
  over-tail = 1/8
  ease = 0.01
  corner tail-foredge = radius 1/4
  field dot { across = 3; down = 2; gap-across = 0.2; gap-down = 0.2; tail = 1; cutout each { shape = round 0.4 } }
  line fold { from = tail; at = 0.5 }
  region t { head = 2; height = 1; width = 3; mark text "Tides" { font = stroke; fit = fill } }
}
panel back mirrors front
`
	trySlips(t, right, []slip{
		{"comma", "pitch = 0.45", "pitch = 0,45"},
		{"hyphen", "5 7/8", "5-7/8"},
		{"no accuracy", `  accuracy = 0.002
`, ""},
		{"edge", "on head", "on hed"},
		{"edge top", "on head", "on top"},
		{"field kind", "cutout each", "cutot each"},
		{"field count", "across = 3", "acros = 3"},
		{"line from", "from = tail", "from = bottom"},
		{"line op", "at = 0.5", "at = 20"},
		{"stroke engraved", "mark text", "engrave text"},
		{"covers", "covers pad", "covers pat"},
		{"hole", "round 0.2", "rond 0.2"},
		{"brace", `  }
}
laser`, `}
laser`},
		{"bed", "24 in by 16 in", "24 in x 16 in"},
		{"gap", "gap-down = 0.2", "gap-down = -0.2"},
		{"text", "fit = fill", "fit = full"},
		{"corner", "corner tail-foredge", "corner bottom-right"},
		{"thick", "thick = 0.118", "thickness = 0.118"},
		{"font", "font = stroke", "font = strok"},
		{"let", "over-tail = 1/8", "over-tail = lap"},
		{"pitch large", "pitch = 0.45", "pitch = 0.9"},
		{"ease words", "ease = 0.01", "play = 0.01"},
		{"unit twice", "units in", `units in
units mm`},
		{"exact", "5 7/8", "5 7/8 exakt"},
		{"plus", "8.27;", "8.27 +- 0.01;"},
		{"region w", "width = 3; mark", "widht = 3; mark"},
		{"field overlap", "tail = 1; cutout", "tail = 5; cutout"},
		{"field each missing", "cutout each { shape = round 0.4 } ", ""},
		{"two each", "cutout each { shape = round 0.4 }", "cutout each { shape = round 0.4 }; cutout other { shape = round 0.3 }"},
		{"missing semicolon", "across = 3; down", "across = 3 down"},
		{"missing value", "over-tail = 1/8", "over-tail ="},
		{"paren", "over-tail = 1/8", "over-tail = (1/8"},
		{"count text", "count = 12", `count = "12"`},
		{"count half", "count = 12", "count = 12.5"},
		{"neg", "first = 0.36", "first = -0.36"},
	})
}

func trySlips(t *testing.T, right string, slips []slip) {
	t.Helper()
	try := func(name, text string, want int) {
		path := filepath.Join(t.TempDir(), "slip.fore")
		foretest.Must(t, os.WriteFile(path, []byte(text), 0o666))
		r := driver.NewSession(nil).Check(context.Background(), path)
		foretest.Must(t, r.Err)
		var told []string
		for _, d := range r.Diagnostics {
			if d.Severity != diag.Info {
				told = append(told, d.Span.String()+": "+d.Message)
			}
		}
		if len(told) != want {
			t.Errorf("%s: told %d times, want %d:\n%s", name, len(told), want, strings.Join(told, "\n"))
		}
	}
	try("none", right, 0)
	for _, c := range slips {
		text := strings.Replace(right, c.old, c.new, 1)
		if text == right {
			t.Errorf("%s: the slip isn't there", c.name)
		}
		try(c.name, text, 1)
	}
}

// Of what is told once the place is kept that is declared first, and further places
// of a name that means nothing are noted.
func TestOnceKeepsPlaces(t *testing.T) {
	path := filepath.Join(t.TempDir(), "slip.fore")
	foretest.Must(t, os.WriteFile(path, []byte(`panel front { width = 100; height = rim
  row wire on spine { count = 3; pitch = 20; hole = round rim } }
panel back mirrors front
stock ply { thick = rim }
`), 0o666))
	r := driver.NewSession(nil).Check(context.Background(), path)
	foretest.Must(t, r.Err)
	if len(r.Diagnostics) != 1 || len(r.Diagnostics[0].Notes) != 2 || r.Diagnostics[0].Notes[1].Span.Short() != "rim" {
		for _, d := range r.Diagnostics {
			t.Errorf("told %+v", *d)
		}
	}
}
