package publish

import (
	"reflect"
	"testing"

	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/prose"
)

// Two values have one fingerprint only where they hold the same.
func TestFingerprintsTellApart(t *testing.T) {
	type pair struct{ a, b string }
	type wraps struct{ to *pair }
	same := &pair{"x", "y"}
	values := []any{
		nil, "", "a", "ab", 0, 1, int64(2), 2.0, true, false,
		pair{"ab", ""}, pair{"a", "b"}, pair{"", "ab"}, &pair{"a", "b"},
		[]string{"a", "b"}, []string{"ab"}, []string{}, []string(nil), [2]string{"a", "b"},
		[]byte("ab"), wraps{}, wraps{&pair{}}, wraps{same},
		map[string]int{"a": 1, "b": 2}, map[string]int{"a": 2, "b": 1},
		[]page.Block{page.Para{Lead: true}}, []page.Block{page.Para{}}, []page.Block{page.Heading{}},
		page.Prose{Shift: 1}, page.Prose{Shift: 2},
	}
	seen := map[string]int{}
	for i, v := range values {
		print, ok := fingerprint(v)
		if !ok {
			t.Errorf("%#v has no fingerprint", v)
			continue
		}
		if k, taken := seen[print]; taken {
			t.Errorf("%#v and %#v look alike", values[k], v)
		}
		seen[print] = i
	}
	one, _ := fingerprint("a", "b")
	if two, _ := fingerprint("ab", ""); one == two {
		t.Error("where one value ends and the next begins is not seen")
	}
	if a, _ := fingerprint(wraps{same}); a != func() string { s, _ := fingerprint(wraps{&pair{"x", "y"}}); return s }() {
		t.Error("a pointer counts by its address")
	}
	a, _ := fingerprint(map[string]int{"a": 1, "b": 2, "c": 3})
	for range 20 {
		if b, _ := fingerprint(map[string]int{"c": 3, "b": 2, "a": 1}); a != b {
			t.Fatal("the order in a map is seen")
		}
	}
}

// Every field of a run of text counts, and no two of them count alike.
func TestFingerprintOfInline(t *testing.T) {
	seen := map[string]string{}
	note := func(name string, line any) {
		print, ok := fingerprint(line)
		if other, taken := seen[print]; taken || !ok {
			t.Errorf("%s and %s look alike (or have no fingerprint)", name, other)
		}
		seen[print] = name
	}
	note("none", []page.Inline(nil))
	note("an empty one", []page.Inline{{}})
	note("two empty ones", []page.Inline{{}, {}})
	note("a row of none", [][]page.Inline{})
	note("a row of nil", [][]page.Inline{nil})
	note("a row of an empty line", [][]page.Inline{{}})
	note("a row of two nil", [][]page.Inline{nil, nil})
	note("a row of one in the first", [][]page.Inline{{{}}, nil})
	note("a row of one in the second", [][]page.Inline{nil, {{}}})
	for _, f := range reflect.VisibleFields(reflect.TypeFor[page.Inline]()) {
		var x page.Inline
		switch v := reflect.ValueOf(&x).Elem().FieldByIndex(f.Index); v.Kind() {
		case reflect.String:
			v.SetString("x")
		case reflect.Bool:
			v.SetBool(true)
		default:
			t.Fatalf("%s is a %v, which the fingerprint leaves out", f.Name, v.Kind())
		}
		note(f.Name, []page.Inline{x})
		note("the second one's "+f.Name, []page.Inline{{}, x})
	}
}

// What cannot be seen has no fingerprint: nothing made from it is kept.
func TestNoFingerprint(t *testing.T) {
	type does struct{ f func() }
	for name, v := range map[string]any{"a function": does{func() {}}, "a channel": make(chan int), "keys of no order": map[any]int{1: 1}} {
		if print, ok := fingerprint("x", v); ok {
			t.Errorf("%s has the fingerprint %s", name, print)
		}
	}
	if _, ok := fingerprint(does{}); !ok {
		t.Error("no function at all has no fingerprint")
	}
	text := page.Prose{Link: func(prose.Target) string { return "" }}
	if _, ok := fingerprint(text); !ok {
		t.Error("prose has no fingerprint")
	}
}

func BenchmarkFingerprint(b *testing.B) {
	table := page.Table{Caption: "Dates"}
	for range 400 {
		table.Rows = append(table.Rows, [][]page.Inline{{{Text: "Kale", Href: "crops/kale.html"}}, {{Text: "14 April to 23 August"}}, {{Text: "not done", Soft: true}}})
	}
	p := &page.Page{Path: "x", Blocks: []page.Block{table}}
	for b.Loop() {
		if _, ok := fingerprint(p); !ok {
			b.Fatal("none")
		}
	}
}
