package render

import (
	"html/template"
	"net/url"
	"strings"

	"shedwall/cmd/shedwall/internal/page"
)

// schemes are the addresses a page may lead to; see also prose, which tells the
// publisher. An address that reaches this far with another scheme is our own bug.
var schemes = map[string]bool{"https": true, "http": true, "mailto": true, "tel": true}

// href makes a target relative to the page. In Markdown a link to a page goes to
// its Markdown twin; places within a page have no name there, so that they give "".
func (v *viewer) href(target string) template.URL {
	if isPlainPath(target) {
		return v.pathHref(target)
	}
	u, err := url.Parse(target)
	if err != nil || u.Scheme != "" && !schemes[u.Scheme] || u.Scheme == "" && (u.Host != "" || strings.HasPrefix(target, "/")) {
		v.fail("the address %q cannot be written on a page", target)
		return ""
	}
	if u.Scheme != "" {
		return template.URL(page.Relative(v.from, target))
	}
	return v.pathHref(target)
}

// pathHref is href of a path from the top of the site.
func (v *viewer) pathHref(target string) template.URL {
	if !v.markdown {
		return v.relative(target)
	}
	file, _, _ := strings.Cut(target, "#")
	if twin, ok := page.Twin(file); ok {
		file = twin
	}
	if file == "" || file == v.twin {
		return ""
	}
	return v.relative(file)
}

// isPlainPath says that a target holds nothing but letters, digits and signs that have no
// meaning for an address, as nearly all do: no scheme, no host, no codes in per cent.
func isPlainPath(target string) bool {
	if strings.HasPrefix(target, "/") {
		return false
	}
	for i := 0; i < len(target); i++ {
		if c := target[i]; (c < 'a' || c > 'z') && (c < '-' || c > '9') && (c < 'A' || c > 'Z') && c != '_' && c != '#' {
			return false // from - to 9 are - . / and the digits
		}
	}
	return true
}

// shared is the way to a file counted from the top of the site, not of a language.
func (v *viewer) shared(file string) template.URL {
	return template.URL(page.Relative(v.folder+v.from, file))
}

func (v *viewer) relative(file string) template.URL {
	return template.URL(page.Relative(v.from, file))
}
