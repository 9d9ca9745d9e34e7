package eval_test

import (
	"testing"

	"foredge/lang/parse"
	"foredge/lang/source"

	"foredge/eval"
)

// A row of one hole and a field of one member have no pitch, and say all the same
// what put them where they are.
func TestWhyOfOne(t *testing.T) {
	tree, ds := parse.File(source.New("one.fore", []byte(`panel p { width = 100; height = 100
row r on head { count = 1; hole = round 3; inset = 3 }
field f { across = 1; down = 1; cutout c { width = 3; height = 3 } } }`)))
	m, more := eval.Build(tree, memory{})
	s, last := m.Solve()
	if ds.HasErrors() || more.HasErrors() || last.HasErrors() {
		t.Fatal(show(append(append(ds, more...), last...)))
	}
	for name, text := range map[string]string{
		"p.r.first": "default: p.r.first = p.r.last (a row is centred)",
		"p.r.run":   "derived: p.r.run = (p.r.count - 1) * p.r.pitch",
		"p.f.head":  "default: p.f.head = p.f.tail (centred)",
		"p.f.width": "derived: p.f.width = p.f.c.width + (p.f.across - 1) * p.f.pitch-across",
	} {
		id, ok := s.Dimension(name)
		if !ok {
			t.Fatalf("no %s", name)
		}
		step := s.Why(id)[0]
		if got := step.From.String() + ": " + step.Text; got != text {
			t.Errorf("%s: %q, want %q", name, got, text)
		}
	}
}
