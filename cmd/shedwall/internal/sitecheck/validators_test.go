package sitecheck

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

// specFaults runs the checker of the HTML and CSS standards over every page and style
// sheet of a site.
func specFaults(t *testing.T, site string) (wrong, remarks []string) {
	t.Helper()
	jar := filepath.Join("node_modules", "vnu-jar", "build", "dist", "vnu.jar")
	// The quick compiler alone has a whole site checked before the better one has paid for
	// itself; its code needs more stack than Java gives a thread by itself.
	quick := []string{"-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC", "-Xss8m"}
	var faults, hints tally
	for _, kind := range []string{"--skip-non-html", "--skip-non-css"} {
		out := kit(t, nil, "java", append(slices.Clone(quick), "-jar", jar, "--stdout", "--exit-zero-always", "--format", "json", kind, site)...)
		var said struct {
			Messages []struct {
				Type, URL, Message string
				LastLine           int
			}
		}
		if err := json.Unmarshal(out, &said); err != nil {
			t.Fatalf("%v in %s", err, out)
		}
		for _, m := range said.Messages {
			place := fmt.Sprintf("%s:%d", within(site, m.URL), m.LastLine)
			if isInput(place) {
				continue
			}
			if m.Type == "info" {
				hints.add(place, m.Message)
			} else {
				faults.add(place, m.Message)
			}
		}
	}
	return faults.lines(), hints.lines()
}

// tally folds a message said of many places, since pages of one kind repeat it.
type tally struct {
	messages []string // in the order of their first place
	places   map[string][]string
}

func (l *tally) add(place, message string) {
	if l.places == nil {
		l.places = map[string][]string{}
	}
	if _, seen := l.places[message]; !seen {
		l.messages = append(l.messages, message)
	}
	l.places[message] = append(l.places[message], place)
}

// lines is each message with its first place and how many more there are, sorted.
func (l *tally) lines() []string {
	var lines []string
	for _, message := range l.messages {
		places := l.places[message]
		slices.Sort(places)
		line := places[0] + ": " + message
		if more := len(places) - 1; more > 0 {
			line += fmt.Sprintf(" (and %d more)", more)
		}
		lines = append(lines, line)
	}
	slices.Sort(lines)
	return lines
}

// houseFaults runs html-validate, which also knows rules of good writing, with the
// settings in .ci/html-validate.json.
func houseFaults(t *testing.T, site string) []string {
	t.Helper()
	program := filepath.Join("node_modules", "html-validate", "bin", "html-validate.mjs")
	file := filepath.Join(t.TempDir(), "faults.json") // it ends before a pipe has taken all of a long report
	kit(t, nil, "node", program, "--config", "html-validate.json", "--formatter", "text,json="+file, site)
	out, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var said []struct {
		FilePath string
		Messages []struct {
			RuleID  string `json:"ruleId"`
			Message string
			Line    int
		}
	}
	if err := json.Unmarshal(out, &said); err != nil {
		t.Fatalf("%v in %s", err, out)
	}
	var faults tally
	for _, file := range said {
		if isInput(within(site, file.FilePath)) {
			continue
		}
		for _, m := range file.Messages {
			faults.add(fmt.Sprintf("%s:%d", within(site, file.FilePath), m.Line), m.RuleID+": "+m.Message)
		}
	}
	return faults.lines()
}

// within shortens a path or file address to the part inside the site.
func within(site, name string) string {
	name = filepath.ToSlash(name)
	if _, inside, ok := strings.Cut(name, filepath.ToSlash(site)+"/"); ok {
		return inside
	}
	return name
}

func TestDemoHTML(t *testing.T) {
	proof.Need(t, "html")
	site := demoSite(t)
	wrong, remarks := specFaults(t, site)
	for _, r := range remarks {
		t.Log("remark: " + r)
	}
	report(t, wrong)
	report(t, houseFaults(t, site))
}

// TestValidatorsSeeFaults shows that both checkers run and find faults, and let the
// sound site pass.
func TestValidatorsSeeFaults(t *testing.T) {
	proof.Need(t, "html")
	wrong, _ := specFaults(t, testSite(t, "sound"))
	report(t, wrong)
	report(t, houseFaults(t, testSite(t, "sound")))

	wrong, _ = specFaults(t, testSite(t, "faulty"))
	for _, want := range []string{
		"crops/Beet_Root.html:5: Element “title” must not be empty.",
		"index.html:14: Duplicate ID “same”.",
		`style.css:6: CSS: “heigth”: Property “heigth” doesn't exist.`, // on line 5; in style sheets the checker counts one more
	} {
		if !slices.Contains(wrong, want) {
			t.Errorf("not found: %s\nin\n\t%s", want, strings.Join(wrong, "\n\t"))
		}
	}
	wrong = houseFaults(t, testSite(t, "faulty"))
	for _, want := range []string{
		"index.html:20: wcag/h63: <th> element must have a valid scope attribute: row, col, rowgroup or colgroup",
		"index.html:20: prefer-tbody: Prefer to wrap <tr> elements in <tbody>",
	} {
		if !slices.Contains(wrong, want) {
			t.Errorf("not found: %s\nin\n\t%s", want, strings.Join(wrong, "\n\t"))
		}
	}
}
