package made

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io/fs"
	"slices"
	"strconv"
)

// planned is the sets of covers that come with the program and can be planned with, in
// the order in which a made guide takes them up.
var planned = []string{
	"fabric", "tunnel", "tunnel+fabric", "frame", "fabric_heavy", "hightunnel", "hightunnel+fabric", "cloche", "fabric_light", "tunnel_slit",
	"frame+blanket", "caterpillar", "tunnel+fabric_heavy", "double_house", "hightunnel+tunnel+fabric", "caterpillar+fabric", "frame+fabric", "hightunnel+tunnel",
}

// MostLayers is how many sets of covers a made guide can plan with.
var MostLayers = len(planned)

// covers is a covers.csv and a layers.csv that only say which sets are planned with.
func (s Size) covers() (covers, layers []byte) {
	c, l := [][]string{{"cover", "offered"}}, [][]string{{"layers", "offered"}}
	for i, id := range planned {
		offered := "no"
		if i < s.Layers {
			offered = "yes"
		}
		if bytes.ContainsRune([]byte(id), '+') {
			l = append(l, []string{id, offered})
		} else {
			c = append(c, []string{id, offered})
		}
	}
	return rows(c...), rows(l...)
}

// crops is a crops.csv over the program's own: the crops beyond the number asked for are
// dropped; where more are asked for, further kinds of them follow that take some days
// longer.
func (s Size) crops(program fs.FS) ([]byte, error) {
	text, err := fs.ReadFile(program, "data/builtin/crops.csv")
	if err != nil {
		return nil, err
	}
	all, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		return nil, err
	}
	head, all := all[0], all[1:]
	column := func(name string) int { return slices.Index(head, name) }
	id, name, low, high, source, note, use := column("crop"), column("name"), column("days_low"), column("days_high"), column("source"), column("note"), column("use")
	for _, k := range []int{id, name, low, high, source, note, use} {
		if k < 0 {
			return nil, fmt.Errorf("crops.csv has other columns than thought: %v", head)
		}
	}
	out := [][]string{head}
	for _, row := range all[min(s.Crops, len(all)):] {
		dropped := make([]string, len(head))
		dropped[id], dropped[use] = row[id], "no"
		out = append(out, dropped)
	}
	for n := range max(0, s.Crops-len(all)) {
		row := slices.Clone(all[n%len(all)])
		kind := 2 + n/len(all)
		row[id] += "_" + strconv.Itoa(kind)
		row[name] += ", kind " + strconv.Itoa(kind)
		row[low], row[high] = later(row[low], kind), later(row[high], kind)
		row[source], row[note] = "practice", ""
		out = append(out, row)
	}
	return rows(out...), nil
}

// later is a number of days, some more of them; what is not a number stays.
func later(days string, kind int) string {
	n, err := strconv.Atoi(days)
	if err != nil {
		return days
	}
	return strconv.Itoa(n + 3*(kind-1))
}
