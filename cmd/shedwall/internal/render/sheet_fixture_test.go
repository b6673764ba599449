package render

import (
	"strconv"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/page"
)

// The sheets of these tests are invented: crops, dates and covers serve to fill
// a sheet the way a real guide would, and to crowd it in ways one might.

var monthNames = []string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}
var monthDays = []int{31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// axis is the months of a sheet that begins with the given one (0 = January).
func axis(first int, names []string) []page.Month {
	var out []page.Month
	at := 0
	for i := range 12 {
		m := (first + i) % 12
		out = append(out, page.Month{Name: names[m], Full: names[m], From: at, To: at + monthDays[m]})
		at += monthDays[m]
	}
	return out
}

// day reads "6 Mar" as a day of an axis that begins with month first.
func day(first int, s string) int {
	num, name, _ := strings.Cut(s, " ")
	n, err := strconv.Atoi(num)
	if err != nil {
		panic(err)
	}
	at := 0
	for i := range 12 {
		m := (first + i) % 12
		if monthNames[m] == name {
			return at + n - 1
		}
		at += monthDays[m]
	}
	panic("no month " + name)
}

// bars reads "O 6 Mar-8 Apr; H 10 May-18 Jun": letter, from, to. A stretch of
// growing is put between each start and the first harvest after it.
func bars(first int, s string) []page.Bar {
	kinds := map[string]page.BarKind{"I": page.BarInside, "O": page.BarOutside, "S": page.BarSetOut, "G": page.BarGrowing, "H": page.BarHarvest}
	var out []page.Bar
	for _, one := range strings.Split(s, "; ") {
		letter, dates, _ := strings.Cut(one, " ")
		kind := kinds[letter]
		from, to, _ := strings.Cut(dates, "-")
		for _, c := range cut(day(first, from), day(first, to)) {
			out = append(out, page.Bar{Kind: kind, Letter: letter, From: c[0], To: c[1]})
			letter = ""
		}
	}
	end := -1
	for _, b := range out {
		if b.Kind == page.BarOutside || b.Kind == page.BarSetOut {
			end = b.To
		}
	}
	for _, b := range out {
		if b.Kind == page.BarHarvest && end >= 0 && b.From > end+1 {
			return append(out, page.Bar{Kind: page.BarGrowing, From: end + 1, To: b.From - 1})
		}
	}
	return out
}

// covers reads "F0 8 Mar-30 Apr; T1 8 Mar-25 Mar".
func covers(first int, s string) []page.CoverLine {
	styles := map[byte]string{'F': "fabric", 'T': "film", 'C': "glass", 'M': "mulch"}
	var out []page.CoverLine
	if s == "" {
		return nil
	}
	for _, one := range strings.Split(s, "; ") {
		head, dates, _ := strings.Cut(one, " ")
		from, to, _ := strings.Cut(dates, "-")
		for _, c := range cut(day(first, from), day(first, to)) {
			out = append(out, page.CoverLine{Style: styles[head[0]], Letter: head[:1], Level: int(head[1] - '0'), From: c[0], To: c[1]})
		}
	}
	return out
}

// cut parts days that cross the end of the axis.
func cut(from, to int) [][2]int {
	if from <= to {
		return [][2]int{{from, to}}
	}
	return [][2]int{{from, 365}, {0, to}}
}

type fixtureRow struct{ code, name, dates, bars, covers string }

func rowsOf(first int, in []fixtureRow) []page.SheetRow {
	var out []page.SheetRow
	for i, r := range in {
		row := page.SheetRow{Code: r.code, Name: r.name, Dates: r.dates, Bars: bars(first, r.bars), Covers: covers(first, r.covers)}
		if row.Name == "Tomato" {
			row.Covered = "under F: out 1–24 May"
		}
		row.GroupEnd = i+1 < len(in) && in[i+1].code[0] != r.code[0]
		row.Sentence = r.name + ": " + strings.ReplaceAll(r.dates, " · ", ", ") + ". Letters: " + r.bars + "."
		out = append(out, row)
	}
	return out
}

var slopeRows = []fixtureRow{
	{"A1", "Broad bean", "sow 24 Feb–20 Mar · pick 14 Jun on", "O 24 Feb-20 Mar; H 14 Jun-12 Jul", "F0 24 Feb-25 Mar"},
	{"A2", "Kale", "in 1–24 Mar · out 8–20 Apr · pick 30 May on", "I 1 Mar-24 Mar; S 8 Apr-20 Apr; H 30 May-14 Dec", "F0 8 Apr-2 May; F0 30 Oct-14 Dec; T1 6 Nov-14 Dec"},
	{"A3", "Leek", "in 10 Feb–10 Mar · out 20 Apr–10 May · dig 6 Sep on", "I 10 Feb-10 Mar; S 20 Apr-10 May; H 6 Sep-10 Dec", ""},
	{"A4", "Pea", "sow 28 Mar–30 Apr · pick 20 Jun on", "O 28 Mar-30 Apr; H 20 Jun-18 Jul", "F0 28 Mar-14 Apr"},
	{"A5", "Spinach", "sow 6 Mar–8 Apr · pick 10 May on", "O 6 Mar-8 Apr; H 10 May-18 Jun", "F0 6 Mar-8 Apr; T1 6 Mar-30 Apr"},
	{"B1", "Beet", "sow 12 Apr–10 Jul · pull 20 Jun on", "O 12 Apr-10 Jul; H 20 Jun-18 Oct", "F0 12 Apr-2 May"},
	{"B2", "Broccoli", "in 5–25 Mar · out 14 Apr–5 May · cut 20 Jun on", "I 5 Mar-25 Mar; S 14 Apr-5 May; H 20 Jun-25 Jul", "F0 14 Apr-10 May"},
	{"B3", "Cabbage, early", "in 1–20 Mar · out 10–30 Apr · cut 25 Jun on", "I 1 Mar-20 Mar; S 10 Apr-30 Apr; H 25 Jun-10 Sep", "F0 10 Apr-1 May"},
	{"B4", "Carrot", "sow 10 Apr–5 Jul · pull 1 Jul on", "O 10 Apr-5 Jul; H 1 Jul-14 Nov", "F0 18 Oct-14 Nov"},
	{"B5", "Chard", "sow 16 Apr–1 Jul · pick 12 Jun on", "O 16 Apr-1 Jul; H 12 Jun-20 Oct", "F0 16 Apr-6 May"},
	{"B6", "Kohlrabi", "sow 5 Apr–25 May · cut 10 Jun on", "O 5 Apr-25 May; H 10 Jun-31 Jul", ""},
	{"B7", "Lettuce, leaf", "sow 24 Mar–20 Jul · cut 14 May on", "O 24 Mar-20 Jul; H 14 May-10 Oct", "F0 24 Mar-25 Apr; C1 24 Mar-12 Apr; F0 24 Sep-10 Oct"},
	{"B8", "Onion, sets", "plant 20 Mar–20 Apr · lift 25 Jul on", "O 20 Mar-20 Apr; H 25 Jul-20 Aug", ""},
	{"B9", "Parsnip", "sow 5 Apr–10 May · dig 1 Oct on", "O 5 Apr-10 May; H 1 Oct-20 Dec", ""},
	{"B10", "Potato", "plant 25 Apr–20 May · dig 25 Jul on", "O 25 Apr-20 May; H 25 Jul-25 Sep", "F0 25 Apr-22 May"},
	{"B11", "Radish", "sow 18 Mar–25 Aug · pull 20 Apr on", "O 18 Mar-25 Aug; H 20 Apr-5 Oct", "F0 18 Mar-8 Apr"},
	{"C1", "Bean, snap", "sow 22 May–5 Jul · pick 20 Jul on", "O 22 May-5 Jul; H 20 Jul-20 Sep", "F0 12 Sep-24 Sep"},
	{"C2", "Sweet corn", "sow 16 May–12 Jun · pick 10 Aug on", "O 16 May-12 Jun; H 10 Aug-20 Sep", "M0 16 May-12 Jun"},
	{"D1", "Basil", "in 10–30 Apr · out 28 May–20 Jun · cut 5 Jul on", "I 10 Apr-30 Apr; S 28 May-20 Jun; H 5 Jul-12 Sep", ""},
	{"D2", "Cucumber", "in 28 Apr–10 May · out 24 May–12 Jun · pick 12 Jul on", "I 28 Apr-10 May; S 24 May-12 Jun; H 12 Jul-15 Sep", "F0 24 May-6 Jun"},
	{"D3", "Pepper", "in 5–25 Mar · out 20 May–10 Jun · pick 10 Aug on", "I 5 Mar-25 Mar; S 20 May-10 Jun; H 10 Aug-2 Oct", "M0 20 May-30 Jun; F1 20 May-12 Jun; T2 20 May-2 Jun; F0 18 Sep-2 Oct"},
	{"D4", "Pumpkin", "in 25 Apr–8 May · out 22 May–8 Jun · cut 5 Sep on", "I 25 Apr-8 May; S 22 May-8 Jun; H 5 Sep-28 Sep", "F0 22 May-5 Jun"},
	{"D5", "Squash, summer", "in 25 Apr–5 May · out 20 May–12 Jun · pick 5 Jul on", "I 25 Apr-5 May; S 20 May-12 Jun; H 5 Jul-20 Sep", "F0 20 May-2 Jun"},
	{"D6", "Tomato", "in 20 Mar–5 Apr · out 5–28 May · pick 28 Jul on", "I 20 Mar-5 Apr; S 5 May-28 May; H 28 Jul-8 Oct", "F0 5 May-26 May; T1 5 May-16 May; F0 20 Sep-8 Oct"},
}

// slopes is a full sheet: 24 rows in four groups.
func slopes() *page.Sheet {
	return &page.Sheet{
		Path: "bands/slopes/sheet", Lang: "en",
		Band:     "Thessock Slopes",
		Where:    "680–880 m (2,230–2,890 ft) · slope · zone 6a",
		Name:     "Sheet 1: spring and summer",
		Edition:  "Thessock Valley growing guide · edition 3",
		Code:     "K7QF",
		CodeText: "sheet code K7QF",
		Lead: []string{
			"Dates are careful ones: in 1 year in 10 the cold still comes later in spring, or earlier in fall, than drawn here.",
			"Half the years freeze after 27 April and before 17 October. Give or take 6 days; 5 days later for each 100 m higher.",
		},
		Months: axis(0, monthNames), Days: 366,
		Marks: []page.SheetMark{
			{At: day(0, "17 May"), Label: "careful last freeze 17 May"},
			{At: day(0, "28 Sep"), Label: "careful first freeze 28 Sep"},
		},
		Rows:     rowsOf(0, slopeRows),
		KeyTitle: "What the bars say",
		Key: []page.KeyEntry{
			{Kind: page.BarInside, Letter: "I", Text: "sow inside"},
			{Kind: page.BarOutside, Letter: "O", Text: "sow outside"},
			{Kind: page.BarSetOut, Letter: "S", Text: "set out"},
			{Kind: page.BarGrowing, Text: "growing"},
			{Kind: page.BarHarvest, Letter: "H", Text: "harvest"},
		},
		CoverKeyTitle: "Covers that must be on at night",
		CoverKey: []page.KeyEntry{
			{Style: "fabric", Letter: "F", Text: "fabric"},
			{Style: "film", Letter: "T", Text: "low tunnel"},
			{Style: "glass", Letter: "C", Text: "cold frame"},
			{Style: "mulch", Letter: "M", Text: "mulch"},
		},
		OwnDates: "own dates",
		Foot: []string{
			"Shut covers when the low will be 2 °C (36 °F) or less; open by 10 am on days above 10 °C (50 °F). Small ticks stand at the 8th, 15th and 22nd.",
			"Groups: A a hard frost does no harm · B stands some frost · C stands a light one · D stands none.",
			"From 28 of 30 years, 1995–2024, at 6 weather stations. Use until February 2029, then ask for a new one: example.org/thessock",
			"Thessock Seed and Shed Circle. Covers fail in wind and wet snow and cook plants in sun: read the safety page. Local codes and licensed people decide on structures and wiring.",
		},
		HeadCode: "Code", HeadCrop: "Crop", HeadCalendar: "Dates", HeadSentence: "In words",
	}
}

func mustLayout(t testing.TB, s *page.Sheet, a sheetArea) *drawing {
	t.Helper()
	d, err := layoutSheet(s, a)
	if err != nil {
		t.Fatal(err)
	}
	return d
}
