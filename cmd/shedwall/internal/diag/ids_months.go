package diag

var _ = explain(
	Explanation{
		ID: "months-unreadable", Title: "These are not months",
		Why:   "Months of hail, wind and snow rule covers out. A word that cannot be read could leave a tunnel standing in the storm month, so the whole cell is refused. Spreadsheets like to make a date of 4-6.",
		Wrong: "band,low_m,high_m,windy_months\nridge,1050,1250,spring",
		Right: "band,low_m,high_m,windy_months\nridge,1050,1250,3-5",
	},
)
