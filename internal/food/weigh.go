package food

import (
	"slices"

	"sidebatch.example/sidebatch/internal/quantity"
)

// A Weight is what an amount of a food weighs.
type Weight struct {
	Grams quantity.Number
	About bool   // it was not weighed: it comes from a measure of the table, or it is the middle of a range
	By    string // the measure that it comes from: "1 cup packed = 220 g"; "" for a mass
	Or    string // the measure that it would come from had the words said so, where that weighs over 15 % more or less; mostly ""
}

// Grams weighs an amount of a food. word is what the recipe calls it, with the
// words that say how a measure was filled or how large a piece is: "packed brown
// sugar", "large eggs", "cloves garlic".
//
// A mass stands as it is. A volume takes a measure of the food itself: of the
// form that word names (sifted, sliced, packed) or else the plain one, then of
// the unit that was asked for, else of the nearest size. Measures that contradict
// the food's others by more than 15 % are passed over: of three the one that
// disagrees with the median, of two the smaller, which was rounded more. Water
// so has its table weight, 29.6 g a fluid ounce (237 g a cup), and 1 kg a litre.
// A count takes the measure whose words are all in word, else the medium one
// (of eggs the large one, as US recipes mean it: common practice, no source).
//
// A range weighs what its middle weighs. ok is false for an amount to taste, for
// a time, length or temperature, and where the table has no measure for it.
func Grams(f *Food, a quantity.Amount, word string) (w Weight, ok bool) {
	if f == nil || a.IsToTaste() {
		return Weight{}, false
	}
	low, high := a.Base()
	base := low
	if a.IsRange() {
		base = low.Add(high).Mul(quantity.Ratio(1, 2))
	}
	switch a.Dimension() {
	case quantity.Mass:
		return Weight{Grams: base, About: a.IsRange()}, true
	case quantity.Volume:
		m, or, found := f.volumeMeasure(word, wanted(a.Unit(), base))
		if !found {
			return Weight{}, false
		}
		return Weight{Grams: base.Mul(m.density()), About: true, By: m.text, Or: or}, true
	case quantity.Count:
		m, found := f.countMeasure(word)
		if !found {
			return Weight{}, false
		}
		each, _ := m.Grams.Quo(m.Amount)
		return Weight{Grams: base.Mul(each), About: true, By: m.text}, true
	}
	return Weight{}, false
}

// Milliliters turns grams of a food into the volume that they fill, by the
// measure that [Grams] would choose for a volume of that size; by says which.
// ok is false where the food has no measure of volume.
func Milliliters(f *Food, grams quantity.Number, word string) (ml quantity.Number, by string, ok bool) {
	if f == nil {
		return quantity.Number{}, "", false
	}
	m, _, found := f.volumeMeasure(word, asked{grams: grams.Float64()})
	if !found {
		return quantity.Number{}, "", false
	}
	ml, ok = grams.Quo(m.density())
	return ml, m.text, ok
}

// density is in grams a millilitre, as filled.
func (m Measure) density() quantity.Number {
	d, _ := m.Grams.Quo(m.Milliliters) // a measure of volume holds more than 0 mL
	return d
}

// asked is the size of measure that is looked for: a unit, or a volume of no
// kitchen unit, or a weight.
type asked struct {
	unit        quantity.Unit // US customary or litre; Each where any unit will do
	metric      bool
	milliliters float64
	grams       float64
}

// wanted reads the size of measure off an amount. The spoons and cups of other
// systems take the same kind of measure: a metric cup is filled like a US one.
func wanted(u quantity.Unit, milliliters quantity.Number) asked {
	a := asked{unit: u}
	switch u {
	case quantity.MetricTeaspoon, quantity.LabelTeaspoon, quantity.Dash, quantity.Pinch:
		a.unit = quantity.Teaspoon
	case quantity.MetricTablespoon, quantity.LabelTablespoon, quantity.AustralianTablespoon:
		a.unit = quantity.Tablespoon
	case quantity.MetricCup, quantity.LabelCup, quantity.ImperialCup:
		a.unit = quantity.Cup
	case quantity.ImperialFluidOunce, quantity.LabelFluidOunce:
		a.unit = quantity.FluidOunce
	case quantity.ImperialPint:
		a.unit = quantity.Pint
	case quantity.ImperialQuart:
		a.unit = quantity.Quart
	case quantity.ImperialGallon:
		a.unit = quantity.Gallon
	case quantity.Milliliter, quantity.Centiliter, quantity.Deciliter, quantity.Liter:
		return asked{metric: true, milliliters: milliliters.Float64()}
	}
	one, _ := quantity.New(quantity.Int(1), a.unit).Base()
	a.milliliters = one.Float64()
	return a
}

// volumeMeasure chooses the measure that stands for a volume of the food, and
// names the one of another form that the words leave open.
func (f *Food) volumeMeasure(word string, size asked) (m Measure, or string, ok bool) {
	f, said := f.weighedAs(word)
	candidates := f.volumes()
	if len(candidates) == 0 {
		return Measure{}, "", false
	}
	best := size.bestForm(candidates, said)
	var same, others []Measure
	for _, c := range candidates {
		if slices.Equal(form(c), form(best)) {
			same = append(same, c)
		} else {
			others = append(others, c)
		}
	}
	m = size.nearest(agreeing(same))
	if matched(best, said) == 0 && len(form(best)) > 0 {
		or = contradicts(m, others, size)
	}
	return m, or, true
}

// weighedAs gives the food whose measures are used, and the words said. Blanched
// almonds are weighed whole only, so almond flour takes the ground form of almonds.
func (f *Food) weighedAs(word string) (*Food, []string) {
	said := stems(word)
	for i := range said {
		said[i] = cutStem(said[i])
	}
	const blanched, whole = "12062", "12061"
	if f.ID == blanched && (slices.Contains(said, "flour") || slices.Contains(said, "ground")) {
		if almonds, ok := Get(whole); ok {
			return almonds, append(said, "ground")
		}
	}
	return f, said
}

// volumes lists the measures of volume, without those that stand aside unless
// there are no others.
func (f *Food) volumes() []Measure {
	var main, aside []Measure
	for _, m := range f.Measures {
		switch {
		case !m.Volume():
		case m.aside:
			aside = append(aside, m)
		default:
			main = append(main, m)
		}
	}
	if len(main) == 0 {
		return aside
	}
	return main
}

// form is what a measure says about the state of the food in it, without the
// words for how it comes anyway.
func form(m Measure) []string {
	var said []string
	for _, w := range m.words {
		if !neutral(w) {
			said = append(said, cutStem(w))
		}
	}
	return said
}

// neutral words describe the food as it is without being said.
func neutral(word string) bool {
	switch word {
	case "unsifted", "dipped", "fluid", "stirred", "raw", "uncooked", "unprepared", "dry", "serving", "fl", "oz":
		return true
	}
	return word[0] >= '0' && word[0] <= '9'
}

// bestForm picks the measure whose form the words name best; where they name
// none, one of the unit asked for, then the plain form, then the one that is
// meant without being said, then the publisher's first.
func (a asked) bestForm(candidates []Measure, said []string) Measure {
	best := candidates[0]
	for _, c := range candidates[1:] {
		if a.better(c, best, said) {
			best = c
		}
	}
	return best
}

func (a asked) better(m, than Measure, said []string) bool {
	if x, y := matched(m, said), matched(than, said); x != y {
		return x > y
	}
	if x, y := rare(m), rare(than); x != y {
		return !x
	}
	if x, y := m.unit == a.unit, than.unit == a.unit; a.unit != quantity.Each && x != y {
		return x
	}
	if x, y := len(form(m))-matched(m, said), len(form(than))-matched(than, said); x != y {
		return x < y
	}
	return usual(m) && !usual(than)
}

// matched counts the words of a form that were said.
func matched(m Measure, said []string) int {
	n := 0
	for _, w := range form(m) {
		if slices.Contains(said, w) {
			n++
		}
	}
	return n
}

// usual forms are meant where nothing is said: brown sugar is packed, cheese
// grated, vegetables chopped (common practice, no source).
func usual(m Measure) bool {
	return slices.ContainsFunc(form(m), func(w string) bool {
		return w == "packed" || w == "grated" || w == "chopped"
	})
}

// rare forms are never meant without being said.
func rare(m Measure) bool {
	return slices.ContainsFunc(form(m), func(w string) bool {
		switch w {
		case "melted", "whipped", "sifted", "cooked", "prepared", "mashed", "pureed", "puree", "thawed", "ground",
			"drained", "crumb", "purchased", "homemade":
			return true
		}
		return false
	})
}

// agreeing drops the measures of one form that contradict the others by more
// than 15 %: those far from the median density, of two the smaller.
func agreeing(same []Measure) []Measure {
	if len(same) < 2 {
		return same
	}
	by := slices.Clone(same)
	slices.SortStableFunc(by, func(a, b Measure) int { return a.density().Cmp(b.density()) })
	if !apart(by[0], by[len(by)-1]) {
		return same
	}
	if len(same) == 2 {
		if same[0].Milliliters.Less(same[1].Milliliters) {
			return same[1:]
		}
		return same[:1]
	}
	median := by[len(by)/2] // of an even number the denser of the middle two
	return slices.DeleteFunc(slices.Clone(same), func(m Measure) bool { return apart(m, median) })
}

// apart says whether two densities differ by more than 15 %.
func apart(a, b Measure) bool {
	x, y := a.density(), b.density()
	if y.Less(x) {
		x, y = y, x
	}
	return x.Mul(quantity.Ratio(115, 100)).Less(y)
}

// nearest picks the measure of the size asked for: the same unit, else the same
// system of units and the nearest size; the publisher's first among equals.
func (a asked) nearest(measures []Measure) Measure {
	best := measures[0]
	for _, m := range measures[1:] {
		if a.closer(m, best) {
			best = m
		}
	}
	return best
}

func (a asked) closer(m, than Measure) bool {
	if x, y := m.unit == a.unit, than.unit == a.unit; a.unit != quantity.Each && x != y {
		return x
	}
	if x, y := metric(m.unit) == a.metric, metric(than.unit) == a.metric; a.grams == 0 && x != y {
		return x
	}
	return a.distance(m) < a.distance(than)
}

func metric(u quantity.Unit) bool { return u == quantity.Milliliter || u == quantity.Liter }

// distance is how many times larger the one is than the other, 1 or more.
func (a asked) distance(m Measure) float64 {
	ratio := 1.0
	switch {
	case a.grams > 0:
		ratio = m.Grams.Float64() / a.grams
	case a.milliliters > 0:
		ratio = m.Milliliters.Float64() / a.milliliters
	}
	return max(ratio, 1/ratio)
}

// contradicts names a measure of another form that weighs over 15 % more or less.
func contradicts(m Measure, others []Measure, size asked) string {
	apartFrom := slices.DeleteFunc(slices.Clone(others), func(o Measure) bool { return rare(o) || !apart(o, m) })
	if len(apartFrom) == 0 {
		return ""
	}
	return size.nearest(apartFrom).text
}
