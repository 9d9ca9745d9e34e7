package codes

// names has the codes of what names mean and what may stand where: eval/resolve.
func names() []Entry {
	return []Entry{
		{
			Code:  "both-there",
			Means: "Two things share a name, and the conditions of both hold.",
			Do:    "Let their conditions exclude each other, or give one of them another name.",
			Example: `
let pages = 40
panel front when pages > 20 { width = 100; height = 200 }
panel front when pages < 60 { width = 120; height = 200 }
`,
		},
		{
			Code:  "clause",
			Means: "A thing of this kind can't have such a clause before its brace, or not together with another one.",
			Do:    "Use the clauses that the reference lists for its kind.",
			Example: `
gap joint { width = 7 }
panel front on head { width = 100; height = 200 }
`,
		},
		{
			Code:  "clause-target",
			Means: "What like, mirrors or covers names is of another kind than it can be.",
			Do:    "Name a thing of the kind that the message asks for.",
			Example: `
gap joint { width = 7 }
panel front like joint { width = 100; height = 200 }
`,
		},
		{
			Code:  "edge",
			Means: "There is no such edge.",
			Do:    "Name head, tail, spine or foredge.",
			Example: `
panel front {
  width = 100; height = 200
  row wire on spin { count = 3; pitch = 20; hole = round 4; inset = 5 }
}
`,
		},
		{
			Code:  "first-line",
			Means: "A line that says how a whole file is read doesn't stand at its top.",
			Do:    "Move it there: first the version, then the unit, then all else.",
			Example: `
panel front { width = 4; height = 8 }
units in
`,
		},
		{
			Code:  "hidden-let",
			Means: "A name is both that of a named value and that of a dimension, and either may be meant here.",
			Do:    "Give the named value another name, or write the dimension with the name of its thing.",
			Example: `
let thick = 0.4
stock birch { thick = 3 }
panel front {
  width = 100; height = 200
  cutout window { shape = round 10 + thick }
}
`,
		},
		{
			Code: "later-version", As: note(),
			Means: "The file says that it is written in an earlier version of the language, and later ones read some of its lines otherwise. It is read as its own version says.",
			Do:    "Leave it, or bring the named lines over and write the newest version.",
			Test:  "eval/resolve.TestLaterVersions",
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
			Code:  "like-large",
			Means: "What `like`, `mirrors` and `covers` bring along comes to more than 50,000 things, lines and values in lines.",
			Do:    "Let fewer things be like one that has so much in it.",
			Test:  "eval/resolve.TestLikeBounded",
		},
		{
			Code:  "material",
			Means: "A stock is made of something that is no material: a named value, or another thing.",
			Do:    "Name a material, give the other another name, or say in quotes what the stock is made of.",
			Example: `
gap greyboard { width = 7 }
stock sheet { material = greyboard; thick = 2 }
panel front { stock = sheet; width = 100; height = 200 }
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
			Code:  "no-edge",
			Means: "Nothing says to which edge a row, tabs, a line or the neck of a cutout belongs.",
			Do:    "Write `on spine` after the name of a row or of tabs, from = spine in a line, open = foredge in a cutout.",
			Example: `
panel front {
  width = 100; height = 200
  row wire { count = 3; pitch = 20; hole = round 4; inset = 5 }
}
`,
		},
		{
			Code: "mixed-alphabets", As: warning(),
			Means: "A name has letters of two alphabets, such as a Cyrillic о among Latin letters. Whoever types it again as it reads writes another name.",
			Do:    "Type it again in one alphabet.",
			From:  "Unicode Technical Standard 39, on scripts that are mixed",
			Example: `
panel frоnt { width = 120; height = 180 }
`,
		},
		{
			Code: "names-alike", As: warning(),
			Means: "Two names of one place differ only in how an accent is stored, or two things there, or stocks of two designs of a job, only in capitals, which many disks don't tell apart.",
			Do:    "Give one of them another name.",
			From:  "Unicode Standard Annex 15, on characters with accents",
			Example: `
panel front { width = 120; height = 180 }
panel Front { width = 120; height = 180 }
`,
		},
		{
			Code:  "none-there",
			Means: "A clause names things that share a name, and the condition of none of them holds.",
			Do:    "Name what is always there, or say by a `when` that this thing isn't there either.",
			Example: `
let pages = 40
panel small when pages < 20 { width = 100; height = 150 }
panel small when pages > 60 { width = 110; height = 150 }
panel front like small { width = 120; height = 200 }
`,
		},
		{
			Code:  "of-itself",
			Means: "A line ties a dimension to nothing but itself: inside a thing a bare name means its own dimension.",
			Do:    "Name what it depends on: in a region front.height is that of the panel front.",
			Example: `
panel front {
  width = 100; height = 200
  region title { height = height / 4; width = 80 }
}
`,
		},
		{
			Code:  "other-edge",
			Means: "A row of a panel runs along another edge than the row of the notebook that it lies on.",
			Do:    "Leave out its `on`, or give the row another name.",
			Example: `
notebook log {
  accuracy = 0.03; width = 148; height = 210
  row wire on spine { count = 20; hole = round 4; first = 8; pitch = 10; inset = 4 }
}
panel front covers log {
  row wire on head { inset = 4 }
}
`,
		},
		{
			Code:  "says-nothing",
			Means: "A line says nothing: both of its sides are the same whatever the dimensions are, or it says of a named value what it is.",
			Do:    "Write what is meant, with the name of the thing whose dimension it is, or take the line out.",
			Example: `
panel front {
  width = 100; height = 200
  region title { head = 20; height = 30; width = 80 }
  title.head + title.height = title.height + title.head
}
`,
		},
		{
			Code:  "stated-twice",
			Means: "What can be stated once is stated twice: a property of a thing or a mark, a clause, the unit of a file, its version.",
			Do:    "Take one of the two out.",
			Example: `
panel front {
  width = 100; height = 200
  corners = square
  corners = radius 4
}
`,
		},
		{
			Code:  "taken-name",
			Means: "The name is taken: it is that of a dimension, of something that the thing brings along, or of the board's edge in the cut file.",
			Do:    "Choose another name; to state the dimension leave out let.",
			Example: `
panel front {
  let width = 100
  height = 200
}
`,
		},
		{
			Code:  "twice",
			Means: "Two things, named values or columns that stand in one place have one name.",
			Do:    "Give one of them another name, or take it out.",
			Example: `
panel front { width = 100; height = 200 }
panel front { width = 120; height = 200 }
`,
		},
		{
			Code:  "two-meanings",
			Means: "A name could be either of two things, in two files that this one uses; what the shelf has is meant only where no such file has it.",
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
			Means: "The unit of a file can be mm or in.",
			Do:    "Write units mm or units in; single lengths may carry any unit.",
			Example: `
units cm
panel front { width = 10; height = 20 }
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
			Do:    "Check how it is spelt; a minus between names needs blanks around it; a material of your own words stands in quotes.",
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
			Code:  "version",
			Means: "This program doesn't read such a version of the language.",
			Do:    "Write foredge and a version that the message names, or take a newer foredge.",
			Example: `
foredge 9
panel front { width = 100; height = 200 }
`,
		},
		{
			Code:  "when-circle",
			Means: "Whether a thing is there would depend on the thing itself.",
			Do:    "Ask about orders, or about named values that need none of its dimensions.",
			Example: `
let wide = front.width
panel front when wide > 30 { width = 100; height = 200 }
`,
		},
		{
			Code:  "when-inner",
			Means: "Things that share a name are told apart by a named value that stands in braces, which whatever is like that thing may state anew.",
			Do:    "Move the let to the top of the file.",
			Example: `
panel front {
  width = 100; height = 200
  let pages = 40
  region title when pages < 20 { width = 50; height = 20 }
  region title when 1 = 1 { width = 60; height = 20 }
}
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
		{
			Code:  "without-own",
			Means: "A thing leaves out by `without` what it states itself.",
			Do:    "Take one of the two out.",
			Example: `
panel front {
  width = 100; height = 200
  region title { height = 20; width = 50 }
}
panel back mirrors front { without title; region title { head = 30 } }
`,
		},
	}
}
