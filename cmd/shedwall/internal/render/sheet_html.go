package render

import (
	"fmt"
	"slices"

	"shedwall/cmd/shedwall/internal/page"
)

// maxSheetHTML is the most a sheet's page may weigh, in bytes.
const maxSheetHTML = 100_000

// SheetHTML is the page of a sheet that is wanted as one alone.
func SheetHTML(s *page.Sheet, f page.SheetFrame) (out []byte, err error) {
	set, err := MeasureSheet(s)
	if err != nil {
		return nil, err
	}
	err = set.WithHTML(f, func(html []byte) error { out = slices.Clone(html); return nil })
	return out, err
}

// WithHTML writes a wall sheet as a page to print and hands it to use, which may keep
// nothing of it: the drawing at its real size, and below it, on the screen and for reading
// programs, everything on it in words. Printed, it is the drawing alone on one page of
// Letter or A4, upright. The same sheet gives the same bytes. The error names the row that
// does not fit, or is that of use.
func (s *Sheet) WithHTML(f page.SheetFrame, use func(html []byte) error) error {
	d, err := layoutTexts(s.texts, printArea())
	if err != nil {
		return fmt.Errorf("print page: %w", err)
	}
	x := s.sheet
	svg := newSVG("drawing", x.Band+": "+x.Name, d)
	picture, err := d.play(svg)
	if err != nil {
		return err
	}
	defer closePicture(picture)
	fonts, err := fontFaces(d.letters())
	if err != nil {
		return err
	}
	store := openStore()
	defer store.close()
	v := &viewer{store: store, from: page.HTML(x.Path)}
	view := sheetView{Sheet: x, frame: f, picture: picture, style: append([]string{"\n", sheetStyle, svg.css(webFamily)}, fonts...)}
	if f.Site != nil {
		v.folder = f.Site.Language.Folder
		view.around(v, f.Site)
	}
	for _, l := range f.Links {
		view.references = append(view.references, sheetLink{v.href(l.Href), l.Text, ""})
	}
	for _, t := range x.Twins {
		view.references = append(view.references, sheetLink{v.shared(t.Language.Folder + t.Path), t.Language.Name, t.Language.Code})
	}
	if v.err != nil {
		return v.err
	}
	return withFile(func(b []byte) ([]byte, error) {
		if b = view.append(b); len(b) > maxSheetHTML {
			return b, fmt.Errorf("%d bytes, more than %d", len(b), maxSheetHTML)
		}
		return b, nil
	}, "print page", use)
}

// letters is the rare letters the drawing uses of each face, in order of use; used tells
// which faces it uses at all.
func (d *drawing) letters() (rare [2][]rune, used [2]bool) {
	for _, m := range d.marks {
		t, ok := m.(run)
		if !ok || t.s == "" {
			continue
		}
		used[t.weight] = true
		for _, r := range t.s {
			if !isCommon(r) && !slices.Contains(rare[t.weight], r) {
				rare[t.weight] = append(rare[t.weight], r)
			}
		}
	}
	return rare, used
}

// sheetStyle: a white leaf on the screen, as wide as on paper; in print the
// drawing and nothing else. It never grows beyond the printable width, so that a
// browser with margins of its own makes it smaller rather than cut it off.
const sheetStyle = `@page{margin:12.7mm 16mm;size:portrait}
:root{color-scheme:light}
body{margin:0;background:#fff;color:#000;font:1rem/1.5 system-ui,Arial,sans-serif}
svg{display:block;overflow:visible;max-width:100%;height:auto;margin:0 auto}
@media print{.screen{display:none}}
@media screen{
body{background:#f3f1ec}
main,header,footer{max-width:60rem;margin:0 auto;padding:1rem;box-sizing:border-box}
main:focus{outline:none}
header{padding-bottom:0}
header p{margin:.2rem 1.5rem .2rem 0}
header ul{display:flex;flex-wrap:wrap;gap:.2rem 1.5rem;padding:0;margin:0;list-style:none}
header .links{border-top:1px solid #777;margin-top:.5rem;padding-top:.5rem}
footer p{margin:.2rem 0}
a{color:#0b4a2f;display:inline-block;padding:.25rem 0}
a[aria-current]{font-weight:bold}
.skip{position:absolute;left:.5rem;top:-6rem;padding:.6rem 1rem;background:#fff}
.skip:focus{top:.5rem}
a:focus-visible{outline:3px solid #000;outline-offset:2px}
.leaf{background:#fff;padding:6% 4%;margin:0 0 2rem;border:1px solid #777;box-sizing:border-box}
h1{font-size:1.6rem;line-height:1.25;margin:.5rem 0 1rem}
h2{font-size:1.25rem;margin:1.5rem 0 .5rem}
table{border-collapse:collapse;width:100%;background:#fff}
caption{text-align:left;font-weight:bold;padding:.5rem 0}
th,td{text-align:left;vertical-align:top;padding:.45rem .6rem;border-top:1px solid #777;overflow-wrap:break-word}
td>span{display:none}
@media (max-width:46rem){
table,caption,tbody,tr,th,td{display:block}
thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
tr{border-top:2px solid #000;padding:.5rem 0}
th,td{border:0;padding:.1rem .6rem}
td>span{display:inline;font-weight:bold}
}}
`
