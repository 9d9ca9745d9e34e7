package lettering

import (
	"bytes"
	"slices"
	"sync"
)

// A Cache holds makers' own fonts that were read, so that each is read once
// however often it is asked for. The zero value is an empty one. Several
// goroutines may use it; none may write into the bytes that it was given.
type Cache struct {
	mu    sync.Mutex
	fonts []cached  // the last used first
	lists []*listed // of fonts, the last used first
}

// listed is a list of fonts, and the font that they are together.
type listed struct {
	of   []*Font
	font *Font
}

type cached struct {
	name string
	data []byte
	read func() (*Font, error)
}

// holds is how many fonts a cache holds.
const holds = 16

// Parse is what the function [Parse] gives of the same name and bytes.
func (c *Cache) Parse(name string, data []byte) (*Font, error) {
	return c.find(name, data)()
}

func (c *Cache) find(name string, data []byte) func() (*Font, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	for i, f := range c.fonts {
		if f.name == name && same(f.data, data) {
			c.fonts = slices.Insert(slices.Delete(c.fonts, i, i+1), 0, f)
			return f.read
		}
	}
	f := cached{name, data, sync.OnceValues(func() (*Font, error) { return Parse(name, data) })}
	c.fonts = slices.Insert(c.fonts, 0, f)
	if len(c.fonts) > holds {
		c.fonts = slices.Delete(c.fonts, holds, len(c.fonts))
	}
	return f.read
}

// WithSpares is what [Font.WithSpares] gives of the first font and the others, one font
// for the same fonts.
func (c *Cache) WithSpares(fonts ...*Font) *Font {
	c.mu.Lock()
	defer c.mu.Unlock()
	for i, l := range c.lists {
		if slices.Equal(l.of, fonts) {
			c.lists = slices.Insert(slices.Delete(c.lists, i, i+1), 0, l)
			return l.font
		}
	}
	l := &listed{fonts, fonts[0].WithSpares(fonts[1:]...)}
	c.lists = slices.Insert(c.lists, 0, l)
	if len(c.lists) > holds {
		c.lists = slices.Delete(c.lists, holds, len(c.lists))
	}
	return l.font
}

// same says whether two files have the same bytes; mostly they are one.
func same(a, b []byte) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0] || bytes.Equal(a, b))
}
