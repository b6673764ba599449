package plan

import (
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// A crop that stands -3 C when young (that cold ends on 31 March) and only 0 C when
// grown (until 30 May, in one year in ten), as a pea in flower: four weeks after it came
// up no night may harm it. Up 10 days after sowing, so sown 38 days before 30 May; set
// out 28 days before it. All by hand from plainYears.
func TestGrownPlantStandsLess(t *testing.T) {
	soft := func(c *catalog.Crop) {
		c.YoungDamage, c.GrownDamage = known(quantity.Celsius(-3)), known(quantity.Celsius(0))
		c.SoilMin, c.Chill = known(quantity.Celsius(4)), figure.Of[quantity.Celsius]{}
	}
	check(t, planned(t, place(44, nil), shed(with(bean(), soft))), "", careful, SowOutside, "04-22 frost, 07-11 maturity")
	check(t, planned(t, place(44, nil), shed(with(tomato(), soft))), "", careful, SetOut, "05-02 frost, 06-21 maturity")
}

// Cold weeks in one spring of seven, in June, hold no careful date back: they check
// growth. Nights of -3 C then, in as many springs, do. By hand: in those years the week
// from 8 to 14 June is at 4 C, or the night of 12 June at -3 C; the tomato stands -2 C and
// weeks of 9 C.
func TestGrowthIsAskedInHalfTheYears(t *testing.T) {
	june := func(from, to int, low quantity.Hundredths) func(d *record.Daily) {
		return func(d *record.Daily) {
			for i := range d.Min {
				if y, m, dd := (d.Start + quantity.Day(i)).Date(); y%7 == 0 && m == 6 && dd >= from && dd <= to {
					d.Min[i] = low
				}
			}
		}
	}
	crop := with(tomato(), func(c *catalog.Crop) {
		c.YoungDamage, c.GrownDamage, c.Chill = known(quantity.Celsius(-2)), known(quantity.Celsius(-2)), known(quantity.Celsius(9))
	})
	// 5 May is the end of the cold weeks of every year, 31 March of nights of -2 C.
	check(t, planned(t, place(44, june(8, 14, 400)), shed(crop)), "", careful, SetOut, "05-05 chill, 08-12 maturity")
	check(t, planned(t, place(44, june(12, 12, -300)), shed(crop)), "", careful, SetOut, "06-12 frost, 08-12 maturity")
}

// What is hardened stands to be picked until the first night that kills it: the leaves
// are harmed on 10 September, -4 C comes on 1 November. A winter limit that is warmer
// than the leaves' never ends the harvest earlier.
func TestHarvestOfWhatStands(t *testing.T) {
	root := with(tomato(), func(c *catalog.Crop) { c.WinterKill = known(quantity.Celsius(-4)) })
	p := planned(t, place(44, nil), shed(root))
	check(t, p, "", careful, Harvest, "08-08 growth, 10-31 frost")
	check(t, p, "", careful, LastSafeDay, "09-09 frost, 09-09 frost")
	warm := with(tomato(), func(c *catalog.Crop) { c.WinterKill = known(quantity.Celsius(3)) })
	check(t, planned(t, place(44, nil), shed(warm)), "", careful, Harvest, "08-08 growth, 09-09 frost")
}

// A table that begins above the crop's least soil is carried down to it: seeds that need
// 10 C and are counted from 20 C on (8 days) come up at 18 C at 0.8 of the rate, in 10
// days: sown 20 May, up on 30 May.
func TestTableCarriedDown(t *testing.T) {
	tables := shed(with(bean(), func(c *catalog.Crop) {
		c.Germination, c.SoilMin = "melon", known(quantity.Celsius(10))
	}))
	tables.Germination = []catalog.Germination{{ID: "melon", Points: []catalog.GerminationPoint{{Soil: 20, Days: known(8.0)}, {Soil: 30, Days: known(4.0)}}}}
	check(t, planned(t, place(44, nil), tables), "", careful, SowOutside, "05-20 frost, 07-11 maturity")
}
