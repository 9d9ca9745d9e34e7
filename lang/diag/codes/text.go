package codes

// text has the codes of reading a file: lang/parse.
func text() []Entry {
	return []Entry{
		{
			Code:  "backslash",
			Means: "A \\ in a text stands before something that it can't stand before.",
			Do:    "Write \\\\ for a backslash, \\\" for a quote and \\n for a new line; in the path of a file write /.",
			Example: `
panel front {
  width = 100; height = 200
  region crest { height = 30; width = 30; engrave text "Tern\Gull" }
}
`,
		},
		{
			Code:  "brace",
			Means: "A brace or bracket lacks its other half.",
			Do:    "Close what is open, or take out what closes nothing.",
			Example: `
panel front {
  width = (100 + 2
  height = 200
}
`,
		},
		{
			Code:  "character",
			Means: "A character stands here that means nothing in a design: a sign that only looks like the right one, or one that can't be seen.",
			Do:    "Write the plain sign that the message names.",
			Example: `
panel front {
  width == 100
  height = 200
}
`,
		},
		{
			Code: "encoding", As: both(),
			Means: "A file holds bytes that are no text in the encoding that it is read in. A design is UTF-8; a table of orders may say what else it is. One that says so and is UTF-8 all the same is read as that, with a warning; one of which several words show another encoding gets one too.",
			Do:    "Save it as UTF-8, or name the table's encoding.",
			Example: `
orders "orders.csv" { name = text; encoding = "windows-1253" }
panel front { width = 100; height = 60 }
-- orders.csv --
name
Adª
`,
		},
		{
			Code:  "number",
			Means: "A number is written wrongly: two points, digits that are missing, a fraction of nothing.",
			Do:    "Write it as 12, 12.5 or 7 3/8.",
			Example: `
panel front {
  width = 1.250.5
  height = 200
}
`,
		},
		{
			Code:  "syntax",
			Means: "Something stands where it can't, or something is missing.",
			Do:    "Write the line as the message shows; the reference lists the statements.",
			Example: `
panel front {
  width 100
  height = 200
}
`,
		},
		{
			Code:  "too-deep",
			Means: "Blocks, brackets or the parts of a name lie in one another more than 64 deep.",
			Do:    "Give parts of it names of their own.",
			Test:  "lang/parse.TestLimits",
		},
		{
			Code:  "too-long",
			Means: "A name has more than 256 letters, a value more than 1,000 parts, those of the named values in it counted, or a text joined of others more than 4,000 characters.",
			Do:    "Shorten it, or give parts of the value names with let.",
			Test:  "lang/parse.TestLimits",
		},
		{
			Code:  "too-many-errors",
			Means: "A file has more than 1,000 lines that can't be read, and the rest is not shown.",
			Do:    "Mend the first ones, or see whether this is a design at all.",
			Test:  "lang/parse.TestManyErrors",
		},
		{
			Code:  "merge-conflict",
			Means: "The text holds the marks that version control puts round two versions which don't go together.",
			Do:    "Keep what is to hold, and take out the lines that begin with <<<<<<<, ======= and >>>>>>>.",
			Example: `
panel front {
<<<<<<< HEAD
  width = 100; height = 200
=======
  width = 110; height = 200
>>>>>>> gulls
}
`,
		},
		{
			Code:  "unclosed-text",
			Means: "A text lacks its closing quote.",
			Do:    "Close it on the same line; write \\n for a new line and \\\" for a quote in it.",
			Example: `
panel front {
  width = 100; height = 200
  region title {
    height = 20; width = 50
    engrave text "Harbour Log
  }
}
`,
		},
		{
			Code:  "unknown-unit",
			Means: "There is no such unit.",
			Do:    "Use mm, cm, m, in, pt, deg or %.",
			Example: `
panel front {
  width = 120 mn
  height = 200
}
`,
		},
		{
			Code: "quoted-name", As: warning(),
			Means: "A text in quotes is the name of a column of the orders, so that name is lettered, and not what each order says.",
			Do:    "Take the quotes away.",
			Example: `
orders "orders.csv" { name = text }
laser bench { kerf = 0.2; quiet = caution }
panel front {
  width = 100; height = 60
  region title { width = 80; height = 20; engrave text "order.name" { cap <= 8 } }
}
-- orders.csv --
name
Ada
`,
		},
	}
}
