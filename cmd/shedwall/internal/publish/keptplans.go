package publish

import (
	"sync"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
)

// keptPlans is the plans of each band as it was planned last. A band that is planned again
// keeps those of crops whose rows are as they were, where all else is too.
type keptPlans struct {
	mu    sync.Mutex
	bands map[string]keptBand
}

type keptBand struct {
	key   mark                   // of the climate and of all tables that plans are made from, but for crops
	plans map[mark]plan.CropPlan // by the mark of the crop's row
}

// planKeys is what tells the plans of one state of a guide from those of others.
type planKeys struct {
	bands map[string]mark
	crops map[*catalog.Crop]mark
}

func (l *loader) planKeys(t *readTables) planKeys {
	k := planKeys{bands: map[string]mark{}, crops: map[*catalog.Crop]mark{}}
	for i := range t.Bands {
		k.bands[t.Bands[i].ID] = markOf(l.planner.key, l.made.key, t.Bands[i])
	}
	for i := range t.Crops {
		k.crops[&t.Crops[i]] = t.crops[i]
	}
	return k
}

// plan plans a band, keeping what it can of the last time.
func (g *Guide) plan(band string) []plan.CropPlan {
	kept, key := &g.loader.plans, g.keys.bands[band]
	kept.mu.Lock()
	was := kept.bands[band]
	kept.mu.Unlock()
	if was.key != key {
		was.plans = nil
	}
	out := g.Planner.BandWith(g.climate[band], func(row *catalog.Crop) (plan.CropPlan, bool) {
		x, ok := was.plans[g.keys.crops[row]]
		return x, ok
	})
	now := keptBand{key, make(map[mark]plan.CropPlan, len(out))}
	for _, x := range out {
		now.plans[g.keys.crops[x.Crop]] = x
	}
	kept.mu.Lock()
	defer kept.mu.Unlock()
	if kept.bands == nil {
		kept.bands = map[string]keptBand{}
	}
	kept.bands[band] = now
	return out
}
