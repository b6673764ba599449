// Command region writes an invented guide of any size into a folder, for tests of size
// and speed:
//
//	go run ./cmd/shedwall/internal/made/region -bands 100 DIR
package main

import (
	"flag"
	"fmt"
	"os"

	"shedwall/cmd/shedwall/internal/made"
)

func main() {
	if err := write(); err != nil {
		fmt.Fprintln(os.Stderr, "region:", err)
		os.Exit(1)
	}
}

func write() error {
	size := made.Usual(10)
	program := flag.String("program", ".", "folder of the project, for the crops that come with it")
	flag.IntVar(&size.Bands, "bands", size.Bands, "how many bands")
	flag.IntVar(&size.Stations, "stations", size.Stations, "how many stations")
	flag.IntVar(&size.Crops, "crops", size.Crops, "how many crops")
	flag.IntVar(&size.Layers, "layers", size.Layers, "how many sets of covers")
	flag.IntVar(&size.Years, "years", size.Years, "how many years of daily records")
	flag.Uint64Var(&size.Seed, "seed", size.Seed, "another number is another region")
	all := flag.Bool("all-pdf", false, "publish every sheet, card and list as PDF, not only the first sheet of each band")
	flag.Parse()
	if flag.NArg() != 1 {
		return fmt.Errorf("usage: region [options] DIR; -help lists the options")
	}
	if *all {
		size.Settings = nil
	}
	return size.Write(flag.Arg(0), os.DirFS(*program))
}
