package driver

import (
	"path/filepath"
	"strings"

	"foredge/cmd/internal/disk"
)

// A Naming says where the files of a design go and what they are called.
type Naming struct {
	Folder string // "" for the folder of the design
	Each   bool   // a file for each part
}

// Path returns the path of a file of a design. suffix tells it from the
// design's other files, as -front does, and ext is its ending (with the dot).
func (n Naming) Path(design, suffix, ext string) string {
	return filepath.Join(n.Dir(design), Name(design)+suffix+ext)
}

// Dir is the folder into which the files of a design go.
func (n Naming) Dir(design string) string {
	switch {
	case n.Folder != "":
		return n.Folder
	case design == Stdin:
		return "."
	}
	return filepath.Dir(design)
}

// Name is the name of a design, by which its files are called: its file's name
// without folder and ending.
func Name(design string) string {
	if design == Stdin {
		return StdinName
	}
	base := filepath.Base(design)
	if name := strings.TrimSuffix(base, disk.DesignExt); name != "" {
		return name
	}
	return base
}
