package disk

import (
	"fmt"
	"os"
	"path/filepath"
	"time"
)

// A Guarded is a set of files that are read and so must not be written over.
// Many files can be held against many.
type Guarded struct {
	inputs []Input
	// by finds those that are there by what two names of one file share; nil
	// until it is asked for.
	by map[likeness][]os.FileInfo
}

type likeness struct {
	size    int64
	changed time.Time
}

func likenessOf(info os.FileInfo) likeness { return likeness{info.Size(), info.ModTime()} }

// Guard guards the files that a build reads.
func Guard(inputs []Input) *Guarded { return &Guarded{inputs: inputs} }

// Check refuses to write a file that is one of those read, under whatever name.
// The error is an [*Error].
func (g *Guarded) Check(path string) error {
	abs, err := filepath.Abs(path)
	if err != nil {
		return writeError(path, err)
	}
	info, err := os.Stat(abs)
	if err != nil || !info.Mode().IsRegular() {
		return nil
	}
	if g.by == nil {
		g.by = map[likeness][]os.FileInfo{}
		for _, in := range g.inputs {
			if other, err := os.Stat(in.Path); err == nil {
				g.by[likenessOf(other)] = append(g.by[likenessOf(other)], other)
			}
		}
	}
	for _, other := range g.by[likenessOf(info)] {
		if os.SameFile(info, other) {
			return &Error{Code: "overwrites-input",
				Message: fmt.Sprintf("%q would be overwritten, but the design reads it", path),
				Hint:    "build into another folder with -o, or rename it"}
		}
	}
	return nil
}
