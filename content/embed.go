// Package content carries the texts that come with the program: the words of the
// demo guide and the defaults for crops and covers. They are plain Markdown.
// Files cannot be embedded from outside their folder, so they are embedded here,
// beside themselves, and handed on as a file system.
package content

import "embed"

// FS holds the texts; paths are relative to this folder ("how.md",
// "crops/kale.md"). A folder is embedded whole ("all:"), so that files whose
// names begin with a dot or an underscore are not left out unnoticed. A new
// sub-folder must be named here: a test compares the names with the disk.
//
//go:embed *.md all:bands all:covers all:crops all:es all:images all:stories
var FS embed.FS
