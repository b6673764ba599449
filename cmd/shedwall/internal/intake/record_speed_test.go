package intake

import (
	"fmt"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/diag"
)

// A .dly file as large as a century's: three lines a month, one of them rain.
func centuryDly() []byte {
	var b strings.Builder
	for year := 1900; year < 2000; year++ {
		for month := 1; month <= 12; month++ {
			for _, element := range []string{"PRCP", "TMAX", "TMIN"} {
				var days []string
				for d := range 31 {
					days = append(days, fmt.Sprintf("%5d  Z", (month-6)*(month-6)*-8+d+map[string]int{"TMAX": 250, "TMIN": 120}[element]))
				}
				b.WriteString(dlyLine(element, year, month, days...) + "\n")
			}
		}
	}
	return []byte(b.String())
}

func centuryCSV() []byte {
	var b strings.Builder
	b.WriteString("date,tmin_c,tmax_c\n")
	for year := 1900; year < 2000; year++ {
		for month := 1; month <= 12; month++ {
			b.WriteString(strings.ReplaceAll(manyDays(fmt.Sprintf("%d-%02d", year, month), 28), ",0,9", ",-2.2,9.4"))
		}
	}
	return []byte(b.String())
}

func benchmarkRecord(b *testing.B, data []byte) {
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		var faults diag.List
		if len(Record("x.csv", data, Mapping{}, &faults)) != 1 {
			b.Fatal(faults.Sorted())
		}
	}
}

func BenchmarkRecordDly(b *testing.B) { benchmarkRecord(b, centuryDly()) }
func BenchmarkRecordCSV(b *testing.B) { benchmarkRecord(b, centuryCSV()) }
