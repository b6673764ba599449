package publish

import "shedwall/cmd/shedwall/internal/page"

// FaultsPage is what is wrong with the guide as one HTML file that needs no other.
func (g *Guide) FaultsPage() ([]byte, error) {
	templates, err := g.templates()
	if err != nil {
		return nil, err
	}
	return templates.Alone(page.Faults(g.Tables.Guide.Title, g.Faults.Sorted()))
}
