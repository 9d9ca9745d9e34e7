package codes

// sheets are the codes of parts on stock.
func sheets() []Entry { return append(laying(), cuttingOut()...) }

// cuttingOut are those of how parts are cut out of a stock.
func cuttingOut() []Entry { return append(byLaser(), byKnife()...) }

func byLaser() []Entry {
	return []Entry{
		{
			Code:  "bridge-unsaid",
			Means: "A stock says how broad the bridges of small parts are and not which parts these are, or the other way round.",
			Do:    "State both, bridge and bridge-below.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
stock ply { thick = 3 exact; bridge = 0.6 }
panel front { width = 120; height = 90 }
`,
		},
		{
			Code: "broad-bridge", As: warning(), Quiet: true,
			Means: "A small part's edge is too short for the two bridges that it is to keep, so it keeps one, or none.",
			Do:    "Let them be narrower, or let bridge-below leave the part out.",
			From:  "common practice, no source",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
stock ply { thick = 3 exact; bridge = 30; bridge-below = 70 }
panel front { width = 60; height = 50 }
`,
		},
		{
			Code: "nothing-shared", As: note(),
			Means: "Parts of a stock are to share their cuts, and no two lie side by side that can: equal rectangles with square corners that keep no bridges.",
			Do:    "Take shared-cuts out, or see why parts that look alike aren't equal.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
stock ply { thick = 3 exact; shared-cuts = yes }
panel front { width = 120; height = 90; corners = radius 5; copies = 2 }
`,
		},
		{
			Code:  "offcut-corner",
			Means: "What is said to be gone at a corner of an offcut is nothing, or as wide or high as the offcut.",
			Do:    "State a smaller rectangle, or what is there.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
stock ply { thick = 3 exact; offcuts = 200 by 100 less 200 by 40 at head-right }
panel front { width = 120; height = 90 }
`,
		},
		{
			Code: "offcut-large", As: warning(), Quiet: true, Of: "stock",
			Means: "An offcut is larger than the sheets of its stock, or is so as its grain runs, so it can't be left of one.",
			Do:    "Measure it again, and state it as its grain runs. If it is of a larger sheet, silence the warning.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
stock ply { thick = 3 exact; size = 300 by 200; offcuts = 1200 by 90 }
panel front { width = 120; height = 90 }
`,
		},
		{
			Code:  "offcut-times",
			Means: "The width of an offcut is a product, as in 2 * 300 by 210: that would be one piece as wide as both.",
			Do:    "State each piece, 300 by 210, 300 by 210, and the width of one as a number.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
stock ply { thick = 3 exact; size = 300 by 200; offcuts = 2 * 130 by 90 }
panel front { width = 120; height = 90 }
`,
		},
		{
			Code:  "shared-no-kerf",
			Means: "Parts of a stock are to share their cuts, and nothing says how wide the laser cuts: their edges lie one kerf apart.",
			Do:    "Measure the kerf and state it.",
			Example: `
laser bench { bed = 300 by 200 }
stock ply { thick = 3 exact; shared-cuts = yes }
panel front { width = 120; height = 90; copies = 2 }
`,
		},
	}
}

func byKnife() []Entry {
	return []Entry{
		{
			Code: "knife-corners", As: warning(), Quiet: true,
			Means: "A part that a knife cuts isn't a rectangle: the rectangle about it is cut, and its own edge marked.",
			Do:    "Cut off afterwards what lies beyond the mark.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
stock board { thick = 3 exact; knife = yes }
panel front { width = 120; height = 90; corners = radius 9 }
`,
		},
		{
			Code:  "knife-pieces",
			Means: "What is laid in is of several pieces, and its stock is cut by a knife, from edge to edge.",
			Do:    "Cut it from a stock that the laser cuts.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
stock ply { thick = 3 exact }
stock veneer { thick = 0.6 exact; knife = yes }
panel front { stock = ply; width = 120; height = 90
  region title { head = 20; height = 40; spine = 10; foredge = 10; inlay text "III" { stock = veneer; font = "Go Bold"; cap = 20 } } }
`,
		},
		{
			Code:  "knife-beside",
			Means: "Beside a part so little is left of a sheet, or so little is gone of an offcut, that the line of the knife's cut, in the middle of its width, would lie off the board.",
			Do:    "State the width that is really cut as the stock's spacing; or let the part or the sheet leave half of it, or nothing.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
stock board { thick = 3 exact; size = 200 by 100; knife = yes; grain = along height; spacing = 3; margin = 0 }
panel front { stock = board; width = 120; height = 99 }
`,
		},
		{
			Code:  "knife-sheet",
			Means: "A stock is cut by a knife, and nothing says how large its sheets are, from edge to edge of which it cuts.",
			Do:    "State the size of the stock.",
			Example: `
laser bench { kerf = 0.2 }
stock board { thick = 3 exact; knife = yes }
panel front { width = 120; height = 90 }
`,
		},
		{
			Code:  "two-stocks",
			Means: "Parts are cut from two stocks of one name, as a file's own and that of a style of a file that it uses, and would lie on one sheet.",
			Do:    "Give one of them another name.",
			Example: `
use "shop.fore"
stock board { thick = 6 }
panel lid like look { width = 100; height = 50 }
panel base { width = 100; height = 50; stock = board }
-- shop.fore --
stock board { thick = 3 }
style look { stock = board }
`,
		},
		{
			Code:  "two-ways",
			Means: "A stock is cut by a knife, and says of a laser's cuts what a knife doesn't do.",
			Do:    "Take one of the two lines out.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
stock board { thick = 3 exact; knife = yes; shared-cuts = yes }
panel front { width = 120; height = 90; copies = 2 }
`,
		},
	}
}

// laying are those of where parts lie, and of what can't be laid.
func laying() []Entry { return append(onSheets(), notLaid()...) }

func onSheets() []Entry {
	return []Entry{
		{
			Code: "cut-twice", As: warning(), Quiet: true, Of: "stock",
			Means: "The laser cuts twice along one line, or nearly, on which edges of two parts lie, which chars and can burn.",
			Do:    "Ask for shared-cuts, with which edges of equal rectangles are cut once for both, or state a larger spacing.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
stock ply { thick = 3 exact; spacing = 0 }
panel front { width = 120; height = 90; copies = 2 }
`,
		},
		{
			Code: "lies-alone", As: warning(), Quiet: true, Of: "stock",
			Means: "Parts take a whole sheet each that isn't sawn for the bed, and a smaller margin or spacing would save sheets of their stock, if no other takes of the same.",
			Do:    "State a smaller margin or spacing, or silence it.",
			From:  "common practice, no source",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
stock ply { thick = 3 exact; spacing = 120 }
panel front { width = 120; height = 90; copies = 2 }
`,
		},
		{
			Code: "sheets-used", As: note(),
			Means: "How many sheets and offcuts of a stock the parts lie on, how much of these is used, and by how much less could do at best.",
			Do:    "Keep what is left over, and write it into the stock as its offcuts.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
panel front { width = 140; height = 85; copies = 5 }
`,
		},
		{
			Code: "sawn", As: note(),
			Means: "A sheet or an offcut of a stock is larger than the laser's bed whichever way it lies, so it is sawn into pieces that aren't; each is run on its own, and all that parts need are used before another sheet is begun.",
			Do:    "Saw it along the lines that are told, measured from its left edge and its head as its size is stated, so that what is before a line keeps its size; what is after it loses the width of the saw.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
stock ply { thick = 3 exact; size = 500 by 200 }
panel front { width = 120; height = 90; copies = 5 }
`,
		},
		{
			Code: "sawn-edge", As: warning(), Quiet: true, Of: "stock",
			Means: "Parts come so near to a line along which their sheet is sawn that the saw, which takes up to 4 mm away, or the knife may cut into them.",
			Do:    "Let the stock's margin be more than the saw's cut is wide, or cut up the sheet with a blade that takes nothing away and silence this.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
stock ply { thick = 3 exact; size = 500 by 200; margin = 0 }
panel front { width = 120; height = 90; copies = 5 }
`,
		},
		{
			Code: "inside-runs", As: note(),
			Means: "A panel of which several are cut has something on its inside, and the file of that holds one board: it is run for each.",
			Do:    "Put the boards into the jig one after another, and run the file for each of them.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
panel front { width = 120; height = 90; copies = 2
  region owner { face = inside; head = 10; height = 20; spine = 10; foredge = 10; mark frame } }
`,
		},
	}
}

func notLaid() []Entry {
	return []Entry{
		{
			Code:  "not-laid",
			Means: "The parts can't be laid on sheets, as there are too many of them.",
			Do:    "See how many are wanted, and divide them among several designs or jobs.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
stock card { thick = 1 exact }
panel a { width = 120; height = 90; copies = 1000 }
panel b like a
panel c like a
panel d like a
panel e like a
panel f like a
panel g like a
panel h like a
panel i like a
panel j like a
panel k like a
panel l like a
panel m like a
panel n like a
panel o like a
panel p like a
panel q like a
panel r like a
panel s like a
panel t like a
panel u like a
`,
		},
		{
			Code:  "too-few-sheets",
			Means: "The stock says how many sheets there are, and the parts don't fit on these and the offcuts.",
			Do:    "Take more sheets, or make less.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
stock card { thick = 1 exact; quantity = 1 }
panel front { width = 120; height = 90; copies = 5 }
`,
		},
	}
}
