// Package quantity holds the physical quantities of the guide as distinct
// types, so that a temperature cannot be added where a difference is meant, nor
// metres where days are. It converts units and knows the calendar; it knows
// nothing about gardens.
package quantity

import "math"

// Celsius is a temperature in degrees Celsius. Differences have their own type,
// Kelvins: 5 F of difference is 2.8 K, not -15 C.
type Celsius float64

// Kelvins is a temperature difference (K, the same step as a degree Celsius).
// Gains of covers, offsets of places and allowances are differences.
type Kelvins float64

// Metres is a height or length (m).
type Metres float64

// KelvinsPerMetre is a change of temperature with height (K/m), written as a
// positive number for air that cools with height: 0.0045 is 4.5 K for each 1,000 m.
type KelvinsPerMetre float64

// FromFahrenheit converts a temperature: C = (F - 32) / 1.8.
func FromFahrenheit(f float64) Celsius { return Celsius((f - 32) / 1.8) }

// FromFahrenheitDifference converts a difference: K = F / 1.8.
func FromFahrenheitDifference(f float64) Kelvins { return Kelvins(f / 1.8) }

// FromFeet converts a height: 1 ft = 0.3048 m exactly.
func FromFeet(ft float64) Metres { return Metres(ft * 0.3048) }

// Fahrenheit is the temperature in degrees Fahrenheit, unrounded.
func (c Celsius) Fahrenheit() float64 { return float64(c)*1.8 + 32 }

// Plus is the temperature warmed by d (cooled where d is negative).
func (c Celsius) Plus(d Kelvins) Celsius { return c + Celsius(d) }

// Minus is the difference from o to c.
func (c Celsius) Minus(o Celsius) Kelvins { return Kelvins(c - o) }

// Fahrenheit is the difference in Fahrenheit degrees, unrounded.
func (d Kelvins) Fahrenheit() float64 { return float64(d) * 1.8 }

// Feet is the height in feet, unrounded.
func (m Metres) Feet() float64 { return float64(m) / 0.3048 }

// Hundredths is a temperature as records keep it, in hundredths of a degree
// Celsius: exact for 0.1 C and for whole degrees Fahrenheit to 0.005 K.
// Range -327.67 to 327.67 C; Missing is no temperature.
type Hundredths int16

// Missing marks a day without a reading. It compares colder than every
// temperature, so code must ask Known before it compares.
const Missing Hundredths = math.MinInt16

// Known says whether h is a temperature and not Missing.
func (h Hundredths) Known() bool { return h != Missing }

// Celsius is the temperature in degrees. Not meaningful for Missing.
func (h Hundredths) Celsius() Celsius { return Celsius(h) / 100 }

// Hundredths rounds to the nearest hundredth of a degree.
func (c Celsius) Hundredths() Hundredths { return Hundredths(math.Round(float64(c) * 100)) }
