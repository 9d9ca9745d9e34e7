package eval_test

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
)

// randomDesign makes a design of notebooks, panels and what stands in them, in
// one to three files. Much is left to wishes, limits and defaults. Most have no
// errors.
func randomDesign(r *rand.Rand) map[string]string {
	g := &generator{r: r}
	var shared []string
	for range g.pick(0, 1, 1, 2) {
		shared = append(shared, g.notebook())
	}
	for range r.IntN(3) {
		name := g.name()
		g.lets = append(g.lets, name)
		shared = append(shared, fmt.Sprintf("let %s = %s", name, g.num(2, 9)))
	}
	if g.chance(2) {
		name := g.name()
		g.boxes = append(g.boxes, name)
		shared = append(shared, fmt.Sprintf("region %s { width = %s; height = %s }", name, g.num(20, 30), g.num(10, 20)))
	}
	var own []string
	for range 1 + r.IntN(3) {
		own = append(own, g.panel())
		if g.chance(4) {
			name := g.name()
			own = append(own, fmt.Sprintf("let %s = %s.width / 20", name, g.panels[len(g.panels)-1]))
			g.lets = append(g.lets, name)
		}
	}
	own = append(own, g.among(own)...)
	// What is shared may stand in other files.
	files := map[string]string{}
	main := []string{"units mm"}
	for i := range r.IntN(3) {
		path := fmt.Sprintf("shared-%d.fore", i+1)
		files[path] = "units mm\n"
		main = append(main, fmt.Sprintf("use %q", path))
	}
	for _, text := range shared {
		if k := r.IntN(len(files) + 1); k > 0 {
			files[fmt.Sprintf("shared-%d.fore", k)] += text + "\n"
		} else {
			main = append(main, text)
		}
	}
	files["main.fore"] = strings.Join(append(main, own...), "\n") + "\n"
	return files
}

// A generator makes the parts of a random design.
type generator struct {
	r         *rand.Rand
	names     int
	lets      []string // lengths
	bindings  []string
	boxes     []string // templates of regions
	notebooks []book
	panels    []string
}

// A book is a notebook with the rows in it.
type book struct {
	name string
	rows []string
}

func (g *generator) chance(n int) bool { return g.r.IntN(n) == 0 }

func (g *generator) pick(of ...int) int { return of[g.r.IntN(len(of))] }

// name is one that no other thing has.
func (g *generator) name() string {
	g.names++
	birds := []string{"gull", "tern", "skua", "knot", "ruff", "smew", "rail", "crake", "coot", "teal"}
	return birds[g.names%len(birds)] + "-" + strconv.Itoa(g.names)
}

// num is a length in halves of a millimetre.
func (g *generator) num(low, high int) string {
	return strconv.FormatFloat(float64(low)+float64(g.r.IntN(2*(high-low)+1))/2, 'f', -1, 64)
}

// short is a short length: a number, a let, or both.
func (g *generator) short() string {
	if len(g.lets) > 0 && g.chance(3) {
		let := g.lets[g.r.IntN(len(g.lets))]
		switch g.r.IntN(3) {
		case 0:
			return let
		case 1:
			return "2 * " + let
		default:
			return let + " + " + g.num(1, 4)
		}
	}
	if len(g.bindings) > 0 && g.chance(4) {
		return g.bindings[g.r.IntN(len(g.bindings))] + ".outside / 2"
	}
	return g.num(2, 10)
}

func (g *generator) block(head string, lines []string) string {
	for i, l := range lines {
		lines[i] = "  " + strings.ReplaceAll(l, "\n", "\n  ")
	}
	return head + " {\n" + strings.Join(lines, "\n") + "\n}"
}

func (g *generator) notebook() string {
	b := book{name: g.name()}
	width, height := 90+g.r.IntN(60), 150+g.r.IntN(60)
	before := ""
	lines := []string{"accuracy = 0.05", fmt.Sprintf("width = %d", width), fmt.Sprintf("height = %d, %d.1", height, height), "thick = 12"}
	for _, edge := range []string{"spine", "head"}[:g.pick(0, 1, 1, 2)] {
		row := g.name()
		b.rows = append(b.rows, row)
		count := 4 + g.r.IntN(6)
		row = "row " + row + " on " + edge
		parts := []string{fmt.Sprintf("count = %d", count), "hole = rect 4 by 4.1", "inset = 4.5", "web = 5.02", "first = 6"}
		if g.chance(2) {
			parts = append(parts, "pitch = 9")
		}
		if g.chance(3) { // bound by what rests on the notebook
			let, binding := g.name(), g.name()
			before += fmt.Sprintf("let %s = %s.thick / 4\nbinding %s { ring = %s + %s; wire = 1 }\n", let, b.name, binding, let, g.num(6, 10))
			parts = append(parts, "binding = "+binding)
			g.lets, g.bindings = append(g.lets, let), append(g.bindings, binding)
		}
		lines = append(lines, g.block(row, parts))
	}
	g.notebooks = append(g.notebooks, b)
	return before + g.block("notebook "+b.name, lines)
}

// panel makes a panel that covers a notebook or has sizes of its own.
func (g *generator) panel() string {
	name := g.name()
	head, lines := "panel "+name, []string(nil)
	rows := []string{}
	if len(g.notebooks) > 0 && g.chance(2) {
		b := g.notebooks[g.r.IntN(len(g.notebooks))]
		head += " covers " + b.name
		lines = append(lines, g.overhangs(b)...)
		for _, row := range b.rows {
			if g.chance(3) {
				lines = append(lines, fmt.Sprintf("row %s { ease = %s }", row, g.num(0, 1)))
			}
		}
	} else {
		lines = append(lines, g.sizes()...)
	}
	var boxes []string
	if g.chance(4) {
		lines = append(lines, "thick = 3")
		if g.chance(2) {
			fold := g.name()
			lines = append(lines, g.lattice(fold))
			boxes = append(boxes, fold)
		}
	}
	for range g.pick(1, 2, 2, 3) {
		box := g.name()
		lines = append(lines, g.box(box, boxes, rows))
		boxes = append(boxes, box)
	}
	for range g.pick(0, 1, 1, 2) {
		row := g.name()
		lines = append(lines, g.row(row, boxes))
		rows = append(rows, row)
	}
	if len(boxes) > 1 && g.chance(3) {
		i := 1 + g.r.IntN(len(boxes)-1)
		lines = append(lines, g.tie(boxes[i-1], boxes[i]))
	}
	if g.chance(5) {
		line := g.name()
		at := g.num(10, 30)
		if g.chance(2) {
			at = boxes[0] + ".spine"
		}
		lines = append(lines, fmt.Sprintf("line %s { from = spine; at = %s; op = score }", line, at))
	}
	g.panels = append(g.panels, name)
	return g.block(head, lines)
}

// overhangs are lines of a panel that covers a notebook.
func (g *generator) overhangs(b book) []string {
	var lines []string
	if g.chance(2) {
		lines = append(lines, "ease = "+g.num(0, 1))
	}
	switch g.r.IntN(6) {
	case 0:
		lines = append(lines, fmt.Sprintf("height = %s.height + %s", b.name, g.num(2, 8)))
	case 1:
		lines = append(lines, fmt.Sprintf("height >= %s.height + %s", b.name, g.num(2, 8)))
	case 2:
		lines = append(lines, "over-head = "+g.short(), "over-tail >= over-head")
	case 3:
		lines = append(lines, fmt.Sprintf("prefer over-head = %s", g.num(1, 5)), fmt.Sprintf("prefer over-head + over-tail = %s weight 2", g.num(2, 8)))
	}
	switch g.r.IntN(4) {
	case 0:
		lines = append(lines, fmt.Sprintf("width = %s.width + %s", b.name, g.num(2, 8)))
	case 1:
		lines = append(lines, "over-foredge = "+g.short())
	}
	return lines
}

// sizes are lines for a panel's width and height.
func (g *generator) sizes() []string {
	side := func(name string, low, high int) string {
		other := ""
		if len(g.panels) > 0 {
			other = g.panels[g.r.IntN(len(g.panels))]
		}
		switch k := g.r.IntN(8); {
		case k == 0 && other != "":
			return fmt.Sprintf("%s = %s.%s", name, other, name)
		case k == 1 && other != "":
			return fmt.Sprintf("%s = %s.%s + %s", name, other, name, g.num(0, 10))
		case k == 2:
			return fmt.Sprintf("prefer %s = %s\n%s <= %s", name, g.num(low, high), name, g.num(low, high))
		case k == 3 && g.chance(5):
			return fmt.Sprintf("%s >= %s", name, g.num(low, high)) // and so left open
		}
		return fmt.Sprintf("%s = %s", name, g.num(low, high))
	}
	return []string{side("width", 100, 150), side("height", 150, 210)}
}

// box makes a region or a cutout, perhaps placed by another.
func (g *generator) box(name string, others, rows []string) string {
	kind, like := "region", ""
	var lines []string
	switch {
	case g.chance(4):
		kind = "cutout"
		lines = append(lines, fmt.Sprintf("shape = rect %s by %s", g.num(8, 25), g.num(8, 25)))
	case len(g.boxes) > 0 && g.chance(4):
		like = " like " + g.boxes[g.r.IntN(len(g.boxes))]
	}
	other := ""
	if len(others) > 0 && g.chance(2) {
		other = others[g.r.IntN(len(others))]
	}
	sized := kind == "cutout" || like != ""
	for _, axis := range []struct {
		near, size, far string
		low, high       int
	}{{"head", "height", "tail", 10, 40}, {"spine", "width", "foredge", 20, 50}} {
		size := fmt.Sprintf("%s = %s", axis.size, g.num(axis.low, axis.high))
		if sized {
			size = ""
		}
		place := ""
		switch g.r.IntN(12) {
		case 0:
			place = fmt.Sprintf("%s = %s", axis.near, g.short())
		case 1:
			place = fmt.Sprintf("%s = %s", axis.far, g.short())
		case 2:
			place = fmt.Sprintf("%s >= %s", axis.near, g.num(5, 70))
		case 3:
			place = fmt.Sprintf("prefer %s = %s", axis.near, g.num(5, 40))
		case 4:
			place = fmt.Sprintf("%s = 2 * %s", axis.near, axis.far)
		case 5:
			place = fmt.Sprintf("prefer %s = %s weight 3\nprefer %s = %s", axis.near, g.num(5, 40), axis.far, g.num(5, 40))
		case 6:
			if !sized { // as far as its distances leave
				size, place = "", fmt.Sprintf("%s = %s", axis.near, g.num(5, 20))
			}
		case 7, 8:
			if other != "" {
				place = fmt.Sprintf("%s = %s.%s + %s.%s + %s", axis.near, other, axis.near, other, axis.size, g.num(1, 6))
			}
		case 9:
			if other != "" {
				place = fmt.Sprintf("%s >= %s.%s + %s", axis.near, other, axis.near, g.num(1, 30))
			}
		}
		for _, l := range []string{size, place} {
			if l != "" {
				lines = append(lines, l)
			}
		}
	}
	return g.block(kind+" "+name+like, lines)
}

// lattice makes a field of slots, which runs from head to tail where nothing
// else is said.
func (g *generator) lattice(name string) string {
	lines := []string{"turn = " + strconv.Itoa(g.pick(60, 90, 180)) + " deg"}
	switch g.r.IntN(3) {
	case 0:
		lines = append(lines, "radius = "+g.num(8, 14))
	case 1:
		lines = append(lines, "radius >= "+g.num(8, 14))
	case 2:
		lines = append(lines, "clearance = 0.5")
	}
	switch g.r.IntN(5) {
	case 0:
		lines = append(lines, "spine = "+g.num(10, 40))
	case 1:
		lines = append(lines, "height = "+g.num(60, 120))
	case 2:
		lines = append(lines, "head = "+g.num(5, 20))
	case 3:
		lines = append(lines, "rows = 4", "link = 11")
	}
	return g.block("lattice "+name, lines)
}

// tie is a line about two boxes that stands in neither.
func (g *generator) tie(a, b string) string {
	switch g.r.IntN(4) {
	case 0:
		return fmt.Sprintf("%s.head = %s.head + %s", b, a, g.num(1, 20))
	case 1:
		return fmt.Sprintf("%s.spine = %s.spine", b, a)
	case 2:
		return fmt.Sprintf("%s.head >= %s.head + %s.height", b, a, a)
	}
	return fmt.Sprintf("prefer %s.spine = %s.spine + %s", b, a, g.num(1, 20))
}

// row makes a row of holes, of which much may be left open.
func (g *generator) row(name string, boxes []string) string {
	edge := []string{"spine", "foredge", "head", "tail"}[g.r.IntN(4)]
	lines := []string{"inset = " + g.num(4, 7)}
	if g.chance(3) {
		lines = append(lines, "hole = rect 4 by 5 radius 1")
	} else {
		lines = append(lines, "hole = round "+g.num(3, 5))
	}
	count := strconv.Itoa(4 + g.r.IntN(6))
	switch g.r.IntN(9) {
	case 0:
		lines = append(lines, "count = "+count, "pitch = "+g.num(7, 10))
	case 1:
		lines = append(lines, "count = most", "pitch = "+g.num(7, 10), "first >= 5", "last >= 5")
	case 2:
		lines = append(lines, "pitch = "+g.num(7, 10), "prefer first = 5", "last = "+g.num(4, 9))
	case 3:
		lines = append(lines, "pitch = "+g.num(7, 10), "first = "+g.num(4, 9))
	case 4:
		lines = append(lines, "count = "+count, "web = "+g.num(3, 7), "prefer first = "+g.num(5, 30))
	case 5:
		lines = append(lines, "gaps = 9, 9, 20, 9, 9")
	case 6:
		lines = append(lines, "count = "+count, "first = "+g.num(5, 9))
	case 7:
		lines = append(lines, "count = "+count, "pitch = "+g.num(7, 10), "first = "+boxes[0]+".head")
	case 8:
		lines = append(lines, "prefer pitch = "+g.num(7, 10)+" weight 4", "prefer first = 5", "last = 5")
	}
	return g.block("row "+name+" on "+edge, lines)
}

// among are lines and things about several panels.
func (g *generator) among(own []string) []string {
	if len(g.panels) < 2 {
		return nil
	}
	var lines []string
	a, b := g.panels[0], g.panels[1]
	switch g.r.IntN(4) {
	case 0:
		lines = append(lines, fmt.Sprintf("%s.height <= %s.height + 60", a, b))
	case 1:
		lines = append(lines, fmt.Sprintf("prefer %s.width = %s.width", a, b))
	case 2:
		gap, casing := g.name(), g.name()
		lines = append(lines, fmt.Sprintf("gap %s { width = %s }", gap, g.num(5, 8)),
			fmt.Sprintf("case %s { lay = %s, %s, %s; turn-in = 15 }", casing, a, gap, a+"-like"),
			fmt.Sprintf("panel %s-like like %s", a, a))
	}
	return lines
}
