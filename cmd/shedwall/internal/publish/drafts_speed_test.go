//go:build unix

package publish

import (
	"os"
	"testing"

	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/proof"
)

// BenchmarkDrafts is what is made of the demo guide's bands before their pages, in both
// languages: wall sheets, tables of dates, leaves and task lists. Nothing is planned
// meanwhile.
func BenchmarkDrafts(b *testing.B) {
	guide := os.DirFS(proof.Root(b))
	g, err := Load(guide, guide)
	if err != nil || g.Faults.HasErrors() {
		b.Fatal(err, g.Faults.Sorted())
	}
	p := newPress(g, nil)
	var plans [][]plan.CropPlan
	for i := range p.in.Bands {
		plans = append(plans, g.Planner.Band(p.in.Bands[i].Climate))
	}
	b.ReportAllocs()
	began := cpu(b)
	for b.Loop() {
		for i := range plans {
			for _, l := range p.languages {
				l.Draft(i, plans[i])
			}
		}
	}
	b.ReportMetric(float64((cpu(b)-began).Microseconds())/1000/float64(b.N), "CPU-ms/op")
}
