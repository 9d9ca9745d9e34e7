package kind

import "foredge/lang/unit"

// A Dim is a dimension that every thing of a kind has.
type Dim struct {
	Name   string // hole.along, over-head, width
	Kind   unit.Kind
	Signed bool // may be negative
}

// A Kind says what a thing of that kind may hold.
type Kind struct {
	Name string
	// Within lists the kinds that it may stand in; empty means the top of a file,
	// and "" among them the top as well.
	Within []string
	// Template says that it may stand at the top of a file too, drawn nowhere and
	// there for others to be like.
	Template bool
	// Clauses lists the clauses that its declaration may carry.
	Clauses []string
	// Like lists the kinds that its `like` may name.
	Like  []string
	Dims  []Dim
	Props []string // lines that are no dimensions: corners, material, lay
	Marks bool     // engrave and mark may stand in it
	// Bench says that numbers in it are readings.
	Bench bool
}

// Top reports whether the kind stands at the top of a file, or may stand there
// as well as in other things.
func (k *Kind) Top() bool { return len(k.Within) == 0 || contains(k.Within, "") }

// Dim finds a dimension by its name.
func (k *Kind) Dim(name string) (Dim, bool) {
	for _, d := range k.Dims {
		if d.Name == name {
			return d, true
		}
	}
	return Dim{}, false
}

// Has reports whether the kind has the property.
func (k *Kind) Has(prop string) bool { return contains(k.Props, prop) }

// Allows reports whether the kind's declaration may carry the clause.
func (k *Kind) Allows(clause string) bool { return contains(k.Clauses, clause) }

// In reports whether it may stand in a thing of the given kind.
func (k *Kind) In(outer string) bool { return contains(k.Within, outer) }

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// Edges are the four edges of a panel, in the order in which help names them.
func Edges() []string { return []string{"head", "tail", "spine", "foredge"} }

// Corners are the four corners of a panel.
func Corners() []string {
	return []string{"head-spine", "head-foredge", "tail-spine", "tail-foredge"}
}

// table lists the kinds. It is a switch, so that looking one up allocates
// nothing and nobody can change it.
func table(name string) *Kind {
	switch name {
	case "notebook":
		return &notebook
	case "panel":
		return &panel
	case "row":
		return &row
	case "gap":
		return &gap
	case "spread":
		return &spread
	case "region":
		return &region
	case "cutout":
		return &cutout
	case "line":
		return &line
	case "lattice":
		return &lattice
	case "pattern":
		return &pattern
	case "stock":
		return &stock
	case "material":
		return &material
	case "laser":
		return &laser
	case "orders":
		return &orders
	case "binding":
		return &binding
	}
	return nil
}

// Find finds a kind by its name; nil if there is none.
func Find(name string) *Kind { return table(name) }

// Names lists all kinds.
func Names() []string {
	return []string{"notebook", "panel", "row", "gap", "spread", "region", "cutout", "line",
		"lattice", "pattern", "stock", "material", "laser", "orders", "binding"}
}

func lengths(names ...string) []Dim {
	var dims []Dim
	for _, n := range names {
		dims = append(dims, Dim{Name: n, Kind: unit.Length})
	}
	return dims
}

func join(lists ...[]Dim) []Dim {
	var all []Dim
	for _, l := range lists {
		all = append(all, l...)
	}
	return all
}

// The kinds themselves. They are never changed.
var (
	size  = lengths("width", "height")
	sides = lengths("head", "tail", "spine", "foredge")
	holes = join([]Dim{{Name: "count", Kind: unit.Count}},
		lengths("hole.along", "hole.across", "first", "last", "inset", "web", "pitch", "run"))
	// what may be said of the tool that read a notebook
	caliper = []string{"gauge", "resolution", "jaw-flat"}

	ease  = []Dim{{Name: "ease", Kind: unit.Length, Signed: true}}
	overs = []Dim{
		{"over-head", unit.Length, true}, {"over-tail", unit.Length, true},
		{"over-spine", unit.Length, true}, {"over-foredge", unit.Length, true},
	}

	notebook = Kind{Name: "notebook", Clauses: []string{"like", "when"}, Like: []string{"notebook"},
		Dims: join(size, lengths("thick")), Props: caliper, Bench: true}
	panel = Kind{Name: "panel", Clauses: []string{"like", "mirrors", "covers", "when"}, Like: []string{"panel"},
		Dims: join(size, lengths("thick"), overs, ease), Props: []string{"corners", "corner", "copies", "stock", "quiet"}}
	row = Kind{Name: "row", Within: []string{"panel", "notebook"}, Clauses: []string{"on", "like", "when"},
		Like: []string{"row", "pattern"}, Dims: join(holes, ease, lengths("wire")), Props: []string{"hole", "gaps", "gap", "neck", "binding"}}
	pattern = Kind{Name: "pattern", Clauses: []string{"like"}, Like: []string{"pattern"},
		Dims: holes, Props: []string{"hole", "gaps", "gap", "neck"}}
	gap    = Kind{Name: "gap", Clauses: []string{"like", "when"}, Like: []string{"gap"}, Dims: lengths("width")}
	spread = Kind{Name: "spread", Clauses: []string{"like", "when"}, Like: []string{"spread"},
		Dims: join(size, lengths("turn-in", "mitre", "lining")), Props: []string{"lay", "covering-stock", "lining-stock", "quiet"}}
	region = Kind{Name: "region", Within: []string{"panel"}, Template: true, Clauses: []string{"like", "when"},
		Like: []string{"region"}, Dims: join(size, sides), Props: []string{"clear", "face"}, Marks: true}
	cutout = Kind{Name: "cutout", Within: []string{"panel"}, Template: true, Clauses: []string{"like", "when"},
		Like: []string{"cutout"}, Dims: join(size, sides), Props: []string{"shape", "clear", "open", "neck"}}
	line = Kind{Name: "line", Within: []string{"panel"}, Template: true, Clauses: []string{"like", "when"},
		Like: []string{"line"}, Dims: lengths("at"), Props: []string{"from", "op"}}
	lattice = Kind{Name: "lattice", Within: []string{"panel"}, Template: true, Clauses: []string{"like", "when"},
		Like: []string{"lattice"},
		Dims: join(size, sides, lengths("radius", "clearance", "bend", "bridge", "end"),
			// A link shorter than nothing is reported as such.
			[]Dim{{"link", unit.Length, true}, {"turn", unit.Angle, false}, {"links", unit.Count, false}, {"rows", unit.Count, false}}),
		Props: []string{"shear-modulus", "allowed-shear"}}
	stock = Kind{Name: "stock", Clauses: []string{"like"}, Like: []string{"stock"},
		Dims:  lengths("thick"),
		Props: []string{"size", "material", "grain", "price", "kerf", "quantity", "gauge", "resolution", "allow", "quiet"}, Bench: true}
	material = Kind{Name: "material", Clauses: []string{"like"}, Like: []string{"material"},
		// thick is that of the sheet which is made of it.
		Dims: lengths("thick"),
		Props: []string{"kerf", "thick-over", "thick-under", "least-web", "least-detail", "gives-off", "never",
			"shear-modulus", "allowed-shear"}}
	laser = Kind{Name: "laser", Clauses: []string{"like"}, Like: []string{"laser"},
		Props: []string{"bed", "kerf", "scale-x", "scale-y",
			"engrave-colour", "mark-colour", "score-colour", "cut-colour", "quiet"}}
	binding = Kind{Name: "binding", Within: []string{"", "notebook", "row"}, Clauses: []string{"like", "when"},
		Like: []string{"binding"}, Dims: lengths("ring", "wire", "outside", "pair", "pitch"), Props: []string{"form"}}
	orders = Kind{Name: "orders"}
)
