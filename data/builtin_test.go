package data

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// sheet is one built-in table read with nothing but encoding/csv, so that these
// checks do not lean on the program's own reader.
type sheet struct {
	heads []string
	rows  []map[string]string
}

func read(t *testing.T, name string) sheet {
	t.Helper()
	f, err := FS.Open("builtin/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll() // refuses rows of unequal length
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	s := sheet{heads: all[0]}
	for _, cells := range all[1:] {
		row := map[string]string{}
		for i, h := range s.heads {
			row[h] = cells[i]
		}
		s.rows = append(s.rows, row)
	}
	if len(s.rows) == 0 {
		t.Fatalf("%s: no rows", name)
	}
	return s
}

// keys is the column that names a row of each table.
var keys = map[string]string{
	"crops": "crop", "classes": "class", "covers": "cover", "layers": "layers", "hazards": "hazard", "sources": "source",
	"structures": "structure", "pots": "pot",
}

// figures are the columns that hold a figure and so need a source.
var figures = map[string]string{
	"crops": `young_damage_c young_kill_c grown_damage_c grown_kill_c winter_kill_c chill_c soil_min_c soil_best_c soil_max_c
		emerge_days weeks_inside_low weeks_inside_high days_low days_high pick_days heat_c base_c ceiling_c bolt_c bolt_days
		heat_mean_c best_mean_low_c best_mean_high_c fall_weeks_low fall_weeks_high fall_soil_c first_harvest_year spacing_cm depth_cm needs_insects fruit_days`,
	"classes": "young_damage_c grown_damage_c grown_kill_c soil_min_c base_c",
	"covers": `gain_low_k gain_typical_k gain_high_k winter_gain_low_k winter_gain_typical_k winter_gain_high_k light_percent
		vent_c wind_kmh snow hail insects_out years price`,
	"pots":   "bring_in_c keep_low_c keep_high_c never_below_c damage_c kill_c",
	"layers": "gain_low_k gain_typical_k gain_high_k",
	"logged": "low_k middle_k high_k",
	"structures": `length_m width_m height_m glazing_m2 glazing_u_wm2k light_percent second_u_wm2k second_light_percent walls_m2 walls_u_wm2k
		air_changes_calm air_changes air_changes_windy water_l water_area_m2 heat_watts thermostat_c vent_c vent_air_changes wind_kmh snow hail insects_out years price`,
}

func known(cell string) bool { return cell != "" && cell != "unknown" }

func number(t *testing.T, where, cell string) (float64, bool) {
	t.Helper()
	if !known(cell) {
		return 0, false
	}
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		t.Errorf("%s: %q is not a number", where, cell)
	}
	return v, err == nil
}

func TestIDsAreUniqueAndPlain(t *testing.T) {
	plain := regexp.MustCompile(`^[a-z0-9_-]+$`)
	for table, key := range keys {
		seen := map[string]bool{}
		for _, row := range read(t, table).rows {
			id := row[key]
			for _, part := range strings.Split(id, "+") {
				if !plain.MatchString(part) {
					t.Errorf("%s: id %q has characters other than a-z 0-9 _ -", table, id)
				}
			}
			if seen[id] {
				t.Errorf("%s: id %q stands twice", table, id)
			}
			seen[id] = true
		}
	}
	if n := len(read(t, "crops").rows); n < 75 {
		t.Errorf("%d crops, at least 75 are promised", n)
	}
	if n := len(read(t, "covers").rows); n < 14 {
		t.Errorf("%d covers, at least 14 are promised", n)
	}
}

func ids(t *testing.T, table string) map[string]map[string]string {
	byID := map[string]map[string]string{}
	for _, row := range read(t, table).rows {
		byID[row[keys[table]]] = row
	}
	return byID
}

func TestEveryFigureHasASource(t *testing.T) {
	sources, used := ids(t, "sources"), map[string]bool{}
	cite := func(where, id string) {
		used[id] = true
		if _, ok := sources[id]; !ok {
			t.Errorf("%s: source %q is not in sources.csv", where, id)
		}
	}
	excepted := map[string]bool{}
	for _, row := range read(t, "exceptions").rows {
		where := row["table"] + "/" + row["row"] + "/" + row["column"]
		cite(where, row["source"])
		if excepted[where] {
			t.Errorf("%s: two exceptions for one cell", where)
		}
		excepted[where] = true
		target, ok := ids(t, row["table"])[row["row"]]
		if !ok {
			t.Errorf("exceptions: no row %s", where)
		} else if !known(target[row["column"]]) {
			t.Errorf("exceptions: %s has no figure", where)
		}
	}
	for table, columns := range figures {
		for _, row := range read(t, table).rows {
			for _, column := range strings.Fields(columns) {
				if where := table + "/" + row[keys[table]] + "/" + column; known(row[column]) && !excepted[where] {
					cite(where, row["source"])
				}
			}
			cite(table+"/"+row[keys[table]], row["source"])
		}
	}
	for _, table := range []string{"germination", "hazards"} {
		for _, row := range read(t, table).rows {
			cite(table, row["source"])
		}
	}
	for _, tag := range formulaTags(t) {
		cite("a formula", tag)
	}
	for id := range sources {
		if !used[id] {
			t.Errorf("sources: %q is cited nowhere", id)
		}
	}
}

// formulaTags is the sources that the program's formulas name: [source thom59].
func formulaTags(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("../cmd/shedwall/internal/*/*.go")
	if err != nil {
		t.Fatal(err)
	}
	var tags []string
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`\[source ([a-z0-9_ ]+)\]`).FindAllStringSubmatch(string(text), -1) {
			tags = append(tags, strings.Fields(m[1])...)
		}
	}
	return tags
}

func TestSourcesSayWhatTheyAre(t *testing.T) {
	kinds := strings.Fields("extension handbook fao paper records grower trade practice memory own")
	for _, row := range read(t, "sources").rows {
		if !strings.Contains(" "+strings.Join(kinds, " ")+" ", " "+row["kind"]+" ") {
			t.Errorf("source %s: kind %q", row["source"], row["kind"])
		}
		if row["title"] == "" || row["read"] == "" {
			t.Errorf("source %s: no title, or not said how it was read", row["source"])
		}
	}
}

// TestColdLimits holds kill <= damage and young no hardier than the crop's own
// grown limit allows, after blanks are filled from the class as a plan does.
func TestColdLimits(t *testing.T) {
	classes := ids(t, "classes")
	for _, row := range read(t, "crops").rows {
		id := row["crop"]
		class, ok := classes[row["class"]]
		if !ok {
			t.Errorf("crop %s: no class %q", id, row["class"])
			continue
		}
		get := func(column string) (float64, bool) {
			if v, ok := number(t, id+" "+column, row[column]); ok {
				return v, true
			}
			return number(t, id+" "+column, class[column])
		}
		for _, pair := range [][2]string{
			{"young_kill_c", "young_damage_c"}, {"grown_kill_c", "grown_damage_c"},
			{"winter_kill_c", "grown_damage_c"}, {"winter_kill_c", "grown_kill_c"},
		} {
			kill, ok1 := get(pair[0])
			damage, ok2 := get(pair[1])
			if ok1 && ok2 && kill > damage {
				t.Errorf("crop %s: %s %g is above %s %g", id, pair[0], kill, pair[1], damage)
			}
		}
		for _, column := range []string{"young_damage_c", "grown_damage_c"} {
			// No vascular garden crop shows frost harm above 6 C or stays unhurt as
			// an unhardened plant below -12 C: a figure outside is a slip of unit.
			if v, ok := get(column); !ok || v > 6 || v < -12 {
				t.Errorf("crop %s: %s %g, known %v", id, column, v, ok)
			}
		}
		for _, pair := range [][2]string{
			{"weeks_inside_low", "weeks_inside_high"}, {"days_low", "days_high"},
			{"soil_min_c", "soil_best_c"}, {"soil_best_c", "soil_max_c"},
		} {
			low, ok1 := number(t, id, row[pair[0]])
			high, ok2 := number(t, id, row[pair[1]])
			if ok1 && ok2 && low > high {
				t.Errorf("crop %s: %s %g is above %s %g", id, pair[0], low, pair[1], high)
			}
		}
	}
}

func TestCropsCanBePlanned(t *testing.T) {
	tables := map[string]bool{}
	for _, row := range read(t, "germination").rows {
		tables[row["germination"]] = true
	}
	for _, row := range read(t, "crops").rows {
		id := row["crop"]
		if g := row["germination"]; g != "" && !tables[g] {
			t.Errorf("crop %s: no germination table %q", id, g)
		}
		if row["germination"] == "" && row["emerge_days"] == "" {
			t.Errorf("crop %s: neither a germination table nor days to emerge", id)
		}
		switch row["start"] {
		case "inside", "either":
			if !known(row["weeks_inside_low"]) {
				t.Errorf("crop %s: raised inside, but for how many weeks?", id)
			}
		case "outside", "planted":
			if known(row["weeks_inside_low"]) || row["days_from"] == "set_out" {
				t.Errorf("crop %s: never raised inside, yet has weeks inside or days from setting out", id)
			}
		default:
			t.Errorf("crop %s: start %q", id, row["start"])
		}
		if known(row["days_low"]) != (row["days_from"] != "") {
			t.Errorf("crop %s: days and what they count from go together", id)
		}
	}
}

func TestCovers(t *testing.T) {
	letters := map[string]string{}
	covers := ids(t, "covers")
	ordered := func(where string, row map[string]string, columns ...string) {
		last, have := 0.0, false
		for _, column := range columns {
			v, ok := number(t, where+" "+column, row[column])
			if ok && have && v < last {
				t.Errorf("%s: %s %g is below the figure before it, %g", where, column, v, last)
			}
			if ok {
				last, have = v, true
			}
		}
	}
	for id, row := range covers {
		// I, O, S and H mark actions on the sheet.
		if l := row["letter"]; len(l) != 1 || l < "A" || l > "Z" || strings.Contains("IOSH", l) || letters[l] != "" {
			t.Errorf("cover %s: letter %q (also of %s)", id, l, letters[l])
		} else {
			letters[l] = id
		}
		ordered(id, row, "gain_low_k", "gain_typical_k", "gain_high_k")
		ordered(id, row, "winter_gain_low_k", "winter_gain_typical_k", "winter_gain_high_k")
		if row["touches"] != "yes" && row["touches"] != "no" || row["offered"] != "yes" && row["offered"] != "no" {
			t.Errorf("cover %s: touches %q offered %q", id, row["touches"], row["offered"])
		}
		if low, ok := number(t, id, row["gain_low_k"]); ok && row["offered"] == "yes" && low > 1.5 {
			t.Errorf("cover %s: a single skin that always gains %g K was measured by nobody", id, low)
		}
	}
	offered := 0
	for _, row := range covers {
		if row["offered"] == "yes" {
			offered++
		}
	}
	for id, row := range ids(t, "layers") {
		for _, cover := range strings.Split(id, "+") {
			if _, ok := covers[cover]; !ok {
				t.Errorf("layers %s: no cover %q", id, cover)
			}
		}
		ordered(id, row, "gain_low_k", "gain_typical_k", "gain_high_k")
		if (row["measured"] == "yes") != known(row["gain_typical_k"]) {
			t.Errorf("layers %s: measured %q and gain %q do not go together", id, row["measured"], row["gain_typical_k"])
		}
		if row["offered"] == "yes" {
			offered++
		}
	}
	if offered < 5 || offered > 9 {
		t.Errorf("%d sets of covers are offered: a sheet stays readable with 5 to 9", offered)
	}
}

// TestKindsOfCovers: what growers stretch a season with is all there, and so are the
// set-ups that are put together from several of them or from what lies about.
func TestKindsOfCovers(t *testing.T) {
	covers, structures, layers := ids(t, "covers"), ids(t, "structures"), ids(t, "layers")
	if len(covers) < 15 {
		t.Errorf("%d covers", len(covers))
	}
	for kind, id := range map[string]string{
		"row cover laid on": "fabric_laid", "light row cover": "fabric_light", "medium row cover": "fabric", "heavy row cover": "fabric_heavy",
		"low tunnel, clear": "tunnel", "low tunnel, slit": "tunnel_slit", "cloche or cut jug": "cloche", "water-filled ring": "water_ring",
		"cold frame": "frame", "overnight blanket": "blanket", "straw mulch": "straw", "caterpillar tunnel": "caterpillar",
		"high tunnel": "hightunnel", "double inflated house": "double_house", "glass house": "glass_house", "hail cloth": "hail_cloth",
	} {
		if covers[id] == nil {
			t.Errorf("no %s (%s)", kind, id)
		}
	}
	for kind, id := range map[string]string{"high tunnel with an inner cover": "hightunnel+fabric", "caterpillar with an inner cover": "caterpillar+fabric"} {
		if layers[id] == nil {
			t.Errorf("no %s (%s)", kind, id)
		}
	}
	for setUp, id := range map[string]string{
		"lidded bin (the cut jug is a cover)": "bin_lidded", "framed heavy lid on a raised bed": "bed_lid", "bent-pipe tunnel with roll-up sides": "pipe_tunnel",
		"hail hoops doubling as a tunnel": "hail_hoops", "crossed-pole dome with filament lamps": "dome_lamps", "take-down tent house": "tent_house",
		"glazed shed with water and a small heater": "water_shed", "potted tender plants wintered inside": "pot_shed",
	} {
		if structures[id] == nil {
			t.Errorf("no %s (%s)", setUp, id)
		}
	}
	// The other two are covers used for something: hail cloth in spring, frost cloth over
	// tender crops in fall. Their pages say so.
	for page, says := range map[string]string{"hail_cloth": "Put it up in spring", "fabric_heavy": "tomatoes in early fall"} {
		text, err := os.ReadFile("../content/covers/" + page + ".md")
		if err != nil || !strings.Contains(string(text), says) {
			t.Errorf("the page of %s does not say %q (%v)", page, says, err)
		}
	}
}

func TestGermination(t *testing.T) {
	last := map[string]float64{}
	for _, row := range read(t, "germination").rows {
		id := row["germination"]
		soil, _ := number(t, id, row["soil_c"])
		if before, ok := last[id]; ok && soil <= before {
			t.Errorf("germination %s: %g C after %g C", id, soil, before)
		}
		last[id] = soil
		if row["days"] != "none" {
			if days, ok := number(t, id, row["days"]); !ok || days < 1 || days > 180 {
				t.Errorf("germination %s: %q days at %g C", id, row["days"], soil)
			}
		}
	}
}

func TestHazardsNameCovers(t *testing.T) {
	covers := ids(t, "covers")
	for _, row := range read(t, "hazards").rows {
		for _, on := range strings.Fields(row["on"]) {
			if _, ok := covers[on]; !ok && !strings.Contains(" all heat lamps water food structure house film glass ", " "+on+" ") {
				t.Errorf("hazard %s: %q is neither a cover nor a word for some things", row["hazard"], on)
			}
		}
		if row["caution"] == "" {
			t.Errorf("hazard %s says nothing", row["hazard"])
		}
	}
}

// TestChillOrder holds the order in which gardeners rank the need for warm nights,
// where a crop has a figure: heat lovers first, corn last. A storage figure of the
// picked fruit turns it upside down (melon 5 C, cucumber 7 C in handbooks of storage).
func TestChillOrder(t *testing.T) {
	crops := ids(t, "crops")
	groups := []string{
		"okra melon watermelon basil sweet_potato", "eggplant pepper cucumber",
		"tomato tomatillo ground_cherry squash_summer squash_winter pumpkin", "corn_sweet",
	}
	least, before := math.Inf(1), ""
	for _, group := range groups {
		low, high := math.Inf(1), math.Inf(-1)
		for _, id := range strings.Fields(group) {
			if v, ok := number(t, id+" chill_c", crops[id]["chill_c"]); ok {
				low, high = min(low, v), max(high, v)
			}
		}
		if math.IsInf(low, 1) {
			t.Errorf("none of %s has a chill_c", group)
		}
		if high > least {
			t.Errorf("%s: chill_c up to %g, above the least of %s, %g", group, high, before, least)
		}
		least, before = low, group
	}
}

// TestNotesGiveBothUnits: a note is read in gardens of either scale, and a bare K or
// F is a letter to most readers.
func TestNotesGiveBothUnits(t *testing.T) {
	bare := regexp.MustCompile(`\d ?[FCK]\b`)
	for table, key := range keys {
		for _, row := range read(t, table).rows {
			for _, column := range []string{"note", "caution"} {
				text, where := row[column], table+" "+row[key]
				if m := bare.FindString(text); m != "" {
					t.Errorf("%s: bare unit %q", where, m)
				}
				if f, c := strings.Count(text, "°F"), strings.Count(text, "°C"); f != c {
					t.Errorf("%s: %d figures in °F, %d in °C", where, f, c)
				}
			}
		}
	}
}
