package main

import (
	"os"
	"path/filepath"
	"testing"

	"shedwall/cmd/shedwall/internal/publish"
	"shedwall/content"
	"shedwall/data"
	"shedwall/templates"
)

// BenchmarkPublishDemo is the demo guide from its tables to the finished site, with nothing
// to take over from a site before.
func BenchmarkPublishDemo(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		g, err := publish.Load(os.DirFS("../.."), folders{"data": data.FS, "content": content.FS, "templates": templates.FS})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := g.Publish(filepath.Join(b.TempDir(), "site"), nil); err != nil {
			b.Fatal(err)
		}
	}
}
