package diag

// Faults of kept editions.
var _ = explain(
	Explanation{
		ID: "edition-file", Title: "A file among the editions that is none",
		Why:   "The folder data/editions holds what each edition printed, one file for each, named by its number. Another file there is read by nothing.",
		Wrong: "data/editions/spring.csv",
		Right: "data/editions/3.csv",
	},
	Explanation{
		ID: "edition-unreadable", Title: "A row of a kept edition cannot be read",
		Why:   "These files are written by the program. A row that was changed by hand, or by a spreadsheet that made dates of its own, can no longer say what was printed.",
		Wrong: "date,slopes,kale,,10,set-out,5/12/2025,frost,...",
		Right: "date,slopes,kale,,10,set-out,05-12,frost,...",
	},
	Explanation{
		ID: "edition-other-number", Title: "A kept edition says it is another one",
		Why:   "The number in the file and the number in its name must agree, or the wrong sheets would be called out of date.",
		Wrong: "data/editions/3.csv with a first row that says 2",
		Right: "data/editions/2.csv with a first row that says 2",
	},
	Explanation{
		ID: "edition-kept", Title: "This edition was kept before and says something else now",
		Why:   "What was printed and pinned up under a number must stay known as it was; otherwise nobody can say which sheets are still right.",
		Wrong: "edition,3 (and data/editions/3.csv holds other dates)",
		Right: "edition,4",
	},
)
