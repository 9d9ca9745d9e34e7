package data

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"foredge/lang/foretest"
	"foredge/lang/source"
)

func TestNumber(t *testing.T) {
	for _, c := range []struct {
		x    float64
		want string
	}{
		{0, "0"}, {math.Copysign(0, -1), "0"}, {-1e-12, "0"}, {1e-12, "0"}, {-4e-10, "0"}, {6e-10, "0.000000001"}, {-6e-10, "-0.000000001"},
		{0.1 + 0.2, "0.3"}, {3, "3"}, {-3.25, "-3.25"}, {148.20000000000002, "148.2"}, {1.0 / 3, "0.333333333"}, {2.0 / 3, "0.666666667"},
		{100, "100"}, {1234567.125, "1234567.125"}, {99999999999, "99999999999"}, {1e20, "100000000000000000000"}, {1e21, "1e+21"},
		{1e22, "1e+22"}, {-math.MaxFloat64, "-1.7976931348623157e+308"},
		{math.NaN(), "null"}, {math.Inf(1), "null"}, {math.Inf(-1), "null"},
	} {
		got, err := json.Marshal(Number(c.x))
		if err != nil || string(got) != c.want {
			t.Errorf("%g is written as %s (%v), want %s", c.x, got, err, c.want)
		}
	}
}

// Whatever the number, it comes back within 1e-9, or as near as a number of its
// size can.
func TestNumbersComeBack(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	for range foretest.Sample(100_000, 2_000) {
		x := (r.Float64() - 0.5) * math.Pow(10, 30*r.Float64()-12)
		text, err := json.Marshal(Number(x))
		foretest.Must(t, err)
		var back float64
		foretest.Must(t, json.Unmarshal(text, &back))
		if math.Abs(back-x) > 0.5e-9+math.Abs(x)*1e-15 {
			t.Fatalf("%v is written as %s", x, text)
		}
		if _, rest, _ := strings.Cut(string(text), "."); len(rest) > decimals && !strings.Contains(rest, "e") {
			t.Fatalf("%v is written as %s", x, text)
		}
	}
}

func TestWrite(t *testing.T) {
	src := source.New("covers/wren.fore", []byte("# é\nlet gap = 3\n"))
	var b bytes.Buffer
	foretest.Must(t, Write(&b, struct {
		Head
		Text  string `json:"text"`
		At    *Place `json:"at"`
		None  *Place `json:"none"`
		Width Number `json:"width"`
	}{NewHead(), "a < b", At(source.Span{File: src, Start: 5, End: 16}), At(source.Span{}), 1.5}))
	const want = `{
  "schema": 1,
  "text": "a < b",
  "at": {
    "file": "covers/wren.fore",
    "line": 2,
    "column": 1,
    "end-line": 2,
    "end-column": 12
  },
  "none": null,
  "width": 1.5
}
`
	if b.String() != want {
		t.Errorf("got\n%swant\n%s", b.String(), want)
	}
}
