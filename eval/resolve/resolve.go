package resolve

import (
	"fmt"
	"slices"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/shelf"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/lookalike"
	"foredge/lang/parse"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"
	"foredge/lang/version"
)

// Files brings in what a design names besides itself. The text of an error is
// shown to the maker as it stands.
type Files interface {
	// Use reads the design file that path names, seen from the file that uses it.
	// The same file comes back as the same *source.File.
	Use(from *source.File, path string) (*source.File, error)
	// Read reads any other file: artwork, a font.
	Read(from *source.File, path string) ([]byte, error)
}

// MaxUseDepth is how deep files may use files.
const MaxUseDepth = 16

// An Info is what all names of a design come to.
type Info struct {
	Main *File
	// All lists the files, the main one first, then in the order of first use.
	All []*File
	// Orders is the design's table of orders, nil if it names none.
	Orders *Orders
	// Jobs are those of the main file.
	Jobs []Job
	// Broken says that part of a file could not be read.
	Broken bool
	// Varies says that things share a name, so that what the names mean hangs on
	// which of them is there.
	Varies bool
	// Idle are the things that share their name with one that is there in this
	// order, IdleFaults what is wrong with what they are like, and Shared their
	// names. What stands under such a name may mean something else in another order.
	Idle       []*Thing
	IdleFaults diag.List
	Shared     map[string]bool

	// What was read, for [Info.For]: the design itself, what it uses, and the parts
	// of the shelf.
	tree     *ast.File
	trees    map[*source.File]*ast.File
	shipped  map[string]*source.File
	versions version.Table
}

// A File is one design file with the things at its top.
type File struct {
	Source  *source.File
	Version int       // of the language, in which it is written
	Unit    unit.Unit // what a bare length in it means
	Shelf   bool      // part of the shipped library
	Things  []*Thing
	Lets    []*Let
	Lines   []*Line // relations, wishes and checks at the top
	Uses    []*File

	scope   *Scope
	members map[string]member
	rivals  rivals
	about   map[string][]*Line // see aboutThings
	// incomplete says that a file it uses could not be had, noOrders that its
	// orders were refused: names that may come from there are not reported.
	incomplete, noOrders bool
	// nameless says that the head of a block at its top could not be read: what a
	// clause doesn't find may be declared there.
	nameless bool
}

// A member is what a name stands for in one place: a thing or a let.
type member struct {
	thing *Thing
	let   *Let
	at    source.Span
	// broken says that its declaration was reported as wrong; what speaks of it
	// is passed over in silence.
	broken bool
}

// A Thing is one thing of a design after inheritance.
type Thing struct {
	Kind   *kind.Kind
	Name   string
	Decl   *ast.Decl // nil for a row that only `covers` brought along
	At     source.Span
	File   *File // in which it is declared
	Parent *Thing

	Children []*Thing
	Lets     []*Let
	Lines    []*Line
	Marks    []*Mark
	When     []Condition // all must hold for the thing to be there

	Edge     word.Edge // of a row: the edge it runs along; 0 if not said
	BadEdge  bool      // what was said of its edge was reported as wrong
	Mirrored bool      // the spine is on the right
	Like     *Thing    // what `like` or `mirrors` names
	Covers   *Thing    // the notebook that a panel covers
	// Unsure says that something between its name and its braces was reported as
	// wrong, or of what it is like: what it lacks may have come by that.
	Unsure  bool
	CoverOf *Thing // the notebook's row that a panel's row lies on
	// laid says of a panel's row that it has its edge from a notebook's, if by way of like;
	// follows that so it has its condition. Another notebook's row gives it its own.
	laid, follows bool
	// Left names the things that `without` left out.
	Left map[string]source.Span
	// Lost are the inherited marks whose place the thing's own marks took without
	// being as many of their sort.
	Lost []*Mark

	// uncovered names the notebook's rows that this panel, or one that it is
	// like, leaves out.
	uncovered map[string]bool

	scope   *Scope
	members map[string]member
	rivals  rivals
	twins   []*Thing // those of one place that share its name, as does what takes it over
	// missing says that it stands for several things of its name, none of which is
	// there.
	missing bool
	state   state
	depth   int
	said    said
	lacks   []dim.Name // see Has

	// inherits says of a thing at the top that it or one in it is like another.
	inherits bool
	sources  []inheritance     // what it is still to take over, the nearest first
	handed   []handed          // lines around it that it is still to take over
	passed   []*Line           // inherited lines that come along, but don't hold here
	states   map[string]int    // in which layer it states something; see record
	behinds  map[string]int    // the same behind lines at the top of a file; see recordBehind
	brought  map[ast.Stmt]bool // the lines that it has inherited, if by several ways
}

type state uint8

const (
	untouched state = iota
	underway
	done
)

// Path is the thing's name from the top: front.wire.
func (t *Thing) Path() string {
	if t.Parent == nil {
		return t.Name
	}
	return t.Parent.Path() + "." + t.Name
}

// Member is what a name stands for right within the thing: another thing, or a named
// value; both are nil if that is nothing.
func (t *Thing) Member(name string) (*Thing, *Let) {
	m := t.members[name]
	return m.thing, m.let
}

// Scope is where the thing's own lines stand.
func (t *Thing) Scope() *Scope { return t.scope }

// Scope is where the lines at the top of the file stand.
func (f *File) Scope() *Scope { return f.scope }

// A Line is a relation, a wish or a check, with the place where it was written.
type Line struct {
	Stmt  ast.Stmt
	Scope *Scope
	// From is the thing that it was inherited from, nil for an own line.
	From *Thing
	// Written is the line as it stands in the text, if it was written outside of the
	// thing whose property it states; else nil.
	Written *ast.Relation

	links []int    // see Drops; in order
	parts []string // see Lacks
	// Those that lines outside of the thing's braces have replaced: they still come
	// along with what is like it, for such a line is about this thing alone.
	outerLinks []int
	outerParts []string
}

// A Let is a named value.
type Let struct {
	Name  string
	Stmt  *ast.Let
	Scope *Scope
	Owner *Thing // nil at the top of a file
	File  *File
}

// Path is the let's name from the top.
func (l *Let) Path() string {
	if l.Owner == nil {
		return l.Name
	}
	return l.Owner.Path() + "." + l.Name
}

// A Mark is one `engrave` or `mark` of a region.
type Mark struct {
	Stmt  *ast.Mark
	Scope *Scope
}

// A Condition is the question of a `when`.
type Condition struct {
	Expr  ast.Expr
	Scope *Scope
	words []string // that are written, however they are spaced
}

// resolver carries what Resolve gathers.
type resolver struct {
	files    Files
	versions version.Table // those that can be read
	info     *Info
	byFile   map[*source.File]*File
	shipped  map[string]*source.File // parts of the shelf in use
	stack    []*File                 // files being read, for cycles
	diags    diag.List
	trees    map[*source.File]*ast.File // used files that were read before
	decide   Judge                      // nil unless the design varies
	reported bool                       // errors are known already
	layers   int                        // how many clauses have brought something along
	spent    int                        // see spend
	seen     map[look]looked            // see looks
}

// Resolve finds the things of a parsed file and of all that it uses.
// Diagnostics of used files are among those returned. What a design holds that
// [Info.Varies] is found by [Info.For]; until then it is only declared.
func Resolve(main *ast.File, files Files) (*Info, diag.List) {
	return resolve(main, files, version.All())
}

// resolve is [Resolve] for a program that reads the given versions.
func resolve(main *ast.File, files Files, versions version.Table) (*Info, diag.List) {
	info := &Info{tree: main, trees: map[*source.File]*ast.File{}, versions: versions}
	r := &resolver{files: files, versions: versions, info: info, byFile: map[*source.File]*File{},
		shipped: map[string]*source.File{}, seen: map[look]looked{}}
	r.trees, r.info.shipped = r.info.trees, r.shipped
	r.info.Main = r.file(main, false)
	if r.info.Varies {
		return r.info, r.diags
	}
	r.finish()
	return r.info, r.diags
}

// finish follows the clauses of all things.
func (r *resolver) finish() {
	for _, f := range r.info.All {
		for _, t := range f.Things {
			r.openAll(t)
		}
	}
	for _, f := range r.info.All {
		r.assignTop(f)
	}
	for _, f := range r.info.All {
		r.sayTop(f)
	}
	for _, f := range r.info.All {
		settle(f.Things)
	}
	r.idleTemplates()
}

// file declares all that stands at the top of a parsed file.
func (r *resolver) file(tree *ast.File, shelf bool) *File {
	f := &File{Source: tree.Source, Unit: unit.MM, Shelf: shelf, members: map[string]member{}}
	f.scope = &Scope{file: f}
	r.byFile[tree.Source] = f
	r.info.Broken = r.info.Broken || tree.Broken
	r.info.All = append(r.info.All, f)
	r.stack = append(r.stack, f)
	defer func() { r.stack = r.stack[:len(r.stack)-1] }()

	r.version(f, tree)
	r.unit(f, tree)
	for _, s := range tree.Stmts {
		switch s := s.(type) {
		case *ast.Use:
			r.use(f, s)
		case *ast.Decl:
			if t := r.declare(s, f, nil); t != nil {
				f.Things = append(f.Things, t)
			}
		case *ast.BadStmt:
			f.nameless = f.nameless || s.Body != nil
		case *ast.Let:
			l := &Let{Name: s.Name.Name, Stmt: s, Scope: f.scope, File: f}
			if r.addLet(f.members, l, nil) {
				f.Lets = append(f.Lets, l)
			}
		case *ast.Relation, *ast.Prefer, *ast.Check:
			f.Lines = append(f.Lines, &Line{Stmt: s, Scope: f.scope})
		case *ast.Without:
			r.diags.Errorf("misplaced", s.Span(), "without leaves something out of a thing that is like another; at the top of a file there is nothing to leave out").
				WithHelp("put it in the braces of the thing that it concerns")
		case *ast.Mark:
			r.diags.Errorf("misplaced", s.Span(), "%s %s must be in a region", s.Verb.Name, s.What.Name).
				WithHelp("marks belong in the braces of a region, which says where on the panel they go")
		}
	}
	return f
}

func (r *resolver) use(f *File, s *ast.Use) {
	var src *source.File
	shipped := s.Shelf != nil
	if shipped {
		if src = r.shelf(s.Shelf.Name); src == nil {
			d := r.diags.Errorf("unknown-shelf", s.Shelf.At, "the shelf has no part called %q", s.Shelf.Name)
			suggest(d, s.Shelf.Name, shelf.Names(), "put a file's name in quotes: use \"shop.fore\"")
			f.incomplete = true
			return
		}
	} else {
		var err error
		if src, err = r.files.Use(f.Source, s.Path.Value); err != nil {
			r.diags.Fail("use", s.Path.Span(), err, "name a .fore file by its path from this one, inside the design's folder")
			f.incomplete = true
			return
		}
	}
	for i, open := range r.stack {
		if open.Source == src {
			d := r.diags.Errorf("use-cycle", s.Span(), "%q is being read already: a file can't use itself, directly or through others", src.Name())
			for _, via := range r.stack[i+1:] {
				d.Note(source.Span{File: via.Source}, "through this file")
			}
			d.WithHelp("move what both files need into a third one that uses neither")
			return
		}
	}
	if len(r.stack) > MaxUseDepth {
		r.diags.Errorf("use-depth", s.Span(), "files use files more than %d deep here", MaxUseDepth).
			WithHelp("let the design use the file it needs directly")
		return
	}
	used := r.byFile[src]
	if used == nil {
		tree, read := r.trees[src]
		if !read {
			var ds diag.List
			tree, ds = parse.File(src)
			r.diags.Add(ds)
			r.trees[src] = tree
		}
		used = r.file(tree, shipped)
	}
	for _, u := range f.Uses {
		if u == used {
			r.diags.Warnf("use-twice", s.Span(), "%q is used twice", src.Name()).WithHelp("one of the two lines can go")
			return
		}
	}
	f.Uses = append(f.Uses, used)
}

// shelf is a part of the shipped library, nil if there is none of that name.
func (r *resolver) shelf(name string) *source.File {
	if src, ok := r.shipped[name]; ok {
		return src
	}
	text, ok := shelf.Text(name)
	if !ok {
		return nil
	}
	r.shipped[name] = source.New("shelf/"+name, text)
	return r.shipped[name]
}

// add puts a member into a place and reports a second one of the same name.
func (r *resolver) add(members map[string]member, name ast.Ident, m member, in *Thing) bool {
	if old, ok := members[name.Name]; ok {
		where := "in this file"
		if in != nil {
			where = "in " + in.Path()
		}
		d := r.diags.Errorf("twice", name.At, "there are two things called %q %s", name.Name, where).
			Note(old.at, "the first is here").WithHelp("give one of them another name")
		if m.thing != nil && old.thing != nil && m.thing.Kind.Allows("when") && old.thing.Kind.Allows("when") {
			d.WithHelp("give one of them another name, or each a `when` that says when it is there")
		}
		return false
	}
	members[name.Name] = m
	r.looks(name, m, in)
	return true
}

// suggest completes a message about an unknown name by what it is called now or
// here, or by the nearest known one. more are known words that aren't names.
func suggest(d *diag.Diagnostic, name string, known []string, otherwise string, more ...string) {
	here := func(w string) bool { return slices.Contains(known, w) || slices.Contains(more, w) }
	reads := func(w string) bool { return w != name && lookalike.Composed(w) == lookalike.Composed(name) }
	if i := slices.IndexFunc(known, reads); i >= 0 {
		d.Meant(name, known[i]).WithHelp("%s is there, but its accents are written differently: copy it from where it is declared", known[i])
	} else if now, ok := word.Former(name); ok && here(now) {
		d.Meant(name, now).WithHelp("%s is called %s now", name, now)
	} else if say := word.Elsewhere(name, here); say != "" {
		word.Tell(d, name, say)
	} else if near := spell.Nearest(name, slices.Concat(known, more)); near != "" {
		d.Meant(name, near)
	} else if say := word.Anywhere(name); say != "" {
		d.WithHelp("%s", say)
	} else if otherwise != "" {
		d.WithHelp("%s", otherwise)
	}
}

func describe(t *Thing) string { return fmt.Sprintf("%s %s", t.Kind.Name, t.Path()) }
