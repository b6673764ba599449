package page

import (
	"errors"
	"path"
	"strings"
	"testing"
)

// TestEstimatesOnPaper: dates that are estimates are marked on every paper that has dates,
// on each page of one of several, and the card of such a band says that it goes by none;
// a guide of records has no such mark.
func TestEstimatesOnPaper(t *testing.T) {
	for _, x := range []struct {
		in       Input
		estimate bool
	}{{averagesInput(t), true}, {input(t, tables(), 0, nil), false}} {
		g := Build(x.in)
		seen := map[string]int{}
		for _, l := range g.Leaves {
			kind := path.Base(l.Path)
			if kind == "report" {
				continue // no dates
			}
			seen[kind]++
			if got := strings.Contains(strings.ToLower(leafText(l)), "estimate"); got != x.estimate {
				t.Errorf("%s: an estimate: %v, want %v", l.Path, got, x.estimate)
			}
			if l.Pages && strings.Contains(l.Running, "estimate") != x.estimate {
				t.Errorf("%s: the running line is %q", l.Path, l.Running)
			}
		}
		for _, kind := range []string{"tonight", "worksheet", "tasks", "slips", "fall"} {
			if seen[kind] == 0 && (kind != "worksheet" || !x.estimate) {
				t.Errorf("no %s in %v", kind, seen)
			}
		}
		slips := leafAt(t, g, SlipsPath("slopes"))
		for _, s := range slips.Strips {
			for _, block := range s.Columns[0] {
				if text, ok := block.(LeafText); ok && strings.Contains(text.Text, "Careful dates") && strings.Contains(text.Text, "Estimate") != x.estimate {
					t.Errorf("a slip that may be cut off says %q", text.Text)
				}
			}
		}
	}
}

// TestBothLanguagesSayWhatTheyCan: a sheet in two languages has the leads of both where they
// fit, and where they do not, that its dates are estimates.
func TestBothLanguagesSayWhatTheyCan(t *testing.T) {
	in := averagesInput(t)
	for _, x := range []struct {
		room      int // letters of the lead
		how, half bool
	}{{10000, true, true}, {700, false, true}, {480, false, false}} {
		one := Wall{Tables: in.Tables, Book: in.Book, Climate: in.Bands[0].Climate, Plans: in.Bands[0].Plans}.keeping()
		w := one
		w.kept, w.pair = nil, &pairWall{one, one}
		w.Fitting = func() Fitting { return roomForLead(x.room) }
		for _, s := range w.Sheets() {
			if len(s.Lead) != 2 {
				t.Fatalf("leads: %q", s.Lead)
			}
			for _, lead := range s.Lead {
				if !strings.Contains(lead, "Estimate from typed") || !strings.Contains(lead, "in 1 year in 10") {
					t.Errorf("room for %d: %s", x.room, lead)
				}
				if strings.Contains(lead, "In type: open ground first") != x.how || strings.Contains(lead, "Half the years") != x.half {
					t.Errorf("room for %d of %d: %s", x.room, len(strings.Join(s.Lead, "")), lead)
				}
			}
			if s.Code != w.code(s) || !strings.Contains(s.CodeText, s.Code) {
				t.Error("the code is of another sheet")
			}
		}
	}
}

// roomForLead is so many letters of the lead.
type roomForLead int

func (n roomForLead) Fits(s *Sheet) error {
	if len(strings.Join(s.Lead, "")) > int(n) {
		return errors.New("no room")
	}
	return nil
}

func (roomForLead) TooMuch(*Sheet) bool { return false }
