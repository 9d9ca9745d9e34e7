package codes

// values has the codes of what stands on the right of a line: kinds of value,
// words and forms, each where its thing is compiled in package eval.
func values() []Entry {
	return []Entry{
		{
			Code:  "arguments",
			Means: "A function is given more or fewer values than it takes.",
			Do:    "Give it as many as the message says.",
			Example: `
panel front { width = nearest(100); height = 200 }
`,
		},
		{
			Code:  "binding",
			Means: "What a row names as its binding is none.",
			Do:    "Declare the binding and name it.",
			Example: `
panel front {
  width = 100; height = 200
  row wire on spine { count = 3; pitch = 20; hole = round 4; inset = 5; binding = front }
}
`,
		},
		{
			Code:  "binding-form",
			Means: "A binding of this form has no such dimension: only a loop has a pair, only a coil a pitch.",
			Do:    "Leave the line out, or state the form that is meant.",
			Example: `
binding ring { form = ring; ring = 10; wire = 1; pitch = 3 }
panel front { width = 100; height = 200 }
`,
		},
		{
			Code: "binding-name", As: warning(),
			Means: "A binding is called after one form, and by what it states it is of another.",
			Do:    "State its form, or give it another name.",
			Example: `
binding coil { ring = 10; wire = 1 }
panel front {
  width = 100; height = 200; thick = 1
  row holes on spine { count = 20; pitch = 8; hole = rect 5 by 5; inset = 4; binding = coil }
}
`,
		},
		{
			Code:  "colour",
			Means: "This is no colour.",
			Do:    "Write six hexadecimal digits in quotes.",
			Example: `
laser bench { cut-colour = "red" }
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "condition",
			Means: "Here must stand a question that is answered by yes or no.",
			Do:    "Compare two values; texts can only be equal or not.",
			Example: `
panel front {
  width = 100; height = 200
  check width + height
}
`,
		},
		{
			Code:  "constant",
			Means: "This must be known before anything is worked out, so it can't follow from the dimensions of a design. In a material only thick may be spoken of.",
			Do:    "State it as a number or by named values.",
			Example: `
laser bench { kerf = front.width / 500 }
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "corner",
			Means: "A panel has no such corner.",
			Do:    "Name head-spine, head-foredge, tail-spine or tail-foredge.",
			Example: `
panel front {
  width = 100; height = 200
  corner head-forege = radius 4
}
`,
		},
		{
			Code:  "rotated-open",
			Means: "A cutout that is open to an edge can't be turned.",
			Do:    "Leave out rotate or open; for a quarter turn change the cutout's two sizes.",
			Example: `
panel front {
  width = 100; height = 200
  cutout thumb { shape = rect 20 by 10; open = foredge; head = tail; rotate = 10 deg }
}
`,
		},
		{
			Code:  "corner-form",
			Means: "This is no form that a corner can have.",
			Do:    "Write radius 6, chamfer 4, scoop 6 or square.",
			Example: `
panel front {
  width = 100; height = 200
  corners = round 4
}
`,
		},
		{
			Code:  "greys",
			Means: "A strip of greys has two fields or more, each darker than the one before it.",
			Do:    "Measure its fields again, from the bare board to where all of it is engraved.",
			Example: `
stock birch { thick = 3; greys = 10 %, 60 %, 55 % }
panel front { width = 100; height = 200; stock = birch }
`,
		},
		{
			Code:  "grain",
			Means: "The grain of a sheet runs along its width or its height.",
			Do:    "Write grain = along width or grain = along height.",
			Example: `
stock birch { thick = 3; grain = along thick }
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "dashed-fraction",
			Means: "A fraction of an inch is glued to a whole number by a sign. That would be a sum, but looks like a mixed fraction.",
			Do:    "Write a mixed fraction with a blank, as in 4 1/8, and a sum with blanks round its sign, as in 4 - 1/8.",
			Example: `
units in
notebook log { accuracy = 0.002; width = 4-1/8; height = 8.25 }
panel front covers log
`,
		},
		{
			Code:  "kind-mismatch",
			Means: "A value is of another kind than is wanted here: an angle for a length, a text for a number, a list for one value.",
			Do:    "Give it the unit, or the kind of value, that the message asks for.",
			Example: `
panel front { width = 20 deg; height = 200 }
`,
		},
		{
			Code:  "laid-twice",
			Means: "A case lays a panel twice, and a panel can be drawn only once.",
			Do:    "Declare a second panel that is like it.",
			Example: `
panel front { width = 100; height = 200 }
case case { lay = front, front }
`,
		},
		{
			Code:  "lay",
			Means: "A case lays something other than panels and gaps side by side.",
			Do:    "List panels and gaps by name, from left to right as seen from outside.",
			Example: `
panel front { width = 100; height = 200 }
stock birch { thick = 3 }
case case { lay = front, birch }
`,
		},
		{
			Code:  "line-width",
			Means: "The lines of a cut file would be drawn thinner than 0.001 mm or wider than 1 mm, so that they could not be seen or not be told apart.",
			Do:    "State a width between, or leave the line out: lines are then 0.1 mm wide. The cut is as wide as ever: that is the kerf.",
			Example: `
laser bench { line-width = 10 }
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "mark",
			Means: "This can't be put into a region, or not in this way: a frame is a line, and lines and openings of a panel are things of their own.",
			Do:    "Engrave or mark text and art; cut or inlay text and art; mark frames.",
			Example: `
panel front {
  width = 100; height = 200
  region title { height = 20; width = 50; engrave frame }
}
`,
		},
		{
			Code:  "most",
			Means: "Only a count can be most.",
			Do:    "Write count = most in a row, or across = most in a field; give anything else a number or a limit.",
			Example: `
panel front {
  width = most
  height = 200
}
`,
		},
		{
			Code:  "most-read",
			Means: "The count of a notebook's row is most, though it has the holes that it has.",
			Do:    "Count the holes and state them.",
			Example: `
notebook log {
  accuracy = 0.03; width = 105; height = 190
  row wire on spine { hole = round 4; count = most; pitch = 10; first = 20; inset = 5 }
}
panel front covers log {}
`,
		},
		{
			Code:  "negative",
			Means: "A number is below 0, and what it states can't be.",
			Do:    "State a number that is not below 0, measured from the edge inwards.",
			Example: `
laser bench { kerf = -0.2 }
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "no-spine",
			Means: "A case that is bound in quarter or half doesn't lay a board at each end with its spine between them.",
			Do:    "Write it as in lay = back, joint, spine-strip, joint, front.",
			Example: `
panel front { width = 100; height = 200; thick = 2 }
panel back like front
panel strip { width = 20; height = 200; thick = 2 }
gap joint { width = 7 }
case case { lay = front, joint; bound = quarter; turn-in = 15 }
`,
		},
		{
			Code:  "not-bound",
			Means: "A line speaks of a piece that a case doesn't have, such as the spine's cloth of one that is covered in one piece.",
			Do:    "Write bound = quarter or bound = half, or leave it out.",
			Example: `
panel front { width = 100; height = 200; thick = 2 }
panel back like front
panel strip { width = 20; height = 200; thick = 2 }
gap joint { width = 7 }
case case { lay = back, joint, strip, joint, front; turn-in = 15; spine-reach = 25 }
`,
		},
		{
			Code:  "no-lay",
			Means: "Nothing says what a case lays side by side, or it lays gaps alone.",
			Do:    "Write it as in lay = back, joint, spine-strip, joint, front.",
			Example: `
panel front { width = 100; height = 200 }
case case { turn-in = 15 }
`,
		},
		{
			Code:  "no-choice",
			Means: "None of the conditions of a let that chooses holds, and it has no last value without one.",
			Do:    "Add a value for the case that the message names, or a last one without when for all that is left.",
			Example: `
let size = "middling"
let plate = 3 when size = "small", 5 when size = "large"
panel front { width = 100; height = 200; thick = plate }
`,
		},
		{
			Code:  "no-overhang",
			Means: "An overhang reaches past a notebook, and this panel covers none.",
			Do:    "Write covers and the notebook's name after that of the panel, or state its size.",
			Example: `
panel front {
  width = 100; height = 200
  over-head = 3
}
`,
		},
		{
			Code:  "no-stock",
			Means: "Nothing says what an inlay is cut from.",
			Do:    "Declare a stock and name it in the braces of the inlay.",
			Example: `
panel front {
  width = 100; height = 200; thick = 3
  region title { height = 20; width = 50; inlay text "Tern" }
}
`,
		},
		{
			Code: "no-text", As: warning(),
			Means: "A text is empty, so there is nothing to letter.",
			Do:    "Leave the line out, or put the region under a `when`.",
			Example: `
panel front {
  width = 100; height = 200
  region title { height = 20; width = 50; engrave text "" }
}
`,
		},
		{
			Code:  "option",
			Means: "There is no such option of a mark, or its name doesn't come first.",
			Do:    "Take one of those that the message lists, its name first.",
			Example: `
panel front {
  width = 100; height = 200
  region title { height = 20; width = 50; engrave text "Tern" { size = 12 } }
}
`,
		},
		{
			Code:  "option-clash",
			Means: "What is said of a mark doesn't go with what else is said of it, or lacks what it needs.",
			Do:    "Take it out, or add what the message names.",
			Example: `
panel front {
  width = 100; height = 200
  region title { height = 20; width = 50; engrave text "Tern" { bridge = 2 } }
}
`,
		},
		{
			Code:  "positive",
			Means: "A number is not above 0, and what it states must be there to be cut, read or seen.",
			Do:    "State a number above 0, or take the line out.",
			Example: `
panel front {
  width = 100; height = 200
  row wire on spine { count = 3; pitch = 20; hole = round 0; inset = 5 }
}
`,
		},
		{
			Code:  "prefer",
			Means: "This can't be wished for: a wish names one value to come near to, never a count or how long the links of a lattice are.",
			Do:    "Write prefer A = B; leave out prefer for what must hold.",
			Example: `
panel front {
  prefer width >= 100
  width = 120; height = 200
}
`,
		},
		{
			Code:  "only-equal",
			Means: "This can only be stated: it is no dimension that could have a limit.",
			Do:    "Write it with = and one value.",
			Example: `
stock birch { thick = 3; price >= 2 }
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "quiet",
			Means: "This can't be silenced here: errors but too-large, notes and some warnings can't at all, the caution and same-colour can in the laser alone, and what is told of a stock or a case only there and in the laser.",
			Do:    "Take a code that `foredge help codes` calls quiet.",
			Example: `
panel front { width = 100; height = 200; quiet = overlap }
`,
		},
		{
			Code:  "scale",
			Means: "The correction of an axis is below 0.9 or above 1.1, so it is no fine one.",
			Do:    "State by how much the machine moves for each mm that it should move.",
			Example: `
laser bench { scale-x = 25.4 }
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "shape",
			Means: "This is no form of an opening.",
			Do:    "Write rect ALONG by ACROSS, round DIAMETER, slot ALONG by ACROSS or hex ACROSS-FLATS.",
			Example: `
panel front {
  width = 100; height = 200
  row wire on spine { count = 3; pitch = 20; hole = 4; inset = 5 }
}
`,
		},
		{
			Code:  "not-meant",
			Means: "A number of how the laser runs, of sheets and how parts lie on them, or of money, is far beyond any at a bench: what is reckoned with it would mean nothing.",
			Do:    "Check its unit and its decimal point.",
			Example: `
laser bench { kerf = 0.2; cut-speed = 0.000001 }
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "share",
			Means: "A share of waste or profit is above 500 %, so a % sign is missing.",
			Do:    "Write it with its sign.",
			Example: `
laser bench { profit = 20 }
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "size",
			Means: "A size takes two lengths.",
			Do:    "Write two lengths with by between them.",
			Example: `
stock birch { thick = 3; size = 600 }
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "stock",
			Means: "Here must stand the name of a stock, the sheet that something is cut from.",
			Do:    "Declare the stock and name it.",
			Example: `
panel front { width = 100; height = 200; stock = back }
panel back { width = 100; height = 200 }
`,
		},
		{
			Code:  "two-choices",
			Means: "Two conditions of a let that chooses hold at once, so it is not clear which value is meant.",
			Do:    "Change the conditions so that only one can hold.",
			Example: `
let pages = 120
let plate = 3 when pages > 50, 5 when pages > 100
panel front { width = 100; height = 200; thick = plate }
`,
		},
		{
			Code:  "two-lasers",
			Means: "A file declares two lasers, or two come from the files that it uses, and nothing says which one cuts.",
			Do:    "Keep one; a file's own laser wins over those of files that it uses.",
			Example: `
laser bench { kerf = 0.2 }
laser other { kerf = 0.3 }
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "unequal-row",
			Means: "A row of unequal gaps has no one pitch or web, and a row of equal ones no single gaps.",
			Do:    "Speak of a gap by its number, as in rings.gap.1, or of the pitch.",
			Example: `
panel front {
  width = 100; height = 200
  row rings on spine { gaps = 19, 70, 19; hole = round 6; inset = 9 }
  check rings.pitch >= 19 else "too near"
}
`,
		},
		{
			Code:  "unit-needed",
			Means: "Bare numbers of a file in mm and of one in inches meet, so it is not clear what length is meant.",
			Do:    "Put a unit after each of them.",
			Example: `
units in
use "metric.fore"
panel front { width = 5 + rim; height = 7 }
-- metric.fore --
units mm
let rim = 3
`,
		},
		{
			Code:  "unknown-function",
			Means: "There is no such function.",
			Do:    "Use min, max, abs, sqrt, floor, ceil, nearest or text.",
			Example: `
panel front { width = squareroot(100); height = 200 }
`,
		},
		{
			Code:  "weight",
			Means: "The weight of a wish is a plain number above 0.",
			Do:    "Write weight 3 for a wish that counts three times as much as one without.",
			Example: `
panel front {
  prefer width = 100 weight 0
  height = 200
}
`,
		},
		{
			Code:  "when",
			Means: "Whether a thing is there, or what a let chooses, would depend on a dimension, which is worked out only once that is known.",
			Do:    "Ask about named values or orders; to demand something of a dimension write a check.",
			Example: `
panel front {
  width = 100; height = 200
  region title when width > 50 { height = 20; width = 30 }
}
`,
		},
		{
			Code:  "which-binding",
			Means: "Several bindings stand in the braces of a row, which names none of them.",
			Do:    "Name the one that goes through its holes, as in binding = loop, or take the others out.",
			Example: `
panel front {
  width = 100; height = 200; thick = 3
  row wire on spine {
    hole = rect 4 by 4; inset = 4; pitch = 8; count = 20
    binding loop { form = loop; ring = 14.3; wire = 1 }
    binding clip { ring = 20; wire = 2 }
  }
}
`,
		},
		{
			Code:  "which-stock",
			Means: "A panel names no stock, and there are several that it could be cut from.",
			Do:    "Name one in the braces of the panel, as in stock = ply.",
			Example: `
stock ply { thick = 3 }
stock grey { thick = 2 }
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "wire",
			Means: "A row of a panel is cut, so it has no wire that could be measured.",
			Do:    "State the wire in the notebook's row, or as a binding.",
			Example: `
panel front {
  width = 100; height = 200
  row wire on spine { count = 12; hole = rect 4 by 4; web = 4.4; inset = 5; wire = 0.9 }
}
`,
		},
		{
			Code:  "word",
			Means: "This is none of the words that may stand here.",
			Do:    "Take one of those that the message lists.",
			Example: `
panel front {
  width = 100; height = 60
  region imprint { face = insde; width = 20; height = 10; mark frame }
}
`,
		},
	}
}
