package numeral

import (
	"math"
	"strings"
	"testing"

	"foredge/lang/unit"
)

func TestScan(t *testing.T) {
	for _, c := range []struct {
		text  string // the number begins at its |
		end   int    // without the |
		wrong string
		no    bool // nothing can be made of it
	}{
		{"|12", 2, "", false}, {"a|12b", 3, "", false}, {"|12.50 mm", 5, "", false}, {"|.5.5", 2, "", false}, {"|.", 0, "", false},
		{"|", 0, "", false}, {"|x", 0, "", false}, {"|1.5.", 3, "", false}, {"|1.5.x", 3, "", false},
		{"|5.", 2, "digits are missing after the point of 5.", false}, {"a=|5.x", 4, "digits are missing after the point of 5.", false},
		{"|1.2.3", 5, "1.2.3 has two decimal points", true}, {"|5..3", 4, "digits are missing after the point of 5.", true},
	} {
		before, after, _ := strings.Cut(c.text, "|")
		end, wrong := Scan(before+after, len(before))
		said, no := "", false
		if wrong != nil {
			said, no = wrong.Error(), wrong.Unreadable
			if wrong.Start != len(before) || wrong.End <= wrong.Start || wrong.End > end || wrong.Help() == "" {
				t.Errorf("%q: the fault stands at %d-%d, with the help %q", c.text, wrong.Start, wrong.End, wrong.Help())
			}
		}
		if end != c.end || said != c.wrong || no != c.no {
			t.Errorf("%q ends at %d: %q, %v", c.text, end, said, no)
		}
	}
}

func TestRead(t *testing.T) {
	for _, c := range []struct {
		text  string
		bare  unit.Unit
		want  Number
		rest  string
		wrong string // what it says, of which part of the text
		of    string
	}{
		{"4.10 mm", unit.Inch, Number{4.1, 0, 2}, " mm", "", ""},
		{"4 3/4 in", unit.Inch, Number{4.75, 4, 0}, " in", "", ""},
		{"4 3/4", unit.Inch, Number{4.75, 4, 0}, "", "", ""},
		{"4 \t\u00a03/4", unit.Inch, Number{4.75, 4, 0}, "", "", ""},
		{"7/16/2", unit.Inch, Number{0.4375, 16, 0}, "/2", "", ""},
		{"4 3/4 in", unit.MM, Number{4.75, 4, 0}, " in", "", ""},
		{"3/4in", unit.MM, Number{0.75, 4, 0}, "in", "", ""},
		{"3/4\t\u00a0in", unit.MM, Number{0.75, 4, 0}, "\t\u00a0in", "", ""},
		{"3/4 inches", unit.MM, Number{0.75, 4, 0}, " inches", "", ""},
		{"3/4 ells", unit.Inch, Number{0.75, 4, 0}, " ells", "", ""},
		{"297/2", unit.MM, Number{297, 0, 0}, "/2", "", ""},
		{"297/2", unit.Unit{}, Number{297, 0, 0}, "/2", "", ""},
		{"1/0", unit.MM, Number{1, 0, 0}, "/0", "", ""},
		{"12/4 mm", unit.Inch, Number{12, 0, 0}, "/4 mm", "", ""},
		{"1/4 %", unit.Inch, Number{1, 0, 0}, "/4 %", "", ""},
		{"7 3/8", unit.MM, Number{7.375, 8, 0}, "", "7 3/8 is a fraction of an inch rule, and this number is not in inches", "7 3/8"},
		{"7 3/8 mm", unit.Inch, Number{7.375, 8, 0}, " mm", "7 3/8 is a fraction of an inch rule, and this number is not in inches", "7 3/8"},
		{"7 3/0", unit.MM, Number{10, 1, 0}, "", "7 3/0 is a fraction of an inch rule, and this number is not in inches", "7 3/0"},
		{"7/16/1/2", unit.Inch, Number{0.4375, 16, 0}, "/1/2", "", ""},
		{"3-1/4", unit.Inch, Number{3, 0, 0}, "-1/4", "", ""},
		{"3\n1/4", unit.Inch, Number{3, 0, 0}, "\n1/4", "", ""},
		{"3.5 1/4", unit.Inch, Number{3.5, 0, 1}, " 1/4", "", ""},
		{"3 1/4.5", unit.Inch, Number{3, 0, 0}, " 1/4.5", "", ""},
		{"3 1.5/4", unit.Inch, Number{3, 0, 0}, " 1.5/4", "", ""},
		{"1 / 4", unit.Inch, Number{1, 0, 0}, " / 4", "", ""},
		{"1/1000000", unit.Inch, Number{1e-6, 1e6, 0}, "", "", ""},
		{"2 1/1000001 in", unit.Inch, Number{3, 1, 0}, " in", "1/1000001 is no fraction of a rule", "1/1000001"},
		{"2  1/0", unit.Inch, Number{3, 1, 0}, "", "1/0 is no fraction of a rule", "1/0"},
		{"1000000000000000", unit.Inch, Number{1e15, 0, 0}, "", "", ""},
		{"1000000000000001", unit.Inch, Number{0, 0, 0}, "", "the number 1000000000000001 is too large", "1000000000000001"},
		{"2 9000000000000000/3", unit.Inch, Number{2, 3, 0}, "", "the number 9000000000000000 is too large", "9000000000000000"},
		{strings.Repeat("9", 400), unit.Inch, Number{}, "", "the number " + strings.Repeat("9", 40) + "… is too large", strings.Repeat("9", 400)},
		{strings.Repeat("9", 40), unit.Inch, Number{}, "", "the number " + strings.Repeat("9", 40) + " is too large", strings.Repeat("9", 40)},
		{"9000000000000000 1/0", unit.Inch, Number{1, 1, 0}, "", "the number 9000000000000000 is too large", "9000000000000000"},
	} {
		text := "a=" + c.text
		n, end, wrong := Read(text, 2, c.bare)
		said, of := "", ""
		if wrong != nil {
			said, of = wrong.Error(), text[wrong.Start:wrong.End]
			if wrong.Help() == "" {
				t.Errorf("%q: nothing says what to do next", c.text)
			}
		}
		if n != c.want || text[end:] != c.rest || said != c.wrong || of != c.of {
			t.Errorf("%q is %+v, before %q; of %q it says %q", c.text, n, text[end:], of, said)
		}
	}
}

func TestValue(t *testing.T) {
	for _, c := range []struct {
		text string
		kind unit.Kind
		want float64
	}{
		{"3", unit.Count, 3}, {" 3 ", unit.Count, 3}, {"3.0", unit.Count, 3}, {"6/2", unit.Count, 3},
		{"12.5", unit.Length, 12.5}, {"4 3/4 in", unit.Length, 120.65}, {"4 3/4in", unit.Length, 120.65},
		{"9\n pt", unit.Length, 3.175}, {"30 deg", unit.Angle, 30}, {"80 %", unit.Ratio, 0.8}, {"1000000000", unit.Ratio, 1e9},
		{"1/2000000", unit.Ratio, 5e-7}, {"297/2", unit.Length, 148.5}, {"3/4in", unit.Length, 19.05},
	} {
		got, err := Value(c.text, c.kind, unit.MM)
		if err != nil || math.Abs(got-c.want) > 1e-12*c.want {
			t.Errorf("%q as %v is %v (%v), want %v", c.text, c.kind, got, err, c.want)
		}
	}
	if got, err := Value("2", unit.Length, unit.Inch); err != nil || got != 50.8 {
		t.Errorf("2 of inches are %v mm (%v)", got, err)
	}
	if got, err := Value("4 3/4", unit.Length, unit.Inch); err != nil || math.Abs(got-120.65) > 1e-12 {
		t.Errorf("4 3/4 of inches are %v mm (%v)", got, err)
	}
	if got, err := Value("2", unit.Angle, unit.Inch); err != nil || got != 2 {
		t.Errorf("2 is an angle of %v (%v)", got, err)
	}
}

// What a text that is no number is told, and with which help.
func TestValueWrong(t *testing.T) {
	const length, angle, count, ratio = "write a length, as in 12.5 mm or 4 3/4 in", "write an angle, as in 30 deg", "write a whole number, as in 2",
		"write a number, as in 0.8 or 80 %"
	for _, c := range []struct {
		text       string
		kind       unit.Kind
		want, help string
	}{
		{"", unit.Length, `"" is not a length`, length},
		{"5.", unit.Length, "digits are missing after the point of 5.", "write 5, or 5.0"},
		{"4-3/4in", unit.Length, `"4-3/4in" may be 4 3/4, or 4 less 3/4`, "write it with a blank: 4 3/4in; a spreadsheet keeps it in a column of text"},
		{"-1", unit.Length, `"-1" is not a length`, length},
		{"NaN", unit.Length, `"NaN" is not a length`, length},
		{"Inf", unit.Length, `"Inf" is not a length`, length},
		{"x", unit.Angle, `"x" is not an angle`, angle},
		{"1.2.3", unit.Length, `"1.2.3" is not a length`, length},
		{"1e3", unit.Ratio, `"1e3" is written with a power of ten`, "write the number out; a spreadsheet keeps it as it was typed in a column of text"},
		{"1E-07", unit.Length, `"1E-07" is written with a power of ten`, "write the number out; a spreadsheet keeps it as it was typed in a column of text"},
		{"1.5e+3", unit.Length, `"1.5e+3" is written with a power of ten`, "write the number out; a spreadsheet keeps it as it was typed in a column of text"},
		{"١٢", unit.Count, "\"١٢\" is written in other digits than 0 to 9", "write it in the digits 0 to 9"},
		{"4  3/4", unit.Length, `"4  3/4" is not a length`, length},
		{"4.5-3/4", unit.Length, `"4.5-3/4" is not a length`, length},
		{"5 m²", unit.Length, `"5 m²" is not a length`, length},
		{"12,5", unit.Length, `"12,5" is no number: a point, not a comma, stands before its decimals`, length},
		{"1000000001", unit.Length, `"1000000001" is too large a number`, length},
		{strings.Repeat("9", 400), unit.Length, `"` + strings.Repeat("9", 27) + `..." is too large a number`, length},
		{strings.Repeat("9", 30), unit.Length, `"` + strings.Repeat("9", 30) + `" is too large a number`, length},
		{strings.Repeat("9", 31), unit.Length, `"` + strings.Repeat("9", 27) + `..." is too large a number`, length},
		{"0/0", unit.Ratio, `"0/0" is too large a number`, ratio},
		{"1/0", unit.Ratio, `"1/0" is too large a number`, ratio},
		{"7 3/8", unit.Length, `"7 3/8" is a fraction of an inch rule, and this number is not in inches`, length},
		{"7 3/8 mm", unit.Length, `"7 3/8 mm" is a fraction of an inch rule, and this number is not in inches`, length},
		{"1 1/2", unit.Ratio, `"1 1/2" is a fraction of an inch rule, and this number is not in inches`, ratio},
		{"12/4 mm", unit.Length, `"12/4 mm" would be 12 divided by 4 mm`, length},
		{"1/4 %", unit.Ratio, `"1/4 %" would be 1 divided by 4 %`, ratio},
		{"2 1/2 ells", unit.Length, `"ells" is no unit`, length},
		{"2 ells", unit.Length, `"ells" is no unit`, length},
		{"2 inches", unit.Length, `"inches" is no unit`, length},
		{"2 mm", unit.Count, `"2 mm" is a length, and a count is wanted here`, count},
		{"2 deg", unit.Length, `"2 deg" is an angle, and a length is wanted here`, length},
		{"2.5", unit.Count, `"2.5" is no whole number`, count},
	} {
		got, err := Value(c.text, c.kind, unit.MM)
		wrong, ok := err.(*Error)
		if !ok || got != 0 || wrong.Error() != c.want || wrong.Help() != c.help {
			t.Errorf("%q as %v is %v: %v", c.text, c.kind, got, err)
		}
	}
}

func TestNoUnit(t *testing.T) {
	for _, c := range []struct {
		word    string
		adjoins bool
		help    string
	}{
		{"furlong", false, "units are mm, cm, m, in, pt, deg and %; anything else stands in a line of its own, or after ;"},
		{"mn", false, "did you mean mm?"},
		{"inches", true, "did you mean in?"},
		{"percent", false, "did you mean %?"},
		{"mm-3", false, "a minus sign needs blanks around it: 12 mm - 3"},
		{"a-3", false, "units are mm, cm, m, in, pt, deg and %; anything else stands in a line of its own, or after ;"},
		{"e3", true, "write the number out; powers of ten are not understood"},
		{"E3", true, "write the number out; powers of ten are not understood"},
		{"e3", false, "units are mm, cm, m, in, pt, deg and %; anything else stands in a line of its own, or after ;"},
		{"e", true, "units are mm, cm, m, in, pt, deg and %"},
	} {
		got := NoUnit("12", c.word, c.adjoins)
		if got.Error() != c.word+" is no unit" || got.Help() != c.help {
			t.Errorf("of %q it says %q (%q), want %q", c.word, got.Error(), got.Help(), c.help)
		}
	}
}
