package render

import (
	"strconv"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/page"
)

// longLeaf is a list of weeks that takes several pages.
func longLeaf(weeks int) *page.Leaf {
	l := &page.Leaf{Path: "bands/a/tasks", Lang: "en", Band: "Slopes", Name: "Task list", Pages: true, Columns: 3, Running: "Slopes, page {n} of {all}", Continued: "{heading}, continued:", Dated: "2026-02-01", Foot: []string{"Foot"}}
	l.Strips = []page.LeafStrip{{Columns: [][]page.LeafBlock{{page.LeafHeading{Level: 1, Text: "Tasks"}, page.LeafText{Text: "Careful dates."}}}}}
	for w := range weeks {
		l.Flow = append(l.Flow, page.LeafHeading{Level: 2, Text: "Week " + strconv.Itoa(w+1)})
		for k := range 2 {
			t := page.LeafTicks{Name: "Kind " + strconv.Itoa(k)}
			for i := range 5 {
				t.Items = append(t.Items, page.LeafTick{Day: "2 May", Text: "thing " + strconv.Itoa(w*100+k*10+i)})
			}
			l.Flow = append(l.Flow, t)
		}
	}
	return l
}

func drawnPages(l *Leaf, paper Paper) (out []*drawing, err error) {
	set, err := l.layoutPages(paper.leafArea())
	if err != nil {
		return nil, err
	}
	for i := range set.pages {
		d := &drawing{width: paper.Width, height: paper.Height}
		set.draw(d, i)
		out = append(out, d)
	}
	return out, nil
}

// TestLongLeafLosesNothing: every item is drawn once, in order, inside the margins, and no
// heading ends a column.
func TestLongLeafLosesNothing(t *testing.T) {
	for _, weeks := range []int{1, 9, 48} {
		for _, paper := range []Paper{Letter, A4} {
			l := longLeaf(weeks)
			if weeks == 9 { // two lines at the foot
				l.Running = strings.Repeat("a band with a long name ", 7) + "page {n} of {all}"
			}
			set, err := MeasureLeaf(l)
			if err != nil {
				t.Fatal(err)
			}
			pages, err := drawnPages(set, paper)
			if err != nil {
				t.Fatal(err)
			}
			var words []string
			open := 0
			for _, d := range pages {
				for _, m := range d.marks {
					switch m := m.(type) {
					case *part:
						open++
					case shut:
						open--
					case run:
						if m.x < leafMargin-0.01 || m.x+m.width() > paper.Width-leafMargin+0.01 || m.y > paper.Height-leafMargin+0.5 {
							t.Errorf("%q stands in the margin of the %s", m.s, paper.Title)
						}
						if !m.decor {
							words = append(words, m.s)
						}
					}
				}
			}
			if open != 0 {
				t.Errorf("%d elements are left open", open)
			}
			text := strings.Join(words, " ")
			at := 0
			for w := range weeks {
				for k := range 2 {
					for i := range 5 {
						want := "thing " + strconv.Itoa(w*100+k*10+i)
						n := strings.Index(text[at:], want)
						if n < 0 || strings.Count(text+" ", want+" ") != 1 {
							t.Fatalf("%d weeks: %q is not drawn once after the one before it", weeks, want)
						}
						at += n
					}
				}
			}
			for i, w := range words[:len(words)-1] {
				if strings.HasPrefix(w, "Week ") && !strings.HasPrefix(words[i+1], "Kind") {
					t.Errorf("%q is followed by %q", w, words[i+1])
				}
			}
			if weeks == 48 && len(pages) < 3 {
				t.Errorf("%d pages for %d weeks", len(pages), weeks)
			}
		}
	}
}

// TestColumnsKeepTogether: what is bound to the next never ends a column.
func TestColumnsKeepTogether(t *testing.T) {
	item := func(h float64, keep bool) flowItem { return flowItem{leafItem: leafItem{height: h}, keep: keep} }
	items := []flowItem{item(1, false), item(1, true), item(1, true), item(3, false), item(1, false)}
	for room, want := range map[float64]int{0.5: 0, 1: 1, 2: 1, 3: 1, 5.9: 1, 6: 4, 7: 5} { // by hand: 1+1+1+3
		if got := fits(items, room); got != want {
			t.Errorf("%g mm hold %d items, want %d", room, got, want)
		}
	}
}

// TestColumnsSayWhatGoesOn: a column that begins within a list says over it which: its week,
// and its kind where that goes on too; one that begins with a week of its own does not. What
// is repeated is no part of the document, which is read aloud without columns.
func TestColumnsSayWhatGoesOn(t *testing.T) {
	within := 0
	for _, paper := range []Paper{Letter, A4} {
		set, err := MeasureLeaf(longLeaf(48))
		if err != nil {
			t.Fatal(err)
		}
		pages, err := drawnPages(set, paper)
		if err != nil {
			t.Fatal(err)
		}
		own := 0
		for _, d := range pages {
			week, kind, top, x := "", "", "", -1.0 // of the column so far
			for _, m := range d.marks {
				r, ok := m.(run)
				if !ok || r.size == runningSize || r.s == "Tasks" || r.s == "Careful dates." || r.s == "Foot" {
					continue
				}
				if r.decor && top != "" {
					top += r.s
					continue
				}
				begins := r.x > x+20 || x < 0
				if x = max(x, r.x); begins {
					top = ""
				}
				switch {
				case r.decor:
					top = r.s
				case strings.HasPrefix(r.s, "Week "):
					week, kind = r.s, ""
					own++
				case strings.HasPrefix(r.s, "Kind "):
					if kind = r.s; begins {
						t.Errorf("%s: a column begins with %s", paper.Title, r.s)
					}
				case begins:
					t.Errorf("%s: a column begins with %s", paper.Title, r.s)
				}
				if top != "" && strings.HasPrefix(r.s, "2 May") {
					within++
					if n := strings.Fields(top); len(n) < 3 || !strings.HasPrefix(top, "Week ") || !strings.Contains(top, ", continued:") || week != "" && !strings.HasPrefix(top, week+",") || kind != "" && strings.Contains(top, "Kind") && !strings.Contains(top, kind) {
						t.Errorf("%s: over what goes on of %s, %s stands %q", paper.Title, week, kind, top)
					}
					top = ""
				}
			}
		}
		if own != 48 {
			t.Errorf("%s: %d weeks begin", paper.Title, own)
		}
	}
	if within < 3 {
		t.Errorf("%d columns go on", within)
	}
}
