package diag

// Faults of the tables of a guide: files, settings, rows that lie over built-in
// ones, and what each column takes.
var _ = explain(
	Explanation{
		ID: "file-missing", Title: "A table of the guide is missing",
		Why:   "Without its settings, stations and bands a guide has nothing to print. These tables are never taken from the demo.",
		Wrong: "a data folder without bands.csv",
		Right: "band,name,low_m,high_m,position\nfloor,Valley floor,560,680,floor",
	},
	Explanation{
		ID: "file-unreadable", Title: "A file or folder cannot be read",
		Why:   "A table that cannot be read would otherwise be taken for one that is not there, and the built-in figures would be printed in place of yours.",
		Wrong: "crops.csv locked by a program that has it open",
		Right: "crops.csv, closed there",
	},
	Explanation{
		ID: "file-unknown", Title: "Nothing reads this file",
		Why:   "A table with a mistyped name is left out without a word: your figures are not printed.",
		Wrong: "data/crop.csv",
		Right: "data/crops.csv",
	},
	Explanation{
		ID: "setting-missing", Title: "A setting is missing that every guide needs",
		Why:   "A reader must see on each sheet who answers for it, which edition it is and whom to ask.",
		Wrong: "setting,value\ntitle,Growing in Thessock",
		Right: "setting,value\ntitle,Growing in Thessock\npublisher,Seed and Shed Circle",
	},
	Explanation{
		ID: "silence-unknown", Title: "The setting silence names a warning that does not exist",
		Why:   "A mistyped id silences nothing, and nobody would notice. Faults cannot be silenced at all.",
		Wrong: "silence,band-gab",
		Right: "silence,band-gap",
	},
	Explanation{
		ID: "setting-unreadable", Title: "A setting cannot be used as it is",
		Why:   "A language that is not known, a way to reach you that leads nowhere or years that end before they begin would be printed on every page.",
		Wrong: "years,2024-1995",
		Right: "years,1995-2024",
	},
	Explanation{
		ID: "address-unsafe", Title: "An address that is no web address",
		Why:   "Addresses become links. One that starts with javascript: or file: would run something, or open nothing, on the reader's device.",
		Wrong: "address,www.example.org/guide",
		Right: "address,https://www.example.org/guide",
	},
	Explanation{
		ID: "id-repeated", Title: "A row stands twice",
		Why:   "If two rows for one crop differ, one of them is wrong. Only the first was read; nobody could tell from the page.",
		Wrong: "kale,-4\nkale,-6",
		Right: "kale,-4",
	},
	Explanation{
		ID: "row-incomplete", Title: "A new row lacks what a new row needs",
		Why:   "A row whose id is not built in makes a new crop or cover, which needs at least a name. Most often the id is mistyped, and the built-in row was meant.",
		Wrong: "crop,young_damage_c\nkael,-4",
		Right: "crop,young_damage_c\nkale,-4",
	},
	Explanation{
		ID: "number-out-of-range", Title: "A number outside of what can be",
		Why:   "28 typed into a Celsius column makes a crop that dies on a summer day. The range is wide; a number outside is a slip of unit, sign or column.",
		Wrong: "crop,young_damage_c\nkale,28",
		Right: "crop,young_damage_f\nkale,28",
	},
	Explanation{
		ID: "number-not-whole", Title: "A whole number is expected",
		Why:   "Days are counted whole. A decimal here is usually a figure from another column.",
		Wrong: "crop,days_low\nkale,55.5",
		Right: "crop,days_low\nkale,55",
	},
	Explanation{
		ID: "date-unreadable", Title: "A date that cannot be read in one way",
		Why:   "5/6 is the fifth of June here and the sixth of May there. Write the month as a word, or in figures year-month-day where a year belongs (edition_date) and month-day where none does (freeze.csv).",
		Wrong: "edition_date,5/6/2026\n\nstation,event,below_c,odds_percent,date\nmill,last,0,50,24.5.",
		Right: "edition_date,2026-06-05\n\nstation,event,below_c,odds_percent,date\nmill,last,0,50,05-24",
	},
	Explanation{
		ID: "zone-unreadable", Title: "A hardiness zone that is not a half zone",
		Why:   "Zones are compared with those worked out from the records, which are half zones.",
		Wrong: "band,zone\nfloor,zone 6",
		Right: "band,zone\nfloor,6a",
	},
	Explanation{
		ID: "place-band", Title: "A place is given to a band that is not there",
		Why:   "Readers who look the place up would be sent nowhere.",
		Wrong: "place,elevation_m,position,band\nMillfoot,640,floor,valey",
		Right: "place,elevation_m,position,band\nMillfoot,640,floor,valley",
	},
	Explanation{
		ID: "band-open", Title: "A band without an end",
		Why:   "Dates are worked out for the middle and the colder edge of a band, so both ends must be heights.",
		Wrong: "band,low_m,high_m\nridge,900,1200+",
		Right: "band,low_m,high_m\nridge,900,1250",
	},
	Explanation{
		ID: "cover-letter", Title: "A letter that cannot mark a cover",
		Why:   "Letters on the sheet tell covers apart, in print without colour. I, O, S and H stand for actions.",
		Wrong: "cover,letter\ntent,S",
		Right: "cover,letter\ntent,Z",
	},
	Explanation{
		ID: "layers-dropped", Title: "Layers went with one of their covers",
		Why:   "You dropped a cover; sets of covers that hold it cannot be offered either.",
		Wrong: "cover,use\ntunnel,no (no mistake: only told)",
		Right: "cover,use\ntunnel,no",
	},
	Explanation{
		ID: "source-unknown", Title: "A source that is not in the list of sources",
		Why:   "Readers follow a number to where it comes from. A source that is not listed leads nowhere.",
		Wrong: "crop,young_damage_c,source\nkale,-4,our_trail",
		Right: "crop,young_damage_c,source\nkale,-4,our_trial (with a row our_trial in sources.csv)",
	},
	Explanation{
		ID: "exception-unknown", Title: "An exception for a cell that is not there",
		Why:   "The row of exceptions.csv was to say where one figure comes from. As it names no figure, that one is printed with another source.",
		Wrong: "table,row,column,source\ncrops,kael,young_kill_c,our_trial",
		Right: "table,row,column,source\ncrops,kale,young_kill_c,our_trial",
	},
	Explanation{
		ID: "word-key-unknown", Title: "A phrase that no page uses",
		Why:   "Phrases are looked up by their keys. A mistyped key leaves the page with the built-in phrase.",
		Wrong: "key,en\nmonth.13,Smarch",
		Right: "key,en\nmonth.12,December",
	},
)
