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
			Means: "What is said of a binding doesn't suit its form, or a row names something that is no binding.",
			Do:    "State pair for a loop and pitch for a coil only, and name a declared binding.",
			Example: `
binding ring { form = ring; ring = 10; wire = 1; pitch = 3 }
panel front { width = 100; height = 200 }
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
			Code:  "corner",
			Means: "A corner is misspelt, has no form that corners can have, or is larger than its side allows.",
			Do:    "Write radius 6, chamfer 4 or square, at most half of the smaller side.",
			Example: `
panel front {
  width = 100; height = 200
  corners = radius 60
}
`,
		},
		{
			Code:  "field",
			Means: "A field repeats one cutout or region, and here it holds none, or more than one.",
			Do:    "Put what it repeats into its braces; give a second a field of its own.",
			Example: `
panel front {
  width = 100; height = 100
  field pane { across = 3; down = 2; gap-across = 5; gap-down = 5 }
}
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
			Code:  "kind-mismatch",
			Means: "A value is of another kind than is wanted here: an angle for a length, a text for a number, a list for one value.",
			Do:    "Give it the unit, or the kind of value, that the message asks for.",
			Example: `
panel front { width = 20 deg; height = 200 }
`,
		},
		{
			Code:  "lay",
			Means: "A case says wrongly what lies side by side in it: something other than panels and gaps, a panel twice, or nothing.",
			Do:    "List panels and gaps by name, each panel once, from left to right as seen from outside.",
			Example: `
panel front { width = 100; height = 200 }
case case { lay = front, front }
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
			Means: "Only the count of a row, and how many a field has across or down, can be as many as there is room for, and something must keep them apart; here it can't be, or not even one has room.",
			Do:    "State the pitch or a least web or gap, and make room.",
			Example: `
panel front {
  width = 100; height = 200
  row wire on spine { count = most; hole = round 4; inset = 5 }
}
`,
		},
		{
			Code:  "negative",
			Means: "A size, distance or amount is below 0, or 0 where there must be something.",
			Do:    "State a number above 0, or take the line out.",
			Example: `
panel front {
  width = 100; height = 200
  row wire on spine { count = 3; pitch = 20; hole = round 0; inset = 5 }
}
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
			Means: "This can't be said of such a mark, or not together with what else is said of it.",
			Do:    "Take it out, or add what it needs; the reference lists what may stand in a mark's braces.",
			Example: `
panel front {
  width = 100; height = 200
  region title { height = 20; width = 50; engrave text "Tern" { size = 12 } }
}
`,
		},
		{
			Code:  "prefer",
			Means: "This can't be wished for: a wish names one value to come near to, never a count, and moves nothing that was measured.",
			Do:    "Write prefer A = B in a panel; leave out prefer for what must hold.",
			Example: `
panel front {
  prefer width >= 100
  width = 120; height = 200
}
`,
		},
		{
			Code:  "property",
			Means: "A property is stated once, with = and a number: it can't be a limit, or follow from the dimensions of a design.",
			Do:    "State it with = and a number or a named value.",
			Example: `
stock birch { thick = 3; price >= 2 }
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "quiet",
			Means: "This is no warning that can be silenced: errors can't, and other words mean nothing here.",
			Do:    "Take a word from the reference's table of warnings.",
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
			Code:  "size",
			Means: "A size takes two lengths, or what comes out is so small that nothing is left of it.",
			Do:    "Write two lengths with by between them; check the lines that give the size.",
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
			Code:  "style",
			Means: "A line speaks of a dimension of a style, which is drawn nowhere and has none of its own.",
			Do:    "Speak of a panel that is like it.",
			Example: `
style shop-look { over-foredge = 2 }
panel front { width = 100; height = 180 + shop-look.over-foredge }
`,
		},
		{
			Code:  "texts",
			Means: "Several texts stand where one is lettered, or more or fewer than a field has members.",
			Do:    "List one text for each member of a field; elsewhere one, with \\n between its lines.",
			Example: `
panel front {
  width = 100; height = 100
  field month { across = 2; down = 2; gap-across = 5; gap-down = 5
    region each { width = 30; height = 12; engrave text "Apr", "May", "Jun" } }
}
`,
		},
		{
			Code:  "two-lasers",
			Means: "A file declares two lasers, and nothing says which one cuts.",
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
			Do:    "Use min, max, abs, sqrt, floor, ceil or nearest.",
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
			Means: "Whether a thing is there would depend on a dimension, which is worked out only once it is known what is there.",
			Do:    "Ask about named values or orders; to demand something of a dimension write a check.",
			Example: `
panel front {
  width = 100; height = 200
  region title when width > 50 { height = 20; width = 30 }
}
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
