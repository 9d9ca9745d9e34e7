package kind

import (
	"slices"

	"foredge/eval/dim"
)

// What several kinds have. None of what follows is ever changed.
var (
	size  = []dim.Name{dim.Width, dim.Height}
	sides = []dim.Name{dim.Head, dim.Tail, dim.Spine, dim.Foredge}
	holes = []dim.Name{dim.Count, dim.HoleAlong, dim.HoleAcross, dim.First, dim.Last, dim.Inset, dim.Web, dim.Pitch, dim.Run}
	overs = []dim.Name{dim.OverHead, dim.OverTail, dim.OverSpine, dim.OverForedge}
	// board is what a panel has, and a style for the panels that are like it.
	board = join(size, []dim.Name{dim.Thick}, overs, []dim.Name{dim.Ease})
	// ofBoard are the other lines of a panel.
	ofBoard = []string{"corners", "arch", "copies", "stock", "quiet"}
	// onBoard are the kinds in which what stands on a board is declared.
	onBoard = []ID{Panel, Style}
	// repeated are those in which what can be repeated is.
	repeated = []ID{Panel, Style, Field}
	// caliper is what may be said of the tool that read a notebook.
	caliper = []string{"accuracy", "resolution", "jaw-flat"}
)

func join(lists ...[]dim.Name) []dim.Name { return slices.Concat(lists...) }

// The kinds themselves.
var (
	notebook = Kind{ID: Notebook, Name: "notebook", Top: true, Clauses: []string{"like", "when"}, Like: []ID{Notebook},
		Dims: join(size, []dim.Name{dim.Thick}), Props: caliper, Bench: true}
	panel = Kind{ID: Panel, Name: "panel", Top: true, Clauses: []string{"like", "mirrors", "covers", "when"}, Like: []ID{Panel, Style},
		Dims: board, Props: ofBoard, Indexed: "corner"}
	style = Kind{ID: Style, Name: "style", Top: true, Clauses: []string{"like", "when"}, Like: []ID{Style}, Dims: board, Props: ofBoard, Indexed: "corner"}
	row   = Kind{ID: Row, Name: "row", Within: []ID{Panel, Style, Notebook}, Clauses: []string{"on", "like", "when"},
		Like: []ID{Row, Pattern}, Dims: join(holes, []dim.Name{dim.Ease, dim.Wire}), Props: []string{"hole", "gaps", "neck", "binding", "guide-stock"}, Indexed: dim.Gap.String()}
	pattern = Kind{ID: Pattern, Name: "pattern", Top: true, Clauses: []string{"like"}, Like: []ID{Pattern},
		Dims: holes, Props: []string{"hole", "gaps", "neck"}, Indexed: dim.Gap.String()}
	gap    = Kind{ID: Gap, Name: "gap", Top: true, Clauses: []string{"like", "when"}, Like: []ID{Gap}, Dims: []dim.Name{dim.Width}}
	casing = Kind{ID: Case, Name: "case", Top: true, Clauses: []string{"like", "when"}, Like: []ID{Case},
		Dims:  join(size, []dim.Name{dim.TurnIn, dim.Mitre, dim.Lining, dim.SpineReach, dim.CornerReach, dim.Overlap, dim.SpineWidth, dim.SideWidth}),
		Props: []string{"lay", "bound", "covering-stock", "spine-stock", "lining-stock", "quiet"}}
	region = Kind{ID: Region, Name: "region", Within: repeated, Template: true, Clauses: []string{"like", "when"},
		Like: []ID{Region}, Dims: join(size, sides), Props: []string{"clear", "face"}, Marks: true}
	cutout = Kind{ID: Cutout, Name: "cutout", Within: repeated, Template: true, Clauses: []string{"like", "when"},
		Like: []ID{Cutout}, Dims: join(size, sides), Props: []string{"shape", "clear", "open", "neck", "rotate", "depth", "face"}}
	line = Kind{ID: Line, Name: "line", Within: onBoard, Template: true, Clauses: []string{"like", "when"},
		Like: []ID{Line}, Dims: []dim.Name{dim.At}, Props: []string{"from", "op"}}
	lattice = Kind{ID: Lattice, Name: "lattice", Within: onBoard, Template: true, Clauses: []string{"like", "when"},
		Like:  []ID{Lattice},
		Dims:  join(size, sides, []dim.Name{dim.Radius, dim.Clearance, dim.Bend, dim.Bridge, dim.End, dim.Link, dim.Turn, dim.Links, dim.Rows}),
		Props: []string{"shear-modulus", "allowed-shear"}}
	field = Kind{ID: Field, Name: "field", Within: onBoard, Template: true, Clauses: []string{"like", "when"},
		Like: []ID{Field},
		Dims: join(size, sides, []dim.Name{dim.Across, dim.Down, dim.GapAcross, dim.GapDown, dim.PitchAcross, dim.PitchDown})}
	tabs = Kind{ID: Tabs, Name: "tabs", Within: onBoard, Clauses: []string{"on", "like", "when"}, Like: []ID{Tabs},
		Props: []string{"count", "places", "place", "extension", "radius"}, Marks: true}
	stitch = Kind{ID: Stitch, Name: "stitch", Within: onBoard, Clauses: []string{"like", "when"}, Like: []ID{Stitch},
		Dims:  []dim.Name{dim.Count, dim.HoleAlong, dim.HoleAcross, dim.Inset, dim.Pitch, dim.Run},
		Props: []string{"hole", "stitch-length", "around", "along"}}
	stock = Kind{ID: Stock, Name: "stock", Top: true, Clauses: []string{"like", "when"}, Like: []ID{Stock}, Dims: []dim.Name{dim.Thick},
		Props: []string{"size", "material", "grain", "greys", "price", "kerf", "quantity", "offcuts", "margin", "spacing", "knife", "shared-cuts", "bridge", "bridge-below", "cut-speed", "score-speed", "passes", "accuracy", "resolution", "allow", "quiet"}, Bench: true}
	material = Kind{ID: Material, Name: "material", Top: true, Clauses: []string{"like"}, Like: []ID{Material},
		// thick is that of the sheet which is made of it.
		Dims: []dim.Name{dim.Thick},
		Props: []string{"kerf", "thick-over", "thick-under", "least-web", "least-edge", "least-detail", "least-radius", "movement", "gives-off", "burns", "never", "ask",
			"shear-modulus", "allowed-shear"}}
	laser = Kind{ID: Laser, Name: "laser", Top: true, Clauses: []string{"like"}, Like: []ID{Laser},
		Props: []string{"bed", "kerf", "line-width", "scale-x", "scale-y",
			"engrave-speed", "mark-speed", "score-speed", "cut-speed", "passes", "travel-speed", "acceleration", "corner-speed",
			"engrave-distance", "run-out", "one-way", "heat-spread", "rate", "labour", "waste", "profit",
			"engrave-colour", "mark-colour", "score-colour", "cut-colour", "quiet"}}
	binding = Kind{ID: Binding, Name: "binding", Top: true, Within: []ID{Notebook, Row}, Clauses: []string{"like", "when"},
		Like: []ID{Binding}, Dims: []dim.Name{dim.Ring, dim.Wire, dim.Outside, dim.Pair, dim.Pitch}, Props: []string{"form"}}
	orders = Kind{ID: Orders, Name: "orders", Top: true}
	job    = Kind{ID: Job, Name: "job", Top: true}
	// toMake is a design that a job makes.
	toMake = Kind{ID: Make, Name: "make", Within: []ID{Job}, Props: []string{"copies"}}
)
