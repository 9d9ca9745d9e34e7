package dxf

import (
	"strconv"
	"strings"

	"foredge/layout"
	"foredge/layout/geom"
)

// Handles of the things that every AC1015 file has. Entities are numbered from
// firstEntity on, in the order in which they are written.
const (
	vportTable       = "1"
	ltypeTable       = "2"
	layerTable       = "3"
	styleTable       = "4"
	viewTable        = "5"
	ucsTable         = "6"
	appidTable       = "7"
	dimstyleTable    = "8"
	recordTable      = "9"
	activeVport      = "10"
	byBlock          = "11"
	byLayer          = "12"
	continuous       = "13"
	standardStyle    = "14"
	acadAppid        = "15"
	standardDimstyle = "16"
	firstLayer       = 0x18 // layer 0, then the operations
	modelSpaceRecord = "20"
	paperSpaceRecord = "21"
	modelSpaceBlock  = "22"
	modelSpaceEnd    = "23"
	paperSpaceBlock  = "24"
	paperSpaceEnd    = "25"
	rootDictionary   = "26"
	groupDictionary  = "27"
	layoutDictionary = "28"
	modelLayout      = "29"
	paperLayout      = "2A"
	firstEntity      = 0x100
)

// corners are the lower left and upper right corners of what is drawn, or of
// the drawing if that is nothing, as points with Y down.
func (f *file) corners() (low, high geom.Point) {
	if f.extents.Empty() {
		return geom.Pt(0, f.height), geom.Pt(0, f.height)
	}
	return geom.Pt(f.extents.Min.X, f.extents.Max.Y), geom.Pt(f.extents.Max.X, f.extents.Min.Y)
}

func (f *file) header() {
	low, high := f.corners()
	version := "AC1015"
	if f.version == R12 {
		version = "AC1009"
	}
	f.section("HEADER")
	f.tags("9", "$ACADVER", "1", version, "9", "$DWGCODEPAGE", "3", "ANSI_1252")
	f.tags("9", "$INSBASE", "10", "0", "20", "0", "30", "0")
	f.tags("9", "$EXTMIN")
	f.pointTags("10", "20", low)
	f.tags("30", "0", "9", "$EXTMAX")
	f.pointTags("10", "20", high)
	f.tags("30", "0", "9", "$LIMMIN")
	f.pointTags("10", "20", low)
	f.tags("9", "$LIMMAX")
	f.pointTags("10", "20", high)
	// R12 had no variable for the unit yet. Its readers skip what they don't
	// know, and later programs that read R12 look for it.
	f.tags("9", "$INSUNITS", "70", f.unit.insunits, "9", "$MEASUREMENT", "70", f.unit.measurement)
	if f.version != R12 {
		f.Text("9\n$HANDSEED\n5\n")
		f.Hex(firstEntity + uint64(f.entities))
		f.tags("")
	}
	f.endSection()
}

// layer is the name, handle and standard colour of a layer.
type layer struct {
	name   string
	handle string
	color  int
}

func (f *file) layers() []layer {
	all := []layer{{"0", hex(firstLayer), 7}}
	for i, op := range layout.Ops() {
		all = append(all, layer{layerName(op), hex(firstLayer + 1 + i), f.colors[i]})
	}
	return all
}

func hex(n int) string { return strings.ToUpper(strconv.FormatInt(int64(n), 16)) }

// tablesR12 writes what R12 asks for: a line type and the layers.
func (f *file) tablesR12() {
	f.section("TABLES")
	f.tags("0", "TABLE", "2", "LTYPE", "70", "1")
	f.tags("0", "LTYPE", "2", "CONTINUOUS", "70", "0", "3", "Solid line", "72", "65", "73", "0", "40", "0")
	f.tags("0", "ENDTAB")
	all := f.layers()
	f.tags("0", "TABLE", "2", "LAYER", "70", strconv.Itoa(len(all)))
	for _, l := range all {
		f.tags("0", "LAYER", "2", l.name, "70", "0", "62", strconv.Itoa(l.color), "6", "CONTINUOUS")
	}
	f.tags("0", "ENDTAB", "0", "TABLE", "2", "STYLE", "70", "1")
	f.tags("0", "STYLE", "2", "STANDARD", "70", "0", "40", "0", "41", "1", "50", "0", "71", "0",
		"42", "2.5", "3", "txt", "4", "")
	f.tags("0", "ENDTAB")
	f.endSection()
}

// table writes the head of a table of AC1015.
func (f *file) table(name, handle string, count int) {
	f.tags("0", "TABLE", "2", name, "5", handle, "330", "0", "100", "AcDbSymbolTable", "70", strconv.Itoa(count))
}

// record writes the head of a table's record.
func (f *file) record(name, handle, owner, class string) {
	f.tags("0", name, "5", handle, "330", owner, "100", "AcDbSymbolTableRecord", "100", class)
}

// tables writes the tables of AC1015 in the order that its readers expect.
func (f *file) tables() {
	f.section("CLASSES")
	f.endSection()
	f.section("TABLES")
	f.viewport()
	f.lineTypes()
	f.layerTable()

	f.table("STYLE", styleTable, 1)
	f.record("STYLE", standardStyle, styleTable, "AcDbTextStyleTableRecord")
	f.tags("2", "Standard", "70", "0", "40", "0", "41", "1", "50", "0", "71", "0", "42", "2.5", "3", "txt", "4", "")
	f.tags("0", "ENDTAB")

	f.table("VIEW", viewTable, 0)
	f.tags("0", "ENDTAB")
	f.table("UCS", ucsTable, 0)
	f.tags("0", "ENDTAB")

	f.table("APPID", appidTable, 1)
	f.record("APPID", acadAppid, appidTable, "AcDbRegAppTableRecord")
	f.tags("2", "ACAD", "70", "0", "0", "ENDTAB")

	f.table("DIMSTYLE", dimstyleTable, 1)
	f.tags("100", "AcDbDimStyleTable")
	// A dimension style is the one record whose handle is a group 105.
	f.tags("0", "DIMSTYLE", "105", standardDimstyle, "330", dimstyleTable,
		"100", "AcDbSymbolTableRecord", "100", "AcDbDimStyleTableRecord", "2", "Standard", "70", "0")
	f.tags("0", "ENDTAB")

	f.table("BLOCK_RECORD", recordTable, 2)
	f.record("BLOCK_RECORD", modelSpaceRecord, recordTable, "AcDbBlockTableRecord")
	f.tags("2", "*Model_Space", "340", modelLayout)
	f.record("BLOCK_RECORD", paperSpaceRecord, recordTable, "AcDbBlockTableRecord")
	f.tags("2", "*Paper_Space", "340", paperLayout)
	f.tags("0", "ENDTAB")
	f.endSection()
}

// viewport makes programs open the file with the whole drawing in view.
func (f *file) viewport() {
	low, high := f.corners()
	f.table("VPORT", vportTable, 1)
	f.record("VPORT", activeVport, vportTable, "AcDbViewportTableRecord")
	f.tags("2", "*Active", "70", "0", "10", "0", "20", "0", "11", "1", "21", "1")
	f.pointTags("12", "22", low.Lerp(high, 0.5))
	f.tags("13", "0", "23", "0", "14", "10", "24", "10", "15", "10", "25", "10",
		"16", "0", "26", "0", "36", "1", "17", "0", "27", "0", "37", "0")
	// The height in view leaves a margin; a flat drawing still needs some.
	w, h := high.X-low.X, low.Y-high.Y
	f.Text("40\n")
	f.length(1.1 * max(h, w/aspect, 1))
	f.tags("", "41", "1.5", "42", "50", "43", "0", "44", "0", "50", "0", "51", "0", "71", "0", "72", "100", "73", "1",
		"74", "3", "75", "0", "76", "0", "77", "0", "78", "0", "0", "ENDTAB")
}

// aspect is the width of a screen's view over its height, which group 41 says.
const aspect = 1.5

func (f *file) lineTypes() {
	f.table("LTYPE", ltypeTable, 3)
	for _, t := range [][3]string{{"ByBlock", byBlock, ""}, {"ByLayer", byLayer, ""}, {"Continuous", continuous, "Solid line"}} {
		f.record("LTYPE", t[1], ltypeTable, "AcDbLinetypeTableRecord")
		f.tags("2", t[0], "70", "0", "3", t[2], "72", "65", "73", "0", "40", "0")
	}
	f.tags("0", "ENDTAB")
}

func (f *file) layerTable() {
	all := f.layers()
	f.table("LAYER", layerTable, len(all))
	for _, l := range all {
		f.record("LAYER", l.handle, layerTable, "AcDbLayerTableRecord")
		f.tags("2", l.name, "70", "0", "62", strconv.Itoa(l.color), "6", "Continuous")
	}
	f.tags("0", "ENDTAB")
}
