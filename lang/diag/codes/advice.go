package codes

// advice has the codes of what can be cut, but an old hand would not cut: the
// warnings of package layout and those of package eval about sheets and wires.
func advice() []Entry {
	return []Entry{
		{
			Code: "allowed-material", As: warning(),
			Means: "A stock's `allow` lets a material be cut that must not be.",
			Do:    "Take allow out if its reason no longer holds. Tickets and lists of what was made say it too.",
			Example: `
use materials
stock odd { material = vinyl; thick = 1; allow = "a sample, in the works' own chamber" }
panel front { stock = odd; width = 120; height = 180 }
`,
		},
		{
			Code: "ask-workshop", As: warning(), Quiet: true, Of: "stock",
			Means: "Workshops differ over a material, or too little is known of it, so ask the one whose laser it is.",
			Do:    "Ask, and write its answer into the stock's allow.",
			From:  "lists of universities and workshops that disagree",
			Example: `
use materials
stock clear { material = polypropylene; thick = 0.8 }
panel front { stock = clear; width = 120; height = 180 }
`,
		},
		{
			Code: "cross-grain", As: warning(), Quiet: true,
			Means: "The grain runs across the edge at which a row binds a board, or across the spine of a part of a case, so that it warps; not where the material's `movement` is below 0.5 %.",
			Do:    "Turn the sheet.",
			From:  "two lessons in bookbinding; of a pad common practice, no source",
			Example: `
use materials
stock grey { material = greyboard; thick = 2; grain = along width }
panel front {
  stock = grey; width = 120; height = 180
  row rings on spine { count = 2; pitch = 80; hole = round 6; inset = 9 }
}
`,
		},
		{
			Code: "two-gaps", As: warning(), Quiet: true, Of: "case",
			Means: "Two gaps of a case lie side by side, as where the board between them was left out.",
			Do:    "Lay the board that is missing, or state one wider gap.",
			Example: `
panel front { thick = 3; width = 120; height = 180 }
panel back mirrors front
gap joint { width = 7 }
case cover { lay = back, joint, joint, front }
`,
		},
		{
			Code: "inner-corner", As: warning(), Quiet: true, Of: "case",
			Means: "A corner is cut where a board lies inside its case, at a joint.",
			Do:    "Cut the corners at the outer edges of the case alone.",
			Example: `
panel front { thick = 3; width = 120; height = 180; corners = radius 6 }
panel back mirrors front
panel strip { thick = 3; width = 20; height = 180 }
gap joint { width = 7 }
case cover { lay = back, joint, strip, joint, front }
`,
		},
		{
			Code: "wide-joint", As: warning(), Quiet: true, Of: "case",
			Means: "A joint beside a spine strip is wider than 20 mm, and than five times as wide as its boards are thick.",
			Do:    "Check the width of the gap: 6 to 10 mm are usual.",
			From:  "common practice, no source",
			Example: `
panel front { thick = 3; width = 120; height = 180 }
panel back mirrors front
panel strip { thick = 3; width = 20; height = 180 }
gap joint { width = 7 }
gap wide { width = 70 }
case cover { lay = back, wide, strip, joint, front }
`,
		},
		{
			Code: "wide-turn-in", As: warning(), Quiet: true, Of: "case",
			Means: "A covering is turned in by more than 40 mm.",
			Do:    "Check the turn-in: 15 to 20 mm are usual.",
			From:  "common practice, no source",
			Example: `
panel front { thick = 3; width = 120; height = 180 }
panel back mirrors front
panel strip { thick = 3; width = 20; height = 180 }
gap joint { width = 7 }
case cover { lay = back, joint, strip, joint, front; turn-in = 160 }
`,
		},
		{
			Code: "loose-hole", As: warning(), Quiet: true,
			Means: "The ease of a row is above 1.5 mm, so its holes are cut far larger than measured.",
			Do:    "Check its unit and its decimal point: 0.2 to 0.8 mm are usual.",
			From:  "common practice, no source",
			Example: `
notebook log {
  accuracy = 0.05; width = 105; height = 190
  row wire on spine { count = 15; pitch = 12; first = 8; hole = round 4; inset = 8 }
}
panel front covers log { ease = 3 }
`,
		},
		{
			Code: "bare-case", As: warning(), Quiet: true, Of: "case",
			Means: "A case says what its covering or its lining is cut from, and no turn-in or lining that there is one, so none is cut.",
			Do:    "State how far the covering is turned in, as in turn-in = 15, or how far inside the edges the lining lies, as in lining = 2.",
			Example: `
stock board { thick = 3 }
stock cloth { thick = 0.4 }
panel front { stock = board; width = 120; height = 180 }
panel back like front { }
gap joint { width = 7 }
case cover { lay = back, joint, front; covering-stock = cloth }
`,
		},
		{
			Code: "bare-row", As: warning(), Quiet: true,
			Means: "A board has no holes for a row of the notebook that it covers, as a condition that it states for the row doesn't hold.",
			Do:    "State what the row is to have only then by a let that chooses, so that the row is always there.",
			Example: `
let size = "small"
laser bench { kerf = 0.2 }
notebook log {
  accuracy = 0.05; width = 105; height = 190
  row wire on spine { count = 12; pitch = 14; hole = round 4; inset = 5; first = 16; wire = 1 }
}
panel front covers log { row wire when size = "large" { ease = 0.5 } }
`,
		},
		{
			Code: "end-gap", As: warning(), Quiet: true, Of: "case",
			Means: "A case begins or ends with a gap, so no board lies beside it there.",
			Do:    "Lay the board that is missing, or leave the gap out.",
			Example: `
panel front { thick = 3; width = 120; height = 180 }
gap joint { width = 7 }
case cover { lay = joint, front }
`,
		},
		{
			Code: "idle-gap", As: warning(),
			Means: "A gap of a design with a case is laid in none, and nothing else speaks of it.",
			Do:    "Name it in the lay of the case, or take it out.",
			Example: `
panel front { thick = 2; width = 120; height = 180 }
panel back mirrors front
gap joint { width = 7 }
gap other like joint
case cover { lay = back, joint, front }
`,
		},
		{
			Code: "unlike-text", As: warning(),
			Means: "A text that is named, or one of the orders, is none of those which conditions compare it with, but nearly one of them, so what hangs on it is left out.",
			Do:    "Write the same word in both places, capitals too.",
			Example: `
let kind = "diray"
laser bench { kerf = 0.2; quiet = caution }
panel front { width = 100; height = 60; thick = 3; cutout peep when kind = "diary" { shape = round 20 } }
`,
		},
		{
			Code: "left-along", As: warning(),
			Means: "What `without` leaves out has a line in its braces that is about the thing around it or what else stands there, which goes with it.",
			Do:    "Move the line out of these braces.",
			Example: `
laser bench { kerf = 0.2; quiet = caution }
notebook log { width = 105; height = 190; accuracy = 0.1 }
panel front covers log { thick = 3
  region title { width = 80; height = 20; over-foredge = 2 }
}
panel back mirrors front { without title }
`,
		},
		{
			Code: "line-twice", As: warning(),
			Means: "A line such as ease = 0.3 stands twice in one pair of braces, or at the top of the file, so it is likely that the second was to be another.",
			Do:    "Change the second, or take it out.",
			Example: `
notebook log { width = 105; height = 190; accuracy = 0.1 }
laser bench { kerf = 0.2; quiet = caution }
panel front covers log { thick = 3; over-head = 2; over-head = 2 }
`,
		},
		{
			Code: "idle-notebook", As: warning(),
			Means: "A panel of the design covers another notebook, and nothing names this one.",
			Do:    "See whether the panel covers the right one.",
			Example: `
notebook log { width = 105; height = 190; accuracy = 0.1 }
notebook pad { width = 105; height = 148; accuracy = 0.1 }
laser bench { kerf = 0.2; quiet = caution }
panel front covers log { thick = 3; ease = 0.3 }
`,
		},
		{
			Code: "idle-let", As: warning(),
			Means: "A named value in a thing that is like another replaces nothing of it, and no line uses it.",
			Do:    "Give it the name of what it is to replace, or take it out.",
			Example: `
style look {
  let words = "Log"
  region title { width = 50; height = 20; engrave text words }
}
panel front like look { width = 100; height = 200; let wrods = "Terns" }
`,
		},
		{
			Code: "ink", As: warning(), Quiet: true,
			Means: "Marks on one face lie on one another where that can't be meant, as two engraved texts, or one over letters that are cut out.",
			Do:    "Move one of them; put lines that are meant to cross into one region.",
			Example: `
panel front {
  width = 100; height = 200
  region title { head = 20; height = 20; width = 80; engrave text "Harbour Log" }
  region year { head = 25; height = 20; width = 80; engrave text "Gulls and terns" }
}
`,
		},
		{
			Code: "inlay-ease", As: warning(), Quiet: true,
			Means: "The ease of an inlay is above 0.5 mm, so that what is laid in lies loose, or more than 0.2 mm below 0, so that it can't be pressed in.",
			Do:    "Check its unit and its decimal point: usual is about 0.1 mm.",
			From:  "common practice, no source",
			Example: `
stock board { thick = 3 }
stock veneer { thick = 0.6 }
panel front {
  stock = board; width = 100; height = 200
  region title { height = 40; width = 90; inlay text "Ten" { font = "Go Bold"; cap = 20; stock = veneer; ease = 1 } }
}
`,
		},
		{
			Code: "lost-mark", As: warning(), Quiet: true,
			Means: "A region or tabs state fewer texts or artwork than what they are like, and so lose all of those.",
			Do:    "Repeat in its braces what is to stay.",
			Example: `
panel front {
  width = 100; height = 200
  region title { head = 20; height = 20; width = 50; engrave text "Tern" }
}
panel back mirrors front { region title { mark frame } }
`,
		},
		{
			Code: "short-board", As: warning(), Quiet: true,
			Means: "A board is clearly smaller than the notebook that it covers, or stops short of its edge, and no line about overhangs says so.",
			Do:    "Check what gives its size, or state the overhang that is meant, below 0.",
			From:  "common practice, no source",
			Example: `
notebook log { accuracy = 0.05; width = 105; height = 190 }
panel front covers log { width = 100 }
`,
		},
		{
			Code: "unlaid-board", As: warning(), Quiet: true,
			Means: "No case lays a board without holes, cutouts and stitches that is as high as a case and of the stock of its boards: a strip at most half as wide as one of these, or the other of a pair of which one is laid, as wide as that and mirrored where that isn't.",
			Do:    "Name it in the lay of the case, or say in it quiet = unlaid-board if it belongs to something else.",
			Example: `
panel front { thick = 2; width = 120; height = 180 }
panel strip like front { width = 20 }
panel back mirrors front
gap joint { width = 7 }
case cover { lay = back, joint, front }
`,
		},
		{
			Code: "unnamed-stock", As: warning(), Quiet: true,
			Means: "Used files have several stocks, and a board names none of them, nor says how thick it is.",
			Do:    "Name the stock in the panel.",
			Example: `
use "shop.fore"
panel front { width = 100; height = 200 }
-- shop.fore --
stock birch { thick = 3 }
stock pane  { thick = 2 }
`,
		},
		{
			Code: "wide-board", As: warning(), Quiet: true,
			Means: "A board reaches more than 20 mm past an edge of the notebook that it covers, and no line says how far it is to.",
			Do:    "Check what gives its size, or state the overhang that is meant.",
			From:  "common practice, no source",
			Example: `
notebook log { accuracy = 0.05; width = 105; height = 190 }
panel front covers log { width = 150 }
`,
		},
		{
			Code: "narrow-cloth", As: warning(), Quiet: true, Of: "case",
			Means: "The spine's cloth of a case in quarter or half lies on less of each board than the joint is wide.",
			Do:    "Make spine-reach or spine-width larger.",
			From:  "common practice, no source",
			Example: `
panel front { width = 100; height = 200; thick = 2 }
panel back like front
panel strip { width = 20; height = 200; thick = 2 }
gap joint { width = 7 }
case case { lay = back, joint, strip, joint, front; bound = quarter; turn-in = 15; spine-reach = 2 }
`,
		},
		{
			Code: "short-overlap", As: warning(), Quiet: true, Of: "case",
			Means: "The sides of a case in quarter or half lie over the cloth by less than 2 mm.",
			Do:    "Make overlap larger.",
			From:  "common practice, no source",
			Example: `
panel front { width = 100; height = 200; thick = 2 }
panel back like front
panel strip { width = 20; height = 200; thick = 2 }
gap joint { width = 7 }
case case { lay = back, joint, strip, joint, front; bound = quarter; turn-in = 15; overlap = 1 }
`,
		},
		{
			Code: "short-lining", As: warning(), Quiet: true, Of: "case",
			Means: "The lining of a covered case doesn't reach over the edges of what is turned in.",
			Do:    "Make lining smaller than turn-in less the thickness of the boards.",
			Example: `
panel front { width = 120; height = 180 }
case cover { lay = front; turn-in = 15; lining = 16 }
`,
		},
		{
			Code: "small-part", As: warning(), Quiet: true,
			Means: "A board, or a piece that lines cut from it, goes into a cylinder of 31.75 by 57.15 mm: not for children under 3.",
			Do:    "Make it larger, or say with what you sell for whom it isn't.",
			From:  "16 CFR 1501.4",
			Example: `
panel tag { width = 25; height = 40; thick = 3 }
`,
		},
		{
			Code: "crowded-letters", As: warning(), Quiet: true,
			Means: "Letters run clearly into one another along an arc or a circle that wouldn't on a straight line, as where heads are turned to the centre.",
			Do:    "Choose a larger radius or lower capitals, or part them by a spacing.",
			Example: `
panel front {
  width = 100; height = 100; thick = 3
  region seal { width = 30; height = 30; engrave text "LIGHTHOUSE LOG" { cap = 4; along = circle; side = inside } }
}
`,
		},
		{
			Code: "joined-letters", As: warning(), Quiet: true,
			Means: "A text has a spacing, but its script joins letters, as Arabic does: these stay together.",
			Do:    "Take the spacing out.",
			Example: `
panel front {
  width = 100; height = 100
  region title { width = 60; height = 20; engrave text "سلام" { font = "DejaVu Sans"; cap = 6; spacing = 2 } }
}
`,
		},
		{
			Code: "odd-copies", As: warning(), Quiet: true, Of: "case",
			Means: "The panels of a case are cut in different numbers, so they make no whole number of cases.",
			Do:    "State the same copies for all that the case lays.",
			Example: `
panel front { thick = 3; width = 120; height = 180; copies = 2 }
panel back mirrors front { copies = 1 }
gap joint { width = 7 }
case cover { lay = back, joint, front }
`,
		},
		{
			Code: "other-font", As: warning(), Quiet: true,
			Means: "The font lacks a character of a text, so another font letters that, or its whole word.",
			Do:    "Look whether the two go together, or take a font that has all letters.",
			Example: `
panel front {
  width = 100; height = 100
  region title { width = 60; height = 20; engrave text "Nguyễn" }
}
`,
		},
		{
			Code: "small-text", As: warning(), Quiet: true,
			Means: "The capitals of a text are lettered lower than 2 mm, which hardly reads.",
			Do:    "Make the region larger or the text shorter.",
			From:  "common practice, no source",
			Example: `
panel front {
  width = 100; height = 100
  region imprint { width = 60; height = 4; tail = 8; engrave text "Saltmarsh Covers" { cap = 1.5 } }
}
`,
		},
		{
			Code: "thick-inlay", As: warning(), Quiet: true,
			Means: "What is laid into an engraved recess is at least as thick as the board, so it can't be let in flush; or what goes through the board is thicker or thinner than it by more than 0.5 mm.",
			Do:    "Take a thinner sheet, or recess = through; through the board one as thick as it.",
			Example: `
stock board { thick = 3 }
stock oak { thick = 4 }
panel front {
  stock = board; width = 100; height = 200
  region title { height = 40; width = 90; inlay text "Ten" { font = "Go Bold"; cap = 20; stock = oak } }
}
`,
		},
		{
			Code: "thick-tolerance", As: warning(), Quiet: true,
			Means: "A hole or cutout for one board takes its size from the `thick` of a sheet that nobody measured, and another within the material's tolerance would not fit.",
			Do:    "Measure the sheet and state what was read, as in thick = 3.1 ± 0.05.",
			From:  "the material's `thick-over` and `thick-under`; of cast acrylic ISO 7823-1",
			Example: `
use materials
stock sheet { material = acrylic-cast; thick = 3 }
panel front {
  width = 120; height = 180
  cutout foot { shape = slot 30 by sheet.thick; tail = 20 }
}
`,
		},
		{
			Code: "thin-detail", As: warning(), Quiet: true,
			Means: "Less is left between holes or cutouts, or beside the edge, than the material's `least-detail`, or 1 mm where it states none. Or lines run side by side less than 0.5 mm apart. It is told in place of `thin-web`.",
			Do:    "Move the openings or lines apart, or make the bridges, letters or inlay larger.",
			From:  "two cutting services' guides",
			Example: `
panel front {
  width = 100; height = 100
  cutout a { shape = rect 10 by 10; spine = 20 }
  cutout b { shape = rect 10 by 10; spine = 30.9 }
}
`,
		},
		{
			Code: "thin-web", As: warning(), Quiet: true,
			Means: "Less is left between holes or cutouts, or beside the edge, than the board is thick. Where its material states a `least-web`, that counts instead, and at the edge its `least-edge`.",
			Do:    "Make the openings smaller, move them apart or in from the edge, or take a thinner board.",
			From:  "a cutting service's page on kerf",
			Example: `
panel front {
  width = 148; height = 210; thick = 3
  row coil on spine { count = 20; pitch = 6.35; inset = 5; hole = round 4.4 }
}
`,
		},
		{
			Code: "tight-hole", As: warning(), Quiet: true,
			Means: "The ease of a row is more than 0.05 mm below 0, so its holes are cut smaller than measured.",
			Do:    "Check what gives the ease: it opens the holes, by as much as it is above 0.",
			From:  "common practice, no source",
			Example: `
notebook log {
  accuracy = 0.05; width = 105; height = 190
  row wire on spine { count = 20; pitch = 9; first = 8; hole = round 4; inset = 5 }
}
panel front covers log { ease = -0.3 }
`,
		},
		{
			Code: "tight-joint", As: warning(), Quiet: true, Of: "case",
			Means: "Two boards of a case can't swing right round: their gap is narrower than twice the thicker one, or 1.5 times beside a spine strip, which lies between two joints, has no holes and is at most half as wide as the widest board.",
			Do:    "Make the gap as wide as the message says, and add the covering.",
			From:  "twice: common practice, no source; 1.5 times: an article on joints in a binders' journal, 2003",
			Example: `
panel front { thick = 3; width = 120; height = 180 }
panel strip { thick = 3; width = 35; height = 180 }
gap hinge { width = 4 }
case cover { lay = strip, hinge, front }
`,
		},
		{
			Code: "too-large", As: both(), Quiet: true,
			Means: "A part doesn't fit on the laser's bed, or on a sheet or offcut as its grain is to run: an error, the only one that `quiet` silences. Where neither bed nor sheet is stated, a warning above 10 ft.",
			Do:    "Make it smaller, or take a larger sheet.",
			From:  "sheets of at most 10 ft: common practice, no source",
			Example: `
laser bench { bed = 300 by 200 }
panel front { width = 250; height = 350 }
`,
		},
		{
			Code: "touching", As: warning(), Quiet: true,
			Means: "Openings touch one another or an edge, so nothing holds the material together there.",
			Do:    "Move them apart.",
			Example: `
panel front {
  width = 100; height = 200
  row wire on spine { count = 10; pitch = 4; hole = rect 4 by 4; inset = 5 }
}
`,
		},
		{
			Code: "unknown-material", As: warning(), Quiet: true, Of: "stock",
			Means: "A stock says what it is made of, and nothing says what that gives off when it is cut.",
			Do:    "Name a material of the shelf, or declare one that says what it gives-off.",
			Example: `
stock strange { material = "moonstone"; thick = 1 }
panel front { stock = strange; width = 120; height = 180 }
`,
		},
		{
			Code: "unsaid-size", As: warning(), Quiet: true,
			Means: "One distance of a centred cutout is stated and its size that way isn't, so it is all that is left of the board.",
			Do:    "State the size that was forgotten, or both distances.",
			Example: `
panel front {
  width = 100; height = 200
  cutout slit { width = 20; head = 30; foredge = 20 }
}
`,
		},
		{
			Code: "wire-close", As: warning(), Quiet: true,
			Means: "The ring can't close round the book with boards as thick and holes as far in as these.",
			Do:    "Take the ring, the boards or the inset that the message works out.",
			From:  "worked out from the ring's circle and the closed book",
			Example: `
panel front {
  width = 100; height = 200; thick = 6
  row wire on spine {
    count = 3; pitch = 40; inset = 8.01; hole = rect 3 by 3
    binding own { ring = 10; wire = 1 }
  }
}
`,
		},
		{
			Code: "wire-tight", As: warning(), Quiet: true,
			Means: "The holes are smaller than the wire needs through a board of that thickness.",
			Do:    "Make the holes as large as the message works out.",
			From:  "worked out from the ring's circle and the board's faces",
			Example: `
panel front {
  width = 100; height = 200; thick = 6
  row pins on spine {
    count = 3; pitch = 40; inset = 6; hole = rect 3 by 1.99
    binding own { ring = 18; wire = 1.8 }
  }
}
`,
		},
		{
			Code: "wire-turn", As: warning(), Quiet: true,
			Means: "A cover can't turn right round to lie back to back: its edge meets what else is on the ring.",
			Do:    "Take a larger ring, thinner boards or a smaller inset, as the message works out.",
			From:  "worked out from the ring's circle and the closed book",
			Example: `
notebook log {
  width = 100 exact; height = 200 exact; thick = 6 exact
  binding clip { ring = 13 exact; wire = 1 exact }
  row wire on spine { count = 3; pitch = 40 exact; first = 56 exact; hole = rect 8 by 8 exact; inset = 2.51 exact }
}
panel front covers log { thick = 3; quiet = thin-web }
panel back mirrors front
`,
		},
	}
}
