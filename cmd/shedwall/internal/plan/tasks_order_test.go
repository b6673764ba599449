package plan

import (
	"cmp"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// TestTasksInOrder: tasks that are moved by their places stand as they would moved themselves;
// those alike in all that they are ordered by keep their order.
func TestTasksInOrder(t *testing.T) {
	crops := []*catalog.Crop{nil, {ID: "pea", Name: "Pea"}, {ID: "leek", Name: "Leek"}}
	rapid.Check(t, func(t *rapid.T) {
		tasks := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Task {
			from := quantity.Slot(rapid.IntRange(1, 3).Draw(t, "from"))
			return Task{
				Kind: rapid.SampledFrom(TaskKinds[9:13]).Draw(t, "kind"), Crop: rapid.SampledFrom(crops).Draw(t, "crop"),
				Layers: rapid.SampledFrom([]string{"", "fabric"}).Draw(t, "layers"), Cover: rapid.SampledFrom([]string{"", "fabric"}).Draw(t, "cover"),
				Action: rapid.SampledFrom([]Action{"", SetOut, Harvest}).Draw(t, "action"),
				From:   from, Until: quantity.Slot(rapid.IntRange(0, 9).Draw(t, "until")),
			}
		}), 0, 60).Draw(t, "tasks")
		want := slices.Clone(tasks)
		slices.SortStableFunc(want, func(a, b Task) int {
			return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(slices.Index(TaskKinds, a.Kind), slices.Index(TaskKinds, b.Kind)),
				cmp.Compare(nameOf(a.Crop), nameOf(b.Crop)), cmp.Compare(a.Layers, b.Layers), cmp.Compare(a.Cover, b.Cover), cmp.Compare(a.Action, b.Action))
		})
		if got := inOrder(tasks); !slices.Equal(got, want) {
			t.Fatalf("%v, want %v", got, want)
		}
	})
}
