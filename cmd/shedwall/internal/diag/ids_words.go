package diag

// What can be wrong with the phrases of words.csv.
var _ = explain(
	Explanation{"words-missing", "A phrase has no text in the guide's language",
		"Pages show the key in square brackets instead of another language, so that a gap is seen and filled.",
		"key,en,es\nnav.find,Find your band,", "key,en,es\nnav.find,Find your band,Halle su franja"},
	Explanation{"words-placeholder", "A phrase puts in something that nothing fills",
		"Names in braces are filled by the program. A name that it does not know would be printed as it stands.",
		"key,en,es\ndays.other,{n} days,{numero} días", "key,en,es\ndays.other,{n} days,{n} días"},
	Explanation{"words-language", "The program has no plural rule for the language",
		"Languages count in different ways. Without a rule, one and many are told apart as in English.",
		"setting,value\nlanguage,tlh", "setting,value\nlanguage,es"},
)
