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
	Explanation{"words-no-language", "The guide names a language that words.csv knows nothing of",
		"A guide is published in the languages of guide.csv. Each needs a column of phrases in words.csv; a publisher adds one in the guide's own data/words.csv.",
		"setting,value\nlanguages,en fr", "setting,value\nlanguages,en es"},
	Explanation{"words-text-missing", "A name or note of a table has no text in one of the guide's languages",
		"Pages in that language show the text as it stands in the table, marked as another language where it is a sentence. Write a row with its key into data/words.csv.",
		"crop,name\nspelt,Spelt", "key,es\ncrop.spelt.name,Espelta"},
	Explanation{"words-paper", "A language lacks phrases of the printed sheets",
		"Pages with a gap show a key, and a reader can go on. A sheet that hangs in a shed with keys in place of words helps nobody, and keys find no room on it: so nothing is published until these phrases are there.",
		"key,fr\nsheet.key.inside,", "key,fr\nsheet.key.inside,semer à l'intérieur"},
	Explanation{"words-unreviewed", "Phrases of a language were looked over by no native speaker yet",
		"A translation from memory can be wrong in a region's own words. The pages say how many phrases are not reviewed; a reviewer writes reviewed into the column review_es of data/words.csv.",
		"key,es,review_es\ndays.one,{n} día,unreviewed", "key,es,review_es\ndays.one,{n} día,reviewed"},
)
