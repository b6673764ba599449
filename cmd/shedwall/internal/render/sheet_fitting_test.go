package render

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/page"
)

// TestFittingAsDrawn asks one fitting of sheet after sheet, whose rows, feet and keys come
// again in other company and sometimes changed: it says of each what drawing it says, and
// what it calls too much finds no paper whatever the code.
func TestFittingAsDrawn(t *testing.T) {
	cases := sheetCases()
	var fits, not, early int
	rapid.Check(t, func(t *rapid.T) {
		f := NewFitting()
		all := cases[rapid.IntRange(0, len(cases)-1).Draw(t, "case")].sheet
		for range 4 {
			s := *all
			s.Rows = slices.Clone(all.Rows)
			if n := len(s.Rows); n > 1 {
				from := rapid.IntRange(0, n/2).Draw(t, "first")
				s.Rows = s.Rows[from:rapid.IntRange(from, n).Draw(t, "last")]
			}
			for i := range s.Rows {
				r := &s.Rows[i]
				switch rapid.IntRange(0, 15).Draw(t, "change") {
				case 0:
					r.GroupEnd = !r.GroupEnd
				case 1:
					r.Dates += " · dig 6 Sep on"
				case 2:
					r.Covered = "under F+T: out 1 Mar–8 Apr · pick 10 May–18 Jun"
				case 3:
					r.Name += ", the kind that keeps"
				case 4:
					stack := []page.Bar{{Kind: page.BarInside, Letter: "I", From: 60, To: 90}, {Kind: page.BarOutside, Letter: "O", From: 60, To: 90},
						{Kind: page.BarSetOut, Letter: "S", From: 60, To: 90}, {Kind: page.BarHarvest, Letter: "H", From: 60, To: 90}}
					r.Bars = stack[:rapid.IntRange(1, 4).Draw(t, "bars")]
				case 5:
					r.Covers = append(slices.Clone(r.Covers), page.CoverLine{Style: "film", Letter: "X", Level: 2, From: 60, To: 90})
				case 6:
					r.Code += "0000" // a wider column of codes
				}
			}
			lines := rapid.IntRange(0, 25).Draw(t, "more of the foot")
			s.Foot = append(slices.Clone(s.Foot), slices.Repeat([]string{"Row covers fail in wind."}, lines)...)
			s.Name = strings.Repeat("vegetables that stand little frost; ", rapid.IntRange(0, 6).Draw(t, "more of the name")) + s.Name
			if len(s.CoverKey) > 0 {
				s.CoverKey = slices.Repeat(s.CoverKey[:1], rapid.IntRange(0, 16).Draw(t, "covers"))
			}

			s.CodeText = ""
			tooMuch := f.TooMuch(&s)
			s.CodeText = "sheet code " + rapid.StringMatching("[A-HJ-NP-Z2-9]{4}").Draw(t, "code")
			got := f.Fits(&s)
			var want []error
			for _, a := range []sheetArea{printArea(), Letter.area(), A4.area()} {
				if _, err := layoutSheet(&s, a); err != nil {
					want = append(want, err)
				}
			}
			switch {
			case (got == nil) != (want == nil):
				t.Fatalf("said to fit: %v; drawn: %v", got, want)
			case got != nil && !strings.HasSuffix(got.Error(), want[0].Error()):
				t.Fatalf("said: %v; drawn: %v", got, want[0])
			case tooMuch && got == nil:
				t.Fatal("said to be too much, and fits")
			case got == nil:
				fits++
			case tooMuch:
				early++
				fallthrough
			default:
				not++
			}
		}
	})
	if fits == 0 || early < not*2/3 {
		t.Errorf("%d sheets fit, %d do not, of which %d were told early", fits, not, early)
	}
}

// TestFittingRows asks for rows in columns and beside calendars of several widths, and for
// rows that differ from the one known under their code in one thing alone.
func TestFittingRows(t *testing.T) {
	m, _ := tightest()
	if m.name != leastName || m.dates != leastType {
		t.Fatal("names and dates are evened at the tightest scale, and rows are not always as high in a column")
	}
	f := NewFitting()
	ask := func(r page.SheetRow) {
		for _, width := range []float64{45, 60, 75} {
			for _, cal := range []calendar{{90, 170, 366}, {100, 130, 366}, {90, 120, 366}} {
				var got, want rowPlan
				gotErr := f.row(&r).plan(&got, &m, cal, width)
				clean, _ := cleanRow(&r)
				texts, _ := textsOfRow(&clean, nil)
				wantErr := want.plan(&clean, &texts, &m, cal, width)
				if (gotErr == nil) != (wantErr == nil) || got.up != want.up || got.down != want.down {
					t.Errorf("%+v in %v mm beside %v: %+v %v, want %+v %v", r, width, cal, got, gotErr, want, wantErr)
				}
			}
		}
	}
	changes := []func(r *page.SheetRow){
		func(r *page.SheetRow) { r.Name = "Beetroot, golden globe" },
		func(r *page.SheetRow) { r.Dates += " · dig 6 Sep on" },
		func(r *page.SheetRow) { r.Covered += "under F: out 1 Mar–8 Apr" },
		func(r *page.SheetRow) { r.GroupEnd = !r.GroupEnd },
		func(r *page.SheetRow) {
			r.Bars = append(slices.Clone(r.Bars), page.Bar{Kind: page.BarOutside, Letter: "O", From: 2, To: 9})
		},
		func(r *page.SheetRow) {
			r.Covers = append(slices.Clone(r.Covers), page.CoverLine{Style: "film", Letter: "X", Level: 3, From: 60, To: 90})
		},
	}
	for _, r := range slopes().Rows {
		for _, change := range changes {
			ask(r)
			other := r
			change(&other)
			ask(other)
		}
	}
}
