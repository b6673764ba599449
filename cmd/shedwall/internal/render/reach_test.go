package render

import (
	"fmt"
	"maps"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/Masterminds/sprig/v3"
)

// Templates get the functions of the list and no others, whatever the library adds one
// day: of every name that it knows, one that is not listed cannot even be written.
func TestFunctionsOfTemplates(t *testing.T) {
	if got := slices.Sorted(maps.Keys(functions(nil))); !slices.Equal(got, slices.Sorted(slices.Values(allowed))) {
		t.Errorf("templates get %v, the list says %v", got, allowed)
	}
	all := slices.Sorted(maps.Keys(sprig.GenericFuncMap()))
	if len(all) < 150 {
		t.Errorf("the library has %d functions only: is this the whole map?", len(all))
	}
	for _, name := range []string{ // of what they reach, so that the list cannot take one in unseen
		"env", "expandenv", "getHostByName", // environment, network
		"now", "ago", "date", "dateInZone", "dateModify", "htmlDate", "toDate", "unixEpoch", "durationRound", // clock, and dates read without a fault
		"randAlpha", "randAlphaNum", "randNumeric", "randAscii", "randBytes", "randInt", "shuffle", "uuidv4", // chance
		"genPrivateKey", "genCA", "genSelfSignedCert", "genSignedCert", "derivePassword", "htpasswd", "bcrypt", "encryptAES", // chance, and time without end
		"keys", "values", "pluck", "toJson", // the order of maps
		"osBase", "osDir", "osClean", "osExt", "osIsAbs", // the system that runs
		"repeat", "until", "untilStep", "seq", "indent", "nindent", "wrap", // memory without end
		"float64", "int", "atoi", "max", "round", "coalesce", // numbers that become others without a word
	} {
		if slices.Contains(allowed, name) {
			t.Errorf("%s is on the list of what templates may use", name)
		}
	}
	builtin := os.DirFS("../../../../templates")
	for _, name := range all {
		if name == "slice" {
			continue // the language of templates has its own, of the same use
		}
		for _, folder := range []string{"html/mine.html", "markdown/mine.md"} {
			mine := fstest.MapFS{folder: {Data: []byte("{{define \"mine\"}}{{" + name + "}}{{end}}")}}
			_, err := LoadPages(mine, builtin)
			listed := slices.Contains(allowed, name)
			if listed && err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if !listed && (err == nil || !strings.Contains(err.Error(), fmt.Sprintf("function %q not defined", name)) || !strings.HasPrefix(err.Error(), "templates/"+folder+":1: ")) {
				t.Errorf("%s in %s: %v", name, folder, err)
			}
		}
	}
}

// templateMethods are the methods that templates may call, beside fields.
var templateMethods = map[string]string{
	"viewLanguage": "Link", "viewBlock": "Hashes LabelText", "viewItem": "Indent", "Site": "Twins",
}

// What templates are given holds words, numbers and lists: nothing that could be called
// to reach a file, a connection or the clock.
func TestWhatTemplatesSee(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var walk func(at string, x reflect.Type)
	walk = func(at string, x reflect.Type) {
		if seen[x] {
			return
		}
		seen[x] = true
		switch x.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array:
			walk(at, x.Elem())
		case reflect.Map:
			walk(at, x.Key())
			walk(at, x.Elem())
		case reflect.Struct:
			for i := range x.NumField() {
				if f := x.Field(i); f.IsExported() {
					walk(at+"."+f.Name, f.Type)
				}
			}
		case reflect.Func, reflect.Chan, reflect.UnsafePointer, reflect.Interface:
			if at != "viewAlone.Blocks" { // the blocks of a page, walked below
				t.Errorf("%s is of the kind %s", at, x.Kind())
			}
		}
		for _, named := range []reflect.Type{x, reflect.PointerTo(x)} {
			for i := range named.NumMethod() {
				if m := named.Method(i).Name; strings.Contains(x.PkgPath(), "shedwall") && m != "String" && !slices.Contains(strings.Fields(templateMethods[x.Name()]), m) {
					t.Errorf("%s: templates can call %s.%s", at, x, m)
				}
			}
		}
	}
	walk("viewPage", reflect.TypeFor[viewPage]())
	walk("viewAlone", reflect.TypeFor[viewAlone]())
	if len(seen) < 20 {
		t.Errorf("%d types only were looked at", len(seen))
	}
}

// A publisher's template that calls itself without end is an error with its name and no
// end of the program.
func TestTemplateWithoutEnd(t *testing.T) {
	for _, c := range []struct{ folder, text string }{
		{"html/page.html", `{{define "page"}}{{template "page" .}}{{end}}`},
		{"html/zz.html", `{{define "blocks"}}{{blocks .}}{{end}}`},
		{"markdown/page.md", `{{define "page"}}{{include "page" .}}{{end}}`},
		{"markdown/zz.md", `{{define "blocks"}}{{blocks .}}{{end}}`},
	} {
		folder, text := c.folder, c.text
		pages, err := LoadPages(fstest.MapFS{folder: {Data: []byte(text)}}, os.DirFS("../../../../templates"))
		if err != nil {
			t.Errorf("%s: %v", folder, err)
			continue
		}
		if strings.HasPrefix(folder, "html/") {
			_, err = pages.HTML(testSite, everyBlock(t))
		} else {
			_, err = pages.Markdown(testSite, everyBlock(t))
		}
		if err == nil {
			t.Errorf("%s: went to its end", folder)
		}
	}
}
