package cover

import "math"

// Bed is a bed to be covered with hoops; lengths in metres, none below 0.
type Bed struct {
	Length, Width float64
	HoopHeight    float64 // from the ground to the top of the hoop
	Spacing       float64 // between hoops, at most
	Skirt         float64 // of the cover lying on the ground on every side, to be weighted or buried
}

// CutList is what to cut and fetch for a bed.
type CutList struct {
	Arc        float64 // m of hoop above the ground: half an ellipse
	Hoop       float64 // m of hoop to cut, with the two legs in the ground
	Hoops      int
	Spacing    float64 // m between hoops as it comes out
	CoverWide  float64 // m of cover across the bed
	CoverLong  float64 // m of cover along the bed, enough to be gathered at both ends
	Clips      int     // that hold the cover on the hoops
	Weights    int     // round the edge, where it is not buried
	Air        float64 // m3 enclosed
	Surface    float64 // m2 of cover in the air, ends included
	MeanHeight float64 // m, air over the floor
}

// Figures of hoops and covers.
const (
	legInGround   = 0.15 // m: bows go at least 6 in into the soil (University of New Hampshire on low tunnels)
	clipsPerHoop  = 3    // both feet and the top, practice
	weightSpacing = 1.0  // m of edge for each weight, practice
)

// CommonBeds are beds as growers build them, to the foot: a raised bed of 4 x 8 ft, field
// beds 30 in wide of 25 and 50 ft, a long bed of 4 x 20 ft. Hoops 4 ft apart are the
// middle of what is advised (3 to 5 ft).
var CommonBeds = []Bed{
	{Length: 8 * ft, Width: 4 * ft, HoopHeight: 2 * ft, Spacing: 4 * ft, Skirt: ft},
	{Length: 25 * ft, Width: 2.5 * ft, HoopHeight: 1.5 * ft, Spacing: 4 * ft, Skirt: ft},
	{Length: 50 * ft, Width: 2.5 * ft, HoopHeight: 1.5 * ft, Spacing: 4 * ft, Skirt: ft},
	{Length: 20 * ft, Width: 4 * ft, HoopHeight: 2.5 * ft, Spacing: 4 * ft, Skirt: ft},
}

// Cut is the cut list of a bed. false where a length, width, height or spacing is not
// above 0, or the skirt is below.
//
// Hoops stand at both ends and between them no further apart than asked. The cover is
// cut as long as the bed and, at both ends, as the way from the top of the hoop to the
// end of the skirt.
func (b Bed) Cut() (CutList, bool) {
	if !(b.Length > 0 && b.Width > 0 && b.HoopHeight > 0 && b.Spacing > 0 && b.Skirt >= 0) {
		return CutList{}, false
	}
	const rounding = 1e-9 // 6 m in steps of 1.2 m are five
	gaps := max(1, int(math.Ceil(b.Length/b.Spacing-rounding)))
	c := CutList{Arc: EllipsePerimeter(b.Width/2, b.HoopHeight) / 2, Hoops: gaps + 1, Spacing: b.Length / float64(gaps)}
	c.Hoop = c.Arc + 2*legInGround
	c.CoverWide = c.Arc + 2*b.Skirt
	c.CoverLong = b.Length + 2*(b.HoopHeight+b.Skirt)
	c.Clips = clipsPerHoop * c.Hoops
	c.Weights = int(math.Ceil(2*(b.Length+b.Width)/weightSpacing - rounding))
	end := math.Pi * b.Width / 2 * b.HoopHeight / 2
	c.Air = end * b.Length
	c.Surface = c.Arc*b.Length + 2*end
	c.MeanHeight = c.Air / (b.Length * b.Width)
	return c, true
}

// House is a house of the same material and care with this bed's floor, air and cover,
// for the heat balance. false where there is no cut list.
func (b Bed) House(like House) (House, bool) {
	c, ok := b.Cut()
	like.Length, like.Width, like.Air, like.Glazing = b.Length, b.Width, c.Air, c.Surface
	return like, ok
}

// EllipsePerimeter is the perimeter of an ellipse with the half axes a and b, exact to
// rounding, by the arithmetic-geometric mean:
//
//	P = 2 pi a / M(1, b/a) (1 - sum over n of 2^(n-1) c_n^2),  c_n^2 = a_n^2 - b_n^2
//
// for a >= b (Gauss and Legendre; Abramowitz and Stegun 17.6). A flat one, b = 0, has
// 4 a. Below 0 is no length: NaN.
func EllipsePerimeter(a, b float64) float64 {
	if !(a >= 0 && b >= 0) {
		return math.NaN()
	}
	a, b = max(a, b), min(a, b)
	if b == 0 {
		return 4 * a
	}
	x, y, sum, power := 1.0, b/a, 0.0, 0.5
	for apart := x; apart > 1e-9; power *= 2 { // the next would be a billionth of a billionth apart
		apart = x - y
		sum += power * apart * (x + y)
		x, y = (x+y)/2, math.Sqrt(x*y)
	}
	return 2 * math.Pi * a / x * (1 - sum)
}
