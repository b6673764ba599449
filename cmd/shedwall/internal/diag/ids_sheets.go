package diag

// Faults of what is chosen for sheets and task lists.
var _ = explain(
	Explanation{
		ID: "sheets-band-unknown", Title: "A row for a band that the guide does not have",
		Why:   "A choice for a mistyped band would change nothing, and nobody would notice.",
		Wrong: "band,crop,layers\nslope,tomato,tunnel (with a band slopes)",
		Right: "band,crop,layers\nslopes,tomato,tunnel",
	},
	Explanation{
		ID: "sheets-crop-unknown", Title: "A row for a crop that the guide does not have",
		Why:   "A choice for a mistyped crop would change nothing, and nobody would notice.",
		Wrong: "band,crop,layers\nslopes,tomatoe,tunnel",
		Right: "band,crop,layers\nslopes,tomato,tunnel",
	},
	Explanation{
		ID: "sheets-layers-unknown", Title: "A sheet is to plan with a cover that the guide does not have",
		Why:   "A sheet can only show covers whose gain is known. To plan without any cover, write open.",
		Wrong: "band,crop,layers\nslopes,tomato,tunel",
		Right: "band,crop,layers\nslopes,tomato,tunnel",
	},
	Explanation{
		ID: "sheets-layers-not-offered", Title: "A sheet is to plan with covers that are not offered",
		Why:   "Dates are worked out only under covers that are offered: single ones in covers.csv, several together in layers.csv, with a gain.",
		Wrong: "band,crop,layers\nslopes,tomato,tunnel+blanket (with no such row in layers.csv)",
		Right: "the row tunnel+blanket added to layers.csv",
	},
	Explanation{
		ID: "sheets-row-empty", Title: "A row that chooses nothing",
		Why:   "Blank cells leave the choice to a wider row or to the program: the lightest covers that buy ten days. A row with nothing else does nothing.",
		Wrong: "band,crop,layers,show\nslopes,tomato,,",
		Right: "band,crop,layers,show\nslopes,tomato,tunnel,",
	},
	Explanation{
		ID: "term-half", Title: "The term has only one end",
		Why:   "Task lists for a school hold only what falls between the first and the last day of the term, so both are needed.",
		Wrong: "term_from,1 September",
		Right: "term_from,1 September\nterm_to,15 June",
	},
	Explanation{
		ID: "term-short", Title: "The term is one day long",
		Why:   "Nothing can be sown and harvested in a day, so that the task list would be empty.",
		Wrong: "term_from,1 September\nterm_to,1 September",
		Right: "term_from,1 September\nterm_to,15 June",
	},
)
