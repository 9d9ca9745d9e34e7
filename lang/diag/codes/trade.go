package codes

import "strings"

// trade has the codes of what a binder would stop: wires, joints, coverings, wood and
// numbers that no bench has.
func trade() []Entry {
	return append(tradeOfWires(),
		Entry{
			Code: "covered-corner", As: warning(), Quiet: true, Of: "case",
			Means: "A corner of a covered board is scooped, or lies farther inside the square one than the turn-in: the covering can't be turned in there.",
			Do:    "Make the corner square or less round.",
			Example: `
panel front { thick = 2; width = 120; height = 180; corner head-foredge = scoop 10 }
case cover { lay = front; turn-in = 15 }
`,
		},
		Entry{
			Code: "foredge-joint", As: warning(), Quiet: true, Of: "case",
			Means: "The mirrored board of a case is laid last, so that both lie with their foredges at the joint; or a board that hangs on a strip with holes along its spine lies so, or one that is no mirror of the other and has corners cut at its foredge alone; or the holes of a strip at the end lie at the joint.",
			Do:    "Name the mirrored board first: lay lists what is seen from outside, from left to right.",
			Example: `
panel front { width = 120; height = 180 }
panel back mirrors front
gap joint { width = 7 }
case cover { lay = front, joint, back }
`,
		},
		Entry{
			Code: "guide-loose", As: warning(), Quiet: true,
			Means: "A guide is drawn for an edge that a tab, an arch or a scoop keeps from running straight.",
			Do:    "Lay it by its holes.",
			Test:  "testdata/script/proof_guide.txtar",
		},
		Entry{
			Code: "line-through", As: warning(), Quiet: true,
			Means: "A line runs through a hole, a cutout or what a mark cuts out, or is cut or scored through letters on the board's outer face.",
			Do:    "Move the line, the opening or the letters.",
			Example: `
panel front {
  width = 120; height = 180
  row rings on spine { count = 2; pitch = 80; hole = round 6; inset = 9 }
  line hinge { from = spine; at = 12 }
}
`,
		},
		Entry{
			Code: "odd-kerf", As: warning(), Quiet: true, Of: "stock",
			Means: "The kerf is none that a laser makes: below 0.05 mm or above 0.5 mm, and not 0.",
			Do:    "Check its unit and its decimal point.",
			From:  "cutting services and a laser maker's table: 0.08 to 0.45 mm",
			Example: `
laser bench { kerf = 1.8 }
panel front { width = 120; height = 180 }
`,
		},
		Entry{
			Code: "odd-bed", As: warning(), Quiet: true, Of: "laser",
			Means: "The bed is larger than that of a laser of a workshop: above 4 m.",
			Do:    "Check its unit.",
			From:  "common practice, no source",
			Example: `
units in
laser bench { kerf = 0.2 mm; bed = 500 by 400 }
panel front { width = 5; height = 7 }
`,
		},
		Entry{
			Code: "odd-speed", As: warning(), Quiet: true, Of: "stock",
			Means: "A speed is none that a laser of a workshop runs, as above 400 mm a second where it cuts.",
			Do:    "Divide a speed for a minute by 60, and check its unit and its decimal point.",
			From:  "common practice, no source",
			Example: `
laser bench { kerf = 0.2; cut-speed = 1200 }
panel front { width = 120; height = 180 }
`,
		},
		Entry{
			Code: "same-colour", As: warning(), Quiet: true, Of: "laser",
			Means: "Two operations are drawn in one colour where they may lie in one file, or marks of an inside in the colour in which their board is cut: a laser can't tell them apart.",
			Do:    "State another colour for one of them: a laser is told by the colour what to do.",
			Example: `
laser bench { kerf = 0.2; cut-colour = "#000000" }
panel front {
  width = 120; height = 180
  region title { head = 30; height = 20; width = 60; engrave text "Tern" }
}
`,
		},
		Entry{
			Code: "sharp-corner", As: warning(), Quiet: true,
			Means: "A rectangular hole or cutout through the board has inner corners sharper than its material's `least-radius`: it cracks from there.",
			Do:    "Give the opening a radius.",
			From:  "of acrylic 0.5 mm, from memory",
			Example: `
use materials
stock sheet { material = acrylic-cast; thick = 3 }
panel front { stock = sheet; width = 120; height = 180; cutout eye { shape = rect 20 by 10 } }
`,
		},
		Entry{
			Code: "short-mitre", As: warning(), Quiet: true, Of: "case",
			Means: "A covering is cut off so near to its boards' corners that these show.",
			Do:    "Make mitre larger.",
			From:  "worked out: the cut must stand the thickness divided by the root of 2 from the corner",
			Example: `
panel front { thick = 3; width = 120; height = 180 }
case cover { lay = front; turn-in = 15; mitre = 2 }
`,
		},
		Entry{
			Code: "thick-covering", As: warning(), Quiet: true, Of: "case",
			Means: "What is turned in is 1 mm thick or more, so it hardly goes round the boards' edge, or a lining over joints is, so it hardly folds there.",
			Do:    "Name another stock.",
			From:  "common practice, no source",
			Example: `
stock boards { thick = 2 }
panel front { stock = boards; width = 120; height = 180 }
case cover { lay = front; turn-in = 15; covering-stock = boards }
`,
		},
		Entry{
			Code: "under-covering", As: warning(), Quiet: true, Of: "case",
			Means: "Marks on the outside of a board lie under its case's covering, or on its inside under the lining.",
			Do:    "Put it on a panel of its own, as a label.",
			Example: `
panel front {
  thick = 2; width = 120; height = 180
  region title { head = 40; height = 20; spine = 20; foredge = 20; engrave text "Tides" { cap = 6 } }
}
case cover { lay = front; turn-in = 15 }
`,
		},
		Entry{
			Code: "wide-mitre", As: warning(), Quiet: true, Of: "case",
			Means: "A covering's mitre lies so far from its boards' corners that it cuts nothing off, and the turn-ins lie over one another.",
			Do:    "Make mitre smaller, about 1.5 times the thickness of the board.",
			From:  "worked out: the covering's corner lies turn-in times the root of 2 from the board's",
			Example: `
panel front { width = 120; height = 180; thick = 2 }
panel strip { width = 15; height = 180; thick = 2 }
gap joint { width = 7 }
case cover { lay = strip, joint, front; turn-in = 15; mitre = 22 }
`,
		},
		Entry{
			Code: "short-turn-in", As: warning(), Quiet: true, Of: "case",
			Means: "Less than 5 mm of what a covering turns in lies on the inside.",
			Do:    "Make turn-in larger: 15 to 20 mm are usual.",
			From:  "common practice, no source",
			Example: `
panel front { thick = 3; width = 120; height = 180 }
case cover { lay = front; turn-in = 7 }
`,
		},
		Entry{
			Code: "thick-board", As: warning(), Quiet: true,
			Means: "A board is thicker than 20 mm: no laser of a workshop cuts through it.",
			Do:    "Check its decimal point.",
			From:  "a page on what lasers cut: with 130 W 18 mm of acrylic, 15 mm of plywood",
			Example: `
panel front { thick = 94; width = 120; height = 180 }
`,
		},
		Entry{
			Code: "wood-moves", As: warning(), Quiet: true,
			Means: "The holes of a row in a material whose `movement` is 0.5 % or more may move by more than 0.3 mm, and nothing says which way its grain runs.",
			Do:    "Lay the grain along the row, and say so in the stock.",
			From:  "the material's `movement`; 0.3 mm are common practice, no source",
			Example: `
use materials
stock plank { material = basswood; thick = 4 }
panel front {
  stock = plank; width = 120; height = 180
  row rings on spine { count = 2; pitch = 80; hole = round 6; inset = 9 }
}
`,
		},
	)
}

// tradeOfWires has the codes of loops and coils by the rules of the trade.
func tradeOfWires() []Entry {
	const book = `
notebook log {
  width = 148 exact; height = 210 exact; thick = 6 exact
  binding wire { form = loop; ring = RING; wire = 1 exact }
  row holes on spine { count = 24; pitch = 1/3 in exact; first = 5.6 exact; hole = rect 4 by 4 exact; inset = 4 exact }
}
panel front covers log { thick = 2 }
panel back mirrors front
`
	of := func(ring string) string { return replaceOne(book, "RING", ring) }
	return []Entry{
		{
			Code: "coil-pitch", As: warning(), Quiet: true,
			Means: "The holes clearly don't lie as far apart as their coil climbs in a turn, so it can't be wound through them.",
			Do:    "Measure both once more, or take a coil of the holes' pitch.",
			From:  "common practice, no source",
			Example: `
binding clip { form = coil; ring = 12; wire = 1; pitch = 8.5 }
panel front {
  width = 120; height = 180; thick = 2
  row wire on spine { gaps = 8.5, 8.5, 9; hole = round 4; inset = 4; binding = clip }
}
`,
		},
		{
			Code: "narrow-pair", As: warning(),
			Means: "The pair of a twin loop is narrower than its two wires, by more than the readings of both leave open.",
			Do:    "Measure both once more; pair is taken over both wires.",
			Example: `
panel front {
  width = 120; height = 180; thick = 2
  row wire on spine {
    count = 20; pitch = 8; hole = rect 4 by 4; inset = 4
    binding clip { form = loop; ring = 12; wire = 1; pair = 1.6 }
  }
}
`,
		},
		{
			Code: "wire-loose", As: warning(), Quiet: true,
			Means:   "A loop or coil through eight holes or more is over twice as large as binders give a book of that thickness.",
			Do:      "Check ring and thick, or take the size that is named.",
			From:    "common practice, no source",
			Example: replaceOne(of("30 exact"), "count = 24; pitch = 1/3 in", "count = 16; pitch = 12"),
		},
		{
			Code: "wire-pitch", As: warning(), Quiet: true,
			Means:   "A loop or coil through eight holes or more is larger than is made for holes so near to one another, as a loop above 5/8 in on three to the inch.",
			Do:      "Measure ring and pitch once more, or punch the wider pitch.",
			From:    "a wire maker's and a binder's page; a magazine for print finishers, 2007; half way to the next wider pitch that is sold",
			Example: of("16 exact"),
		},
		{
			Code: "wire-snug", As: warning(), Quiet: true,
			Means:   "A loop or coil through eight holes or more closes and turns, but is smaller than binders give a book of that thickness: a loop 3/16 in wider than the book is thick, a coil 4 mm wider.",
			Do:      "Take the size that is named, or thinner boards.",
			From:    "a bindery's requirements for wire; a page on coils",
			Example: of("14 exact"),
		},
		{
			Code: "wire-unsaid", As: note(),
			Means: "A cover of 1 mm or more lies on a row that looks like a wire's, with eight holes or more, and nothing says which wire it is or how thick the leaves are, so it can't be told whether the old loops close over new boards.",
			Do:    "State the binding and thick in the notebook.",
			Example: `
laser bench { kerf = 0.2 }
notebook log {
  width = 148 exact; height = 210 exact
  row holes on spine { count = 24; pitch = 1/3 in exact; first = 5.6 exact; hole = rect 4 by 4 exact; inset = 4 exact }
}
panel front covers log { thick = 3 }
`,
		},
	}
}

func replaceOne(text, old, by string) string { return strings.Replace(text, old, by, 1) }
