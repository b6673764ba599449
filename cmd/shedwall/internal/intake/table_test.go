package intake

import (
	"testing/fstest"
)

// small is the smallest guide of one's own.
var small = map[string]string{
	"data/guide.csv": `setting,value
title,Growing in the valley
publisher,Seed Circle
contact,post@example.org
edition,1
edition_date,2026-03-05
language,en
`,
	"data/stations.csv": `station,name,latitude,longitude,elevation_m,position
mill,The Mill,44.2,-38,612,floor
`,
	"data/bands.csv": `band,name,low_m,high_m,position
floor,Valley floor,560,680,floor
`,
	"data/places.csv": `place,elevation_m,position
Millfoot,600,floor
`,
}

// smallGuide is the small guide with some files changed; an empty text takes a
// file away.
func smallGuide(changed map[string]string) fstest.MapFS {
	g := fstest.MapFS{}
	for name, text := range small {
		g[name] = &fstest.MapFile{Data: []byte(text)}
	}
	for name, text := range changed {
		if text == "" {
			delete(g, name)
			continue
		}
		g[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return g
}
