// Package templates holds the pages' frames and style as files that a publisher
// can copy and change. It is imported by the command alone, which hands the files
// down; nothing else may depend on where they come from.
package templates

import "embed"

// FS is every file of this folder but its Go code: html/, markdown/ and style.css.
//
//go:embed all:html all:markdown style.css
var FS embed.FS
