package publish

import (
	"debug/elf"
	"os"
	"strings"
	"sync"
)

// program tells the running program from every other: another may make other pages of the
// same guide, whatever its version is called. "" where the system does not let a program
// read itself; then nothing is kept from an earlier publish.
var program = sync.OnceValue(func() string {
	name, err := os.Executable()
	if err != nil {
		return ""
	}
	if id := buildID(name); id != "" {
		return id
	}
	q, err := quickOfFile(name)
	if err != nil {
		return ""
	}
	return q.String()
})

// buildID is the mark that Go's linker leaves in an ELF program: checksums of all that it was
// linked from and of what came of it. To read it takes a hundredth of the time that a
// checksum of the program takes. "" for programs of other formats, and where whoever built
// it left the mark out or wrote one of his own.
func buildID(name string) string {
	f, err := elf.Open(name)
	if err != nil {
		return ""
	}
	defer f.Close() // it was only read
	note := f.Section(".note.go.buildid")
	if note == nil {
		return ""
	}
	data, err := note.Data()
	// A note: three numbers of 4 bytes, "Go" with two zeros, then the mark with zeros behind.
	if err != nil || len(data) < 16 || string(data[12:16]) != "Go\x00\x00" {
		return ""
	}
	id := strings.TrimRight(string(data[16:]), "\x00")
	if parts := strings.Split(id, "/"); len(parts) == 4 && len(id) == 4*sumLetters+3 {
		return id
	}
	return ""
}

// sumLetters is the length of each of the four checksums in a mark of the linker.
const sumLetters = 20
