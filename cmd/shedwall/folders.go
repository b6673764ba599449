package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// folders puts file systems side by side under the names of their folders, so
// that what is embedded looks like the guide folder it came from.
type folders map[string]fs.FS

// Open opens a file below one of the folders. The top itself cannot be listed.
func (f folders) Open(name string) (fs.File, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	top, rest, _ := strings.Cut(name, "/")
	sub, ok := f[top]
	if !ok {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	if rest == "" {
		rest = "."
	}
	return sub.Open(rest)
}

// guideFolder is a guide on disk. One without data/ is the demo, which is said. Where it
// seems that a guide was meant, it is refused: nobody wants the demo in its place.
func (e *env) guideFolder(dir string) (fs.FS, error) {
	info, err := os.Stat(dir)
	if err != nil {
		return nil, err
	}
	if !info.IsDir() {
		return nil, usageError{&fs.PathError{Op: "open", Path: dir, Err: fs.ErrInvalid}}
	}
	guide := os.DirFS(filepath.Clean(dir))
	if _, err := fs.Stat(guide, "data"); err == nil {
		return guide, nil
	}
	entries, err := fs.ReadDir(guide, ".")
	if err != nil {
		return nil, err
	}
	at := filepath.ToSlash(filepath.Clean(dir))
	for _, entry := range entries {
		switch name := entry.Name(); {
		case entry.IsDir() && strings.EqualFold(name, "data"):
			return nil, usageError{fmt.Errorf("%s has no folder data, but one called %s: rename it to data, in small letters", at, name)}
		case name == "guide.csv" || name == "stations.csv":
			return nil, usageError{fmt.Errorf("%s has no folder data, but %s lies in it: tables belong into a folder data, and --guide names the folder above that", at, name)}
		}
	}
	fmt.Fprintf(e.stderr, "%s has no folder data, so this is the demo guide; shedwall begin writes a guide of your own\n", at)
	return guide, nil
}
