package codes

// board has the codes of what can't be drawn or cut: package layout, and those
// of lattices, which are worked out before.
func board() []Entry {
	return []Entry{
		{
			Code:  "bridge",
			Means: "Letters that are cut through are too small for bridges of this width, or can't be bridged.",
			Do:    "Make the letters larger or the bridges narrower, take another font, or engrave the text.",
			Example: `
panel front {
  thick = 3; width = 100; height = 200
  region title { height = 20; width = 50; cut text "Bob" { font = "Go Bold"; cap = 6; bridge = 4 } }
}
`,
		},
		{
			Code: "caution", As: note(), Quiet: true,
			Means: "What to mind before you cut, said once a build: light, fire and fumes, and what the materials give off.",
			Do:    "Stay with the laser; the rules of your workshop and its maker come first.",
			Example: `
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "clear",
			Means: "A region or cutout is nearer to a cut than its clear asks for.",
			Do:    "Move it, make it smaller or ask for less.",
			Example: `
panel front {
  width = 100; height = 200
  row wire on spine { count = 10; pitch = 8; hole = round 4; inset = 5 }
  region title { spine = 11; width = 50; height = 20; clear = 3 }
}
`,
		},
		{
			Code:  "clearance",
			Means: "The slots of a lattice would be narrower than the laser's cut.",
			Do:    "State at least the kerf, or leave the clearance to the radius.",
			Example: `
laser bench { kerf = 0.2 }
panel wrap {
  thick = 3; width = 200; height = 160
  lattice fold { turn = 180 deg; clearance = 0.15 }
}
`,
		},
		{
			Code:  "face",
			Means: "What is cut goes through the board, so it can't be on its inside.",
			Do:    "Engrave or mark it, or leave out face = inside.",
			Example: `
panel front {
  width = 100; height = 60; thick = 1
  region title { face = inside; width = 60; height = 20; cut text "HO" }
}
`,
		},
		{
			Code:  "font",
			Means: "A font is not there, can't be read, or is not named as one is.",
			Do:    "Name a built-in font or a TTF or OTF file in quotes.",
			Example: `
panel front {
  width = 100; height = 200
  region title { height = 20; width = 50; engrave text "Tern" { font = "Go Blod" } }
}
`,
		},
		{
			Code:  "glyph",
			Means: "The font lacks a character of the text, or the text holds one that can't be seen.",
			Do:    "Take a font that has it, or write it in another way.",
			Example: `
panel front {
  width = 100; height = 200
  region title { height = 20; width = 50; engrave text "Tern 鳥" }
}
`,
		},
		{
			Code:  "inlay",
			Means: "What is laid in doesn't bear its ease: a stroke of it would vanish, or pieces made broader would run into one another.",
			Do:    "Take an ease nearer to 0, or larger or bolder letters.",
			Example: `
stock board { thick = 3 }
stock veneer { thick = 0.6 }
panel front {
  stock = board; width = 100; height = 200
  region title { height = 20; width = 50; inlay text "Tern" { cap = 3; stock = veneer; ease = 0.5 } }
}
`,
		},
		{
			Code:  "kerf",
			Means: "An opening, or what is left between two pieces, is narrower than the laser's cut.",
			Do:    "Make it larger, or leave it out.",
			Example: `
laser bench { kerf = 0.4 }
panel front {
  width = 100; height = 200
  row pins on spine { count = 3; pitch = 20; hole = round 0.3; inset = 5 }
}
`,
		},
		{
			Code:  "lattice",
			Means: "A lattice can't be cut: it lies at the board's edge, is too low for its links, or the laser's cut is as wide as they are.",
			Do:    "Leave board beside it, make it higher or state fewer rows.",
			Example: `
panel wrap {
  thick = 3; width = 200; height = 160
  lattice fold { radius = 14; turn = 180 deg; spine = 0 }
}
`,
		},
		{
			Code:  "neck",
			Means: "The neck of an opening is wider than the opening, or no wider than the laser's cut.",
			Do:    "Make it at most as wide as what it leads to, and wider than the kerf.",
			Example: `
panel front {
  width = 100; height = 200
  row disc on spine { count = 3; pitch = 20; hole = round 6; inset = 2; neck = 8 }
}
`,
		},
		{
			Code:  "never-cut",
			Means: "A laser must not cut this material: it gives off what harms you or the machine, or burns.",
			Do:    "Take another; whoever knows better writes why into the stock, as in allow = \"the reason\".",
			From:  "the shelf's materials, each with its source: foredge shelf materials",
			Example: `
use materials
stock sheet { material = vinyl; thick = 1 }
panel front { stock = sheet; width = 120; height = 180 }
`,
		},
		{
			Code: "no-kerf", As: note(),
			Means: "Nothing says how wide the laser cuts, so the file is drawn without kerf: openings come out wider and boards smaller by its width.",
			Do:    "Cut a test piece, measure, and state laser bench { kerf = 0.2 }.",
			Example: `
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "no-room",
			Means: "A region is too small for what is to stand in it.",
			Do:    "Make the region larger, or the text, its least or the artwork smaller.",
			Example: `
panel front {
  width = 100; height = 200
  region title { height = 20; width = 50; engrave text "Arctic Terns" { cap = 15 } }
}
`,
		},
		{
			Code:  "no-row",
			Means: "A card proves rows of holes, and no panel here has one.",
			Do:    "Build the design itself.",
			Test:  "testdata/script/proof_card.txtar",
		},
		{
			Code: "nothing", As: errorOrNote(),
			Means: "There is nothing to cut: the file has no panel, or none is left of this order. A file that others use is like that, and only `build` tells of it.",
			Do:    "Declare a panel, or see which panels stand under a `when`.",
			Example: `
stock birch { thick = 3 }
`,
		},
		{
			Code:  "outside",
			Means: "Something lies outside the panel, or runs over one of its corners.",
			Do:    "Move it inwards, or make it or the corner smaller.",
			Example: `
panel front {
  width = 100; height = 200
  line fold { from = spine; at = 120; op = score }
}
`,
		},
		{
			Code:  "overlap",
			Means: "Two openings, a region and an opening, or a lattice and something else lie on one another.",
			Do:    "Move one of them or make it smaller.",
			Example: `
panel front {
  width = 100; height = 200
  row wire on spine { count = 10; pitch = 8; hole = round 4; inset = 5 }
  region title { spine = 6; width = 50; height = 40 }
}
`,
		},
		{
			Code:  "radius",
			Means: "Nothing says how tightly a lattice bends.",
			Do:    "State the least inside radius, or the laser's kerf: it then bends as tightly as slots of a single cut allow.",
			Example: `
panel wrap {
  thick = 3; width = 200; height = 160
  lattice fold { turn = 180 deg }
}
`,
		},
		{
			Code:  "rows",
			Means: "Links, bridges and ends of a lattice are all stated, so nothing is left that could fill its height.",
			Do:    "Leave out link or end.",
			Example: `
panel wrap {
  thick = 3; width = 200; height = 160
  lattice fold { radius = 14; turn = 180 deg; link = 10; end = 5 }
}
`,
		},
		{
			Code:  "shear",
			Means: "How far links may twist takes two numbers, and only one is stated.",
			Do:    "State both shear-modulus and allowed-shear, in N/mm².",
			Example: `
panel wrap {
  thick = 3; width = 200; height = 160
  lattice fold { radius = 14; turn = 180 deg; allowed-shear = 10 }
}
`,
		},
		{
			Code:  "thickness",
			Means: "Nothing says how thick the board of a lattice is, and its links are as wide as that.",
			Do:    "State thick in the panel, or the stock that it is cut from.",
			Example: `
panel wrap {
  width = 200; height = 160
  lattice fold { radius = 14; turn = 180 deg }
}
`,
		},
		{
			Code:  "turn",
			Means: "Nothing says how far a lattice bends in all, or it is not above 0 and at most 360 deg.",
			Do:    "State it, as in turn = 180 deg.",
			Example: `
panel wrap {
  thick = 3; width = 200; height = 160
  lattice fold { radius = 14; turn = 0 deg }
}
`,
		},
		{
			Code:  "too-many",
			Means: "There is more than foredge draws or reads: 10,000 holes in a row or members in a field, 100,000 shapes in a design, 4 million dots in a picture, 200 columns or 100,000 orders in a table.",
			Do:    "Split it, or check a number: a unit may be missing.",
			Example: `
laser bench { kerf = 0.1 }
panel wrap {
  thick = 1; width = 3000; height = 1000
  lattice fold { radius = 600; turn = 180 deg; rows = 250 }
}
`,
		},
		{
			Code:  "uneven-case",
			Means: "The panels of a case are not equally high.",
			Do:    "Give them one height.",
			Example: `
panel front { width = 100; height = 200 }
panel strip { width = 60; height = 199 }
gap joint { width = 7 }
case case { lay = front, joint, strip }
`,
		},
	}
}
