package data

import (
	"io/fs"
	"regexp"
	"testing"

	"shedwall/content"
)

// Cautions are read in any country: they send to offices by what these do, not by the
// names that they have in one country, and name no animal of one continent.
func TestCautionsNameNoCountrysOffices(t *testing.T) {
	one := regexp.MustCompile(`(?i)\b(county|your state|state [a-z]+ agency|building department|raccoons?|condado|de su estado|mapaches?|cooperative extension)\b`)
	files := map[string][]byte{}
	read := func(from fs.FS, name string) {
		text, err := fs.ReadFile(from, name)
		if err != nil {
			t.Fatal(err)
		}
		files[name] = text
	}
	read(FS, "builtin/hazards.csv")
	read(FS, "builtin/words.csv")
	texts, err := fs.Glob(content.FS, "*.md")
	for _, folder := range []string{"covers/*.md", "crops/*.md", "es/*.md", "es/covers/*.md", "es/crops/*.md"} {
		more, _ := fs.Glob(content.FS, folder)
		texts = append(texts, more...)
	}
	if err != nil || len(texts) < 40 {
		t.Fatalf("only %d texts, %v", len(texts), err)
	}
	for _, name := range texts {
		read(content.FS, name)
	}
	for name, text := range files {
		for _, found := range one.FindAll(text, -1) {
			t.Errorf("%s says %q", name, found)
		}
	}
}
