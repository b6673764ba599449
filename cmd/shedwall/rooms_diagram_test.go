package main_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var updateRooms = flag.Bool("update-rooms", false, "draw the room diagram in DEVELOPERS.md anew")

// diagram draws the rooms in layers, the command on top, and lists what each may use.
func diagram(all []room) string {
	const width = 45
	line := func(text string) string { return fmt.Sprintf("| %-*s |\n", width, text) }
	rule := "+" + strings.Repeat("-", width+2) + "+\n"
	var b strings.Builder
	b.WriteString(rule + line("cmd/shedwall") + rule)
	for _, layer := range slices.Backward(slices.Collect(byLevel(all))) {
		b.WriteString(line(strings.Join(layer, "   ")) + rule)
	}
	b.WriteString("each room may use rooms of lower layers only, and of those:\n\n")
	for _, r := range all {
		fmt.Fprintf(&b, "%-9s %s\n", r.name, r.job)
		if r.words != "" {
			fmt.Fprintf(&b, "          < %s\n", r.words)
		}
	}
	return b.String()
}

// byLevel yields the names of the rooms of each level, lowest first.
func byLevel(all []room) func(func([]string) bool) {
	return func(yield func([]string) bool) {
		for level := 1; ; level++ {
			var names []string
			for _, r := range all {
				if r.level == level {
					names = append(names, r.name)
				}
			}
			if len(names) == 0 || !yield(names) {
				return
			}
		}
	}
}

// The diagram stands in DEVELOPERS.md between these lines.
const (
	diagramStart = "<!-- rooms: written by go test ./cmd/shedwall -run TestRoomDiagram -update-rooms -->\n```text\n"
	diagramEnd   = "```\n<!-- rooms end -->\n"
)

func TestRoomDiagram(t *testing.T) {
	all, err := parseRooms(rooms)
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join("..", "..", "DEVELOPERS.md")
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(text), diagramStart)
	drawn, after, ends := strings.Cut(rest, diagramEnd)
	if !found || !ends {
		t.Fatalf("DEVELOPERS.md has no place for the diagram: wanted the lines\n%s%s", diagramStart, diagramEnd)
	}
	want := diagram(all)
	if drawn == want {
		return
	}
	if !*updateRooms {
		t.Fatalf("the room diagram in DEVELOPERS.md differs from the table; run: go test ./cmd/shedwall -run TestRoomDiagram -update-rooms\nwant\n%s", want)
	}
	if err := os.WriteFile(name, []byte(before+diagramStart+want+diagramEnd+after), 0o644); err != nil {
		t.Fatal(err)
	}
}
