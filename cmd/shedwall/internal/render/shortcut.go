package render

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"text/template/parse"
)

// What stands on pages is decided by templates, block by block. Executing one costs a
// hundred times what its words cost, and most blocks are of a few kinds. So there is a
// shortcut for these: Go code that writes the same bytes. It is taken only as long as the
// templates are, letter by letter, those that it was written for (builtinHTML, builtinMarkdown), so
// that a publisher's own template is always the one that counts.

// shortcuts writes blocks, each by its shortcut or else by the template "blocks".
type shortcuts struct {
	of      func(*viewBlock) shortcut // nil where there is none
	usable  map[string]bool           // the kinds of which every template is the built-in one
	execute func(to io.Writer, name string, data any) error
}

// shortcut appends what the templates make of a block.
type shortcut func(b []byte, x *viewBlock) []byte

// framed is the kind of whole pages, which pageHTML and pageMarkdown write.
const framed = "page"

// newShortcuts is the shortcuts of a set of templates. Those of a kind stand for the
// template "blocks" and for the ones named in stand; builtin has the sum of each.
func newShortcuts(of func(*viewBlock) shortcut, stand map[string][]string, builtin map[string]string, tree func(name string) *parse.Tree, execute func(to io.Writer, name string, data any) error) *shortcuts {
	s := &shortcuts{of, map[string]bool{}, execute}
	same := func(name string) bool {
		t := tree(name)
		return t != nil && templateSum(t) == builtin[name]
	}
	for kind, names := range stand {
		s.usable[kind] = same("blocks")
		for _, name := range names {
			s.usable[kind] = s.usable[kind] && same(name)
		}
	}
	return s
}

// templateSum stands for the text of a template.
func templateSum(t *parse.Tree) string {
	sum := sha256.Sum256([]byte(t.Root.String()))
	return hex.EncodeToString(sum[:8])
}

// text is blocks as text.
func (s *shortcuts) text(blocks []viewBlock) (string, error) {
	var err error
	out := written(func(b []byte) []byte {
		b, err = s.append(b, blocks)
		return b
	})
	return out, err
}

// append appends blocks.
func (s *shortcuts) append(b []byte, blocks []viewBlock) ([]byte, error) {
	for i := range blocks {
		x := &blocks[i]
		if s.usable[x.Kind] {
			if write := s.of(x); write != nil {
				b = write(b, x)
				continue
			}
		}
		to := appended(b)
		if err := s.execute(&to, "blocks", blocks[i:i+1]); err != nil {
			return b, err
		}
		b = to
	}
	return b, nil
}

// appended is bytes that a template is written behind.
type appended []byte

func (a *appended) Write(p []byte) (int, error) {
	*a = append(*a, p...)
	return len(p), nil
}

// maxWithin is the most templates at work at one time that were begun by another. Blocks
// within blocks are a handful.
const maxWithin = 1000

// begun executes a template for another one, which may be itself.
func (t *Pages) begun(execute func(to io.Writer, name string, data any) error) func(to io.Writer, name string, data any) error {
	return func(to io.Writer, name string, data any) error {
		defer t.within.Add(-1)
		if t.within.Add(1) > maxWithin {
			return fmt.Errorf("%q includes itself without end", name)
		}
		return execute(to, name, data)
	}
}
