package render

import "encoding/binary"

// fontFaces is the rules of a style sheet that bring the sheet's two faces with the page, cut
// down, so that the print looks like the PDF and asks no other file. Where a browser
// refuses them, family names faces of nearly the same widths.
func fontFaces(rare [2][]rune, used [2]bool) (css []string, err error) {
	for w, letters := range rare {
		if !used[w] {
			continue
		}
		rule, err := faceOf(weight(w), letters)
		if err != nil {
			return nil, err
		}
		css = append(css, rule)
	}
	return css, nil
}

const webFamily = `wall,Arial,"Liberation Sans",Helvetica,sans-serif`

// packWOFF packs a TrueType font for the web: each table compressed on its own.
// Source: W3C Recommendation "WOFF File Format 1.0", sections 4 and 5.
func packWOFF(ttf []byte) ([]byte, error) {
	tables, err := fontTables(ttf)
	if err != nil {
		return nil, err
	}
	tags := sortedTags(tables)
	const header, entry = 44, 20
	out := make([]byte, header+entry*len(tags))
	plain := 12 + 16*len(tags) // size of the font unpacked
	for i, tag := range tags {
		data := tables[tag]
		plain += (len(data) + 3) / 4 * 4
		body := pack(thorough, nil, data)
		if len(body) >= len(data) {
			body = data // as is, which the equal lengths tell
		}
		e := out[header+entry*i:]
		copy(e, tag)
		binary.BigEndian.PutUint32(e[4:], uint32(len(out)))
		binary.BigEndian.PutUint32(e[8:], uint32(len(body)))
		binary.BigEndian.PutUint32(e[12:], uint32(len(data)))
		binary.BigEndian.PutUint32(e[16:], tableSum(data))
		out = append(out, body...)
		for len(out)%4 != 0 {
			out = append(out, 0)
		}
	}
	copy(out, "wOFF")
	binary.BigEndian.PutUint32(out[4:], 0x00010000) // kind of the font within: TrueType
	binary.BigEndian.PutUint32(out[8:], uint32(len(out)))
	binary.BigEndian.PutUint16(out[12:], uint16(len(tags)))
	binary.BigEndian.PutUint32(out[16:], uint32(plain))
	binary.BigEndian.PutUint16(out[20:], 1) // version of the file, the maker's own
	return out, nil
}
