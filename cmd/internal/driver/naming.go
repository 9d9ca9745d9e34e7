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

// Path returns the path of the file in which a design, or with Each the part of
// it with that name, is written with the given ending (no dot). A design from
// standard input is called after that.
func (n Naming) Path(design, part, ext string) string {
	name := Name(design)
	if n.Each {
		name += "-" + part
	}
	folder := n.Folder
	if folder == "" {
		folder = "."
		if design != Stdin {
			folder = filepath.Dir(design)
		}
	}
	return filepath.Join(folder, name+"."+ext)
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
