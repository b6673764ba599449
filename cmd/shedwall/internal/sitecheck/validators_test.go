package sitecheck

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

// specFaults runs the HTML standard's checker over every page of a site.
func specFaults(t *testing.T, site string) (wrong, remarks []string) {
	t.Helper()
	jar := filepath.Join("node_modules", "vnu-jar", "build", "dist", "vnu.jar")
	out := kit(t, nil, "java", "-jar", jar, "--stdout", "--exit-zero-always", "--format", "json", "--skip-non-html", site)
	var said struct {
		Messages []struct {
			Type, SubType, URL, Message string
			LastLine                    int
		}
	}
	if err := json.Unmarshal(out, &said); err != nil {
		t.Fatalf("%v in %s", err, out)
	}
	for _, m := range said.Messages {
		line := fmt.Sprintf("%s:%d: %s", within(site, m.URL), m.LastLine, m.Message)
		if m.Type == "info" {
			remarks = append(remarks, line)
		} else {
			wrong = append(wrong, line)
		}
	}
	return wrong, remarks
}

// houseFaults runs html-validate, which also knows rules of good writing, with the
// settings in .ci/html-validate.json.
func houseFaults(t *testing.T, site string) (wrong []string) {
	t.Helper()
	program := filepath.Join("node_modules", "html-validate", "bin", "html-validate.mjs")
	out := kit(t, nil, "node", program, "--config", "html-validate.json", "--formatter", "json", site)
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
	for _, file := range said {
		for _, m := range file.Messages {
			wrong = append(wrong, fmt.Sprintf("%s:%d: %s: %s", within(site, file.FilePath), m.Line, m.RuleID, m.Message))
		}
	}
	return wrong
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
