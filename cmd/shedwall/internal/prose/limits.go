package prose

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"shedwall/cmd/shedwall/internal/diag"
)

// The limits of one file. The parser is safe but takes quadratic time on some
// odd inputs - 30,000 signs [ in one stretch took minutes - and pads short table
// rows, so that a few kilobytes could become gigabytes. No guide needs more than this.
const (
	maxBytes      = 1 << 20
	maxColumns    = 64
	maxCells      = 50_000        // of a file's tables, short rows padded
	maxSigns      = 2000          // [ * _ and the like without a blank line
	maxAllSigns   = 20 * maxSigns // of a file
	maxParagraph  = 32 << 10      // bytes without a blank line
	maxQuoteDepth = 16
	maxReferences = 1000
)

// cleanSource brings line ends to LF, drops a byte-order mark and checks what
// must be right before the parser sees it. ok is false where parsing would be
// useless or slow.
func cleanSource(file string, src []byte, faults *diag.List) (clean []byte, ok bool) {
	fault := func(line, col int, id, what, want, cure string) {
		faults.Add(diag.Fault{At: diag.Position{File: file, Line: line, Column: col}, ID: id, What: what, Expected: want, Cure: cure})
	}
	if len(src) > maxBytes {
		fault(0, 0, "prose-limit", fmt.Sprintf("the file has %d bytes", len(src)), fmt.Sprintf("at most %d", maxBytes), "split it into several pages")
		return nil, false
	}
	src = bytes.TrimPrefix(src, []byte("\xef\xbb\xbf"))
	src = bytes.ReplaceAll(bytes.ReplaceAll(src, []byte("\r\n"), []byte("\n")), []byte("\r"), []byte("\n"))
	if !utf8.Valid(src) {
		at := firstInvalid(src)
		line, col := position(src, at)
		fault(line, col, "prose-encoding", fmt.Sprintf("the byte %#02x is not part of any character", src[at]), "text saved as UTF-8", "save the file again and choose UTF-8 as its encoding")
		return nil, false
	}
	ok = true
	first, _, _ := bytes.Cut(src, []byte("\n"))
	if f := string(bytes.TrimRight(first, " \t")); f == "---" || f == "+++" {
		fault(1, 1, "prose-settings", "the file begins with a block of settings", "plain text whose first line is the title, written # Title", "remove the block; settings belong in data/guide.csv")
		ok = false
	}
	references, paragraph, paragraphLine := 0, 0, 0
	columns, cells, signs, allSigns := 0, 0, 0, 0 // of the table that a stretch may hold; of all tables; of a stretch; of all
	n := 0
	for line := range strings.SplitAfterSeq(string(src), "\n") {
		n++
		body := strings.Trim(line, " \t\n")
		if body == "" {
			paragraph, columns, signs = 0, 0, 0
			continue
		}
		if paragraph == 0 {
			paragraphLine = n
		}
		if before := paragraph; before <= maxParagraph {
			if paragraph += len(line); paragraph > maxParagraph {
				fault(paragraphLine, 1, "prose-limit", "a stretch of text without a blank line is too long", fmt.Sprintf("at most %d bytes", maxParagraph), "put blank lines between its paragraphs")
				ok = false
			}
		}
		if depth := quoteDepth(body); depth > maxQuoteDepth {
			fault(n, 1, "prose-limit", fmt.Sprintf("the line is quoted %d times over", depth), fmt.Sprintf("at most %d", maxQuoteDepth), "remove some of the > signs")
			ok = false
		}
		count := countSigns(body)
		if before := allSigns; before <= maxAllSigns {
			if allSigns += count; allSigns > maxAllSigns {
				fault(n, 1, "prose-limit", "the text holds too many signs such as [ * _", fmt.Sprintf("at most %d", maxAllSigns), "split it into several pages")
				ok = false
			}
		}
		if before := signs; before <= maxSigns {
			if signs += count; signs > maxSigns {
				fault(n, 1, "prose-limit", "a stretch of text without a blank line holds too many signs such as [ * _", fmt.Sprintf("at most %d", maxSigns), "put blank lines between its paragraphs")
				ok = false
			}
		}
		if before := cells; before <= maxCells {
			if cells += columns; cells > maxCells {
				fault(n, 1, "prose-limit", "the tables of this file hold too many cells, where short rows are filled up", fmt.Sprintf("at most %d", maxCells), "split the file, or put a blank line after each table")
				ok = false
			}
		}
		if strings.Trim(body, "|-: \t>*+0123456789.)") == "" && strings.Contains(body, "|") && strings.Contains(body, "-") {
			if columns = strings.Count(body, "|"); columns > maxColumns {
				fault(n, 1, "prose-limit", "a table is wider than any page", fmt.Sprintf("at most %d columns", maxColumns), "split the table")
				ok = false
			}
		}
		if body[0] == '[' && strings.Contains(body, "]:") {
			if references++; references == maxReferences+1 {
				fault(n, 1, "prose-limit", "too many link addresses are set apart from the text", fmt.Sprintf("at most %d", maxReferences), "write the addresses beside the words, or split the file")
				ok = false
			}
		}
	}
	return src, ok
}

// countSigns counts the signs that may open something which ends anywhere later.
func countSigns(line string) int {
	n := 0
	for i := range len(line) {
		switch line[i] {
		case '[', '*', '_', '`', '<':
			n++
		}
	}
	return n
}

func quoteDepth(line string) int {
	depth := 0
	for _, c := range line {
		switch c {
		case '>':
			depth++
		case ' ', '\t':
		default:
			return depth
		}
	}
	return depth
}

func firstInvalid(src []byte) int {
	for i := 0; i < len(src); {
		r, n := utf8.DecodeRune(src[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return 0
}

// position is the line and column (in characters, both from 1) of a byte offset.
func position(src []byte, offset int) (line, col int) {
	offset = min(max(offset, 0), len(src))
	line = bytes.Count(src[:offset], []byte("\n")) + 1
	start := bytes.LastIndexByte(src[:offset], '\n') + 1
	return line, utf8.RuneCount(src[start:offset]) + 1
}
