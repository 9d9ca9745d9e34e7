package codes

// readings has the codes of what was measured.
func readings() []Entry {
	return []Entry{
		{
			Code:  "bench",
			Means: "A line of a notebook or a measured stock speaks of something else. What is made follows what was measured, never the other way round.",
			Do:    "Move the line into the panel.",
			Example: `
panel front { width = 100; height = 200 }
notebook log {
  accuracy = 0.03; width = 148; height = 210
  thick = front.width / 20
}
`,
		},
		{
			Code: "coarse", As: warning(),
			Means: "A reading in halves, thirds or quarters of an inch counts as taken with a rule that is divided no finer, so it is good to an eighth of an inch at best; or the accuracy of a tool is above 1 mm, or its resolution above 0.5 mm, so that nothing read with it can be found wrong.",
			Do:    "Write the rule's own divisions, as in 8 8/16, or say how good the reading is, as in 8 1/2 ± 1/32; state what the tool promises.",
			From:  "common practice, no source: a reading is good to half a division, and nobody measures a notebook by quarters of an inch",
			Example: `
units in
notebook log { accuracy = 0.002; width = 5 1/2; height = 8.25 }
`,
		},
		{
			Code:  "read-outside",
			Means: "A line outside a notebook or a measured stock says how large something of it is.",
			Do:    "Write it in the braces of what was measured, where it counts as a reading.",
			Example: `
notebook log { accuracy = 0.03; height = 210; width = 148 }
log.thick = 8
`,
		},
		{
			Code:  "accuracy",
			Means: "Nothing says how accurately something was read.",
			Do:    "State what the caliper promises, as in accuracy = 0.03, put ± after the value, or mark it exact.",
			Example: `
notebook log {
  width = 148.2
  height = 210 ± 0.1
}
`,
		},
		{
			Code: "idle-ease", As: warning(),
			Means: "The ease of a panel that lies on nothing measured, of a row that doesn't, of a row whose holes have their size stated, or of what was measured itself, widens nothing.",
			Do:    "Take it out; a hole that is stated is cut as stated, so state it larger if it should be looser.",
			Example: `
panel front {
  width = 100; height = 200
  ease = 0.3
}
`,
		},
		{
			Code: "idle-limit", As: warning(),
			Means: "A limit in a notebook speaks of a dimension that nothing read gives, so that it limits nothing.",
			Do:    "Measure the dimension, or put the limit on the panel that covers the notebook.",
			Example: `
notebook log { accuracy = 0.05; width = 148; height >= 60 }
panel front covers log { height = 55 }
`,
		},
		{
			Code:  "reading",
			Means: "This can't be read by a caliper: a count, something that is no length or angle, or a line without a number.",
			Do:    "State a count as one number, and lengths and angles as they were read.",
			Example: `
notebook log {
  accuracy = 0.03; width = 148; height = 210
  row wire on spine { count = 24, 25; hole = rect 4 by 4; first = 8; pitch = 8; inset = 4 }
}
`,
		},
		{
			Code: "readings", As: both(),
			Means: "The readings of a notebook disagree by more than chance allows: a warning from 95 % on, an error from 99.9 % on.",
			Do:    "Take the named reading again; foredge fit says what each is worth.",
			From:  "the chi-square test of a least-squares adjustment; 95 % and 99.9 % are common practice, no source",
			Example: `
notebook log {
  accuracy = 0.03; width = 148.2; height = 210.1
  row wire on spine {
    count = 24; hole = rect 4.02 by 4; first = 5.62; last = 5.66; inset = 4
    web = 4.45
    run = 197.76
  }
}
panel front covers log
`,
		},
		{
			Code: "repeats", As: both(),
			Means: "Values that were read of one thing lie farther apart than what is promised for each of them leaves room for.",
			Do:    "Measure it once more; where it really varies, say by how much, as in thick = 26.4, 27.0 ± 0.3.",
			From:  "the range of normal values, as ISO 5725-6 holds repeats against it; a warning from 99 % on, as the other readings have most of what all warnings may cost, an error from 99.9 % on, for all lists of a design together: common practice, no source",
			Example: `
notebook log { accuracy = 0.05; width = 148.2; height = 210.1, 211.0, 210.1 }
panel front covers log
`,
		},
		{
			Code:  "row-misfit",
			Means: "What was read of a notebook's row can't be: its holes run into each other, or they reach past an edge.",
			Do:    "Take the named reading again, and count the holes.",
			Example: `
notebook log {
  accuracy = 0.05; width = 105.2; height = 148.3
  row wire on spine { count = 12; hole = rect 46 by 4; first = 5; pitch = 8.4; inset = 4 }
}
panel front covers log
`,
		},
		{
			Code: "wrong-scale", As: warning(),
			Means: "A notebook is of an odd shape, or its holes are, and with one reading in another unit, or its decimal point elsewhere, it would be a usual one; or it is so small, so large or so slim that something is wrong.",
			Do:    "Write the unit after the number, or measure it once more.",
			From:  "common practice, no source: notebooks are at most 7 times as long as wide and 35 to 1,300 mm long, at most 51 mm thick if ten holes or more lie in a row, and no thicker than half their shorter side if that is above 100 mm and they are thicker than 51 mm; three holes or more lie at least 1 mm from their edge and nearer to it than to the other, ten or more at most 25 mm from it, and none of these is 7 times as long as wide",
			Example: `
notebook log { accuracy = 0.05; width = 105.2; height = 14.8 }
panel front { width = log.width; height = 150 }
`,
		},
		{
			Code: "implied-count", As: note(),
			Means: "Nothing says how many holes a measured row has: the number is the whole one that its readings leave.",
			Do:    "Count them, and state the number.",
			Example: `
notebook log {
  accuracy = 0.05; width = 105.2; height = 148.3
  row wire on spine { hole = rect 4 by 4; first = 5; pitch = 8.4; run = 92.4; inset = 4 }
}
panel front covers log
`,
		},
		{
			Code: "glued-fraction", As: warning(),
			Means: "A length in inches is written as a fraction such as 41/8, alone or in a sum: a blank may be missing in it. Or beside a whole number stands one of 1 or more, as in 5 18/16.",
			Do:    "Write a mixed fraction with a blank, as in 4 1/8.",
			Example: `
units in
notebook log { accuracy = 0.002; width = 41/8; height = 8.25 }
panel front covers log
`,
		},
	}
}
