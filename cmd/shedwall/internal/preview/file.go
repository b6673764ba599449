package preview

import (
	"io/fs"
	"net/http"
	"path"
	"strings"

	"shedwall/cmd/shedwall/internal/publish"
)

// kinds are the content types of what a site holds. Markdown is shown as it is written.
var kinds = map[string]string{
	".html": "text/html; charset=utf-8", ".md": "text/plain; charset=utf-8", ".txt": "text/plain; charset=utf-8",
	".css": "text/css; charset=utf-8", ".csv": "text/csv; charset=utf-8", ".ics": "text/calendar; charset=utf-8",
	".pdf": "application/pdf", ".png": "image/png", ".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".gif": "image/gif",
}

// kindOf is the content type of a file; one that a browser does not run where it is not known.
func kindOf(name string) string {
	if kind, ok := kinds[strings.ToLower(path.Ext(name))]; ok {
		return kind
	}
	return "application/octet-stream"
}

// longestPath is far longer than any path of a site.
const longestPath = 500

// fileOf is the file of the site that a request's path asks for: a folder is its index
// page. Nothing that begins with a dot, leads upwards or has an empty part is one.
func fileOf(asked string) (name string, ok bool) {
	name, ok = strings.CutPrefix(asked, "/")
	if !ok || len(name) > longestPath {
		return "", false
	}
	if name == "" || strings.HasSuffix(name, "/") {
		name += "index.html"
	}
	if !fs.ValidPath(name) || strings.ContainsFunc(name, func(r rune) bool { return r < ' ' || r == '\\' || r == 0x7f || r == ':' }) {
		return "", false
	}
	for part := range strings.SplitSeq(name, "/") {
		if strings.HasPrefix(part, ".") {
			return "", false
		}
	}
	return name, true
}

// file answers with a file of the site, made now. A page has the strip on it that tells of
// the guide's faults.
func (s *Server) file(w http.ResponseWriter, r *http.Request) {
	name, ok := fileOf(r.URL.Path)
	if !ok {
		s.missing(w, r, s.live.Refresh())
		return
	}
	got := s.live.File(name)
	switch {
	case !got.Found && (!got.Any || got.Old && failed(got)):
		s.onlyFaults(w, r, got.State)
	case !got.Found:
		s.missing(w, r, got.State)
	case path.Ext(name) == ".html":
		s.page(w, r, http.StatusOK, got.Data, stripOf(got))
	default:
		policy := nothing
		if path.Ext(name) == ".pdf" {
			policy = unframed // browsers show it in a page of their own, which has styles and scripts
		}
		w.Header().Set("Content-Security-Policy", policy)
		if got.Old {
			w.Header().Set("Preview-State", "last good state; the guide has faults")
		}
		send(w, http.StatusOK, kindOf(name), got.Data)
	}
}

// failed says that it is the asked file itself that could not be made.
func failed(a publish.Asked) bool { return len(a.Faults) > 0 && a.Faults[0].ID == "page-failed" }

// page answers with a page of the site under a strip.
func (s *Server) page(w http.ResponseWriter, r *http.Request, status int, html []byte, strip strip) {
	dressed, policy := dress(html, strip, "http://"+r.Host)
	w.Header().Set("Content-Security-Policy", policy)
	send(w, status, kindOf(".html"), dressed)
}

// missing answers that the site has no such page.
func (s *Server) missing(w http.ResponseWriter, r *http.Request, state publish.State) {
	if !state.Any {
		s.onlyFaults(w, r, state)
		return
	}
	s.page(w, r, http.StatusNotFound, notFound, stripOf(publish.Asked{State: state}))
}

// onlyFaults answers with a page of what is wrong, where there is nothing else to show.
func (s *Server) onlyFaults(w http.ResponseWriter, r *http.Request, state publish.State) {
	html, err := s.live.FaultsPage(state)
	if err != nil {
		refuse(w, http.StatusInternalServerError, err.Error())
		return
	}
	s.page(w, r, http.StatusServiceUnavailable, html, strip{version: state.Version, alone: true})
}

var notFound = []byte(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>No such page</title>
<link rel="stylesheet" href="/style.css">
</head>
<body>
<main id="text">
<h1>The guide has no such page</h1>
<p class="lead">Perhaps its name is another now, or a row or text is not saved yet.</p>
<p><a href="/index.html">To the front page</a></p>
</main>
</body>
</html>
`)
