package drawing

import "stanchion/holes/plane"

// Handles of what every file of release 2000 has: the tables, the two blocks and the dictionaries.
const (
	modelSpace = "1F" // the record of the block that a drawing's entities are in
	paperSpace = "1B"
	firstFree  = 0x30 // handles below it are given by name in this file
)

// dxf writes a file with layers, the box of its entities and the entities that draw adds.
func dxf(release Release, layers []dxfLayer, lo, hi plane.Point, draw func(*dxfFile)) []byte {
	entities := &dxfFile{release: release, handle: firstFree + 0x100}
	draw(entities)
	f := &dxfFile{release: release, handle: firstFree}
	version := "AC1009"
	if release == R2000 {
		version = "AC1015"
	}
	f.put(0, "SECTION", 2, "HEADER", 9, "$ACADVER", 1, version)
	if release == R2000 {
		f.put(9, "$HANDSEED", 5, entities.next())
	}
	f.put(9, "$INSUNITS", 70, 4, 9, "$MEASUREMENT", 70, 1,
		9, "$EXTMIN", 10, lo.X, 20, lo.Z, 30, 0.0, 9, "$EXTMAX", 10, hi.X, 20, hi.Z, 30, 0.0, 0, "ENDSEC")
	if release == R2000 {
		f.tables2000(layers, lo, hi)
	} else {
		f.tables12(layers)
	}
	f.put(0, "SECTION", 2, "ENTITIES")
	f.Write(entities.Bytes())
	f.put(0, "ENDSEC")
	if release == R2000 {
		f.put(0, "SECTION", 2, "OBJECTS",
			0, "DICTIONARY", 5, "C", 330, "0", 100, "AcDbDictionary", 281, 1, 3, "ACAD_GROUP", 350, "D",
			0, "DICTIONARY", 5, "D", 330, "C", 100, "AcDbDictionary", 281, 1, 0, "ENDSEC")
	}
	f.put(0, "EOF")
	return f.Bytes()
}

// tables12 writes line types, layers and the text style of release 12, and no blocks.
func (f *dxfFile) tables12(layers []dxfLayer) {
	f.put(0, "SECTION", 2, "TABLES", 0, "TABLE", 2, "LTYPE", 70, 1,
		0, "LTYPE", 2, "CONTINUOUS", 70, 0, 3, "Solid line", 72, 65, 73, 0, 40, 0.0, 0, "ENDTAB")
	f.put(0, "TABLE", 2, "LAYER", 70, len(layers))
	for _, l := range layers {
		f.put(0, "LAYER", 2, l.name, 70, 0, 62, l.colour, 6, "CONTINUOUS")
	}
	f.put(0, "ENDTAB", 0, "TABLE", 2, "STYLE", 70, 1, 0, "STYLE", 2, "STANDARD", 70, 0, 40, 0.0, 41, 1.0, 50, 0.0, 71, 0, 42, 2.5,
		3, "txt", 4, "", 0, "ENDTAB", 0, "ENDSEC", 0, "SECTION", 2, "BLOCKS", 0, "ENDSEC")
}

// tables2000 writes all tables that release 2000 wants, and its two blocks.
func (f *dxfFile) tables2000(layers []dxfLayer, lo, hi plane.Point) {
	table := func(name, handle string, n int) {
		f.put(0, "TABLE", 2, name, 5, handle, 330, "0", 100, "AcDbSymbolTable", 70, n)
	}
	record := func(kind, owner, class string) {
		f.put(0, kind, 5, f.next(), 330, owner, 100, "AcDbSymbolTableRecord", 100, class)
	}
	end := func() { f.put(0, "ENDTAB") }
	f.put(0, "SECTION", 2, "CLASSES", 0, "ENDSEC", 0, "SECTION", 2, "TABLES")

	table("VPORT", "8", 1)
	record("VPORT", "8", "AcDbViewportTableRecord")
	size := hi.Sub(lo)
	f.put(2, "*ACTIVE", 70, 0, 10, 0.0, 20, 0.0, 11, 1.0, 21, 1.0, 12, lo.X+size.X/2, 22, lo.Z+size.Z/2, 13, 0.0, 23, 0.0, 14, 10.0, 24, 10.0,
		15, 10.0, 25, 10.0, 16, 0.0, 26, 0.0, 36, 1.0, 17, 0.0, 27, 0.0, 37, 0.0, 40, max(size.Z, size.X, 1)*1.1, 41, 1.0, 42, 50.0,
		43, 0.0, 44, 0.0, 50, 0.0, 51, 0.0, 71, 0, 72, 1000, 73, 1, 74, 3, 75, 0, 76, 0, 77, 0, 78, 0)
	end()
	table("LTYPE", "5", 3)
	for _, l := range [][2]string{{"BYBLOCK", ""}, {"BYLAYER", ""}, {"CONTINUOUS", "Solid line"}} {
		record("LTYPE", "5", "AcDbLinetypeTableRecord")
		f.put(2, l[0], 70, 0, 3, l[1], 72, 65, 73, 0, 40, 0.0)
	}
	end()
	table("LAYER", "2", len(layers)+1)
	for _, l := range append([]dxfLayer{{"0", 7}}, layers...) {
		record("LAYER", "2", "AcDbLayerTableRecord")
		f.put(2, l.name, 70, 0, 62, l.colour, 6, "CONTINUOUS")
	}
	end()
	table("STYLE", "3", 1)
	record("STYLE", "3", "AcDbTextStyleTableRecord")
	f.put(2, "STANDARD", 70, 0, 40, 0.0, 41, 1.0, 50, 0.0, 71, 0, 42, 2.5, 3, "txt", 4, "")
	end()
	table("VIEW", "6", 0)
	end()
	table("UCS", "7", 0)
	end()
	table("APPID", "9", 1)
	record("APPID", "9", "AcDbRegAppTableRecord")
	f.put(2, "ACAD", 70, 0)
	end()
	table("DIMSTYLE", "A", 1)
	f.put(100, "AcDbDimStyleTable", 71, 0, 0, "DIMSTYLE", 105, f.next(), 330, "A", 100, "AcDbSymbolTableRecord", 100, "AcDbDimStyleTableRecord",
		2, "STANDARD", 70, 0)
	end()
	table("BLOCK_RECORD", "1", 2)
	for _, b := range [][2]string{{"*Model_Space", modelSpace}, {"*Paper_Space", paperSpace}} {
		f.put(0, "BLOCK_RECORD", 5, b[1], 330, "1", 100, "AcDbSymbolTableRecord", 100, "AcDbBlockTableRecord", 2, b[0], 340, "0")
	}
	end()
	f.put(0, "ENDSEC", 0, "SECTION", 2, "BLOCKS")
	for _, b := range [][2]string{{"*Model_Space", modelSpace}, {"*Paper_Space", paperSpace}} {
		f.put(0, "BLOCK", 5, f.next(), 330, b[1], 100, "AcDbEntity")
		if b[1] == paperSpace {
			f.put(67, 1)
		}
		f.put(8, "0", 100, "AcDbBlockBegin", 2, b[0], 70, 0, 10, 0.0, 20, 0.0, 30, 0.0, 3, b[0], 1, "",
			0, "ENDBLK", 5, f.next(), 330, b[1], 100, "AcDbEntity", 8, "0", 100, "AcDbBlockEnd")
	}
	f.put(0, "ENDSEC")
}
