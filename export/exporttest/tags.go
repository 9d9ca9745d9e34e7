package exporttest

import (
	"bufio"
	"bytes"
	"strconv"
	"strings"
	"testing"
)

// A Tag is a group of a DXF file: a code and a value, each on its own line.
type Tag struct{ Code, Value string }

// ReadTags reads the groups of a DXF file.
func ReadTags(t testing.TB, data []byte) []Tag {
	t.Helper()
	var tags []Tag
	lines := bufio.NewScanner(bytes.NewReader(data))
	for lines.Scan() {
		code := strings.TrimSpace(lines.Text())
		if _, err := strconv.Atoi(code); err != nil {
			t.Fatalf("%q stands where a group code should be", code)
		}
		if !lines.Scan() {
			t.Fatalf("the group code %q at the end has no value", code)
		}
		tags = append(tags, Tag{code, strings.TrimSpace(lines.Text())})
	}
	return tags
}

// TagValues returns the numbers of all groups of one code in a section.
func TagValues(t testing.TB, data []byte, section, code string) []float64 {
	t.Helper()
	var values []float64
	inside := false
	tags := ReadTags(t, data)
	for i, g := range tags {
		switch {
		case g.Code == "2" && i > 0 && tags[i-1].Value == "SECTION":
			inside = g.Value == section
		case inside && g.Code == code:
			v, err := strconv.ParseFloat(g.Value, 64)
			if err != nil {
				t.Fatalf("group %s holds %q", code, g.Value)
			}
			values = append(values, v)
		}
	}
	return values
}
