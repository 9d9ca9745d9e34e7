package codes

// artwork has the codes of drawings and pictures, warnings among them.
func artwork() []Entry {
	return []Entry{
		{
			Code:  "art",
			Means: "The file of artwork can't be read: it is no SVG drawing, PNG or JPEG picture, or something in it is not understood.",
			Do:    "Open it in the program that it comes from and save it as the message says.",
			Example: `
panel front {
  width = 100; height = 200
  region crest { height = 30; width = 30; engrave art "sign.svg" }
}
-- sign.svg --
<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">
  <text x="2" y="9">Pilot</text>
</svg>
`,
		},
		{
			Code:  "art-crosses",
			Means: "Of artwork that is cut, outlines or closed lines cross or touch, so it can't be told what is cut out.",
			Do:    "Move them apart or unite them in the drawing program.",
			Example: `
panel front {
  width = 100; height = 200
  region crest { height = 30; width = 30; cut art "rings.svg" }
}
-- rings.svg --
<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20" fill="none" stroke="black">
  <circle cx="8" cy="10" r="5"/>
  <circle cx="12" cy="10" r="5"/>
</svg>
`,
		},
		{
			Code:  "art-dots",
			Means: "A picture of dots can only be engraved, and turned only by quarter turns.",
			Do:    "Engrave it, or trace it to an SVG drawing first.",
			Test:  "layout.TestPictureRefusals",
		},
		{
			Code: "art-falls-out", As: warning(), Quiet: true,
			Means: "Something lies free in an opening of artwork that is cut, and falls out.",
			Do:    "Leave bridges to it in the drawing, or engrave it instead.",
			Example: `
panel front {
  width = 100; height = 200
  region crest { height = 30; width = 30; cut art "rings.svg" }
}
-- rings.svg --
<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20" fill="none" stroke="black">
  <circle cx="10" cy="10" r="9"/>
  <circle cx="10" cy="10" r="5"/>
</svg>
`,
		},
		{
			Code: "art-fine", As: warning(), Quiet: true,
			Means: "Artwork that is cut has a detail finer than the material's `least-detail`, or than 0.5 mm where it states none.",
			Do:    "Make the artwork larger, or take out what is so fine.",
			From:  "two cutting services' guides",
			Example: `
panel front {
  width = 100; height = 200
  region crest { height = 30; width = 30; cut art "squares.svg" }
}
-- squares.svg --
<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">
  <rect x="1" y="1" width="8" height="8"/>
  <rect x="9.3" y="1" width="8" height="8"/>
</svg>
`,
		},
		{
			Code:  "art-flat",
			Means: "A drawing is to be scaled to a width, and what it draws has none.",
			Do:    "Leave out width, or rotate it.",
			Example: `
panel front {
  width = 100; height = 200
  region crest { height = 30; width = 30; mark art "line.svg" { width = 20 } }
}
-- line.svg --
<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20" fill="none" stroke="black">
  <path d="M10 1L10 19"/>
</svg>
`,
		},
		{
			Code: "art-ground", As: warning(), Quiet: true,
			Means: "A nearly white shape fills the page of a drawing, and is drawn as ink.",
			Do:    "Leave its colour out by `without-colour`, or make it white in the drawing program.",
			From:  "nearly white from 94 % of red, green and blue on: common practice, no source",
			Example: `
panel front {
  width = 100; height = 200
  region crest { height = 30; width = 30; engrave art "paper.svg" }
}
-- paper.svg --
<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">
  <rect width="20" height="20" fill="#fdfdfd"/>
  <circle cx="10" cy="10" r="5"/>
</svg>
`,
		},
		{
			Code:  "art-lines",
			Means: "Lines of a drawing are to be engraved or laid in, and that takes what is filled.",
			Do:    "Mark the drawing, or fill it in the program that it comes from.",
			Example: `
panel front {
  width = 100; height = 200
  region crest { height = 30; width = 30; engrave art "line.svg" { as = engrave } }
}
-- line.svg --
<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20" fill="none" stroke="black">
  <path d="M10 1L10 19"/>
</svg>
`,
		},
		{
			Code: "art-open", As: warning(), Quiet: true,
			Means: "A line of artwork that is cut is open, so it becomes a slit.",
			Do:    "Close it in the drawing program if something should be cut out.",
			Example: `
panel front {
  width = 100; height = 200
  region crest { height = 30; width = 30; cut art "slit.svg" }
}
-- slit.svg --
<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20" fill="none" stroke="black">
  <path d="M1 1L19 3L12 19"/>
</svg>
`,
		},
		{
			Code: "art-page", As: warning(), Quiet: true,
			Means: "Artwork clearly lies beyond the edge of its drawing's page, and is cut off there.",
			Do:    "Make the page as large as what is drawn in the drawing program, or move it.",
			From:  "common practice, no source",
			Example: `
panel front {
  width = 100; height = 200
  region crest { height = 30; width = 30; engrave art "gull.svg" }
}
-- gull.svg --
<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">
  <circle cx="16" cy="6" r="5"/>
</svg>
`,
		},
		{
			Code: "art-part", As: warning(), Quiet: true,
			Means: "An option of artwork names a colour or a layer in which its drawing paints nothing.",
			Do:    "Write it as the drawing has it, or take it out.",
			Example: `
panel front {
  width = 100; height = 200
  region crest { height = 30; width = 30; mark art "buoy.svg" { cut-colour = "red" } }
}
-- buoy.svg --
<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">
  <circle cx="10" cy="10" r="5"/>
</svg>
`,
		},
		{
			Code: "art-solid", As: warning(), Quiet: true,
			Means: "Shapes of artwork in different colours meet, and become one area without an edge between them.",
			Do:    "Make one of them white, leave a gap between them, or give them operations of their own.",
			From:  "told where a millimetre of edge or more is lost between colours that differ by a tenth: common practice, no source",
			Example: `
panel front {
  width = 100; height = 200
  region crest { height = 30; width = 30; engrave art "flag.svg" }
}
-- flag.svg --
<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">
  <rect x="1" y="1" width="18" height="12" fill="navy"/>
  <circle cx="10" cy="7" r="4" fill="yellow"/>
</svg>
`,
		},
		{
			Code: "art-twice", As: warning(), Quiet: true,
			Means: "A line of artwork lies on another one of the same operation; what they share is drawn once.",
			Do:    "Take it out in the drawing program, or move it, if two were meant.",
			Example: `
panel front {
  width = 100; height = 200
  region crest { height = 30; width = 30; mark art "rope.svg" }
}
-- rope.svg --
<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20" fill="none" stroke="black">
  <path d="M1 1H19V9"/>
  <path d="M19 9V1H1"/>
</svg>
`,
		},
		{
			Code: "art-white", As: warning(), Quiet: true,
			Means: "White in artwork changes nothing: a white line lies on nothing, or white lets through most of what lies under it.",
			Do:    "Give it another colour in the drawing program if it should be seen.",
			Example: `
panel front {
  width = 100; height = 200
  region crest { height = 30; width = 30; engrave art "foam.svg" }
}
-- foam.svg --
<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">
  <circle cx="6" cy="6" r="4"/>
  <path d="M1 15H19" stroke="white"/>
</svg>
`,
		},
		{
			Code:  "file",
			Means: "A drawing, a picture, a font or a table that the design names can't be read.",
			Do:    "Name it by its path from this file, inside the design's folder.",
			Example: `
panel front {
  width = 100; height = 200
  region crest { height = 30; width = 30; engrave art "nowhere-in-this-shop.svg" }
}
`,
		},
		{
			Code: "coarse-lines", As: warning(), Quiet: true,
			Means: "The lines of a picture lie more than 0.5 mm apart, so that each of them shows.",
			Do:    "Check the unit and the decimal point of its line-distance: 0.1 mm is usual.",
			From:  "twice the coarsest pixels of a maker's page of guidelines for laser cutting; common practice, no source",
			Test:  "layout.TestCoarseLines",
		},
		{
			Code: "few-pixels", As: warning(), Quiet: true,
			Means: "A picture has so few pixels for its size on the board that each of them shows.",
			Do:    "Take a picture with more pixels, or engrave it smaller.",
			From:  "a maker's page of guidelines for laser cutting: 100 to 200 dots to the inch are useful",
			Test:  "layout.TestFewPixels",
		},
		{
			Code: "flat-picture", As: warning(), Quiet: true,
			Means: "Brightness, contrast and gamma make one grey of a picture of several, so nothing of it can be seen.",
			Do:    "Bring them nearer to 0 % and 1.",
			Test:  "layout.TestFlatPicture",
		},
		{
			Code: "no-art", As: warning(),
			Means: "Artwork draws nothing: its shapes may be hidden, white or without fill and stroke, or a picture has nothing dark.",
			Do:    "Make something of it dark in the program that it comes from.",
			Example: `
panel front {
  width = 100; height = 200
  region crest { height = 30; width = 30; engrave art "snow.svg" }
}
-- snow.svg --
<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">
  <rect x="1" y="1" width="8" height="8" fill="white"/>
</svg>
`,
		},
		{
			Code:  "no-picture",
			Means: "A strip of greys is asked for of a design that engraves no picture.",
			Do:    "Ask for it of a design that does, with the stock, line-distance and shade that are meant.",
			Test:  "testdata/script/proof_greys.txtar",
		},
		{
			Code:  "tone",
			Means: "A picture's brightness goes from -100 % to 100 %, its contrast from -100 % to 1000 %, its gamma from 0.1 to 10.",
			Do:    "State one of these.",
			Test:  "layout.TestTone",
		},
		{
			Code:  "too-many-dots",
			Means: "A picture would be engraved with more than 4 million dots.",
			Do:    "Make the line-distance larger, or the picture smaller.",
			Test:  "layout.TestPictureRefusals",
		},
	}
}
