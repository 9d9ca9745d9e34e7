package export

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"hash/crc32"
	"slices"
)

// A file that foredge made says so, with what it was made of and a sum of all else
// that stands in it, so that one that was drawn by hand, changed since or made of
// another design is told from it: in SVG and in a page (HTML) a comment before the end, in DXF a comment
// (group 999) at the head, in PNG the chunk tEXt with the keyword Software that its
// specification has for it, in a text of ours, such as a job ticket, the last line. In full: made by foredge of gull (front back), sum ...

// madeBy begins a mark, sumIs stands before the sum.
const (
	madeBy = "made by foredge"
	sumIs  = ", sum "
)

const (
	svgEnd    = "</svg>\n"
	pageEnd   = "</html>\n"
	svgBefore = "  <!-- " + madeBy
	svgAfter  = " -->\n"
	dxfBegins = "0\nSECTION\n"
	dxfBefore = "999\n" + madeBy
	txtBefore = "\n" + madeBy
	pngText   = "tEXtSoftware\x00" + madeBy
)

const pngEnd = "\x00\x00\x00\x00IEND\xaeB`\x82"

// sumLength is how many bytes a sum has, as it is written.
const sumLength = 32

// sum gives what ends the mark of a file made of something.
func sum(data []byte, of string) string {
	hash := sha256.New()
	hash.Write(data)
	hash.Write([]byte(of))
	return of + sumIs + hex.EncodeToString(hash.Sum(nil)[:sumLength/2])
}

// Mark marks a file, as an [Encoder] wrote it, or a text, as made by foredge of something. It
// takes the data over: a file may be large, and is not copied where it has room.
func Mark(data []byte, of Origin) []byte { return mark(data, of.String()) }

func mark(data []byte, of string) []byte {
	s := sum(data, of)
	switch {
	case bytes.HasSuffix(data, []byte(svgEnd)):
		return slices.Insert(data, len(data)-len(svgEnd), []byte(svgBefore+s+svgAfter)...)
	case bytes.HasSuffix(data, []byte(pageEnd)):
		return slices.Insert(data, len(data)-len(pageEnd), []byte(svgBefore+s+svgAfter)...)
	case bytes.HasSuffix(data, []byte(pngEnd)):
		return slices.Insert(data, len(data)-len(pngEnd), pngChunk(s)...)
	case bytes.HasPrefix(data, []byte(dxfBegins)):
		return slices.Insert(data, 0, []byte(dxfBefore+s+"\n")...)
	}
	return append(data, []byte(txtBefore+s+"\n")...)
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
	rest, _, ours = unmark(data)
	return rest, ours
}

// Ours reports whether a file stands as foredge made it.
func Ours(data []byte) bool {
	_, _, ours := unmark(data)
	return ours
}

// OriginOf gives what a file was made of; not ok if it doesn't stand as foredge made
// it: then it is what a mark says that was left in it, of nothing where there is none.
func OriginOf(data []byte) (of Origin, ok bool) {
	_, text, ours := unmark(data)
	return parseOrigin(text), ours
}

func unmark(data []byte) (rest []byte, of string, ours bool) {
	if !bytes.HasSuffix(data, []byte(pngEnd)) {
		data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
	}
	for _, m := range []struct {
		before string
		extra  int // bytes of the mark before that
		after  int
	}{{svgBefore, 0, len(svgAfter)}, {dxfBefore, 0, len("\n")}, {pngText, 4, 4}, {txtBefore, 0, len("\n")}} {
		i := bytes.LastIndex(data, []byte(m.before))
		if i < m.extra {
			continue
		}
		text := data[i+len(m.before):]
		n := bytes.Index(text[:min(len(text), mostOrigin+len(sumIs))], []byte(sumIs))
		end := i + len(m.before) + n + len(sumIs) + sumLength + m.after
		if n < 0 || end > len(data) {
			return data, "", false
		}
		of = string(text[:n])
		rest = slices.Concat(data[:i-m.extra], data[end:])
		return rest, of, bytes.Equal(mark(slices.Clone(rest), of), data)
	}
	return data, "", false
}
