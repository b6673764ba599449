package diag

// Faults that show only when cells and tables are compared.
var _ = explain(
	Explanation{
		ID: "edition-date", Title: "The date of the edition cannot be",
		Why:   "The date is printed on every sheet, so that a reader can tell an old one. Records cannot be newer than the edition made from them.",
		Wrong: "edition_date,0206-03-05",
		Right: "edition_date,2026-03-05",
	},
	Explanation{
		ID: "years-few", Title: "Few years of records are used",
		Why:   "One year in ten cannot be told from six years. From 20 years on the odds are counted, below they are estimates.",
		Wrong: "years,2018-2024",
		Right: "years,1995-2024",
	},
	Explanation{
		ID: "place-half", Title: "Only one of latitude and longitude",
		Why:   "Stations count by their distance, which needs both.",
		Wrong: "station,latitude,longitude\nmill,44.2,",
		Right: "station,latitude,longitude\nmill,44.2,-38.1",
	},
	Explanation{
		ID: "station-no-place", Title: "A station without coordinates",
		Why:   "Near stations tell more about a band than far ones. Without coordinates a station counts the same everywhere.",
		Wrong: "station,name,elevation_m\nmill,The Mill,612",
		Right: "station,name,elevation_m,latitude,longitude\nmill,The Mill,612,44.2,-38.1",
	},
	Explanation{
		ID: "hemisphere-mixed", Title: "Stations on both sides of the equator",
		Why:   "Spring is in March here and in September there. A guide is for one side; most often a minus sign is missing.",
		Wrong: "mill,44.2\nfarm,-44.3",
		Right: "mill,44.2\nfarm,44.3",
	},
	Explanation{
		ID: "position-not-given", Title: "Where it sits is not given",
		Why:   "Cold air drains: a hollow freezes weeks longer than a slope at the same altitude. Without a word a slope is taken.",
		Wrong: "band,position\nfloor,",
		Right: "band,position\nfloor,floor",
	},
	Explanation{
		ID: "band-upside-down", Title: "A band ends below where it begins",
		Why:   "No garden lies in such a band, and its middle means nothing.",
		Wrong: "band,low_m,high_m\nridge,1250,1050",
		Right: "band,low_m,high_m\nridge,1050,1250",
	},
	Explanation{
		ID: "band-tall", Title: "A band is over 200 m high",
		Why:   "Frost dates move about five days with each 100 m. At the ends of a tall band the sheet is wrong by more than it says.",
		Wrong: "band,low_m,high_m\nslopes,500,1000",
		Right: "band,low_m,high_m\nslopes_low,500,700\nslopes_mid,700,850\nslopes_high,850,1000",
	},
	Explanation{
		ID: "band-gap", Title: "Heights between two bands are in none",
		Why:   "A gardener who lives there finds no sheet and takes a wrong one. If nobody gardens there, silence this warning.",
		Wrong: "low,600,900,slope\nhigh,1000,1200,slope",
		Right: "low,600,900,slope\nhigh,900,1100,slope",
	},
	Explanation{
		ID: "band-overlap", Title: "Two bands hold the same heights",
		Why:   "A gardener there finds two sheets that differ and nothing that tells which one is meant.",
		Wrong: "low,600,1000,slope\nhigh,800,1000,slope",
		Right: "low,600,800,slope\nhigh,800,1000,slope",
	},
	Explanation{
		ID: "place-outside", Title: "A place lies in no band",
		Why:   "Readers look up their place to find their sheet. For this one there is none.",
		Wrong: "place,elevation_m\nUpper Farm,1320 (bands end at 1250)",
		Right: "place,elevation_m\nUpper Farm,1230",
	},
	Explanation{
		ID: "place-no-position", Title: "No band fits the position of a place",
		Why:   "A hollow that is sent to the sheet of the slopes plants weeks too early.",
		Wrong: "place,elevation_m,position\nSump,900,hollow (only slope bands at 900 m)",
		Right: "place,elevation_m,position\nSump,900,hollow (with a hollow band 850 to 1050)",
	},
	Explanation{
		ID: "class-unknown", Title: "A crop of a class that is not there",
		Why:   "The class stands in for cold figures that a crop lacks. Without it nothing holds the dates back from frost.",
		Wrong: "crop,class\nkale,hrady",
		Right: "crop,class\nkale,hardy",
	},
	Explanation{
		ID: "germination-unknown", Title: "A crop germinates as something that is not there",
		Why:   "Frost meets a sown crop when it emerges. Without the table the day of emergence is not known.",
		Wrong: "crop,germination\nkale,cabage",
		Right: "crop,germination\nkale,cabbage",
	},
	Explanation{
		ID: "germination-never", Title: "A germination table in which nothing emerges",
		Why:   "If no temperature has days, every sowing of the crop would wait for ever.",
		Wrong: "germination,soil_c,days\nkale,10,none",
		Right: "germination,soil_c,days\nkale,0,none\nkale,10,15",
	},
	Explanation{
		ID: "limit-order", Title: "A plant is killed before it is harmed",
		Why:   "A killing temperature above the harming one is a slip of sign, or the two were exchanged. Which one is right cannot be guessed.",
		Wrong: "crop,grown_damage_c,grown_kill_c\nkale,-9,-4",
		Right: "crop,grown_damage_c,grown_kill_c\nkale,-4,-9",
	},
	Explanation{
		ID: "range-order", Title: "A low end above its high end",
		Why:   "The low end is used where it is the safe one, and so is the high end. Exchanged, both are the unsafe one.",
		Wrong: "crop,days_low,days_high\nkale,65,55",
		Right: "crop,days_low,days_high\nkale,55,65",
	},
	Explanation{
		ID: "gain-order", Title: "Gains of a cover that do not rise",
		Why:   "Careful dates trust the low gain. If it is above the typical one, careful dates are earlier than the half-and-half ones.",
		Wrong: "cover,gain_low_k,gain_typical_k\ntunnel,3,1",
		Right: "cover,gain_low_k,gain_typical_k\ntunnel,1,3",
	},
	Explanation{
		ID: "crop-no-limit", Title: "A crop without a cold figure and without a class",
		Why:   "Nothing tells which frost harms it, so no date can be worked out for it.",
		Wrong: "crop,name,class\noca,Oca,",
		Right: "crop,name,class\noca,Oca,tender",
	},
	Explanation{
		ID: "source-missing", Title: "A figure without a source",
		Why:   "You answer for every number. With a source a reader, and your successor, can look it up.",
		Wrong: "crop,young_damage_c,source\nkale,-4,",
		Right: "crop,young_damage_c,source\nkale,-4,our_trial",
	},
	Explanation{
		ID: "cover-unknown", Title: "A cover that this guide does not have",
		Why:   "Layers are made of covers, and cautions are printed on their pages. A mistyped or dropped cover leaves them hanging.",
		Wrong: "layers\ntunel+fabric",
		Right: "layers\ntunnel+fabric",
	},
	Explanation{
		ID: "cover-letter-twice", Title: "Two covers with one letter",
		Why:   "In print only the letter tells the lines of two covers apart.",
		Wrong: "cover,letter\ntunnel,T\ntent,T",
		Right: "cover,letter\ntunnel,T\ntent,Z",
	},
	Explanation{
		ID: "cover-letter-missing", Title: "A cover in use without a letter",
		Why:   "The line of the cover on the sheet begins with its letter.",
		Wrong: "cover,letter,offered\ntent,,yes",
		Right: "cover,letter,offered\ntent,Z,yes",
	},
	Explanation{
		ID: "layers-not-measured", Title: "Measured layers without a measurement",
		Why:   "A measured gain takes the place of the estimate from the single covers. Here there is none to take it.",
		Wrong: "layers,gain_low_k,gain_typical_k,measured\ntunnel+fabric,,,yes",
		Right: "layers,gain_low_k,gain_typical_k,measured\ntunnel+fabric,1.5,3.9,yes",
	},
)
