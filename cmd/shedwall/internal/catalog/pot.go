package catalog

import (
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// PotKind says what comes in for the winter.
type PotKind uint8

// Potted: a plant in its pot. Lifted: a tuber or rhizome that is dug up and stored.
const (
	Potted PotKind = iota
	Lifted
)

// PotKinds is every kind with the word used in tables.
var PotKinds = map[string]PotKind{"pot": Potted, "tuber": Lifted}

func (k PotKind) String() string { return [...]string{"pot", "tuber"}[k] }

// WinterLight is what a plant needs of light while it rests.
type WinterLight uint8

// NoLightSaid: nothing is known of it.
const (
	NoLightSaid WinterLight = iota
	VeryBright
	Bright
	DarkOrBright
	Dark
)

// WinterLights is every need with the word used in tables.
var WinterLights = map[string]WinterLight{"very_bright": VeryBright, "bright": Bright, "either": DarkOrBright, "dark": Dark}

func (l WinterLight) String() string {
	return [...]string{"unknown", "very_bright", "bright", "either", "dark"}[l]
}

// Pot is a row of pots.csv: a tender plant that passes the winter inside. Every figure
// may be unknown.
type Pot struct {
	ID, Name, Latin string
	Kind            PotKind

	BringIn           figure.Of[quantity.Celsius] // nights as cold bring it in
	KeepLow, KeepHigh figure.Of[quantity.Celsius] // best winter quarters
	Never             figure.Of[quantity.Celsius] // never colder than this inside
	Damage, Kill      figure.Of[quantity.Celsius] // of leaves and wood; roots in a pot stand less
	Light             WinterLight

	Note string
	Cell diag.Position
}
