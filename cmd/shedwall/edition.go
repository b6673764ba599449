package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"shedwall/cmd/shedwall/internal/publish"
)

// keepable says why an edition cannot be kept: it must be a whole guide in a folder of
// its own.
func keepable(c *PublishCmd) error {
	if len(c.Only) > 0 {
		return usageError{errors.New("--keep-edition keeps all bands: leave out --only")}
	}
	if info, err := os.Stat(filepath.Join(c.Guide, "data")); err != nil || !info.IsDir() {
		return usageError{fmt.Errorf("--keep-edition needs a guide of your own: %s has no folder data", filepath.ToSlash(c.Guide))}
	}
	return nil
}

// tellKept prints why an edition was not kept.
func tellKept(e *env, g *publish.Guide) error {
	for _, f := range g.Faults.Sorted() {
		if f.ID == "edition-kept" {
			fmt.Fprintln(e.stderr, f)
		}
	}
	fmt.Fprintln(e.stderr, "nothing written")
	return errFaults
}
