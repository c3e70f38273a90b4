package main

// dish is a recipe that trials are made of, with what can be changed in it and measured
// on it. Names of conditions and roles are shared between dishes, so that a factor is
// tried in many of them.
type dish struct {
	name, pieces string // "oat biscuits", "biscuits"
	keywords     string
	ingredients  []ingredient
	flours       string // the roles that count as flour; "" where there are none
	flavours     []flavour
	steps        []string
	factors      []factor
	measures     []measure
	taste        measure
	heat         curve
	care         string
}

// ingredient has a weight in grams that a trial moves up or down a little.
type ingredient struct {
	role  string
	grams int
	food  string
}

type flavour struct{ word, food string }

// factor is one thing to change. Of a condition the usual value stands in the note, of
// an ingredient among the ingredients.
type factor struct {
	name   string
	usual  string // "" of an ingredient
	asks   string // "resting the batter"
	levels []level
}

type level struct{ key, value string }

// measure says how a measure is declared, and where its readings lie.
type measure struct {
	name     string
	kind     string // what stands in the note
	mean, sd float64
	step     float64 // the step of the instrument; 0 of a share, whose mean is the chance of a yes
	yes, no  string  // the two readings of a share
	says     string  // what it is, in the prose
}

// curve is what the thermometer logs: from one temperature towards another, in °C.
type curve struct {
	from, to float64
	minutes  int
}

func length(name, says string, mean, sd float64) measure {
	return measure{name: name, kind: "{kind: length, in: mm%s}", mean: mean, sd: sd, step: 0.5, says: says}
}

func weight(name, says string, mean, sd float64) measure {
	return measure{name: name, kind: "{kind: mass, in: g%s}", mean: mean, sd: sd, step: 1, says: says}
}

func warmth(name, says string, mean, sd float64) measure {
	return measure{name: name, kind: "{kind: temperature, in: °C%s}", mean: mean, sd: sd, step: 0.5, says: says}
}

// clock is a time of so many seconds, part of a sum.
func clock(name, sum string, mean, sd float64) measure {
	return measure{name: name, kind: "{kind: time, part of: " + sum + "%s}", mean: mean, sd: sd, step: 1, says: name}
}

func passes(name, asks string, chance float64) measure {
	return measure{name: name, kind: "{kind: pass or fail, asks: " + asks + "%s}", mean: chance, yes: "pass", no: "fail", says: asks}
}

func shows(name, says string, chance float64) measure {
	return measure{name: name, kind: "{kind: yes or no%s}", mean: chance, yes: "yes", no: "no", says: says}
}

func scores(name, low, high string) measure {
	return measure{name: name, kind: "{kind: score, from: 1 " + low + ", to: 9 " + high + ", of: tasting%s}", mean: 5.6, sd: 1.5, step: 1, says: name}
}

// The factors that several dishes share.

func resting() factor {
	return factor{"rest", "0 min", "a rest", []level{{"rested", "30 min"}, {"rested long", "2 h"}}}
}

func ovenHeat() factor {
	return factor{"oven", "180 °C", "the oven's heat", []level{{"hotter oven", "200 °C"}, {"cooler oven", "165 °C"}}}
}

func heatOfPan() factor {
	return factor{"griddle", "190 °C", "the griddle's heat", []level{{"hotter griddle", "205 °C"}, {"cooler griddle", "175 °C"}}}
}

func stirring() factor {
	return factor{"stirred", "20 strokes", "more stirring", []level{{"stirred more", "60 strokes"}, {"stirred less", "8 strokes"}}}
}

func fats() factor {
	return factor{"fat", "", "another fat", []level{{"sunflower oil", "sunflower oil"}, {"olive oil", "olive oil"}, {"coconut oil", "coconut oil"}}}
}

func sugars() factor {
	return factor{"sugar", "", "another sugar", []level{{"dark sugar", "dark brown sugar"}, {"honey", "honey"}}}
}

func milks() factor {
	return factor{"milk", "", "another milk", []level{{"buttermilk", "buttermilk"}, {"yogurt", "whole milk yogurt"}}}
}

func vessels() factor {
	return factor{"vessel", "a tall tub", "the vessel", []level{{"tray", "a shallow tray"}, {"jars", "small jars"}}}
}

func lids() factor {
	return factor{"lid", "off", "the lid", []level{{"lid on", "on"}, {"lid ajar", "ajar"}}}
}

func sweets() []flavour {
	return []flavour{{"Raisin", "raisins"}, {"Walnut", "walnuts"}, {"Almond", "almonds"}, {"Sesame", "sesame seeds"},
		{"Pumpkin-seed", "pumpkin seeds"}, {"Sunflower-seed", "sunflower seeds"}, {"Pecan", "pecans"}, {"Date", "dates"}, {"Hazelnut", "hazelnuts"}}
}

const (
	careOven = "Flour is raw until it is baked, so nobody tastes the dough. Trays and tins stay hot for longer than they look. " +
		"Read the labels of flour, nuts and seeds for what they may hold besides, ask who is going to eat, and go by the advice of your own food authority."
	careGriddle = "Batter with egg or milk waits in a refrigerator at 4 °C or below and is not tasted raw. The griddle stays hot long after the " +
		"flame is off. Read the labels, ask who is going to eat, and go by the advice of your own food authority."
	carePot = "Steam and hot liquid burn: lift the lid away from you and ladle on a level surface. Divide a large pot before you cool it, and where " +
		"your own food authority names other times and temperatures than ours, theirs hold. Read the label of the stock for allergens."
)

func dishes() []dish {
	return []dish{
		{name: "oat biscuits", pieces: "biscuits", keywords: "oven, oats, biscuits",
			ingredients: []ingredient{{"flour", 150, "whole wheat flour"}, {"oats", 140, "rolled oats"}, {"sugar", 110, "granulated sugar"},
				{"fat", 125, "unsalted butter"}, {"water", 45, "water"}},
			flours: "[flour, oats]", flavours: sweets(),
			steps: []string{"Melt the fat with the water and pour it over everything else.", "Stir with {stirred} and let it stand for {rest}.",
				"Roll equal balls and bake them at {oven} until the rim is brown. Cool them on the tray."},
			factors: []factor{resting(), ovenHeat(), stirring(), fats(), sugars()},
			measures: []measure{length("spread", "how far they ran", 84, 4), length("height", "how high they stood", 12, 1.1),
				passes("even", "no crack wider than a grain of rice", 0.7), shows("browned", "brown from below", 0.5),
				weight("baked", "what they weighed", 46, 2)},
			taste: scores("crunch", "soft", "crisp"), heat: curve{22, 97, 16}, care: careOven},
		{name: "griddle cakes", pieces: "cakes", keywords: "griddle, breakfast",
			ingredients: []ingredient{{"flour", 220, "oat flour"}, {"sugar", 20, "granulated sugar"}, {"milk", 380, "whole milk"},
				{"fat", 40, "unsalted butter"}, {"eggs", 100, "eggs"}},
			flours: "[flour]", flavours: sweets(),
			steps: []string{"Stir everything together with {stirred}.", "Let the batter rest for {rest}, covered.",
				"Cook the cakes one at a time on a griddle at {griddle}, and turn them when the edge is dull."},
			factors: []factor{resting(), heatOfPan(), stirring(), milks(), sugars()},
			measures: []measure{clock("side 1", "cook time", 82, 7), clock("side 2", "cook time", 50, 5), length("height", "how high they stood", 11, 0.9),
				passes("flips clean", "turns over in one piece", 0.65), shows("lacy edge", "a lacy edge", 0.4)},
			taste: scores("tenderness", "tough", "tender"), heat: curve{24, 88, 4}, care: careGriddle},
		{name: "drop scones", pieces: "scones", keywords: "oven, tea",
			ingredients: []ingredient{{"flour", 260, "all-purpose flour"}, {"sugar", 40, "granulated sugar"}, {"fat", 80, "unsalted butter"},
				{"milk", 150, "whole milk"}},
			flours: "[flour]", flavours: sweets(),
			steps: []string{"Rub the fat into the flour and sugar, then stir in the milk with {stirred}.", "Let the dough stand for {rest}.",
				"Drop spoonfuls on a tray and bake them at {oven} until they sound hollow."},
			factors: []factor{resting(), ovenHeat(), stirring(), milks(), fats()},
			measures: []measure{length("height", "how high they stood", 38, 3), length("spread", "how far they ran", 61, 3.5),
				warmth("middle", "how hot they were in the middle", 97, 1.5), passes("rises", "taller than the cutter", 0.6), shows("leans", "a lean to one side", 0.35)},
			taste: scores("tenderness", "tough", "tender"), heat: curve{19, 98, 18}, care: careOven},
		{name: "granola", pieces: "tins", keywords: "oven, oats, breakfast",
			ingredients: []ingredient{{"oats", 280, "rolled oats"}, {"sugar", 70, "granulated sugar"}, {"fat", 110, "unsalted butter"}, {"water", 30, "water"}},
			flavours:    sweets(),
			steps: []string{"Warm the fat with the sugar and water, and pour it over the rest. Turn it with {stirred}.",
				"Press it into small tins and let them stand for {rest}.", "Bake at {oven} until it smells of toffee, and break it up when it is cold."},
			factors: []factor{resting(), ovenHeat(), stirring(), fats(), sugars()},
			measures: []measure{weight("clumps", "what did not pass the sieve", 54, 5), length("depth", "how deep it lay in the tin", 21, 1.2),
				warmth("oven reading", "what the thermometer in the oven said", 178, 5), shows("scorched", "a scorched rim", 0.3), passes("holds", "a slice that can be lifted", 0.55)},
			taste: scores("crunch", "soft", "brittle"), heat: curve{23, 128, 24}, care: careOven},
		{name: "soup", pieces: "portions", keywords: "pot, soup",
			ingredients: []ingredient{{"potatoes", 620, "potatoes"}, {"fat", 50, "unsalted butter"}, {"stock", 1500, "vegetable stock"}, {"milk", 400, "whole milk"}},
			flavours: []flavour{{"Carrot", "carrots"}, {"Leek", "leeks"}, {"Celery", "celery"}, {"Parsnip", "parsnips"}, {"Cauliflower", "cauliflower"},
				{"Spinach", "spinach"}, {"Pea", "peas"}, {"Onion", "onions"}},
			steps: []string{"Simmer everything but the milk until it is soft, blend it, add the milk and bring it back to a simmer.",
				"Ladle it hot into {vessel} with the lid {lid}.", "Let it cool in a basin of ice water, and move it to the refrigerator at 4 °C."},
			factors: []factor{vessels(), lids(), milks(), fats()},
			measures: []measure{clock("first stage", "cooling time", 3300, 420), clock("second stage", "cooling time", 6900, 600),
				warmth("start", "how hot it was at the start", 72, 1.6), passes("in time", "cold within six hours", 0.75), shows("skin", "a skin on top", 0.45)},
			taste: scores("smoothness", "grainy", "smooth"), heat: curve{73, 5, 240}, care: carePot},
		{name: "chickpea patties", pieces: "patties", keywords: "griddle, pulses",
			ingredients: []ingredient{{"chickpeas", 420, "canned chickpeas"}, {"flour", 60, "oat flour"}, {"eggs", 50, "eggs"}, {"fat", 30, "unsalted butter"}},
			flours:      "[flour]",
			flavours: []flavour{{"Parsley", "parsley"}, {"Carrot", "carrots"}, {"Onion", "onions"}, {"Sesame", "sesame seeds"}, {"Spinach", "spinach"},
				{"Pumpkin-seed", "pumpkin seeds"}},
			steps: []string{"Mash the chickpeas with all the rest, with {stirred} of the masher.", "Let the mass rest for {rest} in the refrigerator.",
				"Shape equal patties and cook them through on a griddle at {griddle}."},
			factors: []factor{resting(), heatOfPan(), stirring(), fats()},
			measures: []measure{clock("side 1", "cook time", 190, 15), clock("side 2", "cook time", 150, 14), warmth("middle", "how hot they were in the middle", 79, 2),
				passes("holds", "turns over in one piece", 0.6), length("height", "how high they stood", 19, 1.3)},
			taste: scores("crunch", "soft", "crisp"), heat: curve{12, 80, 7}, care: careGriddle},
	}
}
