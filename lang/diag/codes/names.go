package codes

// names has the codes of what names mean and what may stand where: eval/resolve.
func names() []Entry {
	return []Entry{
		{
			Code:  "clause",
			Means: "What stands before a thing's brace doesn't suit it: a clause that its kind can't have, one that stands twice, or the name of something else than it asks for.",
			Do:    "Use the clauses that the reference lists for its kind.",
			Example: `
gap joint { width = 7 }
panel front like joint { width = 100; height = 200 }
`,
		},
		{
			Code:  "edge",
			Means: "An edge is missing, misspelt, or another than that of the notebook's row.",
			Do:    "Name head, tail, spine or foredge.",
			Example: `
panel front {
  width = 100; height = 200
  row wire on spin { count = 3; pitch = 20; hole = round 4; inset = 5 }
}
`,
		},
		{
			Code:  "left-out",
			Means: "A line speaks of something that isn't there: it was left out by `without`, or its `when` doesn't hold.",
			Do:    "Leave the line out too, or put it under the same `when`.",
			Example: `
panel front {
  width = 100; height = 200
  region title { height = 20; width = 50 }
}
panel back mirrors front {
  without title
  title.head >= 10
}
`,
		},
		{
			Code:  "let-cycle",
			Means: "Named values are stated by one another, so that none of them has a value.",
			Do:    "Give one of them a number.",
			Example: `
let a = b + 1
let b = a + 1
panel front { width = a; height = 200 }
`,
		},
		{
			Code:  "like-cycle",
			Means: "A thing would come to be like itself, mirror or cover itself, directly or by way of others.",
			Do:    "Let one of them state what it is by itself.",
			Example: `
panel front like back { width = 100 }
panel back like front { height = 200 }
`,
		},
		{
			Code:  "member",
			Means: "What is said of a member of a field makes no sense: it isn't there, its number is incomplete, or it is to lie elsewhere than the field says.",
			Do:    "Count across from the spine, then down from the head: pane.2.3.head; say where all lie together in the field.",
			Example: `
panel front {
  width = 100; height = 100
  field pane { across = 3; down = 2; gap-across = 5; gap-down = 5; cutout each { shape = round 12 } }
  check pane.4.1.head >= 5
}
`,
		},
		{
			Code:  "misplaced",
			Means: "A thing or a statement stands where it can't: in the wrong kind of braces, or at the top of the file where nothing is like it.",
			Do:    "Move it into the thing that it belongs to.",
			Example: `
panel front {
  width = 100; height = 200
  engrave text "Tern"
}
`,
		},
		{
			Code:  "name",
			Means: "A thing has no name: what stands in quotes is a text.",
			Do:    "Write its name without quotes, so that others can refer to it.",
			Example: `
panel "front" { width = 100; height = 200 }
`,
		},
		{
			Code:  "twice",
			Means: "Something is there twice that can be there only once: a name, a property of a thing, the table of orders or a column of it. A name is also taken if it is that of a dimension, or of what the thing brings along.",
			Do:    "Take one of the two out, or give it another name.",
			Example: `
panel front { width = 100; height = 200 }
panel front { width = 120; height = 200 }
`,
		},
		{
			Code:  "two-meanings",
			Means: "A name could be either of two things, in two files that this one uses.",
			Do:    "Declare it here, where the file's own name wins, or rename one of them.",
			Example: `
use "oak.fore"
use "birch.fore"
panel front { width = 100 + rim; height = 200 }
-- oak.fore --
let rim = 3
-- birch.fore --
let rim = 4
`,
		},
		{
			Code:  "units",
			Means: "The line that says the file's unit is not the first one, stands twice or in a thing, or names neither mm nor in.",
			Do:    "Write units mm or units in once, as the first line.",
			Example: `
panel front { width = 4; height = 8 }
units in
`,
		},
		{
			Code:  "unknown-kind",
			Means: "There is no such kind of thing.",
			Do:    "Take the kind that the message proposes; the reference lists them all.",
			Example: `
pannel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "unknown-name",
			Means: "Nothing is called this here, or the thing has no such part or dimension.",
			Do:    "Check how it is spelt; a minus between names needs blanks around it.",
			Example: `
panel front { width = 100; heigth = 200 }
`,
		},
		{
			Code:  "unknown-shelf",
			Means: "The shelf has no such part.",
			Do:    "See foredge shelf for its parts; a file's name stands in quotes.",
			Example: `
use bindngs
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "use",
			Means: "A file that the design uses can't be read: it isn't there, or lies outside the design's folder.",
			Do:    "Name it by its path from this file, inside the design's folder.",
			Example: `
use "nowhere-in-this-shop.fore"
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "use-cycle",
			Means: "A file uses itself, directly or by way of others.",
			Do:    "Move what both need into a third file.",
			Example: `
use "shop.fore"
panel front { width = 100; height = 200 }
-- shop.fore --
use "example.fore"
`,
		},
		{
			Code:  "use-depth",
			Means: "Files use files that use files, more than 16 deep.",
			Do:    "Let the design use the file that it needs directly.",
			Test:  "eval/resolve.TestUseDepth",
		},
		{
			Code: "use-twice", As: warning(),
			Means: "A file is used twice by the same one.",
			Do:    "Take one of the two lines out.",
			Example: `
use materials
use materials
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "without",
			Means: "Nothing of this name came along by like, mirrors or covers, so it can't be left out.",
			Do:    "Check the name, or take the line out.",
			Example: `
panel front { width = 100; height = 200 }
panel back mirrors front { without title }
`,
		},
	}
}
