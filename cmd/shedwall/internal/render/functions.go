package render

import "github.com/Masterminds/sprig/v3"

// allowed are the functions of the sprig library that templates may use. The
// library also offers the environment, the network, the clock, chance, map order
// and whole-number arithmetic that cuts off fractions without a word: none of
// these may decide what stands on a page.
var allowed = []string{
	"add", "contains", "default", "dict", "empty", "first", "has", "hasKey", "hasPrefix", "hasSuffix",
	"join", "last", "list", "lower", "quote", "replace", "rest", "splitList", "sub", "ternary", "trim",
	"trimAll", "trimPrefix", "trimSuffix", "upper", "uniq",
}

// functions is the allowed part of sprig and our own functions beside it.
func functions(own map[string]any) map[string]any {
	sprigs := sprig.HermeticHtmlFuncMap()
	out := map[string]any{}
	for _, name := range allowed {
		if f, ok := sprigs[name]; ok {
			out[name] = f
		}
	}
	for name, f := range own {
		out[name] = f
	}
	return out
}
