package codes

// orders has the codes of tables of orders and of batches.
func orders() []Entry {
	return []Entry{
		{
			Code:  "bed",
			Means: "Covers are to lie together on sheets, and nothing says how large the sheet or the laser's bed is.",
			Do:    "State it, as in laser bench { bed = 600 by 400 }, or leave out --together.",
			Test:  "testdata/script/batch_together.txtar",
		},
		{
			Code: "column", As: both(),
			Means: "The table lacks a column that the design asks for, or a column is to hold what it can't. It is a warning where the column has a default and the table one that is called nearly so.",
			Do:    "Call it as the table does, or correct the table's first line.",
			Example: `
orders "orders.csv" { name = text }
-- orders.csv --
nmae
Ada
`,
		},
		{
			Code:  "columns",
			Means: "A row of the table has another number of values than its first line has columns.",
			Do:    "Put a value that holds the separating sign in quotes, and leave no column out.",
			Example: `
orders "orders.csv" { name = text; copies = count }
panel front { width = 100; height = 60 }
-- orders.csv --
name,copies
Ada,Quill,1
`,
		},
		{
			Code:  "copies",
			Means: "An order can be made from 1 to 1,000 times.",
			Do:    "Take the row out, or correct the number.",
			Example: `
orders "orders.csv" { name = text; copies = count }
panel front { width = 100; height = 60 }
-- orders.csv --
name,copies
Ada,0
`,
		},
		{
			Code:  "empty",
			Means: "An order lacks a value that has no default.",
			Do:    "Fill it in, or give the column a default in the design.",
			Example: `
orders "orders.csv" { name = text; copies = count }
panel front { width = 100; height = 60 }
-- orders.csv --
name,copies
,1
`,
		},
		{
			Code: "first-order", As: note(),
			Means: "build, check and solve show the first of several orders.",
			Do:    "Make them all by foredge batch.",
			Example: `
orders "orders.csv" { name = text }
panel front {
  width = 100; height = 60
  region title { width = 80; height = 20; engrave text order.name }
}
-- orders.csv --
name
Ada
Bea
`,
		},
		{
			Code: "left-over", As: warning(),
			Means: "A file lies among those of a batch that no order has any more: it is of an earlier one.",
			Do:    "Remove it, so that it isn't cut by mistake.",
			Test:  "cmd/internal/batch.TestLeftOverOfStopped",
		},
		{
			Code:  "no-order",
			Means: "A table has no orders below its first line, or is empty.",
			Do:    "Write one below the header, a line each.",
			Example: `
orders "orders.csv" { name = text }
panel front { width = 100; height = 60 }
-- orders.csv --
name
`,
		},
		{
			Code:  "orders",
			Means: "What the design says of its orders is wrong or missing: where the table is, or what its columns hold.",
			Do:    "Name the table and its columns, as in orders \"orders.csv\" { name = text }.",
			Example: `
panel front {
  width = 100; height = 60
  region title { width = 80; height = 20; engrave text order.name }
}
`,
		},
		{
			Code:  "quotes",
			Means: "A quote in the table is never closed, or stands where none can.",
			Do:    "Put the whole value in quotes and double those in it: \"Ann \"\"Nan\"\" Lee\".",
			Example: `
orders "orders.csv" { name = text }
panel front { width = 100; height = 60 }
-- orders.csv --
name
Ada "Q" Quill
`,
		},
		{
			Code:  "value",
			Means: "A value in the table is not of the kind that its column holds.",
			Do:    "Write it as in a design.",
			Example: `
orders "orders.csv" { name = text; copies = count }
panel front { width = 100; height = 60 }
-- orders.csv --
name,copies
Ada,one
`,
		},
	}
}
