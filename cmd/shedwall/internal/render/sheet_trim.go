package render

import (
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
)

// trimFont gives the same TrueType font without its hint programs: the tables
// cvt, fpgm, prep and gasp, and the instructions inside each glyph. A subset
// keeps only some tables; glyph instructions that call a program left behind
// are an error on some printers, and they double the size of a sheet. Outlines,
// widths and the licence text in the name table stay as they are.
//
// Table formats: Microsoft OpenType specification 1.9, "glyf", "loca", "head".
func trimFont(ttf []byte) ([]byte, error) {
	tables, err := fontTables(ttf)
	if err != nil {
		return nil, err
	}
	for _, tag := range []string{"cvt ", "fpgm", "prep", "gasp"} {
		delete(tables, tag)
	}
	head, loca, glyf, maxp := tables["head"], tables["loca"], tables["glyf"], tables["maxp"]
	if len(head) < 54 || len(maxp) < 6 {
		return nil, errors.New("font: head or maxp table missing or short")
	}
	n := int(binary.BigEndian.Uint16(maxp[4:]))
	long := binary.BigEndian.Uint16(head[50:]) == 1
	at := func(i int) (int, error) {
		switch {
		case long && 4*i+4 <= len(loca):
			return int(binary.BigEndian.Uint32(loca[4*i:])), nil
		case !long && 2*i+2 <= len(loca):
			return 2 * int(binary.BigEndian.Uint16(loca[2*i:])), nil
		}
		return 0, errors.New("font: loca table too short")
	}
	var outlines []byte
	index := make([]byte, 4*(n+1))
	for i := range n {
		from, err := at(i)
		if err != nil {
			return nil, err
		}
		to, err := at(i + 1)
		if err != nil {
			return nil, err
		}
		if from > to || to > len(glyf) {
			return nil, fmt.Errorf("font: glyph %d lies outside the glyf table", i)
		}
		bare, err := bareGlyph(glyf[from:to])
		if err != nil {
			return nil, fmt.Errorf("font: glyph %d: %w", i, err)
		}
		outlines = append(outlines, bare...)
		for len(outlines)%4 != 0 {
			outlines = append(outlines, 0)
		}
		binary.BigEndian.PutUint32(index[4*(i+1):], uint32(len(outlines)))
	}
	head = slices.Clone(head)
	binary.BigEndian.PutUint16(head[50:], 1) // loca entries of four bytes
	tables["head"], tables["loca"], tables["glyf"] = head, index, outlines
	return joinTables(tables), nil
}

// bareGlyph drops the instructions of one glyph.
func bareGlyph(g []byte) ([]byte, error) {
	short := errors.New("outline cut off")
	if len(g) == 0 {
		return nil, nil
	}
	if len(g) < 10 {
		return nil, short
	}
	contours := int(int16(binary.BigEndian.Uint16(g)))
	if contours >= 0 {
		end := 10 + 2*contours // where the length of the instructions stands
		if end+2 > len(g) {
			return nil, short
		}
		skip := int(binary.BigEndian.Uint16(g[end:]))
		if end+2+skip > len(g) {
			return nil, short
		}
		out := slices.Clone(g[:end+2])
		out[end], out[end+1] = 0, 0
		return append(out, g[end+2+skip:]...), nil
	}
	// A composite glyph: components one after another, then the instructions.
	const wordArgs, scale, more, xyScale, twoByTwo, instructions = 0x1, 0x8, 0x20, 0x40, 0x80, 0x100
	out := slices.Clone(g)
	for p := 10; ; {
		if p+4 > len(out) {
			return nil, short
		}
		flags := binary.BigEndian.Uint16(out[p:])
		binary.BigEndian.PutUint16(out[p:], flags&^instructions)
		p += 6
		if flags&wordArgs != 0 {
			p += 2
		}
		switch {
		case flags&scale != 0:
			p += 2
		case flags&xyScale != 0:
			p += 4
		case flags&twoByTwo != 0:
			p += 8
		}
		if p > len(out) {
			return nil, short
		}
		if flags&more == 0 {
			return out[:p], nil
		}
	}
}

// fontTables splits a TrueType file into its tables.
func fontTables(ttf []byte) (map[string][]byte, error) {
	if len(ttf) < 12 {
		return nil, errors.New("font: file too short")
	}
	n := int(binary.BigEndian.Uint16(ttf[4:]))
	if len(ttf) < 12+16*n {
		return nil, errors.New("font: table directory cut off")
	}
	tables := make(map[string][]byte, n)
	for i := range n {
		e := ttf[12+16*i:]
		off, size := int(binary.BigEndian.Uint32(e[8:])), int(binary.BigEndian.Uint32(e[12:]))
		if off+size > len(ttf) {
			return nil, fmt.Errorf("font: table %q cut off", e[:4])
		}
		tables[string(e[:4])] = ttf[off : off+size]
	}
	return tables, nil
}

// sortedTags is the order in which a font file lists its tables.
func sortedTags(tables map[string][]byte) []string {
	tags := make([]string, 0, len(tables))
	for tag := range tables {
		tags = append(tags, tag)
	}
	slices.Sort(tags)
	return tags
}

// joinTables writes a TrueType file, tables in the order of their tags. The
// checksum of the whole file is left 0; readers of embedded fonts ignore it, and
// the subset writer sets it.
func joinTables(tables map[string][]byte) []byte {
	tags := sortedTags(tables)
	out := make([]byte, 12+16*len(tags))
	binary.BigEndian.PutUint32(out, 0x00010000)
	binary.BigEndian.PutUint16(out[4:], uint16(len(tags)))
	for i, tag := range tags {
		e := out[12+16*i:]
		copy(e, tag)
		binary.BigEndian.PutUint32(e[4:], tableSum(tables[tag]))
		binary.BigEndian.PutUint32(e[8:], uint32(len(out)))
		binary.BigEndian.PutUint32(e[12:], uint32(len(tables[tag])))
		out = append(out, tables[tag]...)
		for len(out)%4 != 0 {
			out = append(out, 0)
		}
	}
	return out
}

// tableSum is the checksum of a font table: its big-endian words added up.
func tableSum(b []byte) uint32 {
	var sum uint32
	for len(b) >= 4 {
		sum += binary.BigEndian.Uint32(b)
		b = b[4:]
	}
	var rest [4]byte
	copy(rest[:], b)
	return sum + binary.BigEndian.Uint32(rest[:])
}
