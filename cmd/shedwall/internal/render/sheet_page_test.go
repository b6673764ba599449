package render

import (
	"reflect"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/page"
)

// everyText puts a text into every string below v, one into each empty list.
func everyText(v reflect.Value, text string, deep int) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(text)
	case reflect.Slice:
		if v.Len() == 0 && deep < 7 {
			v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		}
		for i := range v.Len() {
			everyText(v.Index(i), text, deep+1)
		}
	case reflect.Pointer:
		if v.IsNil() && deep < 7 {
			v.Set(reflect.New(v.Type().Elem()))
		}
		if !v.IsNil() {
			everyText(v.Elem(), text, deep+1)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			everyText(v.Field(i), text, deep+1)
		}
	}
}

// TestSheetPageKeepsTexts: whatever text stands anywhere on a sheet or around it, it ends no
// attribute and opens no element.
func TestSheetPageKeepsTexts(t *testing.T) {
	const bad = `"><q>'+&`
	var s page.Sheet
	var f page.SheetFrame
	everyText(reflect.ValueOf(&s), bad, 0)
	everyText(reflect.ValueOf(&f), bad, 0)
	for _, versions := range [][]page.SheetVersion{s.Versions, nil} {
		s.Versions = versions
		v := sheetView{Sheet: &s, frame: f, home: bad, nav: []viewNav{{Href: bad, Text: bad}}, foot: [][]viewInline{plainText(bad)},
			references: []sheetLink{{bad, bad, bad}}}
		out := string(v.append(nil))
		if strings.Contains(out, "<q") || strings.Contains(out, `"">`) || strings.Contains(out, bad) {
			t.Errorf("a text is written as markup in\n%s", out)
		}
		// Each row has five texts, each key two; of two of both, with all else, more than 50.
		if n := strings.Count(out, "&#34;&gt;&lt;q&gt;&#39;&#43;&amp;"); n < 50 {
			t.Errorf("%d texts in\n%s", n, out)
		}
	}
}
