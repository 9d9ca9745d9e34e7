package text

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"
)

func TestAppendNumber(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{0, 4, "0"},
		{math.Copysign(0, -1), 4, "0"},
		{-0.00004, 4, "0"},
		{-0.00006, 4, "-0.0001"},
		{0.1 + 0.2, 4, "0.3"},
		{8.46666666, 4, "8.4667"},
		{-8.46666666, 4, "-8.4667"},
		{210, 4, "210"},
		{1.05, 4, "1.05"},
		{1.005, 4, "1.005"},
		{0.99995, 4, "1"},
		{9.99999, 4, "10"},
		{-1e-300, 4, "0"},
		{1e21, 4, "1000000000000000000000"},
		{123456789012.34567, 4, "123456789012.3457"},
		{0.41421356237309503, 12, "0.414213562373"},
		{1 / 25.4, 6, "0.03937"},
		{7.5, 0, "8"},
		{1e15 + 0.3, 4, "1000000000000000.25"},
	} {
		if got := string(AppendNumber(nil, c.v, c.decimals)); got != c.want {
			t.Errorf("AppendNumber(%v, %d) = %s, want %s", c.v, c.decimals, got, c.want)
		}
	}
}

// The text means the number within half of its last decimal (strconv reads it),
// and no shorter one does.
func FuzzAppendNumber(f *testing.F) {
	for _, v := range []float64{0, 1, -1, 0.00005, -0.00005, 12.34565, 1e12, 9007199254740993, -1e300, 5e-324} {
		f.Add(v, uint8(4))
	}
	f.Add(0.1316524976, uint8(12))
	f.Fuzz(func(t *testing.T, v float64, d uint8) {
		decimals := int(d % 16)
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Skip()
		}
		s := string(AppendNumber(nil, v, decimals))
		if strings.ContainsAny(s, "eE+") || s == "-0" || strings.Contains(s, ".") && strings.HasSuffix(s, "0") ||
			strings.HasSuffix(s, ".") || strings.HasPrefix(strings.TrimPrefix(s, "-"), ".") {
			t.Fatalf("%v with %d decimals: %q", v, decimals, s)
		}
		if i := strings.IndexByte(s, '.'); i >= 0 && len(s)-i-1 > decimals {
			t.Fatalf("%v with %d decimals: %q", v, decimals, s)
		}
		got, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatalf("%v with %d decimals: %v", v, decimals, err)
		}
		if off := math.Abs(got - v); off > 0.5*math.Pow(10, -float64(decimals))*(1+1e-9)+math.Abs(v)*3e-16 {
			t.Fatalf("%v with %d decimals: %q is %g off", v, decimals, s, off)
		}
	})
}

func TestNotFinite(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		var b strings.Builder
		w := NewWriter(&b)
		w.Text("before ")
		w.Number(v, 4)
		w.Text(" after")
		if err := w.Close(); !errors.Is(err, ErrNotFinite) {
			t.Errorf("%v: %v", v, err)
		}
		if b.Len() > 0 {
			t.Errorf("%v: wrote %q after all", v, b.String())
		}
	}
}

func TestWriterKeepsTheFirstError(t *testing.T) {
	full := errors.New("the disk is full")
	w := NewWriter(failing{full})
	for range 100_000 {
		w.Text("text")
	}
	w.Number(math.NaN(), 4)
	if err := w.Close(); err != full {
		t.Errorf("Close: %v", err)
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

func TestHex(t *testing.T) {
	var b strings.Builder
	w := NewWriter(&b)
	for _, n := range []uint64{0, 9, 0xA, 0x100, 0xFFFFFFFFFFFFFFFF} {
		w.Hex(n)
		w.Byte(' ')
	}
	if err := w.Close(); err != nil || b.String() != "0 9 A 100 FFFFFFFFFFFFFFFF " {
		t.Errorf("%q, %v", b.String(), err)
	}
}

func BenchmarkAppendNumber(b *testing.B) {
	var buf []byte
	for b.Loop() {
		buf = AppendNumber(buf[:0], 123.45678, Millimetres)
	}
}
