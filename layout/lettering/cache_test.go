package lettering

import (
	"fmt"
	"slices"
	"sync"
	"testing"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
)

// A font is told by its name and what is in its file, read once, and forgotten
// after enough others.
func TestCache(t *testing.T) {
	var r Cache
	parse := func(name string, data []byte) *Font {
		f, err := r.Parse(name, data)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	bold := parse("a.ttf", gobold.TTF)
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			if f, _ := r.Parse("a.ttf", slices.Clone(gobold.TTF)); f != bold {
				t.Error("the same font is read again")
			}
		})
	}
	wg.Wait()
	if f := parse("a.ttf", gomono.TTF); f == bold || f.Name() != "a.ttf" {
		t.Error("another font under the same name is taken for the first")
	}
	if f := parse("b.ttf", gobold.TTF); f == bold || f.Name() != "b.ttf" {
		t.Error("a font has the name of another")
	}
	if _, err := r.Parse("c.ttf", gobold.TTF[:100]); err == nil {
		t.Error("a font that is cut off is read")
	}
	if _, err := r.Parse("c.ttf", nil); err == nil {
		t.Error("an empty font is read")
	}
	for i := range holds {
		parse(fmt.Sprint(i), gobold.TTF)
	}
	if len(r.fonts) != holds {
		t.Errorf("it holds %d fonts", len(r.fonts))
	}
	if parse("a.ttf", gobold.TTF) == bold {
		t.Error("a font is never forgotten")
	}
}
