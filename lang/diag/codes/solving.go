package codes

// solving has the codes of what the lines of a design come to together.
func solving() []Entry {
	return []Entry{
		{
			Code:  "as-measured",
			Means: "A line would move or change holes that lie and are cut as the notebook's were measured.",
			Do:    "Change the line, measure again, or state the overhang, the ease or the hole that is meant.",
			Example: `
notebook log { accuracy = 0.05; width = 105; height = 190
  row wire on spine { hole = rect 4 by 3; count = 8; pitch = 10; first = 58; inset = 5 }
}
panel front covers log { row wire { web = 7 } }
`,
		},
		{
			Code:  "boundless",
			Means: "A count is most, and nothing fixes the size of the board, which would grow with each one more.",
			Do:    "State that size of the board, or its overhangs.",
			Example: `
panel front {
  width = 100
  row wire on spine { count = most; pitch = 10; hole = round 4; inset = 5 }
}
`,
		},
		{
			Code:  "check",
			Means: "A check of the design is false for what came out. Its own message is shown.",
			Do:    "Change what leads to these values; a check moves nothing.",
			Example: `
panel front {
  width = 100; height = 200
  row wire on spine { count = 20; pitch = 6; hole = round 4; inset = 5 }
  check wire.web >= 3 else "too little wood between the holes"
}
`,
		},
		{
			Code:  "clash",
			Means: "Lines contradict one another, or the facts of a kind of thing. A set that does is named.",
			Do:    "Drop or change one of the named lines.",
			Example: `
panel front {
  width = 100
  width = 101
  height = 200
}
`,
		},
		{
			Code:  "count",
			Means: "A count doesn't come out as a whole number, or as less than the one that there must be.",
			Do:    "State one number fewer, or count = most and let the row be centred; of a measured row count the holes.",
			Example: `
panel front {
  width = 100; height = 200
  row wire on spine { pitch = 10; first = 8; last = 9; hole = round 4; inset = 5 }
}
`,
		},
		{
			Code:  "impossible",
			Means: "A value can't be worked out: it divides by 0, takes the root of a number below 0, or steps by nothing.",
			Do:    "Look at what the line takes.",
			Example: `
let half = 5 - 5
panel front { width = 100 / half; height = 200 }
`,
		},
		{
			Code:  "limit",
			Means: "A limit with max, min or a product, or a line with ceil or floor, is broken by what was preferred or is usual: nothing near that was found which keeps it.",
			Do:    "State the value itself, or change the line.",
			Example: `
panel front {
  prefer height = 100
  prefer width = 90
  width * height >= 40000
  width + height <= 400
}
`,
		},
		{
			Code:  "no-hole",
			Means: "Not even one hole of a row has room, or none where the row is centred, or no whole number of them keeps all its lines.",
			Do:    "Loosen the limits of the row, or make its holes smaller.",
			Example: `
panel front {
  width = 100; height = 200
  row wire on spine { count = most; hole = round 4; pitch = 9; inset = 5; first >= 150 }
}
`,
		},
		{
			Code:  "no-solution",
			Means: "No values make these lines hold.",
			Do:    "Check their numbers.",
			Example: `
panel front {
  width = 40
  height * height = width * width - 2000
}
`,
		},
		{
			Code:  "backwards",
			Means: "A line would have to undo floor, ceil or nearest, which only work forwards.",
			Do:    "State the dimension itself, or the line the other way round.",
			Example: `
panel front { height = 200; floor(width) = 90 }
`,
		},
		{
			Code:  "open",
			Means: "Something that is drawn, checked or asked for is decided by nothing.",
			Do:    "State one of the values that the message proposes.",
			Example: `
panel front { width = 100 }
`,
		},
		{
			Code:  "past-edge",
			Means: "What stands on a board has no room there, or leaves some: the board is as large as its notebook, its overhangs and wishes about it make it.",
			Do:    "Make it smaller or move it, or state how far the board reaches past the notebook.",
			Example: `
notebook log { accuracy = 0.05; width = 105; height = 190 }
panel front covers log {
  region title { spine = 18; width = 120; height = 24 }
}
`,
		},
		{
			Code:  "several-solutions",
			Means: "More than one set of values makes these lines hold, and nothing says which is meant.",
			Do:    "Add a limit that only one of them keeps, or a wish that one of them meets better and that speaks of nothing else that is open.",
			Example: `
panel front {
  width * height = 2000
  width + height = 90
}
`,
		},
		{
			Code:  "too-many",
			Means: "A row would have more than 10,000 holes, a field more than as many members, or a lattice as many links or rows.",
			Do:    "Check the numbers; a unit may be missing.",
			Example: `
panel front {
  width = 100; height = 200
  row wire on spine { count = 20000; pitch = 10; hole = round 4; inset = 5 }
}
`,
		},
		{
			Code:  "too-much-work",
			Means: "So much of a design hangs together, by limits, wishes or counts, or so many openings of a panel lie so close together, that working it out takes more work than one design may.",
			Do:    "State where some of these things stand or how many they are, so that less hangs together, leave out some openings, or make several designs of it.",
			Test:  "cmd/internal/driver.TestTooMuchWork",
		},
		{
			Code:  "unbounded",
			Means: "Nothing keeps the holes of a row, or the members of a field, apart, so there is no most of them.",
			Do:    "State the pitch, or a least web or gap.",
			Example: `
panel front {
  width = 100; height = 200
  row wire on spine { count = most; hole = round 4; inset = 5 }
}
`,
		},
	}
}
