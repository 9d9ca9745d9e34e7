package codes

// board has the codes of what can't be drawn or cut: package layout, and those
// of lattices, which are worked out before.
func board() []Entry {
	return []Entry{
		{
			Code:  "arch",
			Means: "The head edge of a board can't be an arc as it is stated: it rises too far, or what lies at it doesn't go with it.",
			Do:    "Let it rise by half of the width at most, and leave the corners at the head square or round.",
			Example: `
panel front {
  width = 100; height = 200
  arch = 60
}
`,
		},
		{
			Code:  "stitch",
			Means: "Stitch holes can't follow the outline as it is stated: the line doesn't fit in, an edge has no length left, or something isn't said.",
			Do:    "State the form of the holes, their inset and the stitch-length; let the inset be smaller than what the outline and its round corners leave, and the stitches longer than the holes.",
			Example: `
panel pocket {
  width = 100; height = 140; corners = radius 3
  stitch seam { hole = round 1; inset = 4; stitch-length = 5 }
}
`,
		},
		{
			Code:  "tabs",
			Means: "The index tabs of a set of dividers can't be made as they are stated: too many for their places, on a board that bends or that a case lays, or something isn't said.",
			Do:    "State how many there are or into how many places the edge is divided, and how far they stand out; one panel has one set.",
			Example: `
panel divider {
  width = 160; height = 210
  tabs index on foredge { places = 5; place = 6; extension = 12 }
}
`,
		},
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
			Do:    "Stay with the laser, with its guards closed, its exhaust and air assist on and an extinguisher at hand: the light blinds, what is cut may burn, its fumes and dust harm eyes and lungs. The rules of your workshop, your country and the maker of the laser come first. foredge help safety says it all.",
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
			Code:  "corner-large",
			Means: "Corners are larger than the sides between them.",
			Do:    "Make them smaller: a radius is at most half of the smaller side.",
			Example: `
panel front {
  width = 100; height = 200
  corners = radius 60
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
			Means: "There is no such font.",
			Do:    "Name a built-in font, or a TTF or OTF file.",
			Example: `
panel front {
  width = 100; height = 200
  region title { height = 20; width = 50; engrave text "Tern" { font = "Go Blod" } }
}
`,
		},
		{
			Code:  "font-collection",
			Means: "A font file holds several fonts, and nothing says which one, or it has none of that name.",
			Do:    "Name one after the file, as in letters.ttc#2.",
			Test:  "layout.TestFontCollection",
		},
		{
			Code:  "font-file",
			Means: "A font file is damaged, or of a kind that can't be read.",
			Do:    "Copy it again from its source, or choose another font.",
			Example: `
panel front {
  width = 100; height = 200
  region title { height = 20; width = 50; engrave text "Tern" { font = "letters.ttf" } }
}
-- letters.ttf --
no font
`,
		},
		{
			Code:  "glyph",
			Means: "The font lacks a character of the text.",
			Do:    "Take a font that has it, or write it in another way.",
			Example: `
panel front {
  width = 100; height = 200
  region title { height = 20; width = 50; engrave text "Tern 鳥" }
}
`,
		},
		{
			Code:  "inlay-fine",
			Means: "A stroke or an opening of what is laid in is so fine that it would vanish by its ease.",
			Do:    "Take a smaller ease, or larger or bolder letters.",
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
			Code:  "inlay-overlap",
			Means: "By an ease below 0 pieces that are laid in become so broad that they run into one another.",
			Do:    "Choose an ease nearer to 0, or set what is laid in farther apart.",
			Example: `
stock board { thick = 3 }
stock veneer { thick = 0.6 }
panel front {
  stock = board; width = 100; height = 200
  region title { height = 20; width = 80; inlay text "HIH" { cap = 12; stock = veneer; ease = -4 } }
}
`,
		},
		{
			Code:  "kerf",
			Means: "Something is no wider than the laser's cut: an opening, a neck, a lattice's link, what is left between two pieces, a bay of one, or a stroke of the recess in which one is to lie.",
			Do:    "Make it wider, or leave it out.",
			Example: `
laser bench { kerf = 0.4 }
panel front {
  width = 100; height = 200
  row pins on spine { count = 3; pitch = 20; hole = round 0.3; inset = 5 }
}
`,
		},
		{
			Code:  "lattice-edge",
			Means: "A lattice lies at the edge of its board, where nothing holds its links.",
			Do:    "Leave board beside it, at least as much as it is thick.",
			Example: `
panel wrap {
  thick = 3; width = 200; height = 160
  lattice fold { radius = 14; turn = 180 deg; spine = 0 }
}
`,
		},
		{
			Code:  "lattice-room",
			Means: "A lattice is too low for its links, bridges and ends, or has bridges or ends of no length.",
			Do:    "Make it higher, or state fewer rows, or longer bridges.",
			Example: `
panel wrap {
  thick = 3; width = 200; height = 10
  lattice fold { radius = 14; turn = 180 deg; rows = 3 }
}
`,
		},
		{
			Code:  "neck",
			Means: "The neck of an opening is wider than the opening.",
			Do:    "Make it at most as wide as what it leads to.",
			Example: `
panel front {
  width = 100; height = 200
  row disc on spine { count = 3; pitch = 20; hole = round 6; inset = 2; neck = 8 }
}
`,
		},
		{
			Code:  "neck-outside",
			Means: "An opening that reaches past its edge is to have a neck narrower than it is there itself.",
			Do:    "Take the neck out, or move the opening inwards.",
			Example: `
panel front {
  width = 100; height = 200
  cutout thumb { shape = round 22; open = foredge; foredge = -3; neck = 8 }
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
			Means: "Nothing says how wide the laser cuts a board, so it is drawn without kerf: its openings come out wider, and the board smaller, by the width of the cut.",
			Do:    "Cut a test piece, measure, and state laser bench { kerf = 0.2 }.",
			Example: `
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "no-room",
			Means: "A region is too small for what is to stand in it, or a board for the links of its lattice.",
			Do:    "Make the region larger, or the text, its least, the artwork or the links smaller.",
			Example: `
panel front {
  width = 100; height = 200
  region title { height = 20; width = 50; engrave text "Arctic Terns" { cap = 15 } }
}
`,
		},
		{
			Code: "guide-turned", As: note(),
			Means: "A guide serves a row that is the mirror image of its own, but only when it is turned over.",
			Do:    "Turn it so that its notch lies near the corner of head and foredge, head up.",
			Test:  "testdata/script/proof_guide.txtar",
		},
		{
			Code: "no-guide", As: note(),
			Means: "Not all is known of a row of a notebook, so there is no guide for it.",
			Do:    "State the notebook's width and height, and of the row its holes and where they lie.",
			Test:  "testdata/script/proof_guide.txtar",
		},
		{
			Code: "no-notch", As: note(),
			Means: "The strip of a card or a guide is so small that the notch which shows its head and its face finds no place between the holes and the edges.",
			Do:    "Mark the card by hand before you take it off the laser.",
			Test:  "testdata/script/proof_card.txtar",
		},
		{
			Code:  "no-row",
			Means: "A card or a guide shows rows of holes, and there is none here to be shown.",
			Do:    "Build the design itself, or declare a row.",
			Test:  "testdata/script/proof_card.txtar",
		},
		{
			Code:  "no-turn",
			Means: "Nothing says how far a lattice bends in all.",
			Do:    "State it, as in turn = 180 deg.",
			Example: `
panel wrap {
  thick = 3; width = 200; height = 160
  lattice fold { radius = 14 }
}
`,
		},
		{
			Code: "nothing", As: errorOrNote(),
			Means: "There is nothing to cut: the file has no panel, which only `build` tells, or none is left of this order. Where a jig or an order is asked for it is an error.",
			Do:    "Declare a panel, or see which panels stand under a `when`.",
			Example: `
stock birch { thick = 3 }
`,
		},
		{
			Code:  "nothing-left",
			Means: "What comes out is so small that there is nothing to cut.",
			Do:    "Check the lines that give its size.",
			Example: `
panel front { width = 100; height = 200 - 2 * width }
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
			Means: "Two openings, a region or a mark and an opening, or a lattice and something else lie on one another.",
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
			Means: "A lattice is to turn by what it can't: by nothing, or by more than 360 deg.",
			Do:    "State an angle above 0 and up to 360 deg.",
			Example: `
panel wrap {
  thick = 3; width = 200; height = 160
  lattice fold { radius = 14; turn = 0 deg }
}
`,
		},
		{
			Code:  "too-many-shapes",
			Means: "A design has more than 100,000 shapes or characters, or its texts and drawings come to more than 500,000 lines and curves; a curve that is cut counts as four.",
			Do:    "Split it into several files.",
			Example: `
laser bench { kerf = 0.1 }
panel wrap {
  thick = 1; width = 3000; height = 1000
  lattice fold { radius = 600; turn = 180 deg; rows = 250 }
}
`,
		},
		{
			Code:  "no-side",
			Means: "The spine's cloth and the corners of a case leave no room for its sides.",
			Do:    "Make spine-reach or corner-reach smaller.",
			Example: `
panel front { width = 100; height = 200; thick = 2 }
panel back like front
panel strip { width = 20; height = 200; thick = 2 }
gap joint { width = 7 }
case case { lay = back, joint, strip, joint, front; bound = half; turn-in = 15; corner-reach = 80 }
`,
		},
		{
			Code:  "uneven-sides",
			Means: "The two boards of a case in quarter or half are not equally wide, so one side can't be cut for both.",
			Do:    "Give the boards one width.",
			Example: `
panel front { width = 100; height = 200; thick = 2 }
panel back { width = 99; height = 200; thick = 2 }
panel strip { width = 20; height = 200; thick = 2 }
gap joint { width = 7 }
case case { lay = back, joint, strip, joint, front; bound = quarter; turn-in = 15 }
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
		{
			Code:  "unseen",
			Means: "A text holds a character that can't be seen, so there is nothing of it to letter.",
			Do:    "Take it out of the text; it may have come in with copied text.",
			Test:  "layout.TestUnseenCharacter",
		},
	}
}
