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
			Means: "Of artwork that is cut, something lies free in an opening and falls out.",
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
			Means: "Of artwork that is cut, a detail is finer than the material's `least-detail`, or than 0.5 mm where it states none.",
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
			Means: "Of artwork that is cut, a line is open, so it becomes a slit and nothing is cut out.",
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
			Code:  "too-many-dots",
			Means: "A picture would be engraved with more than 4 million dots.",
			Do:    "Make the line-distance larger, or the picture smaller.",
			Test:  "layout.TestPictureRefusals",
		},
	}
}
