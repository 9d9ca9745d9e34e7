package lettering

import (
	"bytes"
	"slices"
	"sync"
)

// A Rack holds makers' own fonts that were read, so that each is read once
// however often it is asked for. The zero value is an empty one. Several
// goroutines may use it; none may write into the bytes that it was given.
type Rack struct {
	mu    sync.Mutex
	fonts []racked // the last used first
}

type racked struct {
	name string
	data []byte
	read func() (*Font, error)
}

// holds is how many fonts a rack holds.
const holds = 16

// Parse is what the function [Parse] gives of the same name and bytes.
func (r *Rack) Parse(name string, data []byte) (*Font, error) {
	return r.find(name, data)()
}

func (r *Rack) find(name string, data []byte) func() (*Font, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for i, f := range r.fonts {
		if f.name == name && same(f.data, data) {
			r.fonts = slices.Insert(slices.Delete(r.fonts, i, i+1), 0, f)
			return f.read
		}
	}
	f := racked{name, data, sync.OnceValues(func() (*Font, error) { return Parse(name, data) })}
	r.fonts = slices.Insert(r.fonts, 0, f)
	if len(r.fonts) > holds {
		r.fonts = slices.Delete(r.fonts, holds, len(r.fonts))
	}
	return f.read
}

// same says whether two files have the same bytes; mostly they are one.
func same(a, b []byte) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0] || bytes.Equal(a, b))
}
