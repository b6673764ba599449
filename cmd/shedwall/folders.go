package main

import (
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

// guideFolder is a guide on disk.
func guideFolder(dir string) (fs.FS, error) {
	info, err := os.Stat(dir)
	if err != nil {
		return nil, err
	}
	if !info.IsDir() {
		return nil, usageError{&fs.PathError{Op: "open", Path: dir, Err: fs.ErrInvalid}}
	}
	return os.DirFS(filepath.Clean(dir)), nil
}
