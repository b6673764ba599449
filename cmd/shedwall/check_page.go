package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/publish"
)

// pageName refuses a file for the page of faults that may be one of the guide's own.
func pageName(file string) error {
	if file != "" && !slices.Contains([]string{".html", ".htm"}, strings.ToLower(filepath.Ext(file))) {
		return usageError{fmt.Errorf("--page %s: the page is an HTML file; give a name that ends in .html", filepath.ToSlash(file))}
	}
	return nil
}

// writeFaultsPage writes what the check found as one HTML file.
func writeFaultsPage(g *publish.Guide, file string) error {
	html, err := g.FaultsPage()
	if err != nil {
		return err
	}
	return os.WriteFile(file, html, 0o644)
}
