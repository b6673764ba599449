package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/jpeg"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// filesBelow is every file of a folder with its bytes.
func filesBelow(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(p)
		rel, _ := filepath.Rel(dir, p)
		out[filepath.ToSlash(rel)] = data
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// A guide made from its published files has the same bytes, file for file; what growers
// and cameras said in private is in none of them.
func TestRebuiltFromItsPublishedFiles(t *testing.T) {
	var photo bytes.Buffer
	if err := jpeg.Encode(&photo, image.NewGray(image.Rect(0, 0, 64, 48)), nil); err != nil {
		t.Fatal(err)
	}
	// FF E1, length 16: a block as cameras write it.
	camera := "\xff\xe1\x00\x10Exif\x00\x00secret44"
	files := maps.Clone(scriptGuide)
	for _, name := range slices.Collect(maps.Keys(files)) {
		files["data/"+name] = files[name]
		delete(files, name)
	}
	files["data/reports.csv"] = "date,phone,band,crop,layers,outside_low_c,outcome,grower,private_lane,note\n" +
		"2025-05-20,0123 456789,slopes,tomato,fabric,-0.5,unhurt,RT,9 Hidden Lane,on hoops\n" +
		"2025-09-24,,slopes,kale,,-1,lived,SV,,\"write to sv@hidden.example, \"\"thanks\"\"\"\n" +
		"around then,,slopes,pea,,,dead,GA,,wet snow\n"
	files["content/index.md"] = "# Welcome\n\nTo all of Alder.\n\n![A grey field](images/field.jpg)\n"
	files["content/images/field.jpg"] = photo.String()[:2] + camera + photo.String()[2:]
	files["data/members.xlsx"] = "secret44"
	files["data/records/old.txt"] = "secret44"
	dir := tableGuide(t, files)
	run2 := func(args ...string) {
		t.Helper()
		var out, messages bytes.Buffer
		if code := run(args, &out, &messages); code != exitDone {
			t.Fatalf("%q ended with %d:\n%s%s", args, code, out.String(), messages.String())
		}
	}
	run2("publish", "--guide", dir, "--keep-edition")
	first := filesBelow(t, filepath.Join(dir, "public"))
	again := filepath.Join(t.TempDir(), "again")
	run2("publish", "--guide", filepath.Join(dir, "public", "inputs"), "--out", again)
	second := filesBelow(t, again)
	// What a site was made from is told by checksums of the guide's own files, which are
	// not the published copies.
	delete(first, ".shedwall-made")
	delete(second, ".shedwall-made")
	for name, data := range first {
		if !bytes.Equal(data, second[name]) {
			t.Errorf("%s differs (%d and %d bytes)", name, len(data), len(second[name]))
		}
	}
	if len(second) != len(first) {
		t.Errorf("%d files, then %d", len(first), len(second))
	}
	for name, data := range first {
		for _, private := range []string{"secret44", "0123 456789", "Hidden Lane", "sv@hidden.example", "private_lane"} {
			if bytes.Contains(data, []byte(private)) {
				t.Errorf("%s holds %q", name, private)
			}
		}
	}
	for _, name := range []string{"inputs/data/editions/1.csv", "inputs/data/guide.csv", "inputs/data/reports.csv", "inputs/content/index.md", "inputs/content/images/field.jpg", "handover.html"} {
		if first[name] == nil {
			t.Errorf("no %s", name)
		}
	}
	if bytes.Contains(first["inputs/data/reports.csv"], []byte("phone")) || !bytes.Contains(first["inputs/data/reports.csv"], []byte("wet snow")) {
		t.Errorf("reports.csv as published:\n%s", first["inputs/data/reports.csv"])
	}
	if first["inputs/data/members.xlsx"] != nil || first["inputs/data/records/old.txt"] != nil {
		t.Error("files that nothing reads were published")
	}
	for _, line := range strings.Split(strings.TrimSpace(string(first["inputs/checksums.txt"])), "\n") {
		sum, name, _ := strings.Cut(line, "  ")
		if got := sha256.Sum256(first["inputs/"+name]); hex.EncodeToString(got[:]) != sum {
			t.Errorf("the checksum of %s is not %s", name, sum)
		}
		if !bytes.Contains(first["handover.html"], []byte(sum[:16])) || !bytes.Contains(first["handover.html"], []byte(name)) {
			t.Errorf("handover.html does not show %s", name)
		}
	}
}
