package layout_test

import (
	"fmt"
	"strings"
	"testing"

	"foredge/lang/diag"
)

// Each warning just on its threshold, where it must be silent, and a little past
// it. The thresholds are those of the sources named beside the warnings in
// package advise. It is long because it is one table.
func TestAdvice(t *testing.T) {
	const board = "panel front { thick = %v; width = 120; height = 180\n%s }\n"
	panel := func(thick float64, more string) string { return fmt.Sprintf(board, thick, more) }
	holes := func(pitch float64) string {
		return fmt.Sprintf("row wire on spine { count = 3; hole = rect 4 by 4; pitch = %v; inset = 10 }", pitch)
	}
	of := func(stock, material, panel string) string {
		return fmt.Sprintf("material own { gives-off = \"steam\"; %s }\nstock sheet { material = own; thick = 3; %s }\npanel front { width = 120; height = 180\n%s }\n", material, stock, panel)
	}
	joint := func(board, gap float64) string {
		return fmt.Sprintf("panel front { thick = %v; width = 120; height = 180 }\npanel strip { thick = 0.5; width = 25; height = 180 }\n"+
			"gap joint { width = %v }\ncase cover { lay = strip, joint, front }", board, gap)
	}
	inQuarter := func(line string) string {
		return "panel front { width = 100; height = 150; thick = 2 }\npanel back like front\ngap joint { width = 7 }\n" +
			"case cover { lay = back, joint, front; bound = quarter; turn-in = 15; " + line + " }"
	}
	size := func(w, h, t float64) string {
		return fmt.Sprintf("panel front { width = %v; height = %v; thick = %v }", w, h, t)
	}
	// A case: board, joint, strip, joint, board.
	cased := func(board, gap float64, more string) string {
		return fmt.Sprintf("panel front { thick = %v; width = 120; height = 180 }\npanel back mirrors front\npanel strip { thick = 1; width = 25; height = 180%s }\n"+
			"gap joint { width = %v }\ncase cover { lay = back, joint, strip, joint, front }", board, more, gap)
	}
	covered := func(line string) string {
		return "panel front { thick = 3; width = 120; height = 180 }\ncase cover { lay = front; " + line + " }"
	}
	const lined = "panel front { thick = 3; width = 120; height = 180 }\ncase cover { lay = front; turn-in = 15; lining = %v }"
	for _, c := range []struct {
		name, good, bad string
		want            string // of the bad one
	}{
		// A cutting service's page "What Is Laser Kerf", author unknown, undated: the
		// narrowest uncut width is not less than the sheet's thickness.
		{"web", panel(3, holes(7)), panel(3, holes(6.99)), "thin-web only 2.99 mm is left between holes 1 and 2 of wire of front, less than 3 mm"},
		// Four to the inch with 11/64 in holes leaves 1.985 mm: too little for 2 mm
		// of board, enough for 1.98.
		{"coil", panel(1.98, "row wire on spine { hole = round 11/64 in; pitch = 1/4 in; count = 9; inset = 6 }"),
			panel(2, "row wire on spine { hole = round 11/64 in; pitch = 1/4 in; count = 9; inset = 6 }"), "thin-web only 1.9844 mm is left between holes"},
		{"edge", panel(3, "row wire on spine { count = 2; hole = round 4; pitch = 20; inset = 3 }"),
			panel(3, "row wire on spine { count = 2; hole = round 4; pitch = 20; inset = 2.99 }"), "thin-web only 2.99 mm is left between hole 1 of wire and the edge of front"},
		{"corner", panel(3, "corners = chamfer 20; cutout eye { shape = round 10; head = 10.66; spine = 10.66 }"),
			panel(3, "corners = chamfer 20; cutout eye { shape = round 10; head = 10.65; spine = 10.65 }"), "between eye and the edge of front"},
		{"two lines", panel(3, "cutout a { shape = rect 20 by 20; spine = 30 }\ncutout b { shape = rect 20 by 20; spine = 53 }"),
			panel(3, "cutout a { shape = rect 20 by 20; spine = 30 }\ncutout b { shape = rect 20 by 20; spine = 52.99 }"), "thin-web only 2.99 mm is left between a and b of front"},
		{"narrow panel", size(3, 100, 3), size(2.99, 100, 3), "thin-web only 2.99 mm is left of front at its narrowest"},
		{"the material's own web", of("", "least-web = 5", holes(9)), of("", "least-web = 5", holes(8.99)), "thin-web only 4.99 mm"},
		// Two cutting services, "What Is Laser Kerf" and "Artwork Preparation: Laser
		// Cutting and Engraving Guide": details of 1 mm, lines 0.5 mm apart.
		{"detail", panel(0.2, holes(5)), panel(0.2, holes(4.99)), "thin-detail only 0.99 mm is left between holes 1 and 2 of wire of front, less than the 1 mm that it takes to last"},
		{"the material's own detail", of("", "least-web = 0; least-detail = 3", holes(7)), of("", "least-web = 0; least-detail = 3", holes(6.99)), "thin-detail only 2.99 mm"},
		{"a score near an edge", panel(3, "line a { from = spine; at = 0.5 }"), panel(3, "line a { from = spine; at = 0.49 }"), "thin-detail a runs 0.49 mm from the edge"},
		{"scores", panel(3, "line a { from = spine; at = 20 }\nline b { from = foredge; at = 99.5 }"),
			panel(3, "line a { from = spine; at = 20 }\nline b { from = foredge; at = 99.51 }"), "thin-detail b runs 0.49 mm from a"},
		// 16 CFR 1501.4: 1 1/4 in across, 2 1/4 in deep.
		{"small disc of board", size(58, 25, 20), size(57, 25, 19), "small-part front makes a piece of 57 mm by 25 mm"},
		{"small strip of a panel", panel(3, "line a { from = spine; at = 20; op = cut }\nline b { from = head; at = 65; op = cut }"),
			panel(3, "line a { from = spine; at = 20; op = cut }\nline b { from = head; at = 50; op = cut }"), "small-part front makes a piece of 20 mm by 50 mm"},
		// Worked out: an octagon as high as it is wide, its corners cut off by c, measures
		// sqrt(2) (40 - c) from one of these to the other: 31.75 where c is 17.55.
		{"small board with corners off", size(40, 40, 1) + "panel octagon { width = 40; height = 40; thick = 1; corners = chamfer 17.5 }",
			"panel front { width = 40; height = 40; thick = 1; corners = chamfer 17.6 }", "small-part front makes a piece of 40 mm by 40 mm"},
		// So does what four cuts leave of a corner, from there to the corner cut off, together
		// with its thickness: (80 - c)/sqrt(2) and 3 mm make 31.75 where c is 35.3.
		{"small piece with its corner off", panel(3, "corners = chamfer 35.2\nline a { from = spine; at = 40; op = cut }\nline b { from = head; at = 40; op = cut }\nline c { from = tail; at = 40; op = cut }\nline d { from = foredge; at = 40; op = cut }"),
			panel(3, "corners = chamfer 35.4\nline a { from = spine; at = 40; op = cut }\nline b { from = head; at = 40; op = cut }\nline c { from = tail; at = 40; op = cut }\nline d { from = foredge; at = 40; op = cut }"), "small-part front makes a piece of 40 mm by 40 mm"},
		// Common practice, no source: capitals of 2 mm.
		{"text", panel(3, `region a { width = 60; height = 20; engrave text "Log" { cap = 2 } }`),
			panel(3, `region a { width = 60; height = 20; engrave text "Log" { cap = 1.95 } }`), "small-text the capitals of this text are 1.95 mm high"},
		{"text made to fit", panel(3, `region a { width = 60; height = 2.6; mark text "LOG" { fit = fill } }`),
			panel(3, `region a { width = 60; height = 1.9; mark text "LOG" { fit = fill } }`), "small-text"},
		// Common practice, no source: twice the board.
		{"joint", joint(3, 6), joint(3, 5.99), "tight-joint joint is 5.99 mm wide, too narrow for boards of 3 mm"},
		// Arthur W. Johnson, "A Joint Venture", Skin Deep 15, 2003: the joint of a case is
		// one and a half times as deep as its board is thick.
		{"joint of a case", cased(3, 4.5, ""), cased(3, 4.49, ""), "tight-joint joint is 4.49 mm wide, too narrow for a case of boards of 3 mm to open freely"},
		{"joint beside a strip with posts", cased(3, 6, "; row posts on spine { count = 2; pitch = 80; hole = round 5; inset = 10 }"),
			cased(3, 5.99, "; row posts on spine { count = 2; pitch = 80; hole = round 5; inset = 10 }"), "tight-joint joint is 5.99 mm wide, too narrow for boards of 3 mm to swing right round"},
		// Worked out: round the board's corner, 3 mm high, a cut at 45 degrees must stand
		// 3 / sqrt(2) = 2.1213 mm from it.
		{"mitre", covered("turn-in = 15; mitre = 2.1214"), covered("turn-in = 15; mitre = 2.121"), "short-mitre the covering of cover is cut off 2.121 mm from its boards' corners"},
		// Common practice, no source: at least 5 mm on the inside.
		{"turn-in", covered("turn-in = 8"), covered("turn-in = 7.99"), "short-turn-in the covering of cover turns in by 7.99 mm: round the edge of a board of 3 mm that leaves 4.99 mm"},
		{"a strip as high as the case", cased(3, 7, "") + "\npanel aside { thick = 3; width = 60.01; height = 180 }",
			cased(3, 7, "") + "\npanel aside { thick = 3; width = 60; height = 180 }", "unlaid-board no case lays aside"},
		{"the right way round", strings.Replace(cased(3, 7, ""), "lay = back, joint, strip, joint, front", "lay = back, joint, front", 1),
			strings.Replace(cased(3, 7, ""), "lay = back, joint, strip, joint, front", "lay = front, joint, back", 1), "foredge-joint front and back lie with their foredges at the joint"},
		{"a strip with holes outside", strings.Replace(joint(3, 7), "width = 25;", "width = 25; row posts on spine { count = 2; pitch = 80; hole = round 5; inset = 10 };", 1),
			strings.Replace(strings.Replace(joint(3, 7), "width = 25;", "width = 25; row posts on spine { count = 2; pitch = 80; hole = round 5; inset = 10 };", 1), "lay = strip, joint, front", "lay = front, joint, strip", 1),
			"foredge-joint front lies with its foredge at the joint, and the holes of strip lie at it too"},
		{"a line beside a hole", panel(3, "cutout eye { shape = round 10; head = 20; spine = 30 }\nline a { from = spine; at = 44 }"),
			panel(3, "cutout eye { shape = round 10; head = 20; spine = 30 }\nline a { from = spine; at = 39.99 }"), "line-through a runs through eye of front"},
		{"a cut through a row", panel(3, holes(9)+"\nline a { from = head; at = 20; op = cut }"),
			panel(3, holes(9)+"\nline a { from = head; at = 90; op = cut }"), "line-through a runs through hole 2 of wire of front"},
		// Of acrylic 0.5 mm, from memory.
		{"corner of an opening", of("", "least-radius = 0.5", "cutout eye { shape = rect 20 by 10 radius 0.5 }"),
			of("", "least-radius = 0.5", "cutout eye { shape = rect 20 by 10 radius 0.49 }"), "sharp-corner the inner corners of eye have a radius of 0.49 mm, and own cracks from corners sharper than 0.5 mm"},
		{"corners of holes", of("", "least-radius = 0.5", "row wire on spine { count = 3; hole = slot 4 by 6; pitch = 9; inset = 10 }"),
			of("", "least-radius = 0.5", holes(9)), "sharp-corner the inner corners of the holes of wire have a radius of 0 mm"},
		{"corners that can't be that round", of("", "least-radius = 6", "cutout eye { shape = rect 20 by 10 radius 5 }"),
			of("", "least-radius = 6", "cutout eye { shape = rect 20 by 10 radius 4.9 }"), "sharp-corner the inner corners of eye have a radius of 4.9 mm, and own cracks from corners sharper than 6 mm"},
		// Plywood: a maker of cut wood found that 2 mm held ("Laser Cut Wood Products",
		// author unknown, undated).
		{"the material's own edge", of("", "least-edge = 2", "row wire on spine { count = 2; hole = round 4; pitch = 20; inset = 2 }"),
			of("", "least-edge = 2", "row wire on spine { count = 2; hole = round 4; pitch = 20; inset = 1.99 }"), "thin-web only 1.99 mm is left between hole 1 of wire and the edge of front, less than 2 mm"},
		// Wood Handbook, 2010, table 13-5: basswood moves by 0.33 % for each per cent of
		// moisture; 22.72 mm of it by 0.3 mm in 4 %.
		{"wood that moves", of("", "movement = 1.32 %", "row wire on spine { count = 2; hole = round 4; pitch = 22.72; inset = 10 }"),
			of("", "movement = 1.32 %", "row wire on spine { count = 2; hole = round 4; pitch = 22.8; inset = 10 }"), "wood-moves the holes of wire move by up to 0.301 mm"},
		{"wood along the row", of("grain = along height", "movement = 1.32 %", holes(30)), of("grain = along width", "movement = 1.32 %", holes(30)), "cross-grain the grain of front runs across the spine"},
		{"plywood across the spine", of("grain = along width", "movement = 0.49 %", holes(9)), of("grain = along width", "movement = 0.5 %", holes(9)), "cross-grain"},
		// A scrapbook maker's blog of December 2014, title unknown: 1/16 in, for thin board that folds one way. It is
		// enough for board half as thick.
		{"the hinge gap of a page", joint(0.79, 1.5875), joint(0.8, 1.5875), "tight-joint"},
		{"lining", fmt.Sprintf(lined, 11.99), fmt.Sprintf(lined, 12), "short-lining the lining of cover stays 12 mm inside"},
		// Common practice, no source: sides 2 mm over the cloth, the cloth on a board as
		// far as the joint is wide.
		{"overlap", inQuarter("overlap = 2"), inQuarter("overlap = 1.99"), "short-overlap the sides of cover lie only 1.99 mm over the cloth"},
		{"spine's cloth", inQuarter("spine-reach = 4"), inQuarter("spine-reach = 3.99"), "narrow-cloth the spine's cloth of cover lies on only 6.99 mm of each board, less than the 7 mm of the joint"},
		{"spine's cloth at two gaps", strings.Replace(inQuarter("quiet = two-gaps; spine-reach = 11"), "joint,", "joint, joint,", 1), strings.Replace(inQuarter("quiet = two-gaps; spine-reach = 10.99"), "joint,", "joint, joint,", 1),
			"narrow-cloth the spine's cloth of cover lies on only 13.99 mm of each board, less than the 14 mm of the joint"},
		// Grain of board and cloth runs from head to tail: Brian Sawyer, "Build Cover
		// Boards", 2006, and a bindery's "Mechanical Specifications", undated.
		{"grain", of("grain = along height", "", holes(9)), of("grain = along width", "", holes(9)), "cross-grain the grain of front runs across the spine"},
		{"grain of a pad", of("grain = along width", "", "row coil on head { count = 3; hole = round 4; pitch = 9; inset = 10 }"),
			of("grain = along height", "", "row coil on head { count = 3; hole = round 4; pitch = 9; inset = 10 }"), "cross-grain the grain of front runs across the edge at which it is bound"},
		{"grain of what isn't bound", of("grain = along width", "", ""), "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := advice(t, c.good); got != "" {
				t.Errorf("too early:\n%s%s", got, c.good)
			}
			if c.bad == "" {
				return
			}
			got := advice(t, c.bad)
			if !strings.Contains(got, c.want) || strings.Contains(got, "\n") {
				t.Fatalf("told:\n%swant %s\n%s", got, c.want, c.bad)
			}
			code := strings.Fields(got)[1]
			if got := advice(t, "laser bench { kerf = 0.2; quiet = "+code+" }\n"+c.bad); got != "" {
				t.Errorf("%s isn't silenced: %s", code, got)
			}
			for _, d := range told(t, c.bad) {
				if how := "quiet = " + code + " in the "; d.Code == diag.Code(code) && !strings.Contains(d.Help, how) {
					t.Errorf("%s doesn't say how to silence it: %s", code, d.Help)
				}
			}
		})
	}
}

// advice is the warnings of a text.
func advice(t *testing.T, text string) string {
	t.Helper()
	if !strings.Contains(text, "laser") {
		text += "\nlaser bench { kerf = 0.2 }"
	}
	return lines(told(t, text))
}

// What silences a warning stands in the panel, what it is like, its case, its
// stock or the laser, and silences nothing else.
func TestQuiet(t *testing.T) {
	const thin = "row wire on spine { count = 3; hole = rect 4 by 4; pitch = 6; inset = 10 }"
	for text, want := range map[string]bool{
		"panel front { thick = 3; width = 120; height = 180; " + thin + " }":                                                                 true,
		"panel front { thick = 3; width = 120; height = 180; quiet = thin-web; " + thin + " }":                                               false,
		"panel front { thick = 3; width = 120; height = 180; quiet = small-part, thin-web; " + thin + " }":                                   false,
		"panel front { thick = 3; width = 120; height = 180; quiet = thin-detail; " + thin + " }":                                            true,
		"panel a { thick = 3; width = 120; height = 180; quiet = thin-web; " + thin + " }\npanel b mirrors a":                                false,
		"panel a { thick = 3; width = 120; height = 180; quiet = thin-web; " + thin + " }\npanel b mirrors a { quiet = small-text }":         true,
		"stock sheet { thick = 3; quiet = thin-web }\npanel front { width = 120; height = 180; " + thin + " }":                               false,
		"panel a { thick = 3; width = 120; height = 180; " + thin + " }\ncase s { lay = a; quiet = thin-web }":                               false,
		"panel a { thick = 3; width = 120; height = 180; " + thin + " }\npanel b { thick = 1; width = 100; height = 180; quiet = thin-web }": true,
	} {
		if got := advice(t, text); strings.Contains(got, "thin-web") != want {
			t.Errorf("%s\ntold %q", text, got)
		}
	}
}

// Materials that must never be cut are refused, however they are written and
// whatever stands beside their name; who gives a reason is only warned. A name
// counts whole: nothing is meant by letters inside another word.
func TestMaterials(t *testing.T) {
	for stock, want := range map[string]string{
		"material = pvc":                                              "error never-cut pvc must not be cut by a laser: it gives off chlorine",
		`material = "PVC"`:                                            "error never-cut PVC must not be cut",
		`material = "Chrome tanned leather"`:                          "error never-cut",
		"material = imitation-leather":                                "error never-cut imitation-leather must not be cut by a laser: it gives off chlorine",
		`material = ptfe; allow = "a test, in a hood"`:                "warning allowed-material ptfe must not be cut by a laser: it gives off carbonyl fluoride and fluoroform, which are poisonous; here it is allowed because: a test, in a hood",
		`material = "PVC sheet"`:                                      "error never-cut PVC sheet must not be cut by a laser: it gives off chlorine",
		`material = "Hart-PVC"`:                                       "error never-cut Hart-PVC must not be cut",
		`material = "white/ABS"`:                                      "error never-cut white/ABS must not be cut by a laser: it gives off cyanide",
		`material = "rolls of glass fibre, thin"`:                     "error never-cut rolls of glass fibre, thin must not be cut",
		`material = "vinyl-free paper"`:                               "error never-cut vinyl-free paper must not be cut",
		`material = "absorbent card"`:                                 "warning unknown-material nobody has said what absorbent card gives off",
		`material = "fibre of glass"`:                                 "warning unknown-material",
		"material = epoxy-stone":                                      "error never-cut epoxy-stone must not be cut",
		`material = "moonstone"`:                                      "warning unknown-material nobody has said what moonstone gives off",
		`material = "birch-ply"`:                                      "warning unknown-material nobody has said what birch-ply gives off",
		"material = mute":                                             "warning unknown-material nobody has said what mute gives off",
		"material = mine":                                             "",
		"material = bad":                                              "error never-cut bad must not be cut by a laser: it bites",
		`material = bad; allow = "why not"`:                           "warning allowed-material bad must not be cut by a laser: it bites; here it is allowed because: why not",
		"material = polypropylene":                                    "warning ask-workshop ask your workshop before you cut polypropylene: one workshop's list bans it, others cut it",
		`material = "Polypropylen, 0,8"`:                              "warning ask-workshop ask your workshop before you cut Polypropylen, 0,8: one workshop's list bans it",
		`material = "carton plume"`:                                   "warning ask-workshop ask your workshop before you cut carton plume: one university's list approves it",
		`material = "PP sheet"; allow = "our workshop's list has it"`: "",
		"material = leather; quiet = ask-workshop":                    "",
		"material = asked":                                            "warning ask-workshop ask your workshop before you cut asked: nobody knows",
		"material = like-foam":                                        "warning ask-workshop ask your workshop before you cut like-foam: one university's list",
		"material = foam-board-of-mine":                               "",
		`material = "Kunstleder, braun"`:                              "error never-cut Kunstleder, braun must not be cut by a laser: it gives off chlorine",
		`material = "policarbonato"`:                                  "error never-cut policarbonato must not be cut by a laser: it soaks up the beam",
		`material = "vegetable-tanned leather"`:                       "warning unknown-material",
		`material = "adhesive film"`:                                  "error never-cut adhesive film must not be cut by a laser: its adhesive fouls the optics",
		`material = "foam board of PVC"`:                              "error never-cut",
		`material = "moonstone"; quiet = unknown-material`:            "",
		`material = "no pvc"; allow = "felt"`:                         "warning allowed-material no pvc must not be cut by a laser",
		"thick = 3":                                                   "",
	} {
		got := advice(t, `use materials
material mine { gives-off = "steam" }
material mute { kerf = 0.2 }
material epoxy-stone { gives-off = "dust" }
material bad { never = "it bites" }
material asked { ask = "nobody knows" }
material like-foam like foam-board {}
material foam-board-of-mine { gives-off = "dust" }
stock sheet { `+stock+` }
panel front { width = 120; height = 180 }`)
		if want == "" && got != "" || !strings.HasPrefix(got, want) || strings.Contains(got, "\n") {
			t.Errorf("%s: told %q, want %q", stock, got, want)
		}
	}
}
