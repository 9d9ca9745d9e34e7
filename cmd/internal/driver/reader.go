package driver

import (
	"fmt"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"foredge/cmd/internal/disk"
	"foredge/eval"
	"foredge/eval/shelf"
	"foredge/lang/lookalike"
	"foredge/lang/source"
)

var _ eval.Files = (*Reader)(nil)

// A Reader is one build's view of the files. It belongs to one goroutine.
type Reader struct {
	session *Session
	root    string // the folder that nothing may lead out of, as named
	real    string // the same with links followed

	states  map[string]disk.State   // by path as named
	kept    kept                    // other files
	designs map[string]*source.File // by path with links followed
	paths   map[*source.File]string // path as named
	shelf   map[string]*source.File // parts of the shipped library
}

// setRoot finds the design's root folder: the nearest one from folder upwards
// that holds a repository, or else folder itself.
func (r *Reader) setRoot(folder string) {
	r.root = folder
	for dir := folder; ; dir = filepath.Dir(dir) {
		if _, err := os.Lstat(filepath.Join(dir, ".git")); err == nil {
			r.root = dir
			break
		}
		if dir == filepath.Dir(dir) {
			break
		}
	}
	r.real = real(r.root)
}

// Inputs returns each file that was read or looked for so far, by path.
func (r *Reader) Inputs() []disk.Input {
	inputs := make([]disk.Input, 0, len(r.states))
	for path, state := range r.states {
		inputs = append(inputs, disk.Input{Path: path, State: state})
	}
	slices.SortFunc(inputs, func(a, b disk.Input) int { return strings.Compare(a.Path, b.Path) })
	return inputs
}

// Use reads the design that a `use` in from names. The same file, reached in
// whatever way, is the same [source.File] each time.
func (r *Reader) Use(from *source.File, name string) (*source.File, error) {
	abs, shown, err := r.locate(from, name)
	if err != nil {
		return nil, err
	}
	followed, err := r.inside(abs, name)
	if err != nil {
		return nil, err
	}
	if f, ok := r.designs[followed]; ok {
		r.states[abs] = r.states[r.paths[f]] // perhaps through another link
		return f, nil
	}
	data, err := r.read(abs, followed, shown, disk.MaxDesign)
	if err != nil {
		return nil, err
	}
	return r.add(abs, followed, shown, data), nil
}

// Read reads any other file that a statement in from names: artwork, a font, a
// table of orders. A letter with its accents may stand in a file's name as one character
// or as several, however it is written here. The caller must not write into the bytes.
func (r *Reader) Read(from *source.File, name string) ([]byte, error) {
	abs, shown, err := r.locate(from, name)
	if err != nil {
		return nil, err
	}
	if data, ok := r.kept.find(abs); ok {
		return data, nil
	}
	if _, missing := os.Lstat(abs); os.IsNotExist(missing) {
		for _, other := range []string{lookalike.Composed(name), lookalike.Decomposed(name)} {
			also, _, err := r.locate(from, other)
			if _, missing := os.Lstat(also); err == nil && missing == nil {
				return r.Read(from, other)
			}
		}
	}
	followed, err := r.inside(abs, name)
	if err != nil {
		return nil, err
	}
	before, known := r.states[abs]
	data, err := r.read(abs, followed, shown, disk.MaxInput)
	if known && r.states[abs] != before {
		return nil, &disk.Error{Message: fmt.Sprintf("%q has changed since it was first looked for", shown), Hint: "run the command again"}
	}
	if err == nil {
		r.kept.add(abs, data)
	}
	return data, err
}

// Shelf returns a part of the shipped library, the same one each time.
func (r *Reader) Shelf(name string) (*source.File, bool) {
	if f, ok := r.shelf[name]; ok {
		return f, true
	}
	text, ok := shelf.Text(name)
	if !ok {
		return nil, false
	}
	r.shelf[name] = source.New("shelf/"+name+disk.DesignExt, text)
	return r.shelf[name], true
}

// ShelfNames lists the parts of the shipped library.
func (r *Reader) ShelfNames() []string { return shelf.Names() }

// add makes a file of a design's text. The byte-order mark of one on the disk is none of its
// text: editors don't show it. In what an editor holds it is.
func (r *Reader) add(abs, followed, shown string, data []byte) *source.File {
	if _, held := r.session.text(abs); !held {
		data = source.Unmarked(data)
	}
	f := source.New(filepath.ToSlash(shown), data)
	r.designs[followed] = f
	r.paths[f] = abs
	return f
}

// read reads what stands at followed and records it under abs.
func (r *Reader) read(abs, followed, shown string, limit int64) ([]byte, error) {
	if data, ok := r.session.text(abs); ok {
		r.states[abs] = disk.StateOf(data)
		if int64(len(data)) > limit {
			is, most := disk.Sizes(int64(len(data)), limit)
			return nil, &disk.Error{Code: "file-too-large", Message: fmt.Sprintf("%q is %s, and a design may have at most %s", shown, is, most)}
		}
		return data, nil
	}
	if r.session.from != nil {
		data, err := r.session.from(abs, shown, limit)
		if err == nil {
			r.states[abs] = disk.StateOf(data)
		}
		return data, err
	}
	data, state, err := disk.Read(followed, shown, limit)
	r.states[abs] = state
	return data, err
}

// locate turns a path that a design names into an absolute one below the root
// folder, and into what messages call it.
func (r *Reader) locate(from *source.File, name string) (abs, shown string, err error) {
	base, ok := r.paths[from]
	if !ok {
		return "", "", &disk.Error{Message: fmt.Sprintf("%q can't be found from here", name)}
	}
	// The statement that names the file has a code of its own for all of these.
	wrong := func(hint, format string, args ...any) error {
		return &disk.Error{Message: fmt.Sprintf(format, args...), Hint: hint}
	}
	const relative = "give its path from the folder of this design"
	switch {
	case strings.TrimSpace(name) == "":
		return "", "", wrong("write the name of the file between the quotes", "no file is named")
	case strings.ContainsFunc(name, func(c rune) bool { return c < ' ' || c == 0x7f }):
		return "", "", wrong("write its name again by hand", "the file name %q has a character in it that can't be seen", name)
	case strings.Contains(name, "://"):
		return "", "", wrong("save it beside the design and name that file", "%q is an address, and only files can be read", name)
	case isAbsolute(name):
		return "", "", wrong(relative, "%q is not below the design's folder: it starts at the top of the disk", name)
	case strings.HasPrefix(name, "~"):
		return "", "", wrong(relative, "%q starts at a home folder", name)
	case strings.Contains(name, `\`):
		return "", "", wrong(fmt.Sprintf("write %q", strings.ReplaceAll(name, `\`, "/")), "the folders in %q are separated by \\", name)
	}
	abs = filepath.Join(filepath.Dir(base), filepath.FromSlash(name))
	if !within(r.root, abs) {
		return "", "", wrong("copy it to "+r.folderName()+" or below, and name it there",
			"%q leads above the design's root folder %s", name, r.folderName())
	}
	return abs, filepath.FromSlash(path.Join(path.Dir(filepath.ToSlash(from.Name())), name)), nil
}

// inside follows links and makes sure that they stay below the root folder.
func (r *Reader) inside(abs, name string) (string, error) {
	if r.session.from != nil {
		return abs, nil
	}
	followed, err := filepath.EvalSymlinks(abs)
	if err != nil {
		return abs, nil // reading it says what is wrong
	}
	if !within(r.real, followed) {
		r.states[abs] = disk.Look(abs)
		return "", &disk.Error{
			Message: fmt.Sprintf("%q is a link that leads out of the design's root folder %s", name, r.folderName()),
			Hint:    "put a copy of the file in place of the link"}
	}
	return followed, nil
}

// folderName is what messages call the root folder: only its last part, so
// that they are the same wherever the folder lies.
func (r *Reader) folderName() string {
	return fmt.Sprintf("%q", filepath.Base(r.root))
}

func isAbsolute(name string) bool {
	drive := len(name) > 1 && name[1] == ':' && (name[0]|0x20 >= 'a' && name[0]|0x20 <= 'z')
	return filepath.IsAbs(name) || drive || name[0] == '/' || name[0] == '\\'
}

// within reports whether path is folder or lies below it.
func within(folder, path string) bool {
	rel, err := filepath.Rel(folder, path)
	return err == nil && filepath.IsLocal(rel)
}
