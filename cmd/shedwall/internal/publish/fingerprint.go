package publish

import (
	"encoding/binary"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"sync"

	"shedwall/cmd/shedwall/internal/page"
)

// fingerprint is a quick sum of everything that values hold: the same for the same
// contents in any run of the program, and another as soon as one letter or figure differs
// (as surely as quick says). Lengths and kinds go in too, so that no two different values look alike end to
// end. Pointers count by what they point to. ok is false where a value holds something
// whose content cannot be seen (a function, a channel); then there is no fingerprint.
//
// The functions of page.Prose are left out: what they answer depends on the guide's texts
// and pictures alone, and whoever asks adds the fingerprint of those.
func fingerprint(values ...any) (print string, ok bool) {
	d := digests.Get().(*digest)
	defer digests.Put(d)
	d.sum, d.held, d.ok = quick{}, d.held[:0], true
	for _, v := range values {
		d.value(reflect.ValueOf(v))
	}
	if !d.ok {
		return "", false
	}
	d.sum.add(d.held)
	return d.sum.String(), true
}

// digest takes values one after another.
type digest struct {
	sum  quick
	held []byte // not in sum yet
	ok   bool
}

var digests = sync.Pool{New: func() any { return new(digest) }}

// room lets what is held go into the sum before it grows large.
func (d *digest) room() {
	if len(d.held) > 32<<10 {
		d.sum.add(d.held)
		d.held = d.held[:0]
	}
}

func (d *digest) number(n uint64) { d.held = binary.LittleEndian.AppendUint64(d.held, n) }

func (d *digest) text(s string) {
	d.held = binary.AppendUvarint(d.held, uint64(len(s)))
	d.held = append(d.held, s...)
	d.room()
}

// line takes runs of text. Two thirds of all fields of pages are theirs, so that they are
// not looked up by name as others are.
func (d *digest) line(line []page.Inline) {
	d.held = binary.AppendUvarint(append(d.held, byte(flag(line == nil))), uint64(len(line)))
	for i := range line {
		x := &line[i]
		d.held = append(d.held, byte(flag(x.Strong)|flag(x.Soft)<<1))
		d.text(x.Text)
		d.text(x.Href)
		d.text(x.Heard)
		d.text(x.Lang)
	}
}

var (
	proseType = reflect.TypeFor[page.Prose]()
	lineType  = reflect.TypeFor[[]page.Inline]()
	rowType   = reflect.TypeFor[[][]page.Inline]()
)

// value takes one value with its kind in front.
func (d *digest) value(v reflect.Value) {
	k := v.Kind()
	d.held = append(d.held, byte(k))
	switch k {
	case reflect.Invalid: // nil in an interface
	case reflect.String:
		d.text(v.String())
	case reflect.Bool:
		d.number(flag(v.Bool()))
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		d.number(uint64(v.Int()))
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64, reflect.Uintptr:
		d.number(v.Uint())
	case reflect.Float32, reflect.Float64:
		d.number(math.Float64bits(v.Float()))
	case reflect.Pointer:
		d.number(flag(v.IsNil()))
		if !v.IsNil() {
			d.value(v.Elem())
		}
	case reflect.Interface:
		if !v.IsNil() {
			d.text(v.Elem().Type().String())
		}
		d.value(v.Elem())
	case reflect.Slice:
		d.number(flag(v.IsNil()))
		switch {
		case v.Type() == lineType && v.CanInterface():
			d.line(v.Interface().([]page.Inline))
		case v.Type() == rowType && v.CanInterface():
			d.number(uint64(v.Len()))
			for _, cell := range v.Interface().([][]page.Inline) {
				d.line(cell)
			}
		default:
			d.items(v)
		}
	case reflect.Array:
		d.items(v)
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Field(i); f.Kind() != reflect.Func || v.Type() != proseType {
				d.value(f)
			}
		}
	case reflect.Map:
		d.mapping(v)
	default:
		d.ok = d.ok && (k == reflect.Func && v.IsNil())
	}
}

func (d *digest) items(v reflect.Value) {
	d.number(uint64(v.Len()))
	if v.Kind() == reflect.Slice && v.Type().Elem().Kind() == reflect.Uint8 {
		d.held = append(d.held, v.Bytes()...)
		d.room()
		return
	}
	for i := range v.Len() {
		d.value(v.Index(i))
	}
	d.room()
}

// mapping takes the entries of a map in the order of its keys, which are texts or numbers.
func (d *digest) mapping(v reflect.Value) {
	keys := v.MapKeys()
	names := make(map[string]reflect.Value, len(keys))
	order := make([]string, 0, len(keys))
	for _, k := range keys {
		if k.Kind() == reflect.Struct || k.Kind() == reflect.Pointer || k.Kind() == reflect.Interface {
			d.ok = false
			return
		}
		name := fmt.Sprint(k)
		names[name] = v.MapIndex(k)
		order = append(order, name)
	}
	slices.SortFunc(order, strings.Compare)
	d.number(uint64(len(order)))
	for _, name := range order {
		d.text(name)
		d.value(names[name])
	}
}

func flag(b bool) uint64 {
	if b {
		return 1
	}
	return 0
}
