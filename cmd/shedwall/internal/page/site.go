package page

import (
	"path"
	"strconv"
	"strings"
)

// Site is what stands on every page: names, navigation, foot and the fixed words
// of the frame around a page's own blocks.
type Site struct {
	Title       string // of the guide
	Lang        string
	Edition     string // "Edition 3, 1 February 2026"
	Nav         []NavEntry
	Foot        [][]Inline // paragraphs of the foot
	SkipText    string     // "Skip to the text"
	NavName     string     // "Guide"
	FootName    string     // "About this guide"
	Language    Language   // of these pages
	Languages   []Language // all that the guide has, its own first; one or none = no links between them
	LanguageNav string     // "This page in other languages"
	TwinText    string     // link to the page as Markdown: "This page as plain text (Markdown)"
}

// NavEntry is one entry of the navigation. Path as in Inline.Href.
type NavEntry struct{ Path, Text string }

// The addresses of a site. No other package makes one.
const (
	IndexPath   = "index"
	FindPath    = "find"
	QualityPath = "quality"
	SafetyPath  = "safety"
	SourcesPath = "sources"
	WordsPath   = "words"
	AccessPath  = "accessibility"
	CropsPath   = "crops/index"
	WholePath   = "guide" // all of the guide to print
	GrowersPath = "growers"
	StylePath   = "style.css" // with extension: it has no twin
)

// BandsPlace is the list of bands, under which the pages of a band stand.
const BandsPlace = IndexPath + ".html#bands"

// MovedPath is the page of what moved since an earlier edition, MovedFile the table of it.
const (
	MovedPath = "moved"
	MovedFile = "moved.csv"
)

// HandoverPath is the page for the next one who makes the guide; the guide's own files lie
// in InputsFolder, with their checksums in SumsFile.
const (
	HandoverPath = "handover"
	InputsFolder = "inputs"
	SumsFile     = InputsFolder + "/checksums.txt"
)

// InputFilePath is where a file of the guide folder lies in the site.
func InputFilePath(name string) string { return InputsFolder + "/" + name }

// BandMovedPath is the page of what moved in a band, without extension.
func BandMovedPath(band string) string { return "bands/" + band + "/moved" }

// CorrectionPath is leaf n (from 1) of the correction slips of a band, without extension.
func CorrectionPath(band string, n int) string {
	p := "bands/" + band + "/correction"
	if n > 1 {
		p += "-" + strconv.Itoa(n)
	}
	return p
}

// BandPath is the page of a band, without extension.
func BandPath(id string) string { return "bands/" + id + "/index" }

// SentencesPath is the page of a band's calendar in sentences, without extension.
func SentencesPath(band string) string { return "bands/" + band + "/sentences" }

// TonightPath is the tonight card of a band as a page of text, without extension.
func TonightPath(band string) string { return "bands/" + band + "/tonight" }

// WorksheetPath is the ten-night worksheet of a band as a page of text, without
// extension.
func WorksheetPath(band string) string { return "bands/" + band + "/worksheet" }

// ReportPath is the blank report form of a band as a page of text, without extension.
func ReportPath(band string) string { return "bands/" + band + "/report" }

// TasksPath, SlipsPath and FallPath are the task list of a band, its slips of what to sow
// and its June sheet as pages of text, without extension.
func TasksPath(band string) string { return "bands/" + band + "/tasks" }
func SlipsPath(band string) string { return "bands/" + band + "/slips" }
func FallPath(band string) string  { return "bands/" + band + "/fall" }

// AgainPath and PotsPath are the pages of a band about sowing again and second crops and
// about plants in pots, without extension.
func AgainPath(band string) string { return "bands/" + band + "/again" }
func PotsPath(band string) string  { return "bands/" + band + "/pots" }

// ICSPath is the calendar of a band for calendar programs.
func ICSPath(band string) string { return "bands/" + band + "/calendar.ics" }

// LeafPDF is the leaf at path as a PDF for a paper ("letter", "a4").
func LeafPDF(leafPath, paper string) string { return leafPath + "-" + paper + ".pdf" }

// CropPath is the first page of a crop, without extension.
func CropPath(id string) string { return "crops/" + id }

// CropPagePath is page n (from 1) of a crop, without extension: a guide of many bands has a
// page of each crop for every GroupSize of them.
func CropPagePath(id string, n int) string {
	if n > 1 {
		return CropPath(id) + "/" + strconv.Itoa(n)
	}
	return CropPath(id)
}

// CoverPath is the page of a cover, without extension.
func CoverPath(id string) string { return "covers/" + id }

// CalendarPath is the calendar of a band as a table for spreadsheets.
func CalendarPath(band string) string { return "bands/" + band + "/calendar.csv" }

// SheetPath is the wall sheet n (from 1) of a band, without extension.
func SheetPath(band string, n int) string {
	p := "bands/" + band + "/sheet"
	if n > 1 {
		p += "-" + strconv.Itoa(n)
	}
	return p
}

// SheetPDF is the wall sheet at path as a PDF for a paper ("letter", "a4").
func SheetPDF(sheetPath, paper string) string { return sheetPath + "-" + paper + ".pdf" }

// HTML is the file of the page at a path.
func HTML(p string) string { return p + ".html" }

// Twin is the Markdown file beside an HTML file, and whether there is one: wall
// sheets have PDFs instead.
func Twin(htmlFile string) (string, bool) {
	stem, ok := strings.CutSuffix(htmlFile, ".html")
	if !ok || strings.HasPrefix(path.Base(stem), "sheet") {
		return "", false
	}
	return stem + ".md", true
}

// steps are more steps up than pages lie deep.
const steps = "../../../../../../"

// Relative is the way from the file at path from to target; both are paths from
// the top of the site. Whole addresses (https:, mailto:) and places on the same
// page (#id) stay as they are.
func Relative(from, target string) string {
	first, _, _ := strings.Cut(target, "/")
	if target == "" || target[0] == '#' || strings.Contains(first, ":") {
		return target
	}
	file, _, hasFragment := strings.Cut(target, "#")
	if file == from {
		if hasFragment {
			return target[len(file):]
		}
		return path.Base(file)
	}
	// Folders that both paths begin with are left out; each other one of from is a step up.
	folder := path.Dir(from) + "/"
	if folder == "./" {
		folder = ""
	}
	same := 0
	for i := range min(len(folder), len(file)) {
		if folder[i] != file[i] {
			break
		}
		if file[i] == '/' {
			same = i + 1
		}
	}
	up := strings.Count(folder[same:], "/")
	if up <= len(steps)/3 {
		return steps[:3*up] + target[same:]
	}
	return strings.Repeat("../", up) + target[same:]
}
