package quantity

import (
	"slices"
	"strings"
	"sync"
	"unicode"
)

// noUnit marks a word that means nothing in a system of volumes.
const noUnit Unit = 255

// meaning is what a word means, by Volumes.
type meaning [3]Unit

func always(u Unit) meaning { return meaning{u, u, u} }

// spelling lists the words for one meaning.
type spelling struct {
	words string // separated by |
	means meaning
}

// spellings is every way a unit is written. Case and dots do not matter; the few
// words where they would are in puzzling.
func spellings() []spelling {
	return []spelling{
		{"g|gram|grams|gramme|grammes|gm|gms", always(Gram)},
		{"kg|kgs|kilogram|kilograms|kilogramme|kilogrammes|kilo|kilos", always(Kilogram)},
		{"mg|milligram|milligrams|milligramme|milligrammes", always(Milligram)},
		{"oz|ozs|ounce|ounces|oz wt|ounce weight", always(Ounce)},
		{"lb|lbs|pound|pounds", always(Pound)},

		{"mL|mLs|milliliter|milliliters|millilitre|millilitres|cc", always(Milliliter)},
		{"cL|centiliter|centiliters|centilitre|centilitres", always(Centiliter)},
		{"dL|deciliter|deciliters|decilitre|decilitres", always(Deciliter)},
		{"L|liter|liters|litre|litres", always(Liter)},

		{"°C|°Celsius|C|Celsius|degree C|degrees C|degree Celsius|degrees Celsius|deg C|centigrade|degrees centigrade", always(Celsius)},
		{"°F|°Fahrenheit|F|Fahrenheit|degree F|degrees F|degree Fahrenheit|degrees Fahrenheit|deg F", always(Fahrenheit)},
		{"°C difference|degrees C difference|C difference", always(CelsiusDegree)},
		{"°F difference|degrees F difference|F difference", always(FahrenheitDegree)},

		{"s|sec|secs|second|seconds", always(Second)},
		{"min|mins|minute|minutes", always(Minute)},
		{"h|hr|hrs|hour|hours", always(Hour)},
		{"day|days", always(Day)},

		{"mm|millimeter|millimeters|millimetre|millimetres", always(Millimeter)},
		{"cm|cms|centimeter|centimeters|centimetre|centimetres", always(Centimeter)},
		{"m|meter|meters|metre|metres", always(Meter)},
		{"in|inch|inches|\"|″", always(Inch)},

		{"pinch|pinches", always(Pinch)},
		{"dash|dashes", always(Dash)},

		{"label teaspoon|label teaspoons", always(LabelTeaspoon)},
		{"label tablespoon|label tablespoons", always(LabelTablespoon)},
		{"label cup|label cups", always(LabelCup)},
		{"label fluid ounce|label fluid ounces", always(LabelFluidOunce)},
		{"label ounce|label ounces", always(LabelOunce)},
		{"Australian tablespoon|Australian tablespoons", always(AustralianTablespoon)},
	}
}

// volumeSpellings is every measure whose size depends on the kitchen: the bare words,
// then the same words with "US", "metric" or "imperial" before them.
func volumeSpellings() []spelling {
	return []spelling{
		{"tsp|tsps|teaspoon|teaspoons|teaspoonful|teaspoonfuls", meaning{Teaspoon, MetricTeaspoon, MetricTeaspoon}},
		{"tbsp|tbsps|tbs|tblsp|tablespoon|tablespoons|tablespoonful|tablespoonfuls", meaning{Tablespoon, MetricTablespoon, MetricTablespoon}},
		{"cup|cups|cupful|cupfuls", meaning{Cup, MetricCup, ImperialCup}},
		{"fl oz|fluid ounce|fluid ounces|fluid oz|floz", meaning{FluidOunce, noUnit, ImperialFluidOunce}},
		{"pint|pints|pt|pts", meaning{Pint, noUnit, ImperialPint}},
		{"quart|quarts|qt|qts", meaning{Quart, noUnit, ImperialQuart}},
		{"gallon|gallons|gal|gals", meaning{Gallon, noUnit, ImperialGallon}},
	}
}

// prefixed returns what a bare word means with a system before it.
func (m meaning) prefixed() map[string]Unit {
	out := map[string]Unit{"US": m[USCustomary]}
	if m[Metric] != noUnit {
		out["metric"] = m[Metric]
	}
	if m[Imperial] != m[Metric] { // there is no imperial spoon
		out["imperial"] = m[Imperial]
	}
	return out
}

// lexicon is the words, folded, and as they are usually written.
type lexicon struct {
	means map[string]meaning
	usual []string // sorted
}

var words = sync.OnceValue(func() *lexicon {
	lx := &lexicon{means: map[string]meaning{}}
	for _, s := range spellings() {
		for word := range strings.SplitSeq(s.words, "|") {
			lx.add(word, s.means)
		}
	}
	for _, s := range volumeSpellings() {
		for word := range strings.SplitSeq(s.words, "|") {
			lx.add(word, s.means)
			for system, u := range s.means.prefixed() {
				lx.add(system+" "+word, always(u))
			}
		}
	}
	slices.Sort(lx.usual)
	return lx
})

func (lx *lexicon) add(word string, m meaning) {
	lx.means[fold(word)] = m
	lx.usual = append(lx.usual, word)
}

// fold brings a spelling to the form the lexicon keeps: no dots, single
// spaces, lower case, one degree sign, which stands right before its letter.
func fold(word string) string {
	var b strings.Builder
	gap := false
	for _, r := range word {
		switch {
		case r == '.':
			continue
		case unicode.IsSpace(r):
			gap = b.Len() > 0
			continue
		case r == 'º':
			r = '°'
		}
		if gap && !strings.HasSuffix(b.String(), "°") {
			b.WriteByte(' ')
		}
		gap = false
		switch r {
		case '℃':
			b.WriteString("°c")
		case '℉':
			b.WriteString("°f")
		default:
			b.WriteRune(unicode.ToLower(r))
		}
	}
	return b.String()
}

// puzzling returns what to ask about a word that cooks write for two things.
// Case counts here: T is a tablespoon to some, t a teaspoon.
func puzzling(word string, v Volumes) (hint string, ok bool) {
	switch strings.TrimSuffix(word, ".") {
	case "T", "t", "Tb", "TB":
		return "write tsp or tbsp", true
	case "c":
		return "write cup or °C", true
	case "°", "º", "deg", "degree", "degrees":
		return "write °C or °F", true
	case "gr", "grs":
		return "write g", true
	}
	if m, known := words().means[fold(word)]; known && int(v) < len(m) && m[v] == noUnit {
		return "there is no metric one: write US " + word + " or imperial " + word, true
	}
	return "", false
}

// UnitNamed returns the unit that word means in a kitchen with those volumes.
// Case, dots and doubled spaces do not matter. A word that cooks
// use for two things (T, t, c, a bare degree) names no unit.
func UnitNamed(word string, v Volumes) (Unit, bool) {
	if _, puzzle := puzzling(word, v); puzzle {
		return Each, false
	}
	m, ok := words().means[fold(word)]
	if !ok || int(v) >= len(m) {
		return Each, false
	}
	return m[v], true
}

// UnitWords returns every word that [UnitNamed] knows, as it is usually written, sorted.
func UnitWords() []string { return slices.Clone(words().usual) }
