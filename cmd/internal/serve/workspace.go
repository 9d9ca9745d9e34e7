package serve

import (
	"context"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/rename"
)

// mostEntries and mostDesigns bound what is looked through of the folders that an editor
// has open: somebody may open a home folder or a whole disk.
const (
	mostEntries = 100_000
	mostDesigns = 2000
)

// A folder is one that an editor has open.
type folder struct {
	URI string `json:"uri"`
}

// foldersChanged follows which folders an editor has open.
func (s *server) foldersChanged(_ context.Context, p struct {
	Event struct {
		Added, Removed []folder
	} `json:"event"`
}) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, f := range p.Event.Removed {
		if path, ok := pathOf(f.URI); ok {
			s.folders = slices.DeleteFunc(s.folders, func(known string) bool { return known == path })
		}
	}
	for _, f := range p.Event.Added {
		if path, ok := pathOf(f.URI); ok {
			s.folders = append(s.folders, path)
		}
	}
	return nil
}

// bench is all designs of the folders that are open, and those open in the editor with
// their texts. Where no folder is open it is those that lie beside the open ones. whole is
// false where there are too many.
func (s *server) bench(ctx context.Context) (b *rename.Bench, whole bool) {
	b = &rename.Bench{Unsaved: map[string]string{}}
	s.mu.Lock()
	folders := slices.Clone(s.folders)
	for _, uri := range sortedKeys(s.docs) {
		d := s.docs[uri]
		b.Designs = append(b.Designs, d.path)
		b.Unsaved[d.path] = d.text
	}
	s.mu.Unlock()
	if len(folders) > 0 {
		for _, root := range folders {
			if b.Designs, whole = designsBelow(ctx, root, b.Designs); !whole {
				return b, false
			}
		}
	} else {
		for path := range b.Unsaved {
			names, err := disk.Designs(filepath.Dir(path))
			if err != nil {
				continue
			}
			for _, name := range names {
				b.Designs = append(b.Designs, filepath.Join(filepath.Dir(path), name))
			}
		}
	}
	slices.Sort(b.Designs)
	b.Designs = slices.Compact(b.Designs)
	return b, len(b.Designs) <= mostDesigns
}

// designsBelow adds the designs in a folder and those in it, but for hidden ones; false if
// that is too much to look through. What can't be read is passed over.
func designsBelow(ctx context.Context, root string, to []string) ([]string, bool) {
	seen := 0
	err := filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
		if seen++; seen > mostEntries || len(to) > mostDesigns || ctx.Err() != nil {
			return fs.ErrInvalid
		}
		switch {
		case err != nil:
			if e != nil && e.IsDir() {
				return fs.SkipDir
			}
		case e.IsDir() && path != root && strings.HasPrefix(e.Name(), "."):
			return fs.SkipDir
		case !e.IsDir() && disk.IsDesign(e.Name()):
			to = append(to, path)
		}
		return nil
	})
	return to, err == nil
}

// uriOfPath names a file as the editor does that has it open.
func (s *server) uriOfPath(path string) string {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, uri := range sortedKeys(s.docs) {
		if s.docs[uri].path == path {
			return uri
		}
	}
	return uriOf(path)
}
