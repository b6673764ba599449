package diag

// What can be wrong with a logger's file, and with a pair of them. Wrong and Right are
// lines of such files, or ways to call the command trial.
var _ = explain(
	Explanation{"logger-layout-unknown", "The columns of a logger's file cannot be told",
		"Gains are differences of night minima, so each reading needs its time. Another column taken for the temperature would give a gain of something else.",
		"reading,value\n1,3.4", "time,temperature_c\n2018-03-19 06:10,3.4"},
	Explanation{"logger-column-unknown", "A column that was named is not in the logger's file",
		"Loggers' programs rename columns. A near miss is proposed; nothing is taken in its place.",
		"--inside-temperature TempC, but the headings are Time, Temp_C", "--inside-temperature Temp_C"},
	Explanation{"logger-time-unreadable", "A time that cannot be read",
		"Without the time of day a night cannot be told from the day before it; years of two digits can be read in three ways.",
		"3/19/18 6:10,3.4", "2018-03-19 06:10,3.4"},
	Explanation{"logger-dates-read", "Dates were read in the order in which the readings follow each other",
		"No day above the 12th proves which number is the month. Read the other way, the readings would leap from month to month.",
		"3/4/2018 06:10 and 3/5/2018 06:10 (no mistake: only told)", "2018-03-04 06:10 and 2018-03-05 06:10"},
	Explanation{"logger-zones-mixed", "Some times say their time zone and some do not",
		"Hours would be missing or doubled where the two meet.",
		"2018-03-19T06:10-05:00,3.4\n2018-03-19T06:20,3.3", "2018-03-19T06:10-05:00,3.4\n2018-03-19T06:20-05:00,3.3"},
	Explanation{"logger-empty", "A logger's file without readings",
		"The file has headings and nothing that can be used below them.",
		"time,temperature_c", "time,temperature_c\n2018-03-19 06:10,3.4"},
	Explanation{"trial-clock", "The two clocks of a trial do not agree",
		"Day and night come hours earlier in one file than in the other. Minima would be taken from different nights, and a gain read from them is worth nothing. Often one logger keeps universal time, or summer time.",
		"shedwall trial frame.csv station.csv, with the frame's logger five hours ahead", "shedwall trial frame.csv station.csv --inside-clock -5h"},
	Explanation{"trial-clock-hour", "The clocks of a trial may be an hour apart",
		"Perhaps one keeps summer time; perhaps what is covered is slow to cool. The gain of night minima hardly changes with one hour.",
		"shedwall trial tunnel.csv garden.csv (no mistake: only told)", "shedwall trial tunnel.csv garden.csv --inside-clock -1h"},
	Explanation{"trial-no-nights", "The two files have too few nights in common",
		"A gain is the middle of many nights. Below five nights chance decides, and below ten no 1 night in 10 can be told.",
		"a file of March and a file of May", "two files of the same weeks"},
)
