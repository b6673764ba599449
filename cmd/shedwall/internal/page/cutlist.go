package page

import (
	"math"
	"strconv"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
)

// metre is a length in the guide's units, to the centimetre and the inch.
func (b *builder) metre(m float64) string { return b.lengthBy(m, math.Round) }

// cut is a length to cut, rounded up: what is too short is lost.
func (b *builder) cut(m float64) string {
	return b.lengthBy(m, func(n float64) float64 { return math.Ceil(n - 0.02) })
}

func (b *builder) lengthBy(m float64, whole func(float64) float64) string {
	metric := b.words.Number(whole(100*m)/100, 2) + "\u00a0" + b.t("unit.m")
	inches := int(whole(m / 0.0254))
	american := strconv.Itoa(inches) + "\u00a0in"
	if inches >= 24 {
		american = strconv.Itoa(inches/12) + "\u00a0ft"
		if inches%12 != 0 {
			american += " " + strconv.Itoa(inches%12) + "\u00a0in"
		}
	}
	return b.either(metric, american)
}

// either joins a metric and an American measure as the guide's units want it.
func (b *builder) either(metric, american string) string {
	switch b.Tables.Guide.Units {
	case catalog.UnitsC:
		return metric
	case catalog.UnitsF:
		return american
	}
	return metric + " (" + american + ")"
}

// squareMetres is an area in the guide's units.
func (b *builder) squareMetres(m2 float64) string {
	return b.either(b.words.Number(m2, 1)+"\u00a0m²", b.words.Number(m2*10.7639, 0)+"\u00a0ft²")
}

// cutList is what to cut and fetch for common beds under a cover on hoops.
func (b *builder) cutList(c *catalog.Cover) []Block {
	if !c.Hoops {
		return nil
	}
	t := Table{ID: "cut-table", Caption: b.t("cut.caption", "cover", c.Name), RowHeads: true, Head: []string{
		b.t("cut.head.bed"), b.t("cut.head.height"), b.t("cut.head.hoops"), b.t("cut.head.hoop"), b.t("cut.head.cover"), b.t("cut.head.clips"), b.t("cut.head.weights"), b.t("cut.head.air")}}
	for _, bed := range cover.CommonBeds {
		cut, ok := bed.Cut()
		if !ok {
			continue
		}
		air := b.either(b.words.Number(cut.Air, 1)+"\u00a0m³", b.words.Number(cut.Air*35.3147, 0)+"\u00a0ft³")
		surface := b.squareMetres(cut.Surface)
		t.Rows = append(t.Rows, [][]Inline{
			plain(b.t("cut.by", "a", b.metre(bed.Width), "b", b.metre(bed.Length))), plain(b.metre(bed.HoopHeight)),
			plain(b.t("cut.hoops", "n", b.words.Int(cut.Hoops), "spacing", b.metre(cut.Spacing))),
			plain(b.cut(cut.Hoop)), plain(b.t("cut.by", "a", b.cut(cut.CoverWide), "b", b.cut(cut.CoverLong))),
			plain(b.words.Int(cut.Clips)), plain(b.words.Int(cut.Weights)), plain(b.t("cut.air", "air", air, "surface", surface)),
		})
	}
	return []Block{b.heading(2, "cut", "cut.h"), para(Inline{Text: b.t("cut.intro")}), t}
}

// snowDepths are what the table of snow shows (m).
var snowDepths = []float64{0.1, 0.3, 0.6}

// snowWeights is what snow of a depth weighs, dry and wet, for information: whether a
// frame bears it nobody can say but its maker.
func (b *builder) snowWeights() []Block {
	t := Table{ID: "snow-table", Caption: b.t("snow.caption"), RowHeads: true, Head: []string{b.t("snow.head.depth"), b.t("snow.head.dry"), b.t("snow.head.wet")}}
	weight := func(depth, depths float64) string {
		const gravity, psf = 9.80665, 47.880258980
		load := cover.SnowLoad(depth, cover.SnowDensity(depths))
		return b.either(b.words.Number(load/gravity, 0)+"\u00a0kg/m²", b.words.Number(load/psf, 1)+"\u00a0lb/ft²")
	}
	for _, d := range snowDepths {
		t.Rows = append(t.Rows, [][]Inline{plain(b.either(b.words.Number(100*d, 0)+"\u00a0cm", b.words.Number(d/0.0254, 0)+"\u00a0in")), plain(weight(d, 12)), plain(weight(d, 3))})
	}
	return []Block{b.heading(2, "snow", "snow.h"), para(Inline{Text: b.t("snow.intro")}), t, para(Inline{Text: b.t("snow.no_depth")})}
}
