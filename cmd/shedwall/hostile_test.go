package main

import (
	"bytes"
	"compress/zlib"
	"encoding/csv"
	"encoding/hex"
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	gmhtml "github.com/yuin/goldmark/renderer/html"
	"golang.org/x/net/html"

	"shedwall/cmd/shedwall/internal/proof"
)

// secret stands in the environment while the hostile guide is published.
const secret = "tell-tale-7351"

// hostile is what could be more than text in some kind of file that a guide becomes.
var hostile = []string{
	`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `' onmouseover='alert(1)`, `</title></style><svg onload=alert(1)>`,
	`<a href="javascript:alert(1)">x</a>`, `&lt;script&gt;alert(1)&lt;/script&gt;`, `&#60;script&#62;`, `\u003cscript\u003e`, `<!-- x -->`, `]]><x>`,
	`{{.}}{{env "SHEDWALL_SECRET"}}`, `{{template "page" .}}`, `$SHEDWALL_SECRET ${SHEDWALL_SECRET} %SHEDWALL_SECRET%`, `{% x %}`,
	`javascript:alert(1)`, `[x](javascript:alert(1))`, `](java&#10;script:alert(1))`, `![x](https://evil.example/p.png)`, `<javascript:alert(1)>`, `[x]: data:text/html,x`,
	"two\r\nATTENDEE:evil", "two\nEND:VEVENT\nBEGIN:VALARM", `a;b,c\n:d\`,
	`) Tj ET (`, `\) >> endobj endstream /JS (app.alert(1)) /OpenAction %%EOF`, `<</S/JavaScript>>`,
	"bell\a esc\x1b[31m del\x7f", "\u202egnp.exe\u202c", "zero\u200bwidth\u2066x", "line\u2028para\u2029end\u0085x",
	`-dash`, `+1 555 0100`, `@alder`, `'quote`, "a | b", "`code` *x* _y_ ~z~", `1986. was`, `# head`, `--- x`, strings.Repeat("long ", 600),
}

// hostileGuide is a guide in whose texts all that stands, wherever a text may be written.
func hostileGuide(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	tinyGuide(t, dir, 1)
	all := strings.Join(hostile, " ")
	write := func(name string, rows [][]string) {
		var b bytes.Buffer
		if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	short := func(k int) string { return fmt.Sprint(hostile[k%len(hostile)], " ", k) }
	brief := func(k int) string { // fits into the narrowest column of a sheet
		letters := []rune(hostile[k%len(hostile)])
		return fmt.Sprint(string(letters[:min(len(letters), 26)]), k)
	}
	write("data/guide.csv", [][]string{{"setting", "value"}, {"title", short(0)}, {"publisher", brief(1) + brief(20)}, {"contact", "post@alder.example"},
		{"edition", "1"}, {"edition_date", "2026-02-01"}, {"language", "en"}, {"languages", "en es"}, {"statement", short(0) + " " + short(10) + " " + short(27)}, {"statement_short", short(2)}, {"use_until", short(3)},
		{"prepared_by", short(24)}, {"reviewed_by", short(26)}})
	write("data/stations.csv", [][]string{{"station", "name", "latitude", "longitude", "elevation_m", "position", "zone", "where_to_read", "note"},
		{"school", "<b> {{.}} -->", "44.21", "-38.1", "410", "slope", "5a", short(14), all}})
	write("data/bands.csv", [][]string{{"band", "name", "low_m", "high_m", "position", "zone", "note"}, {"slopes", brief(20), "350", "500", "slope", "5a", all}, {"hollow", brief(25), "350", "450", "hollow", "4b", all}})
	places, reports := [][]string{{"place", "elevation_m", "position", "note"}}, [][]string{{"date", "band", "crop", "outcome", "place", "grower", "note", "private_name"}}
	for k := range hostile {
		places = append(places, []string{short(k), "430", "slope", short(k)})
		reports = append(reports, []string{fmt.Sprintf("2025-05-%02d", 1+k%28), "slopes", "kale", "unhurt", short(k), short(k + 1), short(k + 2), secret})
	}
	reports = append(reports, []string{"2025-05-30", "slopes", "tomato", "killed", "=1+1", "@SUM(1)", `=HYPERLINK("http://evil.example","x")`, secret})
	write("data/places.csv", places)
	write("data/reports.csv", reports)
	crops, kept := [][]string{{"crop", "name", "latin", "family", "note", "use"}}, 0
	for _, id := range builtinIDs(t, "crops") {
		if kept < 12 && slices.Contains([]string{"kale", "tomato", "pea", "beet", "lettuce_leaf", "squash_winter", "bean_snap", "leek", "apple", "garlic", "rhubarb", "onion_set"}, id) {
			k := kept * 3
			crops = append(crops, []string{id, brief(k), short(k + 1), short(k + 2), short(k + 5), ""})
			kept++
			continue
		}
		crops = append(crops, []string{id, "", "", "", "", "no"})
	}
	write("data/crops.csv", crops)
	write("data/covers.csv", [][]string{{"cover", "name", "note"}, {"fabric", brief(1), short(21)}, {"tunnel", brief(24), short(28)}})
	write("data/sources.csv", [][]string{{"source", "kind", "organisation", "title"}, {"ours", "own", short(0) + short(25), short(5)}})
	prose := "# Kale {{env \"SHEDWALL_SECRET\"}} \\<script>\n\n\\<script>alert(1)\\</script> &lt;img src=x onerror=alert(1)&gt; &#60;script&#62; {{.}} ${SHEDWALL_SECRET}\n\n" +
		"    <script>alert(1)</script>\n\n`<script>alert(1)</script>`\n\n[x \" onclick=y](https://example.org/?a=\"><script> \"t\") ![x \" onerror=y](../images/p.png)\n\n| a |\n|---|\n| `<script>` \\| {{env \"SHEDWALL_SECRET\"}} |\n"
	for _, name := range []string{"content/crops/kale.md", "content/bands/slopes.md", "content/covers/fabric.md", "content/stories/one.md", "content/index.md", "content/safety.md"} {
		text := prose
		if strings.Count(name, "/") == 1 {
			text = strings.ReplaceAll(text, "../images", "images")
		}
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.MkdirAll(filepath.Join(dir, "content", "images"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "content", "images", "p.png"), onePixel, 0o644); err != nil {
		t.Fatal(err)
	}
	return dir
}

// builtinIDs is the ids of a built-in table.
func builtinIDs(t *testing.T, table string) []string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(proof.Root(t), "data", "builtin", table+".csv"))
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for line := range strings.Lines(string(text)) {
		if id, _, _ := strings.Cut(line, ","); !strings.HasPrefix(line, "#") && id+"s" != table {
			ids = append(ids, id)
		}
	}
	return ids
}

// onePixel is a picture of one pixel with a remark behind its end, as a camera might leave.
var onePixel = append([]byte("GIF89a\x01\x00\x01\x00\x80\x00\x00\x00\x00\x00\xff\xff\xff!\xfe\x0e"+secret+"\x00,\x00\x00\x00\x00\x01\x00\x01\x00\x00\x02\x02D\x01\x00;"), "<script>"...)

// A guide whose every text is hostile is published, and no file of the site runs, fetches
// or tells anything: not in a browser, a Markdown renderer, a spreadsheet, a calendar
// program or a reader of PDFs.
func TestHostileGuide(t *testing.T) {
	t.Setenv("SHEDWALL_SECRET", secret)
	dir := hostileGuide(t)
	out := filepath.Join(dir, "public")
	var stdout, stderr bytes.Buffer
	if code := run([]string{"publish", "--guide", dir, "--booklet"}, &stdout, &stderr); code != exitDone {
		t.Fatalf("publish ended with %d:\n%.4000s", code, stderr.String())
	}
	count := map[string]int{}
	err := filepath.WalkDir(out, func(p string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		rel, _ := filepath.Rel(out, p)
		name, ext := filepath.ToSlash(rel), filepath.Ext(p)
		count[ext]++
		var wrong []string
		switch ext {
		case ".html":
			wrong = append(unsafeHTML(data), unsafePolicy(data)...)
		case ".md":
			if wrong = controls(data, "\n"); strings.HasPrefix(name, "inputs/") {
				break // as the publisher wrote it
			}
			var page bytes.Buffer // as a renderer shows it that lets everything through
			if err := goldmark.New(goldmark.WithExtensions(extension.GFM), goldmark.WithRendererOptions(gmhtml.WithUnsafe())).Convert(data, &page); err != nil {
				return err
			}
			wrong = append(wrong, unsafeHTML(page.Bytes())...)
		case ".csv":
			wrong = unsafeTable(data, strings.HasPrefix(name, "inputs/"))
		case ".ics":
			wrong = unsafeCalendar(data)
		case ".pdf":
			wrong = unsafePDF(data)
		case ".css", ".png", ".gif", ".jpg", ".txt", ".shedwall", ".shedwall-made":
		case ".svg", ".js":
			wrong = []string{"no such file belongs to a site"}
		default:
			wrong = []string{"of a kind that nobody looks at here"}
		}
		if bytes.Contains(data, []byte(secret)) && !strings.HasPrefix(name, "inputs/content/images/") {
			wrong = append(wrong, "tells the secret")
		}
		for _, w := range slices.Compact(wrong) {
			t.Errorf("%s: %s", name, w)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%v", count)
	for ext, least := range map[string]int{".html": 80, ".md": 40, ".csv": 6, ".ics": 4, ".pdf": 20} {
		if count[ext] < least {
			t.Errorf("%d files of the kind %s: too few for a proof", count[ext], ext)
		}
	}
	page, err := os.ReadFile(filepath.Join(out, "crops", "kale.html"))
	for _, want := range []string{"{{env &#34;SHEDWALL_SECRET&#34;}}", "&lt;script&gt;alert(1)&lt;/script&gt;"} {
		if err != nil || !bytes.Contains(page, []byte(want)) {
			t.Errorf("kale's page lacks %s: the hostile text did not come so far", want)
		}
	}
}

// unsafeHTML is what runs or is fetched in a page.
func unsafeHTML(src []byte) (wrong []string) {
	root, err := html.Parse(bytes.NewReader(src))
	if err != nil {
		return []string{err.Error()}
	}
	for n := range root.Descendants() {
		if n.Type == html.TextNode && strings.Contains(n.Data, "ZgotmplZ") {
			wrong = append(wrong, "a value that the templates refused")
		}
		if n.Type != html.ElementNode {
			continue
		}
		switch n.Data {
		case "script", "iframe", "object", "embed", "base", "form", "frame", "applet", "foreignobject", "animate", "set", "use":
			wrong = append(wrong, "<"+n.Data+">")
		}
		for _, a := range n.Attr {
			key, value := strings.ToLower(a.Key), strings.ToLower(strings.TrimSpace(a.Val))
			switch {
			case strings.HasPrefix(key, "on"):
				wrong = append(wrong, key+"="+value)
			case key == "style" || key == "srcdoc" || key == "ping":
				wrong = append(wrong, key+"="+value)
			case key == "http-equiv" && value == "refresh":
				wrong = append(wrong, "a page that leads elsewhere by itself")
			case key == "href" && n.Data == "a":
				if scheme, _, ok := strings.Cut(value, ":"); ok && !slices.Contains([]string{"https", "http", "mailto", "tel"}, scheme) && !strings.ContainsAny(scheme, "/#?") {
					wrong = append(wrong, "a link to "+value)
				}
			case slices.Contains([]string{"src", "href", "srcset", "action", "formaction", "poster", "data", "background", "xlink:href", "cite"}, key):
				if strings.Contains(value, ":") || strings.HasPrefix(value, "//") {
					wrong = append(wrong, "fetches "+value)
				}
			}
		}
	}
	return append(wrong, controls(src, "\n")...)
}

// rePolicy is a policy that lets styles and pictures of the site through and nothing else;
// sheets bring one style, known by its checksum, and its letters.
var rePolicy = regexp.MustCompile(`^default-src 'none'; (style-src 'self' file:; img-src 'self' file:|style-src 'sha256-[A-Za-z0-9+/]{43}='; font-src data:); base-uri 'none'; form-action 'none'$`)

// unsafePolicy is what is wrong with a page's content policy; it must stand before all
// that is fetched.
func unsafePolicy(src []byte) []string {
	root, err := html.Parse(bytes.NewReader(src))
	if err != nil {
		return []string{err.Error()}
	}
	for n := range root.Descendants() {
		attr := map[string]string{}
		for _, a := range n.Attr {
			attr[a.Key] = a.Val
		}
		switch {
		case n.Type != html.ElementNode:
		case n.Data == "link" || n.Data == "style" || n.Data == "body":
			return []string{"no content policy before <" + n.Data + ">"}
		case n.Data == "meta" && attr["http-equiv"] == "Content-Security-Policy":
			if !rePolicy.MatchString(attr["content"]) {
				return []string{"the policy " + attr["content"]}
			}
			return nil
		}
	}
	return []string{"no content policy"}
}

// controls is characters that steer a terminal, a line or a parser in place of being seen.
func controls(src []byte, allowed string) (wrong []string) {
	for _, r := range string(src) {
		if (r < ' ' || r >= 0x7f && r < 0xa0 || r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069' || r == '\u200b' || r == '\ufffd') && !strings.ContainsRune(allowed, r) {
			wrong = append(wrong, fmt.Sprintf("the character %U", r))
		}
	}
	slices.Sort(wrong)
	return slices.Compact(wrong)
}

var reBareNumber = regexp.MustCompile(`^[+-]?[0-9]+(\.[0-9]+)?$`)

// unsafeTable is the cells that a spreadsheet would run. A copy of the publisher's own
// table may hold a dash or a telephone number, but nothing that calls.
func unsafeTable(src []byte, copied bool) (wrong []string) {
	rows := csv.NewReader(bytes.NewReader(src))
	rows.FieldsPerRecord = -1
	for {
		row, err := rows.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			return append(wrong, err.Error())
		}
		for _, cell := range row {
			switch {
			case cell == "" || !strings.ContainsRune("=+-@\t\r＝", []rune(cell)[0]) || reBareNumber.MatchString(cell):
			case copied && !strings.HasPrefix(cell, "=") && !strings.Contains(cell, "("):
			default:
				wrong = append(wrong, fmt.Sprintf("%.60q would run", cell))
			}
		}
	}
	if copied {
		return wrong
	}
	return append(wrong, controls(src, "\r\n")...)
}

// unsafeCalendar is what is wrong with the lines of a calendar: every one is of a property
// that we write, whatever the texts hold.
func unsafeCalendar(src []byte) (wrong []string) {
	ours := regexp.MustCompile(`^(BEGIN:(VCALENDAR|VEVENT)|END:(VCALENDAR|VEVENT)|VERSION:2\.0|PRODID:.*|CALSCALE:.*|METHOD:PUBLISH|X-WR-CALNAME:.*|X-WR-CALDESC:.*|UID:.*|DTSTAMP:.*|LAST-MODIFIED:.*|SEQUENCE:.*|DTSTART;VALUE=DATE:[0-9]{8}|DTEND;VALUE=DATE:[0-9]{8}|SUMMARY:.*|DESCRIPTION:.*|CATEGORIES:.*|STATUS:(CONFIRMED|CANCELLED)|TRANSP:TRANSPARENT)$`)
	for line := range strings.SplitSeq(strings.TrimSuffix(string(src), "\r\n"), "\r\n") {
		if !strings.HasPrefix(line, " ") && !ours.MatchString(line) {
			wrong = append(wrong, fmt.Sprintf("the line %.80q", line))
		}
		if len(line) > 75 {
			wrong = append(wrong, "a line of more than 75 octets")
		}
	}
	return append(wrong, controls(src, "\r\n")...)
}

var (
	reStream   = regexp.MustCompile(`(?s)<<([^>]*(?:>[^>]+)*?)>>\s*stream\r?\n(.*?)\r?\nendstream`)
	reLength   = regexp.MustCompile(`/Length (\d+)`)
	reActive   = regexp.MustCompile(`/(JS|JavaScript|OpenAction|AA|Launch|EmbeddedFiles?|RichMedia|SubmitForm|ImportData|GoToR|GoToE|XFA|AcroForm)\b`)
	reLiteral  = regexp.MustCompile(`(?s)\((?:\\.|[^\\()])*\)`)
	reHex      = regexp.MustCompile(`<([0-9A-Fa-f\s]*)>`)
	reWhere    = regexp.MustCompile(`/URI\s*(\((?:\\.|[^\\()])*\)|<[0-9A-Fa-f]*>)`)
	reMetadata = regexp.MustCompile(`(?s)<\?xpacket begin.*?<\?xpacket end="r"\?>`)
)

// unsafePDF is what acts in a PDF, or could in a careless reader: actions, files within,
// links that are none, texts with control characters, texts that end their string.
func unsafePDF(src []byte) (wrong []string) {
	if bytes.Count(src, []byte("%%EOF")) != 1 {
		wrong = append(wrong, "more or fewer ends than one")
	}
	objects := bytes.Clone(reStream.ReplaceAll(src, []byte("<<$1>>")))
	for _, m := range reStream.FindAllSubmatchIndex(src, -1) { // objects may be kept together, packed
		about := src[m[2]:m[3]]
		if !bytes.Contains(about, []byte("/ObjStm")) {
			continue
		}
		long := reLength.FindSubmatch(about)
		if long == nil {
			return append(wrong, "a stream without its length")
		}
		n, _ := strconv.Atoi(string(long[1])) // packed data may end like a line, so that their end is not seen
		z, err := zlib.NewReader(bytes.NewReader(src[m[4]:min(m[4]+n, len(src))]))
		if err != nil {
			return append(wrong, err.Error())
		}
		packed, err := io.ReadAll(z)
		if err != nil {
			return append(wrong, err.Error())
		}
		objects = append(objects, packed...)
	}
	for _, m := range reWhere.FindAllSubmatch(objects, -1) {
		if to := string(m[1]); !strings.HasPrefix(to, "(http") && !strings.HasPrefix(to, "(mailto:") {
			wrong = append(wrong, "leads to "+to)
		}
	}
	objects = reWhere.ReplaceAll(objects, nil)
	texts := 0
	for _, m := range reLiteral.FindAll(objects, -1) {
		texts++
		for _, c := range controls([]byte(pdfText(m[1:len(m)-1])), "") {
			wrong = append(wrong, "a text with "+c)
		}
	}
	bare := reLiteral.ReplaceAll(objects, nil)
	for _, m := range reHex.FindAllSubmatch(bare, -1) {
		raw, err := hex.DecodeString(string(m[1]))
		if err != nil {
			wrong = append(wrong, err.Error())
		}
		if !bytes.HasPrefix(raw, []byte{0xfe, 0xff}) {
			continue // a checksum
		}
		var units []uint16
		for i := 2; i+1 < len(raw); i += 2 {
			units = append(units, uint16(raw[i])<<8|uint16(raw[i+1]))
		}
		texts++
		for _, c := range controls([]byte(string(utf16.Decode(units))), "") {
			wrong = append(wrong, "a text with "+c)
		}
	}
	if texts == 0 {
		wrong = append(wrong, "no text was found")
	}
	for _, m := range reActive.FindAll(reHex.ReplaceAll(bare, nil), -1) {
		wrong = append(wrong, string(m))
	}
	metadata := reMetadata.Find(src)
	d := xml.NewDecoder(bytes.NewReader(metadata))
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			return append(wrong, "metadata: "+err.Error())
		}
		if e, ok := token.(xml.StartElement); ok && !strings.Contains("xmpmeta RDF Description format title description language creator Alt Bag Seq li Producer CreatorTool CreateDate ModifyDate part conformance", e.Name.Local) {
			wrong = append(wrong, "metadata with <"+e.Name.Local+">")
		}
	}
	return append(wrong, controls(metadata, "\n\ufeff")...)
}

// pdfText reads a literal string (ISO 32000-1, 7.3.4.2): in UTF-16 where it is marked so,
// else a byte a letter, of which those from 128 to 160 are signs and none a control.
func pdfText(s []byte) string {
	var raw []byte
	for i := 0; i < len(s); i++ {
		if s[i] != '\\' || i+1 == len(s) {
			raw = append(raw, s[i])
			continue
		}
		i++
		n, digits := 0, 0
		for ; digits < 3 && i+digits < len(s) && s[i+digits] >= '0' && s[i+digits] <= '7'; digits++ {
			n = n*8 + int(s[i+digits]-'0')
		}
		switch at := strings.IndexByte("nrtbf", s[i]); {
		case digits > 0:
			raw, i = append(raw, byte(n)), i+digits-1
		case at >= 0:
			raw = append(raw, "\n\r\t\b\f"[at])
		default:
			raw = append(raw, s[i])
		}
	}
	if bytes.HasPrefix(raw, []byte{0xfe, 0xff}) {
		var units []uint16
		for i := 2; i+1 < len(raw); i += 2 {
			units = append(units, uint16(raw[i])<<8|uint16(raw[i+1]))
		}
		return string(utf16.Decode(units))
	}
	var out strings.Builder
	for _, b := range raw {
		if b >= 0x80 && b <= 0xa0 {
			b = '.'
		}
		out.WriteRune(rune(b))
	}
	return out.String()
}
