package data

import (
	"encoding/json"
	"io"
	"math"
	"strconv"
	"strings"

	"foredge/lang/source"
)

// Schema is the number of the form that our JSON has. It changes when a key goes
// or comes to mean something else, not when one is added.
const Schema = 1

// A Head is what a whole piece of JSON begins with.
type Head struct {
	Schema int `json:"schema"`
}

// NewHead is the head of what is written now.
func NewHead() Head { return Head{Schema} }

// A Number is a number as our JSON has it: rounded to 1e-9, never -0, and null
// for one that is not known or has no bound (NaN, ±Inf).
type Number float64

// decimals is how many digits after the point a number has at most.
const decimals = 9

// MarshalJSON writes the number.
func (n Number) MarshalJSON() ([]byte, error) {
	x := float64(n)
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return []byte("null"), nil
	}
	text := strconv.FormatFloat(x, 'f', -1, 64)
	if whole, rest, _ := strings.Cut(text, "."); len(rest) > decimals {
		text = strings.TrimRight(strconv.FormatFloat(x, 'f', decimals, 64), "0")
		text = strings.TrimSuffix(text, ".")
	} else if len(whole) > 21 { // as far as a whole number is written out elsewhere
		text = strconv.FormatFloat(x, 'e', -1, 64)
	}
	if text == "-0" {
		text = "0"
	}
	return []byte(text), nil
}

// A Place is where something stands in a file: lines and columns from 1, columns
// in characters, the end one past the last character.
type Place struct {
	File      string `json:"file"`
	Line      int    `json:"line"`
	Column    int    `json:"column"`
	EndLine   int    `json:"end-line"`
	EndColumn int    `json:"end-column"`
}

// At is the place of a span, nil for one that is no place.
func At(s source.Span) *Place {
	if s.IsZero() {
		return nil
	}
	start, end := s.File.Position(s.Start), s.File.Position(s.End)
	return &Place{s.File.Name(), start.Line, start.Column, end.Line, end.Column}
}

// Write writes a whole piece of JSON, indented.
func Write(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}
