package export

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"hash/crc32"
	"slices"
)

// A file that foredge made says so, with a sum of all else that stands in it, so
// that one that was drawn by hand, or changed since, is told from it: in SVG a
// comment before the end, in DXF a comment (group 999) at the head, in PNG the
// chunk tEXt with the keyword Software that its specification has for it.

// madeBy stands before the sum.
const madeBy = "made by foredge, sum "

const (
	svgEnd    = "</svg>\n"
	svgBefore = "  <!-- " + madeBy
	svgAfter  = " -->\n"
	dxfBefore = "999\n" + madeBy
	pngText   = "tEXtSoftware\x00" + madeBy
)

const pngEnd = "\x00\x00\x00\x00IEND\xaeB`\x82"

// sumLength is how many bytes a sum has, as it is written.
const sumLength = 32

// sum gives the sum of a file.
func sum(data []byte) string {
	hash := sha256.Sum256(data)
	return hex.EncodeToString(hash[:sumLength/2])
}

// Mark marks a file, as an [Encoder] wrote it, as made by foredge. It takes the data
// over: a file may be large, and is not copied where it has room.
func Mark(data []byte) []byte {
	s := sum(data)
	switch {
	case bytes.HasSuffix(data, []byte(svgEnd)):
		return slices.Insert(data, len(data)-len(svgEnd), []byte(svgBefore+s+svgAfter)...)
	case bytes.HasSuffix(data, []byte(pngEnd)):
		return slices.Insert(data, len(data)-len(pngEnd), pngChunk(s)...)
	}
	return slices.Insert(data, 0, []byte(dxfBefore+s+"\n")...)
}

// pngChunk is the chunk that marks a picture (PNG, 5.3 and 11.3.3.2).
func pngChunk(s string) []byte {
	text := pngText + s
	out := binary.BigEndian.AppendUint32(nil, uint32(len(text)-len("tEXt")))
	out = append(out, text...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE([]byte(text)))
}

// Unmark takes the mark of a file off. It isn't ours if it has none, or if
// anything in it was changed since.
func Unmark(data []byte) (rest []byte, ours bool) {
	if !bytes.HasSuffix(data, []byte(pngEnd)) {
		data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
	}
	for _, m := range []struct{ before, after string }{{svgBefore, svgAfter}, {dxfBefore, "\n"}} {
		if i := bytes.LastIndex(data, []byte(m.before)); i >= 0 {
			end := i + len(m.before) + sumLength + len(m.after)
			return unmarked(data, i, end)
		}
	}
	if i := bytes.LastIndex(data, []byte(pngText)); i >= 4 {
		return unmarked(data, i-4, i+len(pngText)+sumLength+4)
	}
	return data, false
}

// unmarked takes out what should be the mark, and sees whether it is.
func unmarked(data []byte, start, end int) (rest []byte, ours bool) {
	if end > len(data) {
		return data, false
	}
	rest = slices.Concat(data[:start], data[end:])
	return rest, bytes.Equal(Mark(slices.Clone(rest)), data)
}

// Ours reports whether a file stands as foredge made it.
func Ours(data []byte) bool {
	_, ours := Unmark(data)
	return ours
}
