package raster

import (
	"bytes"
	"cmp"
	"slices"
	"sync"
)

// A Cache holds pictures that were read, so that one which many orders have is read
// once. The zero value is an empty one. Several goroutines may use it; none may write
// into the bytes that it was given.
type Cache struct {
	// Most is how many bytes the pictures and their files may take, 0 for MaxCached.
	Most int

	mu     sync.Mutex
	photos []*cached // the last used first
}

type cached struct {
	data []byte
	read func() (*Photo, error)
	room int // bytes that it takes, as far as is known
}

// MaxCached is how many bytes a [Cache] holds where it says nothing else: one of the largest fits, or many as a shop has them.
const MaxCached = 192 << 20

// Decode is what the function [Decode] gives of the same name and bytes.
func (c *Cache) Decode(name string, data []byte) (*Photo, error) {
	f := c.find(data)
	photo, err := f.read()
	if err != nil {
		return Decode(name, data) // the error says the name
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	f.room = len(data) + cap(photo.Grey)
	sum, most := 0, cmp.Or(c.Most, MaxCached)
	for i, p := range c.photos {
		if sum += p.room; sum > most {
			c.photos = slices.Delete(c.photos, i, len(c.photos))
			break
		}
	}
	return photo, nil
}

func (c *Cache) find(data []byte) *cached {
	c.mu.Lock()
	defer c.mu.Unlock()
	for i, f := range c.photos {
		if len(f.data) == len(data) && (len(data) == 0 || &f.data[0] == &data[0] || bytes.Equal(f.data, data)) {
			c.photos = slices.Insert(slices.Delete(c.photos, i, i+1), 0, f)
			return f
		}
	}
	f := &cached{data: data, room: len(data), read: sync.OnceValues(func() (*Photo, error) { return Decode("", data) })}
	c.photos = slices.Insert(c.photos, 0, f)
	return f
}
