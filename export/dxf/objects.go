package dxf

import "foredge/layout/geom"

// blocks writes the two blocks that every file has: the model, whose entities
// stand in the ENTITIES section, and an empty sheet of paper.
func (f *file) blocks() {
	f.section("BLOCKS")
	f.block("*Model_Space", modelSpaceBlock, modelSpaceEnd, modelSpaceRecord, false)
	f.block("*Paper_Space", paperSpaceBlock, paperSpaceEnd, paperSpaceRecord, true)
	f.endSection()
}

func (f *file) block(name, begin, end, record string, paper bool) {
	entity := func(kind, handle, class string) {
		f.tags("0", kind, "5", handle, "330", record, "100", "AcDbEntity")
		if paper {
			f.tags("67", "1")
		}
		f.tags("8", "0", "100", class)
	}
	entity("BLOCK", begin, "AcDbBlockBegin")
	f.tags("2", name, "70", "0", "10", "0", "20", "0", "30", "0", "3", name, "1", "")
	entity("ENDBLK", end, "AcDbBlockEnd")
}

// objects writes the root dictionary and the layouts of the two blocks.
func (f *file) objects() {
	f.section("OBJECTS")
	f.dictionary(rootDictionary, "0", "ACAD_GROUP", groupDictionary, "ACAD_LAYOUT", layoutDictionary)
	f.dictionary(groupDictionary, rootDictionary)
	f.dictionary(layoutDictionary, rootDictionary, "Model", modelLayout, "Layout1", paperLayout)
	low, high := f.corners()
	f.layout("Model", modelLayout, modelSpaceRecord, "0", "1024", low, high)
	// The paper is empty: its corners are the origin.
	origin := geom.Pt(0, f.height)
	f.layout("Layout1", paperLayout, paperSpaceRecord, "1", "0", origin, origin)
	f.endSection()
}

func (f *file) dictionary(handle, owner string, entries ...string) {
	f.tags("0", "DICTIONARY", "5", handle, "330", owner, "100", "AcDbDictionary", "281", "1")
	for i := 0; i < len(entries); i += 2 {
		f.tags("3", entries[i], "350", entries[i+1])
	}
}

// layout writes how a block is laid out on paper: for the model (plot flag
// 1024) of no consequence, but readers ask for it.
func (f *file) layout(name, handle, record, tab, plot string, low, high geom.Point) {
	f.tags("0", "LAYOUT", "5", handle, "330", layoutDictionary)
	f.tags("100", "AcDbPlotSettings", "1", "", "2", "", "4", "", "6", "")
	for _, margin := range []string{"40", "41", "42", "43", "44", "45", "46", "47", "48", "49", "140", "141"} {
		f.tags(margin, "0")
	}
	f.tags("142", "1", "143", "1", "70", plot, "72", f.unit.paper, "73", "0", "74", "5", "7", "",
		"75", "16", "147", "1", "148", "0", "149", "0")
	f.tags("100", "AcDbLayout", "1", name, "70", "1", "71", tab)
	f.pointTags("10", "20", low)
	f.pointTags("11", "21", high)
	f.tags("12", "0", "22", "0", "32", "0")
	f.pointTags("14", "24", low)
	f.tags("34", "0")
	f.pointTags("15", "25", high)
	f.tags("35", "0", "146", "0", "13", "0", "23", "0", "33", "0", "16", "1", "26", "0", "36", "0",
		"17", "0", "27", "1", "37", "0", "76", "0", "330", record)
}
