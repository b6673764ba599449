package page

import (
	"slices"
	"strconv"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
)

// beside is how much further (km) than the nearest band that fits a place another one may lie
// and still be shown beside it: two points that stand for bands tell no more.
const beside = 15.0

// placed is the bands of a place, best first, and those to look at too.
type placed struct {
	inside, border []*catalog.Band
	given          bool    // the publisher gives the band
	away           float64 // km to the first of inside where that is far; 0 = it is not, or nobody knows
}

// bandsOf finds the bands of a place: the one that the publisher gives it, else those of its
// height and position, see bandsFor. Of several the nearest counts where place and bands have
// coordinates. A band that is nearer than it by far and holds the height, but not the position,
// is one to look at too.
func bandsOf(pl *catalog.Place, rows []*catalog.Band) placed {
	if i := slices.IndexFunc(rows, func(r *catalog.Band) bool { return pl.Band != "" && r.ID == pl.Band }); i >= 0 {
		return givenBand(pl, rows, i)
	}
	z, known := pl.Elevation.Get()
	if !known {
		return placed{}
	}
	pos, posKnown := pl.Position.Get()
	var out placed
	out.inside, out.border = bandsFor(rows, z, pos, posKnown)
	km := map[*catalog.Band]float64{}
	for _, r := range rows {
		if d, ok := kmTo(pl, r); ok {
			km[r] = d
		}
	}
	nearest, ok := 0.0, false
	for _, r := range out.inside {
		if d, has := km[r]; has && (!ok || d < nearest) {
			nearest, ok = d, true
		}
	}
	if !ok {
		return out
	}
	far := func(r *catalog.Band) bool { d, has := km[r]; return has && d > nearest+beside }
	out.inside, out.border = slices.DeleteFunc(out.inside, far), slices.DeleteFunc(out.border, far)
	slices.SortStableFunc(out.inside, func(a, b *catalog.Band) int {
		da, hasA := km[a]
		db, hasB := km[b]
		switch {
		case !hasA || !hasB || da == db:
			return 0
		case da < db:
			return -1
		}
		return 1
	})
	if d, has := km[out.inside[0]]; has && d > band.Reach {
		out.away = d
	}
	for _, r := range rows {
		if d, has := km[r]; has && d < nearest-beside && holds(r, z, 0) && !contains(out.border, r) {
			out.border = append(out.border, r)
		}
	}
	return out
}

// givenBand is the band that the publisher gives a place, and beside it those that its height
// and position would have told, unless they lie further away.
func givenBand(pl *catalog.Place, rows []*catalog.Band, i int) placed {
	told := *pl
	told.Band = ""
	fit := bandsOf(&told, rows)
	out := placed{inside: rows[i : i+1], given: true}
	own, known := kmTo(pl, rows[i])
	for _, r := range append(fit.inside, fit.border...) {
		if km, ok := kmTo(pl, r); r != rows[i] && (!known || !ok || km <= own+beside) {
			out.border = append(out.border, r)
		}
	}
	return out
}

// kmTo is how far a place lies from a band; false where one of them has no coordinates.
func kmTo(pl *catalog.Place, r *catalog.Band) (float64, bool) {
	lat, a := pl.Latitude.Get()
	lon, b := pl.Longitude.Get()
	bandLat, c := r.Latitude.Get()
	bandLon, d := r.Longitude.Get()
	if !a || !b || !c || !d {
		return 0, false
	}
	return band.Distance(lat, lon, bandLat, bandLon), true
}

// placeTable leads from each place to its bands.
func (b *builder) placeTable() Table {
	rows := make([]*catalog.Band, len(b.made))
	byRow := map[*catalog.Band]*bandPage{}
	for i, m := range b.made {
		rows[i] = m.row()
		byRow[rows[i]] = m
	}
	links := func(rs []*catalog.Band, none string) []Inline {
		var out []Inline
		for j, r := range rs {
			if j > 0 {
				out = append(out, Inline{Text: ", "})
			}
			out = append(out, link(r.Name, byRow[r].href()))
		}
		if out == nil {
			return plain(b.t(none))
		}
		return out
	}
	t := Table{ID: "place-table", Caption: b.t("find.places.caption"), RowHeads: true, Head: []string{
		b.t("head.place"), b.t("head.height"), b.t("head.position"), b.t("head.band"), b.t("find.head.also")}}
	for i := range b.Tables.Places {
		pl := &b.Tables.Places[i]
		height := b.t("not_known")
		if z, known := pl.Elevation.Get(); known {
			height = b.words.Height(z)
		}
		fit := bandsOf(pl, rows)
		inside := links(fit.inside, "find.no_band")
		if fit.away > 0 {
			inside = append(inside, Inline{Text: ", " + b.t("find.away", "distance", b.words.Distance(fit.away))})
		}
		if fit.given {
			inside = append(inside, Inline{Text: ", " + b.t("find.given")})
		}
		t.Rows = append(t.Rows, [][]Inline{plain(pl.Name), plain(height), plain(b.position(pl.Position)), inside, links(fit.border, "find.no_other")})
		t.RowIDs = append(t.RowIDs, "place-"+strconv.Itoa(i+1))
	}
	return t
}
