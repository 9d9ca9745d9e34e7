package codes

// latticeAdvice has the warnings about boards that are to bend.
func latticeAdvice() []Entry {
	return []Entry{
		{
			Code: "overstressed", As: warning(), Quiet: true,
			Means: "Each link of a lattice twists by more than its material bears.",
			Do:    "State a larger radius, so that more links share the turn, or fewer rows of longer links.",
			From:  "a published torsion model of lattice hinges, with the material's `shear-modulus` and `allowed-shear`",
			Example: `
panel wrap {
  thick = 3; width = 200; height = 60
  lattice fold { radius = 14; turn = 180 deg; shear-modulus = 2000; allowed-shear = 5; rows = 4 }
}
`,
		},
		{
			Code: "short-link", As: warning(), Quiet: true,
			Means: "The links of a lattice are shorter than they are wide, so they hardly twist.",
			Do:    "State fewer rows, or make the lattice higher.",
			From:  "common practice, no source",
			Example: `
panel wrap {
  thick = 3; width = 200; height = 60
  lattice fold { radius = 14; turn = 180 deg; rows = 11 }
}
`,
		},
		{
			Code: "slight-turn", As: warning(), Quiet: true,
			Means: "A lattice turns by less than 10 degrees in all, as one whose turn was meant in radians.",
			Do:    "State the turn in degrees, as in turn = 180 deg.",
			From:  "common practice, no source",
			Example: `
panel wrap {
  thick = 3; width = 200; height = 60
  lattice fold { radius = 14; turn = 3.14 }
}
`,
		},
		{
			Code: "splay", As: warning(), Quiet: true,
			Means: "The links of a lattice are more than four times as long as the board is thick, so the bend may splay.",
			Do:    "State more rows, or a larger radius where the stress asks for long links.",
			From:  "a published torsion model of lattice hinges",
			Example: `
panel wrap {
  thick = 3; width = 200; height = 60
  lattice fold { radius = 14; turn = 180 deg; rows = 2 }
}
`,
		},
		{
			Code: "stiff-end", As: warning(), Quiet: true,
			Means: "Board left whole beyond a lattice, at head or tail, keeps it from bending.",
			Do:    "State head = 0 and tail = 0, so that it runs from edge to edge.",
			Example: `
panel wrap {
  thick = 3; width = 200; height = 160
  lattice fold { radius = 14; turn = 180 deg; head = 10 }
}
`,
		},
		{
			Code: "thin-bridge", As: warning(), Quiet: true,
			Means: "The bridges or ends of a lattice are shorter than its links are wide, so they give first.",
			Do:    "Make bridge and end at least as long as the board is thick.",
			From:  "common practice, no source",
			Example: `
panel wrap {
  thick = 3; width = 200; height = 160
  lattice fold { radius = 14; turn = 180 deg; bridge = 2 }
}
`,
		},
		{
			Code: "thin-edge", As: warning(), Quiet: true,
			Means: "Less board is left beside a lattice than it is thick, so it is weaker than the links.",
			Do:    "Leave at least its thickness.",
			From:  "common practice, no source",
			Example: `
panel wrap {
  thick = 3; width = 200; height = 160
  lattice fold { radius = 14; turn = 180 deg; spine = 2 }
}
`,
		},
	}
}
