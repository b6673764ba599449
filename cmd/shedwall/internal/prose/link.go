package prose

import (
	"fmt"
	"net/url"
	"path"
	"strings"

	"github.com/yuin/goldmark/ast"

	"shedwall/cmd/shedwall/internal/diag"
)

// outsideSchemes are the addresses a page may lead to. Everything else could run
// code, open a file of the reader's own or smuggle a page in.
var outsideSchemes = map[string]bool{"https": true, "http": true, "mailto": true, "tel": true}

// pictureKinds are the picture files a page may show. SVG is left out: a file
// drawn by others can hold scripts. So is WebP, which cannot be written anew here.
var pictureKinds = map[string]bool{".png": true, ".jpg": true, ".jpeg": true, ".gif": true}

func (r *reader) link(n *ast.Link) []Inline {
	text := r.inlines(n)
	at := r.at(n)
	target, ok := r.target(at, resolve(n.Destination))
	if !ok {
		return text
	}
	words := strings.TrimSpace(Plain(text))
	if words == "" {
		r.fault(at, diag.Error, "prose-link-text", "a link has no words", "words that say where it leads", "write the words between [ and ]")
		return text
	}
	if vagueLinks[strings.ToLower(strings.Trim(words, ".! "))] {
		r.fault(at, diag.Warning, "prose-link-text", fmt.Sprintf("the link says only %q", words), "words that make sense when read alone, as a screen reader does", "name the crop, band or page that it leads to")
	}
	return []Inline{{Kind: Link, Target: target, Children: text}}
}

// vagueLinks are link texts that say nothing outside their sentence.
var vagueLinks = map[string]bool{"here": true, "click here": true, "this": true, "link": true, "more": true, "read more": true, "this page": true, "this link": true}

func (r *reader) autoLink(n *ast.AutoLink) []Inline {
	address := string(n.URL(r.src))
	if n.AutoLinkType == ast.AutoLinkEmail && !strings.HasPrefix(strings.ToLower(address), "mailto:") {
		address = "mailto:" + address
	}
	label := []Inline{{Text: string(n.Label(r.src))}}
	target, ok := r.target(r.at(n), address)
	if !ok {
		return label
	}
	return []Inline{{Kind: Link, Target: target, Children: label}}
}

func (r *reader) image(n *ast.Image) []Inline {
	at := r.at(n)
	alt := strings.TrimSpace(Plain(r.inlines(n)))
	target, ok := r.target(at, resolve(n.Destination))
	switch {
	case !ok:
		return nil
	case target.Outside != "":
		r.fault(at, diag.Error, "prose-picture", "the picture lies on another site", "a file in content/images", "copy the picture into content/images, if you may, and name it here")
		return nil
	case !pictureKinds[strings.ToLower(path.Ext(target.Doc))]:
		r.fault(at, diag.Error, "prose-picture", fmt.Sprintf("%q is not a picture that pages can show", target.Doc), "a .png, .jpg or .gif file", "save the picture in one of these forms")
		return nil
	case alt == "":
		r.fault(at, diag.Error, "prose-picture", fmt.Sprintf("the picture %q has no words", target.Doc), "a short text of what it shows, for readers who cannot see it", "write it between ![ and ]")
		return nil
	}
	return []Inline{{Kind: Image, Text: alt, Target: target}}
}

// target checks an address and splits it. Addresses without a scheme are paths
// from the file's own folder, or from the top of the content folder where they
// begin with one slash, as they are for anyone who reads the Markdown itself.
func (r *reader) target(at diag.Position, address string) (Target, bool) {
	refuse := func(id, what, want, cure string) (Target, bool) {
		r.fault(at, diag.Error, id, what, want, cure)
		return Target{}, false
	}
	address = strings.TrimSpace(address)
	if address == "" {
		return refuse("prose-link", "a link leads nowhere", "an address between ( and )", "write the address, or remove the marks around the words")
	}
	// Browsers drop tabs and line ends from addresses, so that "java&#10;script:" runs.
	if strings.ContainsFunc(address, func(c rune) bool { return c < 0x20 || c == 0x7f || c == '\\' }) {
		return refuse("prose-link", fmt.Sprintf("the address %q holds a sign that no address can hold", address), "letters, figures and / . - _ ? # &", "write the address again")
	}
	if strings.HasPrefix(address, "//") {
		return refuse("prose-link", fmt.Sprintf("the address %q does not say how to reach it", address), "https:// at its beginning", "write https: before it")
	}
	if scheme, _, found := strings.Cut(address, ":"); found && !strings.ContainsAny(scheme, "/?#") {
		s := strings.ToLower(strings.TrimSpace(scheme))
		if !outsideSchemes[s] {
			return refuse("prose-link", fmt.Sprintf("an address that begins with %s: is not allowed", s), "https://, http://, mailto: or tel:, or a file of the content folder", "give a web address, or a path such as ../crops/kale.md")
		}
		u, err := url.Parse(address)
		if err != nil || (s == "https" || s == "http") && u.Host == "" {
			return refuse("prose-link", fmt.Sprintf("%q is not a full address", address), "an address such as https://example.org/page", "write the address again")
		}
		return Target{Outside: u.String(), At: at}, true
	}
	rest, fragment, _ := strings.Cut(address, "#")
	if strings.Contains(rest, "?") {
		return refuse("prose-link", fmt.Sprintf("the address %q asks a question of a page", address), "a path without ?", "remove the ? and what follows it")
	}
	if unescaped, err := url.PathUnescape(rest); err == nil {
		rest = unescaped
	}
	t := Target{Fragment: fragment, At: at}
	if rest == "" {
		if fragment == "" {
			return refuse("prose-link", "a link leads nowhere", "an address between ( and )", "write the address, or remove the marks around the words")
		}
		return t, true
	}
	full := path.Join(r.doc.lang, path.Dir(r.doc.ID), rest)
	if strings.HasPrefix(rest, "/") {
		full = path.Clean(rest[1:])
	}
	if full == ".." || strings.HasPrefix(full, "../") {
		return refuse("prose-link", fmt.Sprintf("the path %q leads out of the content folder", address), "a file of the content folder", "remove some of the ../")
	}
	if r.doc.lang != "" {
		full = strings.TrimPrefix(full, r.doc.lang+"/")
	}
	t.Doc = full
	switch ext := path.Ext(full); ext {
	case ".md", ".html":
		dir, name := path.Split(strings.TrimSuffix(full, ext))
		_, name = splitOrder(name)
		t.Doc = dir + name
	}
	return t, true
}
