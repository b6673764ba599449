package sitecheck

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// checks is every check of the files of a site; each returns what is wrong.
var checks = []struct {
	name string
	find func(*site) []string
}{
	{"links", brokenLinks},
	{"markdown_links", brokenMarkdownLinks},
	{"outside_loads", outsideLoads},
	{"ids_named", brokenIDs},
	{"ids_once", repeatedIDs},
	{"lost_pages", lostPages},
	{"head", headFaults},
	{"cells", emptyCells},
	{"leftovers", leftoverMarks},
	{"files", oddFiles},
	{"twins", missingTwins},
	{"weight", heavyPages},
}

func TestDemoPages(t *testing.T) {
	s := readSite(t, demoSite(t))
	t.Logf("%d pages, %d files", len(s.pages), len(s.files))
	for _, check := range checks {
		t.Run(check.name, func(t *testing.T) { report(t, check.find(s)) })
	}
	t.Run("frames", func(t *testing.T) { report(t, strayFrames(s)) })
}

// TestSoundPages shows that the checks let a good site pass.
func TestSoundPages(t *testing.T) {
	s := readSite(t, filepath.Join("testdata", "sound"))
	s.files["bands/low/sheet-letter.pdf"] = []byte("a PDF")
	s.files["bands/low/sheet-a4.pdf"] = []byte("a PDF")
	for _, check := range checks {
		t.Run(check.name, func(t *testing.T) { report(t, check.find(s)) })
	}
}

// TestFaultyPages shows that each check finds what it is there for. The faults were
// put into testdata/faulty by hand; the lines say where.
func TestFaultyPages(t *testing.T) {
	s := readSite(t, filepath.Join("testdata", "faulty"))
	s.files["crops/kale.html"] = []byte(strings.Repeat("<p>word</p>\n", 10_000)) // 12 bytes each
	want := map[string]string{
		"links": `
			index.html: <a> to "/index.html": starts at the top of a host
			index.html: <a> to "crops": no such file
			index.html: <a> to "crops/kale.html#nowhere": no such place in the page
			index.html: <a> to "javascript:go()": neither within the site nor an outside page
			index.html: <a> to "": empty
			style.css: <style> to "absent.png": no such file`,
		"markdown_links": `
			index.md: link to "crops/kale.md" leads nowhere
			index.md: link to "crops/beet.md" leads nowhere`,
		"outside_loads": `
			index.html: <link> loads https://fonts.example/one.css
			index.html: <img> loads //host.example/a.png
			style.css: <style> loads https://fonts.example/two.css
			index.html: holds a <script>`,
		"ids_named": `
			index.html: <p aria-describedby> names "absent", which is not on the page`,
		"ids_once": `
			index.html: id "same" stands 2 times`,
		"lost_pages": `
			bands/low/sheet.html: no link leads here
			crops/Beet_Root.html: no link leads here`,
		"head": `
			crops/Beet_Root.html: no title
			crops/Beet_Root.html: 0 main headings
			index.html: no language
			index.html: the title "Faulty" is that of crops/kale.html
			index.html: 2 main headings`,
		"cells": `
			index.html: empty <td> in the row "Crop"`,
		"leftovers": `
			index.html: holds "ZgotmplZ"
			index.html: holds "%!d("`,
		"files": `
			crops/Beet_Root.html: "Beet_Root.html" is not a plain lower-case name`,
		"twins": `
			bands/low/sheet.html: no sheet-letter.pdf beside it
			bands/low/sheet.html: no sheet-a4.pdf beside it
			crops/Beet_Root.html: no Beet_Root.md beside it
			crops/kale.html: no kale.md beside it
			index.md: starts with "# Another title", the page with "# Faulty"`,
		"weight": `
			crops/kale.html: 120000 bytes, over 100000`,
	}
	for _, check := range checks {
		t.Run(check.name, func(t *testing.T) {
			got := check.find(s)
			var wanted []string
			for line := range strings.Lines(want[check.name]) {
				if line = strings.TrimSpace(line); line != "" {
					wanted = append(wanted, line)
				}
			}
			if !slices.Equal(got, wanted) {
				t.Errorf("found\n\t%s\nwant\n\t%s", strings.Join(got, "\n\t"), strings.Join(wanted, "\n\t"))
			}
		})
	}
}
