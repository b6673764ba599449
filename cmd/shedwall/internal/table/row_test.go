package table

import (
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
)

func readOne(t *testing.T, data string, owner figure.Owner) crop {
	t.Helper()
	var faults diag.List
	rows := Read[crop]("t.csv", []byte(data), Spec{Owner: owner, Open: func(h string) bool { return len(h) == 2 }}, &faults)
	if len(rows) != 1 || faults.HasErrors() {
		t.Fatalf("%d rows, %v", len(rows), faults.Sorted())
	}
	return rows[0]
}

// TestGocsvAndPositionsAgree holds that the text gocsv put into a cell is the one
// that stands where the cell says it stands.
func TestGocsvAndPositionsAgree(t *testing.T) {
	data := "weeks,Note,crop,es,kill_f\n6,\"a, b\",kale,col,28\n"
	r := readOne(t, data, figure.BuiltIn)
	lines := strings.Split(data, "\n")
	n := 0
	Each(&r, func(c *Cell) {
		if c.column < 0 {
			return
		}
		n++
		at := c.At()
		if rest := strings.TrimPrefix(lines[at.Line-1][at.Column-1:], `"`); !strings.HasPrefix(rest, c.Text()) {
			t.Errorf("%s holds %q, there stands %q", at, c.Text(), rest)
		}
	})
	if n != 5 {
		t.Errorf("%d cells, want 5", n)
	}
	if got := r.Kill.Amount(degrees); got.Cell.String() != "t.csv:2:19, cell E2 (kill_f)" {
		t.Errorf("got %s", got.Cell)
	}
	if at := r.Gain.At(); at.Line != 2 || at.Column != 0 || at.Heading != "gain_k" {
		t.Errorf("absent column: %+v", at)
	}
}

func TestOverKeepsWhatIsBlank(t *testing.T) {
	deep := readOne(t, "crop,name,kill_c,gain_k,weeks,es,fr\nkale,Kale,-9.5,1,6,col,chou\n", figure.BuiltIn)
	near := readOne(t, "crop,name,kill_f,gain_k,es,de\nkale, ,15,unknown,berza,Kohl\n", figure.Own)
	before := deep
	got := Over(near, deep)
	if got.Name.Text() != "Kale" || got.Weeks.Text() != "6" {
		t.Error("a blank cell or an absent column must keep the deeper cell")
	}
	kill := got.Kill.Amount(degrees)
	if v, _ := kill.Get(); v != (Amount{15, Fahrenheit}) || kill.Owner != figure.Own {
		t.Errorf("got %+v: the nearer cell keeps its own unit and owner", kill)
	}
	if g := got.Gain.Amount(kelvins); g.State != figure.Unknown || g.Owner != figure.Own {
		t.Errorf("got %+v: unknown removes the deeper figure", g)
	}
	var more []string
	for _, e := range got.More {
		more = append(more, e.Heading+"="+e.Cell.Text())
	}
	if want := []string{"es=berza", "fr=chou", "de=Kohl"}; !slices.Equal(more, want) {
		t.Errorf("got %q, want %q", more, want)
	}
	if deep.Kill != before.Kill || deep.More[0] != before.More[0] {
		t.Error("the deeper row was changed")
	}
}

func TestSourceTravelsWithTheFigure(t *testing.T) {
	r := readOne(t, "crop,kill_c,edible\nkale,-9.5,yes\n", figure.Own)
	Each(&r, func(c *Cell) { *c = c.From("our_trial") })
	if f := r.Kill.Amount(degrees); f.Source != "our_trial" || f.Owner != figure.Own {
		t.Errorf("got %+v", f)
	}
	if f := r.Edible.YesNo(); f.Source != "our_trial" || f.Owner != figure.Own || f.Cell.Cell != "C2" {
		t.Errorf("got %+v", f)
	}
}

func TestRanges(t *testing.T) {
	for text, want := range map[string]string{
		"2-4": "2 4", "2–4": "2 4", "2 to 4": "2 4", "-3 to -1": "-3 -1", "-3--1": "-3 -1", "1.5-2.5": "1.5 2.5",
		"600-900 m": "600 m 900 m", "6": "", "-4": "", "4-Feb": "", "2-4-6": "", "": "", "2024-02-04": "",
	} {
		low, high, ok := Cell{text: text}.Range()
		got := ""
		if ok {
			got = low.text + " " + high.text
		}
		if got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
}

func TestSeveralIDs(t *testing.T) {
	var faults diag.List
	rows := Read[crop]("t.csv", []byte("crop,name,note\na1,tunnel + Fabric,\"all heat, food\"\na2,tunnel+ro w,x\n"), Spec{}, &faults)
	if got := rows[0].Name.IDs("+", nil); !slices.Equal(got, []string{"tunnel", "fabric"}) {
		t.Errorf("got %q", got)
	}
	if got := rows[0].Note.IDs(" ", nil); !slices.Equal(got, []string{"all", "heat", "food"}) {
		t.Errorf("got %q", got)
	}
	if got := rows[1].Name.IDs("+", []string{"row"}); got != nil {
		t.Errorf("got %q", got)
	}
	var got []string
	for _, f := range faults.Sorted() {
		got = append(got, f.At.Cell+" "+f.ID+" "+f.Cure)
	}
	if want := []string{"B2 id-read ", "C2 id-read ", `B3 id-unreadable did you mean "row"?`}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestTagsAreChecked(t *testing.T) {
	type untagged struct{ A Cell }
	type unknownWord struct {
		A Cell `csv:"a" table:"nubmer"`
	}
	for name, read := range map[string]func(*diag.List){
		"untagged": func(l *diag.List) { Read[untagged]("t.csv", nil, Spec{}, l) },
		"word":     func(l *diag.List) { Read[unknownWord]("t.csv", nil, Spec{}, l) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: a mistake in a row struct must not pass", name)
				}
			}()
			read(&diag.List{})
		}()
	}
}
