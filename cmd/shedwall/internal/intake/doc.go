// Package intake reads a guide folder: its tables over the built-in ones, and the
// records of its weather stations. It turns cells and lines into typed rows, days
// and figures that know their place and source, and reports whatever cannot be
// read in one way. It decides nothing that needs two tables beyond joining their
// rows (check does), and computes nothing from them.
package intake
