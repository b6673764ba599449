package publish

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/edition"
	"shedwall/cmd/shedwall/internal/intake"
	"shedwall/cmd/shedwall/internal/page"
)

// inputs is the guide's own files as they are published with it: what another run needs to
// make the same pages. Private columns are not among them, nor files that nothing reads.
type inputs struct {
	names []string
	data  map[string][]byte
	made  page.Made // what pages say of them
}

// readInputs gathers them: tables, records, kept editions, texts with their pictures,
// templates.
func (g *Guide) readInputs(l *edition.Ledger) (*inputs, error) {
	in := &inputs{data: map[string][]byte{}}
	for _, name := range intake.Inputs(g.files, g.Records, g.Freeze, g.Numbers) {
		data, err := intake.PublicCopy(g.files, name)
		if err != nil {
			return nil, err
		}
		in.data[name] = data
	}
	if g.KeepIn != "" && l != nil {
		in.data[intake.EditionFile(g.Tables.Guide.Edition)] = edition.Write(l.Edition())
	}
	for _, top := range []string{"content", "templates"} {
		if err := g.readFolder(in, top); err != nil {
			return nil, err
		}
	}
	for _, p := range g.Texts.Pictures() {
		if g.ownPicture(p) {
			picture, err := g.Texts.Picture(p)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", p, err)
			}
			in.data[path.Join("content", p)] = picture.Data
		}
	}
	for name := range in.data {
		in.names = append(in.names, name)
	}
	slices.Sort(in.names)
	builtIn, err := g.builtInSum()
	if err != nil {
		return nil, err
	}
	in.made = page.Made{Version: Version, BuiltIn: builtIn}
	for _, name := range in.names {
		in.made.Inputs = append(in.made.Inputs, page.InputFile{Path: name, Bytes: len(in.data[name]), SHA256: sum(in.data[name])})
	}
	return in, nil
}

// readFolder takes texts and templates of the guide; pictures come as they are published.
func (g *Guide) readFolder(in *inputs, top string) error {
	return fs.WalkDir(g.files, top, func(p string, d fs.DirEntry, err error) error {
		switch {
		case errors.Is(err, fs.ErrNotExist) && p == top:
			return nil
		case err != nil:
			return err
		case p == top:
			return nil
		case strings.HasPrefix(d.Name(), ".") && d.IsDir():
			return fs.SkipDir
		case d.IsDir() || strings.HasPrefix(d.Name(), "."):
			return nil
		}
		ext := strings.ToLower(path.Ext(p))
		if ext != ".md" && !(top == "templates" && (ext == ".html" || ext == ".css")) {
			return nil
		}
		data, err := fs.ReadFile(g.files, p)
		if same, e := fs.ReadFile(g.defaults, p); e == nil && top == "templates" && bytes.Equal(same, data) {
			return err // the program has it
		}
		in.data[p] = data
		return err
	})
}

// ownPicture says whether a picture lies in the guide's own folder.
func (g *Guide) ownPicture(p string) bool {
	_, err := fs.Stat(g.files, path.Join("content", p))
	return err == nil
}

// checksums is a list that checksum programs read: a line for each file.
func (in *inputs) checksums() []byte {
	var b bytes.Buffer
	for _, f := range in.made.Inputs {
		fmt.Fprintf(&b, "%s  %s\n", f.SHA256, f.Path)
	}
	return b.Bytes()
}

// sum is the SHA-256 of a file's bytes, hexadecimal, as manifests and lists of inputs have it.
func sum(data []byte) string {
	s := sha256.Sum256(data)
	return hex.EncodeToString(s[:])
}

// builtInSum is one checksum of the tables that come with the program.
func (g *Guide) builtInSum() (string, error) {
	h := sha256.New()
	entries, err := fs.ReadDir(g.defaults, "data/builtin")
	if err != nil {
		return "", err
	}
	for _, e := range entries {
		data, err := fs.ReadFile(g.defaults, path.Join("data/builtin", e.Name()))
		if err != nil {
			return "", err
		}
		fmt.Fprintln(h, e.Name(), len(data))
		h.Write(data)
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// takeInputs puts the guide's own files into the site.
func (p *press) takeInputs() error {
	in, err := p.inputs()
	if err != nil {
		return err
	}
	for _, x := range in.made.Inputs {
		if err := p.putSummed(page.InputFilePath(x.Path), x.SHA256, in.data[x.Path]); err != nil {
			return err
		}
	}
	return p.put(page.SumsFile, in.checksums())
}
