package diag

// What can be wrong with tender plants in pots.csv.
var _ = explain(
	Explanation{"pot-order", "Temperatures of a plant in a pot contradict each other",
		"A plant is brought in before it is harmed, harmed before it is killed, and its winter place is no colder than it stands. The other way round two cells were exchanged, and it would be left out on the night that kills it.",
		"fig,bring_in_c 2,kill_c 5", "fig,bring_in_c 2,kill_c -10"},
	Explanation{"pot-no-limit", "A plant in a pot has no temperature at which it must come in",
		"Without a figure of its own a plant is brought in before the first frost, which is late for a plant of the tropics.",
		"mandevilla,Mandevilla, and nothing else", "mandevilla,Mandevilla,bring_in_c 10"},
)
