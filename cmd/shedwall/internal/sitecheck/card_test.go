package sitecheck

import (
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

// notNamed is what a card says of crops for which it has no room.
var notNamed = regexp.MustCompile(`(?:and [0-9]+ more|y\s+[0-9]+\s+más):`)

// TestCardsNameEveryCrop: every tonight card of the demo has room for all crops, in both
// languages and on both papers: a gardener with a torch looks nothing up elsewhere.
func TestCardsNameEveryCrop(t *testing.T) {
	proof.Need(t, "pdf")
	dir := bookletSite(t)
	looked := 0
	for _, name := range sorted(readSite(t, dir).files) {
		if base := filepath.Base(name); base != "tonight-a4.pdf" && base != "tonight-letter.pdf" {
			continue
		}
		out, err := exec.Command("pdftotext", filepath.Join(dir, filepath.FromSlash(name)), "-").Output()
		if err != nil {
			t.Fatal(name, err)
		}
		looked++
		if m := notNamed.FindString(strings.ReplaceAll(string(out), "\u00a0", " ")); m != "" {
			t.Errorf("%s names not all crops: %s", name, m)
		}
	}
	if looked < 4 {
		t.Errorf("%d cards looked at", looked)
	}
}
