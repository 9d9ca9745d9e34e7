package driver_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// A slipKind is a mistake that is made at the bench or the keyboard: a rule that
// rewrites a right text, with the places where it can.
type slipKind struct {
	name   string
	what   string // as the table of DEVELOPERS.md says it
	places func(text string) []slip
}

// slipKinds lists them all.
func slipKinds() []slipKind {
	return slices.Concat(slipsOfDigits(), slipsOfNumbers(), slipsOfUnits(), slipsOfTheCaliper(), slipsOfCounting(), slipsOfNames(), slipsOfEdges(), slipsOfSizes(), slipsOfLines(), slipsOfSigns(), slipsOfWords())
}

func slipsOfDigits() []slipKind {
	return []slipKind{
		{"digits-swapped", "two digits of a number change places", inNumbers(nil, func(f figure) []slip {
			var all []slip
			for i := 1; i < len(f.was); i++ {
				if a, b := f.was[i-1], f.was[i]; a != b && a != '.' && b != '.' && (i > 1 || b != '0') {
					all = append(all, f.to(f.was[:i-1]+string(b)+string(a)+f.was[i+1:]))
				}
			}
			return all
		})},
		{"digit-dropped", "a digit of a number is left out", inNumbers(nil, func(f figure) []slip {
			var all []slip
			for i := range f.was {
				with := f.was[:i] + f.was[i+1:]
				if f.was[i] != '.' && len(with) > 0 && with[0] != '.' && with[len(with)-1] != '.' && with != "0" {
					all = append(all, f.to(with))
				}
			}
			return all
		})},
		{"digit-doubled", "a digit is typed twice", inNumbers(nil, func(f figure) []slip {
			var all []slip
			for i := range f.was {
				if f.was[i] != '.' {
					all = append(all, f.to(f.was[:i+1]+f.was[i:]))
				}
			}
			return all
		})},
		{"digit-mistyped", "the key beside a digit is hit", inNumbers(nil, func(f figure) []slip {
			var all []slip
			for i, d := range []byte(f.was) {
				if d != '.' && d != '9' {
					all = append(all, f.to(f.was[:i]+string(d+1)+f.was[i+1:]))
				}
			}
			return all
		})},
		{"digit-misread", "a handwritten 7 is taken for a 1, an 8 for a 3, a 9 for a 6", inNumbers(nil, func(f figure) []slip {
			var all []slip
			for i, d := range []byte(f.was) {
				if other := strings.IndexByte("173896", d); other >= 0 {
					all = append(all, f.to(f.was[:i]+string("173896"[other^1])+f.was[i+1:]))
				}
			}
			return all
		})},
	}
}

func slipsOfNumbers() []slipKind {
	return []slipKind{
		{"point-moved", "the point stands one digit off", inNumbers(nil, func(f figure) []slip {
			i := strings.IndexByte(f.was, '.')
			if i < 0 || i+2 > len(f.was) {
				return nil
			}
			with := strings.TrimLeft(f.was[:i]+f.was[i+1:i+2]+"."+f.was[i+2:], "0")
			return []slip{f.to(strings.TrimSuffix("0"[:b2i(with[0] == '.')]+with, "."))}
		})},
		{"point-dropped", "the point is left out", inNumbers(nil, func(f figure) []slip {
			if with := strings.TrimLeft(strings.Replace(f.was, ".", "", 1), "0"); strings.Contains(f.was, ".") && with != "" {
				return []slip{f.to(with)}
			}
			return nil
		})},
		{"comma-for-point", "a decimal comma", inNumbers(nil, func(f figure) []slip {
			if strings.Contains(f.was, ".") {
				return []slip{f.to(strings.Replace(f.was, ".", ",", 1))}
			}
			return nil
		})},
		{"minus-typed", "a hyphen before a number", inNumbers(nil, func(f figure) []slip {
			if f.at == f.of.valueAt {
				return []slip{f.to("-" + f.was)}
			}
			return nil
		})},
		{"repeat-mistyped", "a digit of one of several repeats is another", inLines(repeats, func(s stated) []slip {
			var all []slip
			for _, f := range s.figures() {
				for i, d := range []byte(f.was) {
					if d != '.' && d != '9' {
						all = append(all, f.to(f.was[:i]+string(d+1)+f.was[i+1:]))
					}
				}
			}
			return all
		})},
		{"repeat-of-another", "one of several repeats is that of another line", inLines(repeats, func(s stated) []slip {
			var all []slip
			for _, l := range lines(s.text) {
				if f := l.figures(); l.block == s.block && l.at != s.at && l.measured() && len(f) > 0 && !l.is("count") && f[0].was != s.figures()[0].was {
					all = append(all, s.figures()[0].to(f[0].was))
				}
			}
			return all
		})},
	}
}

// repeats says that a line holds several readings of one thing.
func repeats(s stated) bool {
	return s.measured() && !s.is("gaps") && strings.Contains(s.value, ",")
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

func slipsOfUnits() []slipKind {
	inches := func(text string) bool { return strings.Contains(text, "units in") }
	times := func(k float64, inInches bool) func(string) []slip {
		return inNumbers(func(s stated) bool { return inches(s.text) == inInches && !s.is("count") }, func(f figure) []slip {
			if strings.Contains(f.of.value, "/") || !f.of.measured() && !f.of.in("panel", "region", "cutout", "gap") || f.value() < 1.5*math.Min(1, k) {
				return nil
			}
			return []slip{f.to(strconv.FormatFloat(f.value()*k, 'g', 4, 64))}
		})
	}
	other := func(found string) []string {
		if strings.Contains(found, "in") {
			return []string{"units mm"}
		}
		return []string{"units in"}
	}
	return []slipKind{
		{"number-in-cm", "a number is in centimetres", times(0.1, false)},
		{"number-in-inches", "a number is in inches in a file in millimetres", times(1/25.4, false)},
		{"number-in-mm", "a number is in millimetres in a file in inches", times(25.4, true)},
		{"unit-typed", "a number in millimetres gets `cm` behind it, one in inches `mm`", inNumbers(nil, func(f figure) []slip {
			switch {
			case f.of.is("count", "10 * pitch") || strings.Contains(f.of.value, "/") || f.of.in("field"):
				return nil
			case inches(f.of.text):
				return []slip{f.to(f.was + " mm")}
			}
			return []slip{f.to(f.was + " cm")}
		})},
		{"units-of-the-file", "`units` says the other unit", whereFound(`units (?:mm|in)`, other)},
		{"units-forgotten", "the line is left out that says inches", whereFound(`units in\n`, always(""))},
		{"fraction-misread", "a fraction of a rule is read two divisions off", whereFound(`\b(\d+)/(?:8|16|32|64)\b`, func(found string) []string {
			n, _ := strconv.Atoi(found)
			return []string{strconv.Itoa(n + 2)}
		})},
		{"fraction-hyphen", "a hyphen joins the inches and their fraction", whereFound(`\d( )\d+/\d`, always("-"))},
		{"fraction-upside-down", "numerator and denominator are changed", whereFound(`\b\d+/\d+\b`, func(found string) []string {
			a, b, _ := strings.Cut(found, "/")
			return []string{b + "/" + a}
		})},
	}
}

func slipsOfTheCaliper() []slipKind {
	measured := func(names ...string) func(stated) bool {
		return func(s stated) bool { return s.measured() && s.is(names...) }
	}
	// by is a reading that is off by some of the sizes of the hole.
	by := func(of func(stated) bool, off func(name string, along, across float64) float64) func(string) []slip {
		return inNumbers(of, func(f figure) []slip {
			along, across, ok := f.of.hole()
			if !ok || f.value()+off(f.of.name, along, across) <= 0 {
				return nil
			}
			return []slip{f.shifted(f.value() + off(f.of.name, along, across))}
		})
	}
	hole := func(name string, along, across float64) float64 {
		if name == "inset" {
			return across
		}
		return along
	}
	return []slipKind{
		{"far-side", "a distance is taken to the far side of a hole", by(measured("first", "last", "inset"), hole)},
		{"to-the-middle", "a distance is taken to the middle of a hole", by(measured("first", "last", "inset"), func(n string, a, b float64) float64 { return hole(n, a, b) / 2 })},
		{"run-outside", "the run is taken from outside to outside of the end holes", by(measured("run"), hole)},
		{"run-inside", "the run is taken from inside to inside of the end holes", by(measured("run"), func(_ string, a, _ float64) float64 { return -a })},
		{"pitch-for-web", "the pitch is given as the web", by(measured("web"), hole)},
		{"web-for-pitch", "the web is given as the pitch", by(measured("pitch"), func(_ string, a, _ float64) float64 { return -a })},
		{"hole-for-web", "the hole is given as the web", inNumbers(measured("web"), func(f figure) []slip {
			along, _, _ := f.of.hole()
			return []slip{f.shifted(along)}
		})},
		{"along-for-across", "the sizes of a hole or cutout change places", whereFound(`(?:rect|slot) ([\d. /]+? by [\d. /]*\d)`, func(found string) []string {
			a, b, _ := strings.Cut(found, " by ")
			return []string{b + " by " + a}
		})},
		{"radius-for-diameter", "the radius of a round hole is given", whereFound(`round ([\d.]+)\b`, func(found string) []string {
			v, _ := strconv.ParseFloat(found, 64)
			return []string{strconv.FormatFloat(v/2, 'f', -1, 64)}
		})},
		{"outside-for-inside", "the outside of a ring is given as its inside", inLines(func(s stated) bool { return s.in("binding") && s.is("ring") }, func(s stated) []slip {
			if t, ok := s.sibling("outside"); ok {
				return []slip{{{s.valueAt, s.end, t.value}}}
			}
			return nil
		})},
		{"jaws-not-added", "the width of the inside jaws, 10 mm, is not added", inNumbers(measured("width", "height", "run", "first", "last"), func(f figure) []slip {
			jaws := 10.0
			if strings.Contains(f.of.text, "units in") {
				jaws /= 25.4
			}
			if f.value() < 1.2*jaws || strings.Contains(f.of.value, "/") {
				return nil
			}
			return []slip{f.shifted(f.value() - jaws)}
		})},
		{"zero-not-set", "the caliper stands at 0.5 mm when it is closed", inNumbers(measured("width", "height", "run", "first", "last", "inset", "web", "hole", "pitch"), func(f figure) []slip {
			switch {
			case strings.Contains(f.of.value, "/"):
				return nil
			case strings.Contains(f.of.text, "units in"):
				return []slip{f.shifted(f.value() + 0.02)}
			}
			return []slip{f.to(strconv.FormatFloat(f.value()+0.5, 'f', -1, 64))}
		})},
		{"leaves-pressed", "a reading of the thickness or of a size is taken with the leaves pressed, 4 % less", inNumbers(measured("thick", "width", "height"), func(f figure) []slip {
			if strings.Contains(f.of.value, "/") {
				return nil
			}
			return []slip{f.shifted(0.96 * f.value())}
		})},
	}
}

func slipsOfCounting() []slipKind {
	count := func(by int) func(string) []slip {
		return inNumbers(func(s stated) bool { return s.is("count", "across", "down") }, func(f figure) []slip {
			return []slip{f.to(strconv.Itoa(int(f.value()) + by))}
		})
	}
	return []slipKind{
		{"count-one-too-many", "one more is counted than there is", count(1)},
		{"count-one-too-few", "one less is counted, or the gaps in place of the holes", count(-1)},
		{"gap-left-out", "a gap of a list is left out", whereFound(`gaps = [\d.]+(, [\d.]+)`, always(""))},
		{"gap-twice", "a gap of a list stands there twice", whereFound(`gaps = ([\d.]+, )`, func(found string) []string { return []string{found + found} })},
		{"gaps-in-another-order", "two gaps of a list change places", whereFound(`gaps = .*, ([\d.]+, [\d.]+), `, func(found string) []string {
			if a, b, _ := strings.Cut(found, ", "); a != b {
				return []string{b + ", " + a}
			}
			return nil
		})},
		{"piece-left-out", "a gap or board is left out of a case", whereFound(`lay = [\w-]+(, [\w-]+)`, always(""))},
		{"piece-twice", "a gap or board stands twice in a case", whereFound(`lay = [\w-]+(, [\w-]+)`, func(found string) []string { return []string{found + found} })},
		{"each-side", "what is meant in all is given twice, as for each side", inNumbers(func(s stated) bool { return s.is("ease", "kerf") }, func(f figure) []slip {
			return []slip{f.to(strconv.FormatFloat(2*f.value(), 'f', -1, 64))}
		})},
	}
}
