package sparse

import "slices"

// A Lister collects short lists by key, counted first and then filled, in one
// piece of memory.
type Lister[T any] struct {
	start []int32 // counts by the next key, then where each list starts
	next  []int32 // where the next of each goes
	all   []T
}

// NewLister makes a lister for the keys from 0 to n - 1.
func NewLister[T any](n int) *Lister[T] { return &Lister[T]{start: make([]int32, n+1)} }

// Expect says that one more will be put under k.
func (l *Lister[T]) Expect(k int32) { l.start[k+1]++ }

// Put adds to a list; all calls of Expect come before the first of Put.
func (l *Lister[T]) Put(k int32, v T) {
	if l.next == nil {
		l.allot()
	}
	at := l.next[k]
	l.next[k] = at + 1
	l.all[at] = v
}

func (l *Lister[T]) allot() {
	for k := 1; k < len(l.start); k++ {
		l.start[k] += l.start[k-1]
	}
	l.next = slices.Clone(l.start)
	l.all = make([]T, l.start[len(l.start)-1])
}

// Lists are lists by key, each in the order in which it was filled.
type Lists[T any] struct {
	start []int32
	all   []T
}

// Of is the list of key k.
func (l Lists[T]) Of(k int32) []T { return l.all[l.start[k]:l.start[k+1]] }

// Done gives the lists.
func (l *Lister[T]) Done() Lists[T] {
	if l.next == nil {
		l.allot()
	}
	return Lists[T]{l.start, l.all}
}

// Apart gives the lists as slices that can grow. Appending to one of them moves
// it, and no other.
func (l Lists[T]) Apart() [][]T {
	out := make([][]T, len(l.start)-1)
	for k := range out {
		out[k] = l.all[l.start[k]:l.start[k+1]:l.start[k+1]]
	}
	return out
}
