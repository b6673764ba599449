package quantity

// Odds is a chance of harm, 0 to 1: 0.1 is one year in ten.
type Odds float64

// The two levels every date is printed at.
const (
	Careful Odds = 0.10 // 1 year in 10 is worse
	Half    Odds = 0.50 // half the years are worse
)
