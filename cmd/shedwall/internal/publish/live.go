package publish

import (
	"fmt"
	"io/fs"
	"sync"

	"shedwall/cmd/shedwall/internal/diag"
)

// Live is a guide that is looked at while it is being edited: it gives any file of the
// site as it would be published from what is on disk now, and writes nothing. It keeps
// what did not change: every step is known by the content of all that it was made from.
// Where the guide has faults, the files are those of its last good state.
//
// Its methods may be called by several goroutines at once.
type Live struct {
	mu     sync.Mutex
	loader *loader
	ready  bool // something was loaded
	state  State
	site   *liveSite         // of the last good state; nil = none yet
	served map[string][]byte // the last good bytes of files that were asked for
}

// State is what is to be said of a guide as it is on disk.
type State struct {
	Version  string // another whenever any file is another that pages are made from
	Title    string // of the guide; "" = not known
	Language string // its own; "" = not known

	// Faults are faults and warnings by place; Notes is how many notes there are besides.
	Faults []diag.Fault
	Notes  int

	// Good says that the guide has no fault. Where it has, the site is that of its last
	// good state, if Any was good yet.
	Good, Any bool
}

// Asked is a file of the site with the state of the guide.
type Asked struct {
	State
	Found bool
	Data  []byte

	// Old says that the data are not of the present state, for want of a good one or
	// because this file failed; Faults then says why.
	Old bool
}

// OpenLive begins to look at a guide folder over the defaults that come with the program,
// which do not change.
func OpenLive(guide, defaults fs.FS) *Live {
	return &Live{loader: &loader{guide: guide, defaults: defaults, watched: watch(guide)}, served: map[string][]byte{}}
}

// Refresh looks at what is on disk and says what there is to say of it. Where nothing
// changed it does nothing else.
func (l *Live) Refresh() State {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.refresh()
	return l.state
}

func (l *Live) refresh() {
	if !l.loader.watched.refresh() && l.ready {
		return
	}
	l.ready = true
	g, err := l.load()
	failing := "content"
	state := State{Any: l.site != nil}
	if g != nil && g.Tables != nil {
		state.Title, state.Language = g.Tables.Guide.Title, g.Tables.Guide.Language
	}
	if err == nil && !g.Faults.HasErrors() {
		var site *liveSite
		failing = "templates"
		if site, err = l.newSite(g); err == nil {
			l.site, state.Good, state.Any = site, true, true
		}
	}
	if g != nil {
		for _, f := range g.Faults.Sorted() {
			if f.Severity == diag.Notice {
				state.Notes++
			} else {
				state.Faults = append(state.Faults, f)
			}
		}
	}
	if err != nil {
		state.Faults = append([]diag.Fault{failed(failing, err)}, state.Faults...)
	}
	state.Version = l.loader.version(state.Faults)
	l.state = state
}

// load is loader.load; a mistake of the program becomes an error, since an editor's next
// save may well be free of what caused it.
func (l *Live) load() (g *Guide, err error) {
	defer caught(&err)
	return l.loader.load()
}

func (l *Live) newSite(g *Guide) (s *liveSite, err error) {
	defer caught(&err)
	return newLiveSite(g, l.site)
}

func caught(err *error) {
	if r := recover(); r != nil {
		*err = fmt.Errorf("a mistake of the program: %v", r)
	}
}

// failed is the fault of a file, or of the guide, that could not be made.
func failed(name string, err error) diag.Fault {
	return diag.Fault{At: diag.Position{File: name}, ID: "page-failed", What: "it cannot be made: " + err.Error(),
		Expected: "templates and texts from which each page and sheet can be made", Cure: "undo the last change, or mend what is named here"}
}

// version is a mark of all that pages are made from, and of what there is to say of it.
func (l *loader) version(faults []diag.Fault) string {
	return sum([]byte(markOf(l.own.key, l.tables.key, l.stations.key, l.texts.key, l.printed.key, l.pages.key, markOf(faults))))[:32]
}

// File is a file of the site by its path from the top, made from what is on disk now.
func (l *Live) File(name string) Asked {
	l.mu.Lock()
	l.refresh()
	site, out := l.site, Asked{State: l.state}
	l.mu.Unlock()
	if site == nil {
		return out
	}
	var err error
	out.Data, out.Found, err = site.get(name)
	out.Old = !out.Good
	if err != nil {
		out.Faults = append([]diag.Fault{failed(name, err)}, out.Faults...)
		out.Old = true
		out.Data, out.Found = l.last(name)
		return out
	}
	if out.Found {
		l.keep(name, out.Data)
		out.Faults = append(site.phrasesMissing(), out.Faults...)
	}
	return out
}

// servedFiles is how many files' last good bytes are kept.
const servedFiles = 100

func (l *Live) keep(name string, data []byte) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if _, there := l.served[name]; !there && len(l.served) >= servedFiles {
		for other := range l.served {
			delete(l.served, other)
			break
		}
	}
	l.served[name] = data
}

func (l *Live) last(name string) ([]byte, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	data, ok := l.served[name]
	return data, ok
}

// FaultsPage is what is wrong as one HTML file, for a guide of which nothing was good yet.
// It is made by the program's own templates: the guide's may be what is wrong.
func (l *Live) FaultsPage(s State) ([]byte, error) {
	return (&Guide{files: l.loader.defaults, defaults: l.loader.defaults, loader: &loader{}}).faultsPage(s.Title, s.Faults)
}
