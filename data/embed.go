// Package data carries the tables that come with the program: the built-in
// crops, covers, germination, hazards and sources, and the tables and records of
// the demo guide. A go:embed pattern cannot climb out of a folder, so the files
// are embedded here, beside themselves, and handed on as a file system.
//
// How the built-in figures were chosen from published ranges: of spacings the
// wider end, of sowing depths the shallower end, of cold limits the warmer end
// for young plants. Fahrenheit figures were converted exactly and rounded to one
// decimal. Where sources disagree, the note of the row says so.
package data

import "embed"

// FS holds the tables; paths are relative to this folder ("builtin/crops.csv",
// "records/ambrel_mill.csv"). A folder is embedded whole ("all:"), so that files
// whose names begin with a dot or an underscore are not left out unnoticed. A new
// sub-folder must be named here: a test compares the names with the disk.
//
//go:embed *.csv all:builtin all:records all:editions
var FS embed.FS
