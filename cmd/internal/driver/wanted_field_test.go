package driver_test

import (
	"regexp"
	"strconv"
	"strings"

	"foredge/lang/foretest"
)

// memberName is the name of a dimension of a field's member.
var memberName = regexp.MustCompile(`^(.*)\.(\d+)\.(\d+)\.(\w+)$`)

// member is a dimension of a field's member, the fields being divided evenly.
func (b *wanter) member(field, across, down, name string) float64 {
	b.t.Helper()
	size, count, near, word := "width", "across", "spine", across
	if name == "head" || name == "tail" || name == "height" {
		size, count, near, word = "height", "down", "head", down
	}
	one, n := b.dim(field+".each."+size), b.dim(field+"."+count)
	k, err := strconv.Atoi(word)
	foretest.Must(b.t, err)
	at := b.dim(field + "." + near)
	if n > 1 {
		at += float64(k-1) * (b.dim(field+"."+size) - one) / (n - 1)
	}
	switch name {
	case size:
		return one
	case near:
		return at
	}
	return b.dim(field[:strings.LastIndexByte(field, '.')]+"."+size) - at - one
}
