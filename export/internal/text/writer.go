package text

import (
	"errors"
	"io"
	"math"
	"strconv"
)

// ErrNotFinite says that a number to write was infinite or undefined.
var ErrNotFinite = errors.New("a size or place is not a finite number")

// piece is how much text is gathered before it is handed on, in bytes.
const piece = 64 << 10

// A Writer gathers text and hands it on in large pieces. The first error stays:
// nothing is written after it, and [Writer.Close] reports it.
type Writer struct {
	to     io.Writer
	buffer []byte
	err    error
}

// NewWriter makes a Writer that hands its text to w.
func NewWriter(w io.Writer) *Writer {
	return &Writer{to: w, buffer: make([]byte, 0, piece+piece/8)}
}

// Text writes a string. Of all methods this and [Writer.Write] hand on what has
// gathered, since no file has more than a few numbers without text between.
func (w *Writer) Text(s string) {
	w.buffer = append(w.buffer, s...)
	w.pass()
}

// Texts writes strings one after another.
func (w *Writer) Texts(parts ...string) {
	for _, s := range parts {
		w.Text(s)
	}
}

// Byte writes one byte of ASCII.
func (w *Writer) Byte(c byte) { w.buffer = append(w.buffer, c) }

// Number writes v with at most so many decimals; see [AppendNumber].
func (w *Writer) Number(v float64, decimals int) {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		w.Fail(ErrNotFinite)
		return
	}
	w.buffer = AppendNumber(w.buffer, v, decimals)
}

// Int writes a whole number.
func (w *Writer) Int(n int) {
	w.buffer = strconv.AppendInt(w.buffer, int64(n), 10)
}

// Hex writes a whole number in capital hexadecimal digits.
func (w *Writer) Hex(n uint64) {
	const digits = "0123456789ABCDEF"
	shift := 60
	for shift > 0 && n>>shift == 0 {
		shift -= 4
	}
	for ; shift >= 0; shift -= 4 {
		w.buffer = append(w.buffer, digits[n>>shift&0xF])
	}
}

// Write makes the Writer an [io.Writer]. It always takes all of p.
func (w *Writer) Write(p []byte) (int, error) {
	w.buffer = append(w.buffer, p...)
	w.pass()
	return len(p), w.err
}

// Fail makes err the Writer's error unless it has one already.
func (w *Writer) Fail(err error) {
	if w.err == nil {
		w.err = err
	}
}

// Close hands on what is left and returns the first error.
func (w *Writer) Close() error {
	w.flush()
	return w.err
}

func (w *Writer) pass() {
	if len(w.buffer) >= piece {
		w.flush()
	}
}

func (w *Writer) flush() {
	if w.err == nil {
		_, w.err = w.to.Write(w.buffer)
	}
	w.buffer = w.buffer[:0]
}
