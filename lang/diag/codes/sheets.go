package codes

// sheets are the codes of parts on stock.
func sheets() []Entry {
	return []Entry{
		{
			Code: "sheets-used", As: note(),
			Means: "How many sheets and offcuts of a stock the parts lie on, how much of these is used, and by how much less could do at best.",
			Do:    "Keep what is left over, and write it into the stock as its offcuts.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
panel front { width = 120; height = 90; copies = 5 }
`,
		},
		{
			Code:  "not-laid",
			Means: "The parts can't be laid on sheets, as there are too many of them or a number of the stock or the bed is beyond what can be laid.",
			Do:    "See how many parts are wanted, and the numbers of stock and bed.",
			Example: `
laser bench { bed = 300 by 200; kerf = 0.2 }
stock card { thick = 1 exact; spacing = 300000 }
panel front { width = 120; height = 90; copies = 5 }
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
