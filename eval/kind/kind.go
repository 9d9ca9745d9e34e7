package kind

import (
	"slices"

	"foredge/eval/dim"
)

// An ID says which kind of thing something is. The zero value is none.
type ID uint8

const (
	None ID = iota
	Notebook
	Panel
	Row
	Gap
	Case
	Region
	Cutout
	Line
	Lattice
	Pattern
	Stock
	Material
	Laser
	Orders
	Binding
	Field
	Style
	Tabs
	Stitch
	Job
	Make
)

// A Kind says what a thing of that kind may hold.
type Kind struct {
	ID   ID
	Name string
	// Top says that it may stand at the top of a file; Within lists the kinds in
	// which it may stand.
	Top    bool
	Within []ID
	// Template says that it belongs in a panel but may stand at the top of a file
	// too, drawn nowhere and there for others to be like.
	Template bool
	// Clauses lists the clauses that its declaration may carry.
	Clauses []string
	// Like lists the kinds that its `like` may name.
	Like  []ID
	Dims  []dim.Name
	Props []string // lines that are no dimensions: corners, material, lay
	// Indexed is the word of what is stated one by one: corner head-spine, gap 3.
	// It is empty for most.
	Indexed string
	Marks   bool // engrave and mark may stand in it
	// Bench says that numbers in it are readings.
	Bench bool
}

// One is a single thing of the kind, as a message calls it: "a row".
func (k *Kind) One() string {
	switch k.ID {
	case Tabs:
		return "a set of tabs"
	case Orders:
		return "a table of orders"
	case Make:
		return "a design to make"
	}
	return "a " + k.Name
}

// Dim finds a dimension by its name. A gap is none: it has a number.
func (k *Kind) Dim(name string) (dim.Name, bool) {
	for _, d := range k.Dims {
		if d.String() == name {
			return d, true
		}
	}
	return dim.None, false
}

// Has reports whether the kind has the property.
func (k *Kind) Has(prop string) bool { return slices.Contains(k.Props, prop) }

// Takes reports whether a word is that of a line of the kind: the name of a
// dimension, of a property or of what is stated one by one.
func (k *Kind) Takes(word string) bool {
	_, isDim := k.Dim(word)
	return isDim || k.Has(word) || word != "" && word == k.Indexed
}

// Allows reports whether the kind's declaration may carry the clause.
func (k *Kind) Allows(clause string) bool { return slices.Contains(k.Clauses, clause) }

// In reports whether it may stand in a thing of the given kind.
func (k *Kind) In(outer ID) bool { return slices.Contains(k.Within, outer) }

// String is the word that declares the kind.
func (id ID) String() string {
	if k := of(id); k != nil {
		return k.Name
	}
	return ""
}

// all lists the kinds, in the order in which help names them.
func all() [21]*Kind {
	return [...]*Kind{&notebook, &panel, &style, &row, &gap, &casing, &region, &cutout, &line, &lattice, &field, &tabs, &stitch, &pattern,
		&stock, &material, &laser, &orders, &binding, &job, &toMake}
}

func of(id ID) *Kind {
	for _, k := range all() {
		if k.ID == id {
			return k
		}
	}
	return nil
}

// Find finds a kind by its name; nil if there is none.
func Find(name string) *Kind {
	for _, k := range all() {
		if k.Name == name {
			return k
		}
	}
	return nil
}

// Names lists all kinds.
func Names() []string {
	var names []string
	for _, k := range all() {
		names = append(names, k.Name)
	}
	return names
}

// Words are the words of some kinds.
func Words(ids ...ID) []string {
	words := make([]string, len(ids))
	for i, id := range ids {
		words[i] = id.String()
	}
	return words
}
