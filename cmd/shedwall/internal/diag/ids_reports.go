package diag

// What can be unclear about growers' reports. None of it stops a guide.
var _ = explain(
	Explanation{"report-parked", "A grower's report cannot be placed",
		"Without its day, band, crop, covers and outcome a report can be set against no printed date. It is kept aside and never guessed at; the others count.",
		"date,band,crop,outcome\naround 20 Oct,slopes,pepper,no frost yet", "date,band,crop,outcome\n2025-10-20,slopes,pepper,unhurt"},
	Explanation{"report-reading", "A low of a report was read elsewhere",
		"A number with words beside it was mostly not read beside the plants. The report counts, its low does not.",
		"outside_low_f\n28F on porch", "outside_low_f\n28"},
	Explanation{"report-personal", "A report holds something personal",
		"Reports are published with initials only. A note, place or grower that looks as if it held a telephone number or an e-mail address stays unpublished.",
		"note\ncall Ann at 555 010 9988", "note\ntips burned where the cloth touched"},
)
