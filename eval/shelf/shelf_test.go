package shelf

import (
	"slices"
	"testing"

	"foredge/lang/parse"
	"foredge/lang/source"
)

func TestParts(t *testing.T) {
	names := Names()
	if !slices.Contains(names, "bindings") || !slices.IsSorted(names) {
		t.Errorf("the shelf has %v", names)
	}
	for _, n := range names {
		text, ok := Text(n)
		if !ok {
			t.Errorf("no text of %s", n)
		}
		if _, ds := parse.File(source.New(n, text)); len(ds) > 0 {
			t.Errorf("%s: %s", ds[0].Span, ds[0].Message)
		}
	}
	if _, ok := Text("../shelf"); ok {
		t.Error("a name can lead out of the shelf")
	}
}

// What had another name once is there under its new one alone.
func TestRenamed(t *testing.T) {
	there := map[string]bool{}
	for _, p := range All() {
		for _, x := range p.Things {
			there[x.Name] = true
		}
	}
	for _, old := range []string{"six-ring", "six-ring-personal", "six-ring-small", "six-ring-pocket", "five-ring-mini", "five-ring-small"} {
		if now := Renamed(old); there[old] || !there[now] {
			t.Errorf("%s is called %q now", old, now)
		}
	}
	for name := range there {
		if now := Renamed(name); now != "" {
			t.Errorf("%s is on the shelf, and is said to be called %s now", name, now)
		}
	}
}

// One declaration cut out of a part is what the parser makes of the whole.
func TestDeclaration(t *testing.T) {
	for _, p := range All() {
		for _, x := range p.Things {
			if x.Kind == "let" {
				continue
			}
			if got, ok := Declaration(p.Name, x.Kind, x.Name); !ok || got != x.Text {
				t.Errorf("%s %s is %q, want %q", x.Kind, x.Name, got, x.Text)
			}
			if part, ok := Holder(x.Kind, x.Name); !ok || part != p.Name {
				t.Errorf("%s %s is said to be in %q, not in %s", x.Kind, x.Name, part, p.Name)
			}
		}
	}
	for _, c := range [][3]string{{"materials", "material", "birch"}, {"materials", "material", ""}, {"materials", "pattern", "pvc"}, {"nothing", "material", "pvc"}} {
		if got, ok := Declaration(c[0], c[1], c[2]); ok {
			t.Errorf("%v is %q", c, got)
		}
	}
}
