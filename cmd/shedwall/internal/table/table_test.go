package table

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
)

// crop is a small table with every kind of column.
type crop struct {
	ID     Cell `csv:"crop" table:"key"`
	Name   Cell `csv:"name"`
	Kill   Cell `csv:"kill_c,kill_f" table:"number"`
	Gain   Cell `csv:"gain_k,gain_c,gain_f" table:"number"`
	Height Cell `csv:"height_m,height_ft" table:"number"`
	Weeks  Cell `csv:"weeks" table:"number"`
	Start  Cell `csv:"start"`
	Edible Cell `csv:"edible"`
	Note   Cell `csv:"note"`
	More   More `csv:"-"`
}

var (
	degrees = Measure{Units: []Unit{Celsius, Fahrenheit}, Like: "a number of degrees such as -2.2"}
	kelvins = Measure{Units: []Unit{Kelvin, Celsius, Fahrenheit}, Like: "a difference in degrees such as 1.5"}
	heights = Measure{Units: []Unit{Metre, Foot}, Like: "a height such as 612"}
	weeks   = Measure{Units: []Unit{Weeks}, Bare: Weeks, Like: "a number of weeks such as 6"}
)

// readCrops reads the table and asks every cell for what it holds. The result is
// one line a row: id name kill gain height weeks start edible.
func readCrops(data string) ([]string, []diag.Fault) {
	var faults diag.List
	rows := Read[crop]("t.csv", []byte(data), Spec{Open: func(h string) bool { return h == "es" }}, &faults)
	var out []string
	for _, r := range rows {
		line := []string{r.ID.KeyID([]string{"kale", "bean"}), r.Name.Text()}
		for _, f := range []figure.Of[Amount]{r.Kill.Amount(degrees), r.Gain.Amount(kelvins), r.Height.Amount(heights), r.Weeks.Amount(weeks)} {
			line = append(line, spellFigure(f))
		}
		line = append(line, r.Start.Word("inside", "set_out"))
		if v, ok := r.Edible.YesNo().Get(); ok {
			line = append(line, fmt.Sprint(v))
		}
		for _, e := range r.More {
			line = append(line, e.Heading+"="+e.Cell.Text())
		}
		out = append(out, strings.TrimRight(strings.Join(line, "|"), "|"))
	}
	return out, faults.Sorted()
}

func spellFigure(f figure.Of[Amount]) string {
	switch f.State {
	case figure.Blank:
		return ""
	case figure.Unknown:
		return "unknown"
	}
	v, _ := f.Get()
	return fmt.Sprintf("%s%s%s%s", f.Qualifier, spell(v.Value), string(v.Unit), f.Mark)
}

// marked takes the expected complaints off a table. A line may end in
//
//	<<< id CELL, id CELL
//
// and CELL is left out where a fault names the whole line. It gives the table
// and the complaints as LINE:id CELL.
func marked(text string) (data string, want []string) {
	var out []string
	for i, l := range strings.Split(strings.TrimPrefix(text, "\n"), "\n") {
		l, marks, ok := strings.Cut(l, "<<<")
		if ok {
			l = strings.TrimRight(l, " ")
			for m := range strings.SplitSeq(marks, ",") {
				want = append(want, fmt.Sprintf("%d:%s", i+1, strings.TrimSpace(m)))
			}
		}
		out = append(out, l)
	}
	return strings.Join(out, "\n"), want
}

func complaints(fs []diag.Fault) []string {
	var out []string
	for _, f := range fs {
		out = append(out, strings.TrimSpace(fmt.Sprintf("%d:%s %s", f.At.Line, f.ID, f.At.Cell)))
	}
	return out
}

// check compares the complaints about a marked table, each line's in any order.
func check(t *testing.T, name, text string) []string {
	t.Helper()
	data, want := marked(text)
	rows, faults := readCrops(data)
	got := complaints(faults)
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("%s:\ngot  %q\nwant %q", name, got, want)
		for _, f := range faults {
			t.Log(f)
		}
	}
	for _, f := range faults {
		if _, ok := diag.Explain(f.ID); !ok {
			t.Errorf("%s: %s is not explained", name, f.ID)
		}
		if f.Severity != diag.Notice && (f.Expected == "" && f.Cure == "") {
			t.Errorf("%s: %s helps nobody: %s", name, f.ID, f)
		}
	}
	return rows
}

func TestComplaintsStandAtTheirCells(t *testing.T) {
	for name, text := range map[string]string{
		"numbers that parse too well": `
crop,kill_c,height_m
a1,010,
a2,0x10,            <<< number-unreadable B3
a3,1e3,             <<< number-unreadable B4
a4,NaN,             <<< number-unreadable B5
a5,Infinity,        <<< number-unreadable B6
a6,1_000,           <<< number-unreadable B7
a7,٣,               <<< number-unreadable B8
a8,４,               <<< number-unreadable B9
a9,--4,             <<< number-unreadable B10
b1,-4-,             <<< number-unreadable B11
b2,(4),             <<< number-unreadable B12
b3,½,               <<< number-unreadable B13
b4,12 5,            <<< number-unreadable B14
b5,1.2.3,           <<< number-unreadable B15
b6,-4 leaves only,  <<< unit-unknown B16
b7,#N/A,            <<< cell-formula B17
b8,=1+1,            <<< cell-formula B18
b9,4 m,             <<< unit-wrong B19
c1,123456789012345678901,  <<< number-unreadable B20`,
		"ranges and what spreadsheets make of them": `
crop,weeks
a1,2-4           <<< number-range B2
a2,2–4           <<< number-range B3
a3,2 to 4        <<< number-range B4
a4,4-Feb         <<< number-date B5
a5,Feb-04        <<< number-date B6
a6,2/4           <<< number-date B7
a7,2024-02-04    <<< number-date B8
a8,½             <<< number-unreadable B9`,
		"units in cells": `
crop,kill_c,height_m
a1,28F,900        <<< unit-missing C2
a2,-2 C,3000 ft
a3,28,900         <<< unit-missing B4, unit-missing C4
a4,-2.2°C,900 m
a5,28 °F,
`,
		"headings": `
crop,Kill C,weks,kill_f,,name,sort     <<< heading-read B1, heading-unknown C1, heading-repeated D1, heading-unknown G1
a1,-4,x,3,left,Kale,                   <<< number-unreadable C2, heading-blank E2`,
		"a heading without its unit": `
crop,kill,gain              <<< heading-without-unit B1
a1,-4,5 F
a2,-5,5                     <<< unit-missing C3`,
		"missing key": `
name,kill_c                 <<< heading-missing
Kale,-4`,
		"rows": `
Our crops                      <<< row-title
updated,2026                   <<< row-title

crop,name,kill_c,weeks,,
kale,Kale,-4,5,,
,,,,,
# off for now,x                <<< row-note
kale,Kale                      
pea,Pea,-4,5,,,7               <<< row-long G9
,Bean,-1                       <<< id-missing A10
crop,name,kill_c,weeks         <<< row-note
total,,,10                     <<< row-note

* hardened plants only         <<< row-note
Source: county file, 2019      <<< row-note
Note: a, b, c, d, e, f, g, h   <<< row-note
`,
		"ids": `
crop,name
kale ,a
Kale,b              <<< id-read A3
ka le,c             <<< id-unreadable A4
ｋａｌｅ,d            <<< id-read A5
piña,e              <<< id-unreadable A6
con,f               <<< id-unreadable A7
../../x,g           <<< id-unreadable A8`,
		"words": `
crop,start,edible
a1,set-out,Yes
a2,insde,yup          <<< word-unknown B3, word-unknown C3
a3,Set out,FALSE`,
		"quotes": `
crop,name,kill_c
kale,"Kale ""Red""",-4
pea,12" pea,-2           <<< quote-broken
bean,"Bean,0             <<< quote-broken
rye,Rye,x                <<< number-unreadable C5
oat,"Oat" x,-5           <<< quote-broken
`,
		"a line break in a cell": "\ncrop,name,kill_c\nkale,\"Kale\nred\",-4\npea,Pea,x       <<< number-unreadable C3\n",
		"decimal comma among points": `
crop,kill_c,height_m
a1,-9.5,1.250
a2,"-9,5","1,250"     <<< number-decimals-mixed B3, number-ambiguous C3
a3,-1.5,900`,
		"thousands by commas": `
crop,height_m
a1,"1,250"            <<< number-read B2
a2,"1,250.5"          <<< number-read B3
a3,"1,250,000"        <<< number-read B4
a4,"1,25,000"         <<< number-unreadable B5`,
	} {
		check(t, name, text)
	}
}

func TestValues(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"blank is not zero; unknown is not blank", `
crop,kill_c,gain_k
a1,,0
a2,unknown,?
a3,n/a,-
a4,—,N.A.
a5,M,trace            <<< unknown-read B6, unknown-read C6
a6`, []string{"a1|||0k", "a2||unknown|unknown", "a3||unknown|unknown", "a4||unknown|unknown", "a5||unknown|unknown", "a6"}},
		{"signs, spaces and marks", `
crop,kill_c
a1,−2.5
a2,- 4
a3,+3
a4,-4*              <<< number-qualified B5
a5,-4 (1)           <<< number-qualified B6
a6,-4†              <<< number-qualified B7
a7,<-10             <<< number-qualified B8
a8,~-4              <<< number-qualified B9
a9,c. -4            <<< number-qualified B10
b1,≤ −4 °C *        <<< number-qualified B11
b2,-4²              <<< number-qualified B12
b3,-0
b4,010
b5,900+             <<< number-qualified B15`,
			[]string{"a1||-2.5c", "a2||-4c", "a3||3c", "a4||-4c*", "a5||-4c(1)", "a6||-4c†", "a7||<-10c", "a8||about-4c", "a9||about-4c", "b1||<=-4c*", "b2||-4c²", "b3||0c", "b4||10c", "b5||>=900c"}},
		{"semicolons and decimal commas", `
crop;kill_c;height_m        <<< delimiter-read
kale;-9,5;1.250,5           <<< decimal-comma-read B2, number-read C2
bean;0,5;1.100              <<< number-read C3`,
			[]string{"kale||-9.5c||1250.5m", "bean||0.5c||1100m"}},
		{"thousands by space and apostrophe", `
crop;kill_c;height_m        <<< delimiter-read
a1;-9,5;1 250,5             <<< decimal-comma-read B2, number-read C2
a2;;1 250                   <<< number-read C3
a3;;1'250                   <<< number-read C4
a4;;1 250                   <<< number-read C5`,
			[]string{"a1||-9.5c||1250.5m", "a2||||1250m", "a3||||1250m", "a4||||1250m"}},
		{"nothing tells what 1,250 is", `
crop;kill_c;height_m        <<< delimiter-read
a1;-9;1,250                 <<< number-ambiguous C2
a2;-8;1.250                 <<< number-ambiguous C3`,
			[]string{"a1||-9c||unknown", "a2||-8c||unknown"}},
		{"the column tells", `
crop;kill_c;height_m        <<< delimiter-read
a1;-9;1,250
a2;-7;0,250                 <<< decimal-comma-read C3`,
			[]string{"a1||-9c||1.25m", "a2||-7c||0.25m"}},
		{"decimal commas throughout a comma table", `
crop,kill_c
a1,"-9,5"                   <<< decimal-comma-read B2
a2,"0,25"`,
			[]string{"a1||-9.5c", "a2||0.25c"}},
		{"units", `
crop,kill_f,gain_f,height_ft,weeks
a1,28,5,2000,6
a2,,,,6 wk`,
			[]string{"a1||28f|5f|2000ft|6weeks", "a2|||||6weeks"}},
		{"tabs and empty cells", "\ncrop\tname\tkill_c\tgain_k     <<< delimiter-read\nkale\t\t\t1\n\t\t\t\nbean\tBean\t0", []string{"kale|||1k", "bean|Bean|0c"}},
		{"as many commas as points", `
crop;kill_c;height_m        <<< delimiter-read
a1;-9,5;0.5                 <<< decimal-comma-read B2, number-decimals-mixed C2`, []string{"a1||-9.5c||unknown"}},
		{"evidence of another column does not settle thousands", `
crop;kill_c;height_m        <<< delimiter-read
a1;-9,5;1,250               <<< decimal-comma-read B2, number-ambiguous C2`, []string{"a1||-9.5c||unknown"}},
		{"other languages", `
crop,es
kale,col rizada`, []string{"kale|||||||es=col rizada"}},
	} {
		if got := check(t, c.name, c.text); !slices.Equal(got, c.want) {
			t.Errorf("%s:\ngot  %q\nwant %q", c.name, got, c.want)
		}
	}
}
