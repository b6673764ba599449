package intake_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/intake"
	"shedwall/cmd/shedwall/internal/quantity"
)

// lastScan is the plain way: the last day of each season year (1 August to 31 July) with
// a minimum at or below 0 C, one threshold, doubtful readings left out.
const lastScan = `
substr($0, 18, 4) == "TMIN" {
	station = substr($0, 1, 11)
	year = substr($0, 12, 4) + 0
	month = substr($0, 16, 2) + 0
	season = month >= 8 ? year : year - 1
	for (day = 1; day <= 31; day++) {
		value = substr($0, 14 + 8 * day, 5) + 0
		if (value <= 0 && value != -9999 && substr($0, 20 + 8 * day, 1) == " ")
			last[station, season] = month * 100 + day
	}
}
END { for (s in last) print s, last[s] }
`

// sameScan is the same with the one rule more that shedwall keeps on the way: a day
// whose minimum lies above its maximum is left out, so maxima are read too. Maxima stand
// before the minima of their month.
const sameScan = `
{ element = substr($0, 18, 4) }
element == "TMAX" {
	month_of_max = substr($0, 1, 17)
	for (day = 1; day <= 31; day++) {
		value = substr($0, 14 + 8 * day, 5) + 0
		max[day] = (value == -9999 || substr($0, 20 + 8 * day, 1) != " ") ? 9999 : value
	}
}
element == "TMIN" {
	station = substr($0, 1, 11)
	year = substr($0, 12, 4) + 0
	month = substr($0, 16, 2) + 0
	season = month >= 8 ? year : year - 1
	both = substr($0, 1, 17) == month_of_max
	for (day = 1; day <= 31; day++) {
		value = substr($0, 14 + 8 * day, 5) + 0
		if (value <= 0 && value != -9999 && substr($0, 20 + 8 * day, 1) == " " && !(both && value > max[day]))
			last[station, season] = month * 100 + day
	}
}
END { for (s in last) print s, last[s] }
`

// stationsDly is a .dly file of ten stations of the size of real ones: the real one ten
// times under other ids where there are real records, else ten invented centuries.
func stationsDly() []byte {
	dir := os.Getenv("SHEDWALL_RECORDS")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "..", "..", "shared", "records")
	}
	one, err := os.ReadFile(filepath.Join(dir, "daily", "USC00305816.dly"))
	if err != nil {
		one = inventedDly()
	}
	var all bytes.Buffer
	for k := range 10 {
		id := fmt.Sprintf("USC%08d", k)
		for line := range bytes.Lines(one) {
			all.WriteString(id)
			all.Write(line[len(id):])
		}
	}
	return all.Bytes()
}

// inventedDly is a century of one station: rain, snow, maxima and minima.
func inventedDly() []byte {
	var b strings.Builder
	for year := 1900; year < 2000; year++ {
		for month := 1; month <= 12; month++ {
			for _, element := range []string{"PRCP", "SNOW", "TMAX", "TMIN"} {
				fmt.Fprintf(&b, "USC00000000%d%02d%s", year, month, element)
				for day := range 31 {
					value := 120 - 8*(month-7)*(month-7) + (17*day+7*year)%60
					if day >= quantity.DaysIn(year, month) {
						value = -9999
					}
					fmt.Fprintf(&b, "%5d  Z", value)
				}
				b.WriteByte('\n')
			}
		}
	}
	return []byte(b.String())
}

// BenchmarkDlyToStaircases reads a file of ten stations on one core: with shedwall into
// staircases of both events, exact for every threshold; with mawk into one list of last
// freezes at one threshold, from minima alone and by the same rule about days whose
// minimum lies above their maximum. The lines stand side by side; none is a test.
func BenchmarkDlyToStaircases(b *testing.B) {
	data := stationsDly()
	b.Run("shedwall", func(b *testing.B) {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
		b.SetBytes(int64(len(data)))
		for b.Loop() {
			var faults diag.List
			records := intake.Record("stations.dly", data, intake.Mapping{}, &faults)
			for i := range records {
				if first, last := frost.Climb(frost.Minima(&records[i]), quantity.North).Seasons(); last < first {
					b.Fatal("no staircases")
				}
			}
		}
	})
	for _, script := range []struct{ name, text string }{{"mawk-minima-alone", lastScan}, {"mawk-same-rules", sameScan}} {
		b.Run(script.name, func(b *testing.B) {
			mawk, err := exec.LookPath("mawk")
			if err != nil {
				b.Skip("no mawk here")
			}
			file := filepath.Join(b.TempDir(), "stations.dly")
			if err := os.WriteFile(file, data, 0o644); err != nil {
				b.Fatal(err)
			}
			b.SetBytes(int64(len(data)))
			for b.Loop() {
				if out, err := exec.Command(mawk, script.text, file).Output(); err != nil || len(out) == 0 {
					b.Fatal(err)
				}
			}
		})
	}
}
