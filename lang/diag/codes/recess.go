package codes

// recesses has the codes of cutouts that don't go through.
func recesses() []Entry {
	return []Entry{
		{
			Code:  "recess",
			Means: "A cutout has a depth and can't be a recess: it would be as deep as its board or deeper, it is open to an edge, or it has a face but no depth.",
			Do:    "State a depth that is less than the board's thickness, or take the line out.",
			Example: `
panel front {
  width = 100; height = 150; thick = 3
  cutout magnet { shape = round 10; depth = 3; head = 20 }
}
`,
		},
		{
			Code: "thin-floor", As: warning(), Quiet: true,
			Means: "A recess leaves less than 1 mm of its board, or nothing says how thick the board is.",
			Do:    "Make it less deep, or take a thicker board.",
			From:  "common practice, no source",
			Example: `
panel front {
  width = 100; height = 150; thick = 3
  cutout magnet { shape = round 10; depth = 2.5; head = 20 }
}
`,
		},
		{
			Code: "to-depth", As: note(),
			Means: "Something is to be engraved to a depth. The file only says where: with what power, and how often, is yours to find.",
			Do:    "Try it on scrap of the same sheet, and measure how deep it gets.",
			Example: `
panel front {
  width = 100; height = 150; thick = 4
  cutout magnet { shape = round 10; depth = 2; head = 20 }
}
`,
		},
	}
}
