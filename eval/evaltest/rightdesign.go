package evaltest

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
)

// A worker measures books whose true sizes are known, and writes right designs of
// covers for them. All lengths are in millimetres; text is in the worker's unit.
type worker struct {
	r    *rand.Rand
	unit float64 // 1, or 25.4 for a worker in inches
	// half is what the caliper promises, plus or minus; step is its resolution,
	// 0 where it isn't stated.
	half, step float64
	law        Law
}

// A Law is how a tool's errors lie within what it promises.
type Law int

const (
	// SharedNormal: all repeats of a line are off by the same, of the standard
	// deviation g/√3 by which the language takes a promise, and scatter by less.
	SharedNormal Law = iota
	// OwnNormal: each repeat is off by itself, of that standard deviation.
	OwnNormal
	// Bounded: each repeat is off by itself, evenly between plus and minus g.
	Bounded
	Laws int = iota // how many there are
)

func (e Law) String() string {
	return [...]string{"normal, shared by repeats", "normal, each its own", "bounded"}[e]
}

// RightDesign writes a random design without a mistake: a notebook as it was
// measured, with one cover or two.
func RightDesign(r *rand.Rand, law Law) string {
	w := &worker{r: r, unit: 1, law: law, half: []float64{0.02, 0.03, 0.05, 0.1}[r.IntN(4)]}
	if r.IntN(4) == 0 {
		w.unit, w.half = 25.4, 25.4*[]float64{0.001, 0.002, 0.003}[r.IntN(3)]
	}
	if r.IntN(2) == 0 {
		w.step = 0.01
		if w.unit > 1 {
			w.step = 25.4 * 0.0005
		}
	}
	head := "foredge 1\nunits mm\n"
	if w.unit > 1 {
		head = "foredge 1\nunits in\n"
	}
	width, height := w.size()
	return head + w.book(width, height)
}

func (w *worker) chance(n int) bool { return w.r.IntN(n) == 0 }

func (w *worker) between(low, high float64) float64 { return low + (high-low)*w.r.Float64() }

// size is that of a book: usual sheets, narrow and long ones, square ones.
func (w *worker) size() (width, height float64) {
	switch w.r.IntN(5) {
	case 0:
		return w.between(60, 110), w.between(150, 230)
	case 1:
		return w.between(180, 300), w.between(100, 220)
	case 2:
		s := w.between(90, 240)
		return s + w.between(-2, 2), s + w.between(-2, 2)
	}
	width = w.between(90, 215)
	return width, width * w.between(1.3, 1.5)
}

// num writes a length that is stated, not measured.
func (w *worker) num(mm float64) string { return w.plain(mm, 0.1, 0.01) }

// plain writes a length in steps of so many mm, or inches where the worker uses those.
func (w *worker) plain(mm, metric, imperial float64) string {
	step := metric
	if w.unit > 1 {
		step = imperial
	}
	return written(math.Round(mm/w.unit/step) * step)
}

// written has no more digits than it needs.
func written(v float64) string {
	return strings.TrimRight(strings.TrimRight(strconv.FormatFloat(v, 'f', 5, 64), "0"), ".")
}

// read is what the caliper shows of a length once.
func (w *worker) read(mm, shared float64) string {
	off := shared
	switch w.law {
	case SharedNormal:
		off += w.half / 10 * w.r.NormFloat64()
	case OwnNormal:
		off = w.half / math.Sqrt(3) * w.r.NormFloat64()
	case Bounded:
		off = w.half * w.between(-1, 1)
	}
	step := w.step
	if step == 0 {
		step = w.half / 20 // finer than what it promises
	}
	return written(math.Round((mm+off)/step) * step / w.unit)
}

// shared is by how much the tool is off at one thing.
func (w *worker) shared() float64 { return w.half / math.Sqrt(3) * w.r.NormFloat64() }

// once is a reading without repeats.
func (w *worker) once(mm float64) string { return w.read(mm, w.shared()) }

// reading is a line of one to four repeats.
func (w *worker) reading(name string, mm float64) string {
	n := []int{1, 1, 1, 1, 2, 3, 3, 4}[w.r.IntN(8)]
	shared := w.shared()
	all := make([]string, n)
	for i := range all {
		all[i] = w.read(mm, shared)
	}
	return name + " = " + strings.Join(all, ", ")
}

// ruled is a reading with a rule, which is off by half a division at the most.
func (w *worker) ruled(name string, mm float64) string {
	if w.unit > 1 {
		if sixteenths := int(math.Round(mm / 25.4 * 16)); sixteenths%16 != 0 {
			return fmt.Sprintf("%s = %d %d/16", name, sixteenths/16, sixteenths%16)
		}
		return w.reading(name, mm)
	}
	return fmt.Sprintf("%s = %.1f ± 0.5", name, math.Round(mm*2)/2)
}

func (w *worker) block(head string, lines []string) string {
	for i, l := range lines {
		lines[i] = "  " + strings.ReplaceAll(l, "\n", "\n  ")
	}
	return head + " {\n" + strings.Join(lines, "\n") + "\n}"
}

// book is a notebook and the panels that cover it.
func (w *worker) book(width, height float64) string {
	lines := []string{"accuracy = " + written(w.half/w.unit)}
	if w.step > 0 {
		lines = append(lines, "resolution = "+written(w.step/w.unit))
	}
	for _, size := range []struct {
		name string
		mm   float64
	}{{"width", width}, {"height", height}} {
		if w.chance(8) {
			lines = append(lines, w.ruled(size.name, size.mm))
		} else {
			lines = append(lines, w.reading(size.name, size.mm))
		}
	}
	if w.chance(2) {
		lines = append(lines, w.reading("thick", w.between(2, 25)))
	}
	edge, length := "spine", height
	if w.chance(4) {
		edge, length = "head", width
	}
	lines = append(lines, w.block("row holes on "+edge, w.row(length)))
	text := w.block("notebook book", lines) + "\n"
	if w.chance(4) { // a sheet that was measured, which is a bench of its own
		thick := w.between(2, 4)
		text = "use materials\n" + text + w.block("stock board", []string{"material = birch-ply", lines[0], w.reading("thick", thick) + ", " + w.once(thick)}) + "\n"
	}
	text += w.block("panel front covers book", w.cover(width, height)) + "\n"
	if w.chance(2) {
		text += "panel back mirrors front\n"
	}
	return text
}

// row is a row of a notebook along an edge, in readings of which some check others.
func (w *worker) row(length float64) []string {
	along := w.between(3, 6)
	across := w.between(3, 6)
	form := w.r.IntN(3)
	if form == 1 {
		across = along
	}
	pitch := along + w.between(3.5, 8)
	first, last := w.between(4, 20), w.between(4, 20)
	count := int((length-first-last-along)/pitch) + 1
	switch w.r.IntN(5) {
	case 0: // two rings or posts
		count = 2
	case 1:
		count = 3
	}
	run := pitch * float64(count-1)
	if count <= 3 {
		run = length * w.between(0.4, 0.6)
		pitch = run / float64(count-1)
	}
	last = length - first - along - run
	sides := fmt.Sprintf("hole = rect %s by %s", w.once(along), w.once(across))
	switch form {
	case 1:
		sides = "hole = round " + w.once(along)
	case 2:
		sides = strings.Replace(sides, "rect", "slot", 1)
	}
	lines := []string{fmt.Sprintf("count = %d", count), sides, w.reading("inset", w.between(4, 9))}
	if count < 12 && w.chance(4) {
		return append(lines, w.gaps(pitch, count), w.reading("first", first))
	}
	lines = append(lines, w.reading("first", first))
	if count > 3 && w.chance(4) {
		lines = append(lines, w.reading("10 * pitch", 10*pitch))
	} else {
		lines = append(lines, w.reading("pitch", pitch))
	}
	for _, more := range []struct {
		name string
		mm   float64
	}{{"last", last}, {"run", run}, {"web", pitch - along}} {
		if w.chance(2) {
			lines = append(lines, w.reading(more.name, more.mm))
		}
	}
	return lines
}

func (w *worker) gaps(pitch float64, count int) string {
	all := make([]string, count-1)
	for i := range all {
		all[i] = w.once(pitch)
	}
	return "gaps = " + strings.Join(all, ", ")
}

// cover is what stands in a panel: overhangs, ease, and things on the board.
func (w *worker) cover(width, height float64) []string {
	var lines []string
	if w.chance(2) {
		lines = append(lines, "ease = "+w.plain(w.between(0.1, 0.6), 0.05, 0.005))
	}
	over := map[string]float64{}
	for _, edge := range []string{"head", "tail", "spine", "foredge"} {
		if w.chance(3) {
			over[edge] = w.between(0.5, 5)
			lines = append(lines, "over-"+edge+" = "+w.num(over[edge]))
		}
	}
	if w.chance(4) && over["foredge"] == 0 {
		lines = append(lines, "width = book.width + "+w.num(over["spine"]+w.between(1, 4)))
	}
	if w.chance(6) && over["head"]+over["tail"] == 0 {
		lines = append(lines, "height >= "+w.num(height+w.between(1, 4)))
	}
	if w.chance(6) {
		lines = append(lines, "prefer height = "+w.num(height+w.between(0, 4)))
	}
	if w.chance(2) {
		lines = append(lines, fmt.Sprintf("region title { head = %s; height = %s; spine = %s; width = %s }",
			w.num(height*w.between(0.1, 0.4)), w.num(height*w.between(0.05, 0.4)), w.num(width*w.between(0.2, 0.3)), w.num(width*w.between(0.15, 0.3))))
	}
	if w.chance(3) {
		d := w.between(6, 12)
		place := "foredge = " + w.num(w.between(4, 12))
		if w.chance(2) {
			place = "open = foredge; foredge = 0"
		}
		lines = append(lines, fmt.Sprintf("cutout thumb { shape = slot %s by %s; %s; head = tail }", w.num(d), w.num(d+w.between(4, 20)), place))
	}
	if w.chance(4) {
		lines = append(lines, "row cords on foredge { count = 2; hole = round "+w.num(w.between(4, 8))+"; inset = "+w.num(w.between(6, 9))+"; pitch = "+w.num(height*w.between(0.5, 0.7))+" }")
	}
	return lines
}
