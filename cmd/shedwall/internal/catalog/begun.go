package catalog

// What a guide that was just begun says until somebody replaces it.
const (
	BeginTitle     = "Growing guide for our valley"
	BeginPublisher = "Our garden club"
	BeginContact   = "you@example.org"
	BeginStatement = "Everyone is welcome in our club."
	BeginDate      = "2026-01-02" // no first of a month, which an edition may well have
	BeginStation   = "my_station"
	BeginName      = "My weather station"
	BeginLast      = "05-12"
	BeginFirst     = "09-30"
	BeginWelcome   = "Not your dates yet" // the heading of content/index.md
)

// The bands and places of a guide that was just begun, by name.
var (
	BeginBands  = []string{"Our lower slopes", "Our upper slopes"}
	BeginPlaces = []string{"Lower village", "Upper village"}
)

// Begun says whether a guide still has the made-up weather station that it began with.
func (t *Tables) Begun() bool {
	for i := range t.Stations {
		if t.Stations[i].ID == BeginStation {
			return true
		}
	}
	return false
}
