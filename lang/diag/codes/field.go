package codes

// fields has the codes of what is repeated, and of styles.
func fields() []Entry {
	const field = "\npanel front {\n  width = 100; height = 100\n  field pane { across = 3; down = 2; gap-across = 5; gap-down = 5; "
	const pane = field + "cutout each { shape = round 12 } }\n"
	return []Entry{
		{
			Code:    "member-place",
			Means:   "What a field repeats says where it lies, and that is the field's to say.",
			Do:      "State where all its members lie together, in the field.",
			Example: field + "cutout each { shape = round 12; head = 20 } }\n}\n",
		},
		{
			Code:  "member-room",
			Means: "Not even one member of a field has room.",
			Do:    "Loosen its limits, or make its members smaller.",
			Example: `
panel front {
  width = 100; height = 100
  field pane { across = most; gap-across = 5; spine >= 40; cutout each { shape = round 30 } }
}
`,
		},
		{
			Code:    "no-each",
			Means:   "Nothing says what a field repeats.",
			Do:      "Put a cutout or a region into its braces.",
			Example: field + "}\n}\n",
		},
		{
			Code:    "no-member",
			Means:   "A line speaks of a member of a field that isn't there.",
			Do:      "Count across from the spine, then down from the head, both from 1.",
			Example: pane + "  check pane.4.1.head >= 5\n}\n",
		},
		{
			Code:  "several-texts",
			Means: "Several texts stand where one is lettered: only the members of a field and a set of dividers take one each.",
			Do:    "Give each a mark of its own, or write \\n between the lines of one.",
			Example: `
panel front {
  width = 100; height = 100
  region title { width = 80; height = 20; engrave text "Tides", "Terns" }
}
`,
		},
		{
			Code:  "style",
			Means: "A line speaks of a dimension of a style, which is drawn nowhere and has none of its own.",
			Do:    "Speak of a panel that is like it.",
			Example: `
style shop-look { over-foredge = 2 }
panel front { width = 100; height = 180 + shop-look.over-foredge }
`,
		},
		{
			Code:    "texts",
			Means:   "The texts that are listed for the members of a field are more or fewer than these.",
			Do:      "List one for each as they are read; \"\" leaves one blank.",
			Example: field + "\n    region each { width = 20; height = 12; engrave text \"Apr\", \"May\", \"Jun\" } }\n}\n",
		},
		{
			Code:    "two-each",
			Means:   "A field repeats one thing, and holds a second.",
			Do:      "Give the second a field of its own.",
			Example: field + "\n    cutout each { shape = round 12 }\n    cutout other { shape = round 9 } }\n}\n",
		},
		{
			Code:    "which-member",
			Means:   "It isn't clear which member of a field is meant, or which of its dimensions.",
			Do:      "Say two numbers, across and down, then the dimension: pane.2.1.head.",
			Example: pane + "  check pane.2.head >= 5\n}\n",
		},
	}
}
