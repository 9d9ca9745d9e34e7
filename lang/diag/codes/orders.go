package codes

// orders has the codes of tables of orders and of batches.
func orders() []Entry {
	return []Entry{
		{
			Code:  "bed",
			Means: "Covers are to lie together on sheets, of a batch or a job, or a stock says how many sheets or which offcuts of it there are, or that parts share cuts, and nothing says how large the sheet or the laser's bed is.",
			Do:    "State it, as in laser bench { bed = 600 by 400 }, or leave out --together, or the stock's quantity, offcuts and shared-cuts.",
			Test:  "testdata/script/batch_together.txtar",
		},
		{
			Code: "column", As: both(),
			Means: "The table lacks a column for which the design has no default. That one with a default is missing is a warning, where the table has one that is called nearly so.",
			Do:    "Call it as the table does, or correct the table's first line.",
			Example: `
orders "orders.csv" { name = text }
-- orders.csv --
nmae
Ada
`,
		},
		{
			Code:  "column-kind",
			Means: "A column of the orders is to hold what it can't.",
			Do:    "Let it hold text, a count, a length, an angle or a ratio; the orders' own numbers are texts or counts.",
			Example: `
orders "orders.csv" { name = txet }
panel front { width = 100; height = 60 }
-- orders.csv --
name
Ada
`,
		},
		{
			Code:  "columns",
			Means: "A row of the table has more values than its first line has columns.",
			Do:    "Put a value that holds the separating sign in quotes.",
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
			Code: "copies-twice", As: warning(),
			Means: "The copies of a panel rest on the column that says how often an order is made, and would count twice.",
			Do:    "Take the line out: all boards of an order are cut as often as that column says.",
			Example: `
orders "orders.csv" { qty = count }
panel front { width = 100; height = 60; copies = order.qty }
-- orders.csv --
qty
3
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
			Means: "What is shown or made is the first of several orders: `batch` makes them all.",
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
			Code: "header-again", As: note(),
			Means: "A row of the table is its first line once more, as where two tables were joined. It is passed over.",
			Do:    "See that no table was joined to this one twice.",
			Example: `
orders "orders.csv" { name = text }
laser bench { kerf = 0.2; quiet = caution }
panel front {
  width = 100; height = 60
  region title { width = 80; height = 20; engrave text order.name { cap <= 8 } }
}
-- orders.csv --
name
Tern
name
`,
		},
		{
			Code: "idle-column", As: warningOrNote(),
			Means: "No line of the design uses a column of the orders that it declares, so that it only stands on the tickets and the packing list; that is a note of texts. Or the table says how often each is to be made and the design doesn't read it.",
			Do:    "Speak of it as order.NAME if something is to be made of it; the number of copies is called copies.",
			Example: `
orders "orders.csv" { name = text; ribbon = text }
panel front {
  width = 100; height = 60
  region title { width = 80; height = 20; engrave text order.name }
}
-- orders.csv --
name,ribbon
Ada,red
`,
		},
		{
			Code: "in-formulas", As: note(),
			Means: "Values of the table stand in formulas, as some programs write them so that spreadsheets take them for texts. Each is read as the text in its quotes.",
			Do:    "See that no value lacks something.",
			Example: `
orders "orders.csv" { name = text }
laser bench { kerf = 0.2; quiet = caution }
panel front {
  width = 100; height = 60
  region title { width = 80; height = 20; engrave text order.name { cap <= 8 } }
}
-- orders.csv --
name
="Tern"
`,
		},
		{
			Code: "items-apart", As: warning(),
			Means: "A row has the number of an order whose other rows stand elsewhere in the table. It is taken for another item of that order.",
			Do:    "If it is another order, give it a number of its own; else move the rows together.",
			Test:  "testdata/script/batch_items.txtar",
		},
		{
			Code: "left-over", As: both(),
			Means: "A file of an earlier batch lies among those of this one, which didn't make it. Where no order has it any more, as of a name that was corrected since, it is moved to the folder set-aside beside them; a file of an order that is still there, in another format, stays. That it can't be moved is an error.",
			Do:    "See that it isn't cut by mistake, and remove it if it isn't needed any more.",
			Test:  "cmd/internal/batch.TestLeftOverOfStopped",
		},
		{
			Code:  "lost-character",
			Means: "A character of a value can't be read, or an earlier program couldn't read it and put U+FFFD in its place. Nobody can tell from the table what it was, so the order isn't made.",
			Do:    "Ask whoever wrote it, and write it anew.",
			Example: `
orders "orders.csv" { name = text }
laser bench { kerf = 0.2; quiet = caution }
panel front {
  width = 100; height = 60
  region title { width = 80; height = 20; engrave text order.name { cap <= 8 } }
}
-- orders.csv --
name
Zo�
`,
		},
		{
			Code: "made-anew", As: warningOrNote(),
			Means: "A batch that goes on found files of another content in the place of those that it makes, as after a row was corrected. Sheets are moved to the folder set-aside before, as other parts lie on them now, with the orders that are cut otherwise than before by their numbers. It is a note of orders that had no files yet, and of sheets and of orders of which what is cut is as it was and only lies elsewhere.",
			Do:    "If the old ones were cut already, cut what is new of them, and no more.",
			Test:  "cmd/internal/batch.TestMadeAnew",
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
			Code:  "no-table",
			Means: "The design names no table of orders, and something asks for one.",
			Do:    "Name it at the top of the file, as in orders \"orders.csv\" { name = text }.",
			Example: `
panel front {
  width = 100; height = 60
  region title { width = 80; height = 20; engrave text order.name }
}
`,
		},
		{
			Code:  "not-listed",
			Means: "A value is none of those that its column lists.",
			Do:    "Correct it, or add it to the list in the braces of the orders.",
			Example: `
orders "orders.csv" { motif = one of "tern", "gull" }
panel front { width = 100; height = 60 }
-- orders.csv --
motif
turn
`,
		},
		{
			Code: "notes-aside", As: warning(),
			Means: "A job ticket or the packing list was changed by hand, and a batch that goes on writes it anew with other contents. What it was lies in the folder set-aside. Where the contents are the same and notes were only added, the file stays as it is.",
			Do:    "See what was written into it, and write it into the new one if it still counts.",
			Test:  "testdata/script/batch_notes.txtar",
		},
		{
			Code: "odd-text", As: warning(),
			Means: "A text of an order holds what its customer can hardly have written: what another program has put there, blanks where none belong, characters that can't be seen, a word that means that there is nothing, letters read in a wrong encoding or lost.",
			Do:    "Correct the cell, or let all texts be cleaned, by clean = yes in the braces of the orders.",
			Example: `
orders "orders.csv" { name = text }
laser bench { kerf = 0.2; quiet = caution }
panel front {
  width = 100; height = 60
  region title { width = 80; height = 20; engrave text order.name { cap <= 8 } }
}
-- orders.csv --
name
Tern &amp; Gull
`,
		},
		{
			Code:  "order-number",
			Means: "The number of an order has no letter or digit in it, so its files can't be named after it.",
			Do:    "Number orders by letters a to z, digits and hyphens.",
			Example: `
orders "orders.csv" { number = text }
panel front { width = 100; height = 60 }
-- orders.csv --
number
...
`,
		},
		{
			Code:  "orders-columns",
			Means: "What stands in the braces of the orders doesn't say which columns they have.",
			Do:    "Write a line for each column, as in name = text or copies = count default 1.",
			Example: `
orders "orders.csv" { name >= 3 }
panel front { width = 100; height = 60 }
-- orders.csv --
name
Ada
`,
		},
		{
			Code:  "orders-file",
			Means: "Nothing says which file the orders are in.",
			Do:    "Name it in quotes, as in orders \"orders.csv\" { name = text }.",
			Example: `
orders gifts { name = text }
panel front { width = 100; height = 60 }
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
			Code: "same-item", As: warning(),
			Means: "An order has the same row twice, so it is made twice.",
			Do:    "Take one of them out, if it got there by mistake.",
			Test:  "testdata/script/batch_items.txtar",
		},
		{
			Code: "same-name", As: note(),
			Means: "Two orders have the same text by which a person would know them.",
			Do:    "See that it isn't one order twice; their numbers tell them apart.",
			Test:  "testdata/script/batch_items.txtar",
		},
		{
			Code:  "same-number",
			Means: "Two orders have numbers that are written in different ways and come to the same in the names of files.",
			Do:    "Give each order a number of its own.",
			Test:  "eval/orders.TestOwnNumbers",
		},
		{
			Code: "short-rows", As: warningOrNote(),
			Means: "Rows of the table have fewer values than its first line names. What they lack is as if it were empty. It is a warning where other rows keep empty values at their end.",
			Do:    "See that no line break stands in a value without quotes.",
			Example: `
orders "orders.csv" { name = text; motto = text default "" }
laser bench { kerf = 0.2; quiet = caution }
panel front {
  width = 100; height = 60
  region title { width = 80; height = 20; engrave text order.name { cap <= 8 } }
  check order.motto != "none"
}
-- orders.csv --
name,motto
Tern
Gull,
`,
		},
		{
			Code:  "table-too-large",
			Means: "A table has more than can be read: 200 columns, 100,000 orders, 2,000 characters in a cell.",
			Do:    "Split it, or shorten the cell.",
			Test:  "eval/orders.TestLimits",
		},
		{
			Code: "swapped-columns", As: warning(),
			Means: "All orders of a table are numbered by words, and the texts by which they are known are digits, so the two columns may have each other's heading; or a few among others are.",
			Do:    "Put the right heading above each column, or the value into its own.",
			Example: `
orders "orders.csv" { number = text; name = text }
laser bench { kerf = 0.2; quiet = caution }
panel front {
  width = 100; height = 60
  region title { width = 80; height = 20; engrave text order.name { cap <= 8 } }
}
-- orders.csv --
number,name
Ada Tern,1042
Bo Gull,1043
`,
		},
		{
			Code: "total-row", As: warning(),
			Means: "A row at the end of the table begins with a word for a sum; it is made as an order where it has no error.",
			Do:    "Take it out, if it is no order.",
			Example: `
orders "orders.csv" { name = text }
laser bench { kerf = 0.2; quiet = caution }
panel front {
  width = 100; height = 60
  region title { width = 80; height = 20; engrave text order.name { cap <= 8 } }
}
-- orders.csv --
name
Total
`,
		},
		{
			Code:  "two-columns",
			Means: "The table has two columns of one name, or two are declared that may say how often an order is made.",
			Do:    "Give one of them another heading, or call the one that says it copies.",
			Example: `
orders "orders.csv" { name = text }
panel front { width = 100; height = 60 }
-- orders.csv --
name,name
Ada,Bo
`,
		},
		{
			Code:  "two-tables",
			Means: "A design names two tables of orders, and it has one.",
			Do:    "Take one of them out.",
			Example: `
orders "orders.csv" { name = text }
orders "orders.csv" { name = text }
panel front { width = 100; height = 60 }
-- orders.csv --
name
Ada
`,
		},
		{
			Code:  "unknown-encoding",
			Means: "There is no such encoding of a table.",
			Do:    "Name it as in encoding = \"windows-1252\", or save the table as UTF-8.",
			Example: `
orders "orders.csv" {
  name     = text
  encoding = "windows-9000"
}
-- orders.csv --
name
Ada
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
