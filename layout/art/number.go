package art

import (
	"math"
	"strconv"
	"strings"
)

// px is a CSS pixel in mm: a 96th of an inch (CSS Values and Units, 5.2).
const px = 25.4 / 96

// pixels are the absolute units of length in pixels.
func pixels(unit string) (float64, bool) {
	switch unit {
	case "", "px":
		return 1, true
	case "mm":
		return 1 / px, true
	case "cm":
		return 10 / px, true
	case "q":
		return 0.25 / px, true
	case "in":
		return 96, true
	case "pt":
		return 96.0 / 72, true
	case "pc":
		return 16, true
	}
	return 0, false
}

// A length is a number with its unit.
type length struct {
	v    float64
	unit string // in small letters; "%" for a share
}

// parseLength reads a length as far as its form goes.
func parseLength(s string) (length, bool) {
	if len(s) > maxValue {
		return length{}, false
	}
	s = strings.TrimSpace(s)
	n := numberLen(s)
	if n == 0 {
		return length{}, false
	}
	v, err := strconv.ParseFloat(s[:n], 64)
	if err != nil || math.Abs(v) > 1e9 {
		return length{}, false
	}
	return length{v, strings.ToLower(s[n:])}, true
}

// numberLen is how many bytes at the start of s are a number (SVG 1.1, 4.2). An
// e that no exponent follows belongs to a unit.
func numberLen(s string) int {
	i := 0
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	digits := 0
	for i < len(s) && isDigit(s[i]) {
		i++
		digits++
	}
	if i < len(s) && s[i] == '.' && (digits > 0 || i+1 < len(s) && isDigit(s[i+1])) {
		i++
		for i < len(s) && isDigit(s[i]) {
			i++
			digits++
		}
	}
	if digits == 0 {
		return 0
	}
	if i < len(s) && s[i]|0x20 == 'e' {
		j := i + 1
		if j < len(s) && (s[j] == '+' || s[j] == '-') {
			j++
		}
		if j < len(s) && isDigit(s[j]) {
			for j < len(s) && isDigit(s[j]) {
				j++
			}
			i = j
		}
	}
	return i
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

func isSpace(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f' }

// A scanner reads the numbers of a list or of path data.
type scanner struct {
	s  string
	at int
}

// space skips blanks and at most one comma.
func (s *scanner) space() (comma bool) {
	for s.at < len(s.s) && (isSpace(s.s[s.at]) || s.s[s.at] == ',' && !comma) {
		comma = comma || s.s[s.at] == ','
		s.at++
	}
	return comma
}

func (s *scanner) end() bool { return s.at >= len(s.s) }

// number reads one number and what parts it from the next.
func (s *scanner) number() (float64, bool) {
	s.space()
	n := numberLen(s.s[s.at:])
	v, err := strconv.ParseFloat(s.s[s.at:s.at+n], 64)
	if n == 0 || err != nil || math.Abs(v) > 1e9 {
		return 0, false
	}
	s.at += n
	return v, true
}

// flag reads the 0 or 1 of an arc, which needs no blank after it.
func (s *scanner) flag() (bool, bool) {
	s.space()
	if s.end() || s.s[s.at] != '0' && s.s[s.at] != '1' {
		return false, false
	}
	s.at++
	return s.s[s.at-1] == '1', true
}

// parseNumbers reads a list of numbers.
func parseNumbers(text string) ([]float64, bool) {
	s := scanner{s: text}
	var list []float64
	for {
		comma := s.space()
		if s.end() {
			return list, !comma || len(list) == 0
		}
		v, ok := s.number()
		if !ok {
			return nil, false
		}
		list = append(list, v)
	}
}
