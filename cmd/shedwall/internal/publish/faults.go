package publish

import (
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/page"
)

// FaultsPage is what is wrong with the guide as one HTML file that needs no other.
func (g *Guide) FaultsPage() ([]byte, error) {
	return g.faultsPage(g.Tables.Guide.Title, g.Faults.Sorted())
}

func (g *Guide) faultsPage(title string, faults []diag.Fault) ([]byte, error) {
	templates, err := g.templates()
	if err != nil {
		return nil, err
	}
	return templates.Alone(page.Faults(title, faults))
}
