package food

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"sidebatch.example/sidebatch/internal/quantity"
)

// A Measure is a household measure of a food: Amount of Name weighs Grams.
type Measure struct {
	Amount      quantity.Number // above 0; the table's 0.333 and the like are read as the thirds, sixths and twelfths they stand for
	Name        string          // as published: "cup, sliced", "large", "stick"
	Grams       quantity.Number // above 0, of the edible part
	Milliliters quantity.Number // the volume of Amount in US customary or metric units, exact; 0 where Name is no volume

	unit  quantity.Unit // the volume unit that Name starts with, else Each
	words []string      // what Name says beyond its unit, stemmed, without what stands in parentheses
	aside bool          // a serving, a yield, or a measure known to be wrong: used for nothing if there is another
	text  string        // "1 cup packed = 220 g"
}

// String says the measure and its weight: "1 cup packed = 220 g".
func (m Measure) String() string { return m.text }

// Volume says whether the measure is one of volume.
func (m Measure) Volume() bool { return m.Milliliters.Sign() > 0 }

// volumeUnit reads the volume unit that a measure's name starts with, and what
// one of it holds. A cubic inch is no kitchen measure: its unit is Each.
func volumeUnit(name string) (u quantity.Unit, milliliters quantity.Number, rest string, ok bool) {
	lower := strings.ToLower(name)
	for _, known := range []struct {
		word string
		unit quantity.Unit
	}{
		{"cups", quantity.Cup}, {"cup", quantity.Cup},
		{"tbsp", quantity.Tablespoon}, {"tablespoons", quantity.Tablespoon}, {"tablespoon", quantity.Tablespoon},
		{"tsp", quantity.Teaspoon}, {"teaspoons", quantity.Teaspoon}, {"teaspoon", quantity.Teaspoon},
		{"fl oz", quantity.FluidOunce}, {"pint", quantity.Pint}, {"quart", quantity.Quart}, {"gallon", quantity.Gallon},
		{"ml", quantity.Milliliter}, {"liter", quantity.Liter}, {"litre", quantity.Liter},
		{"cubic inches", quantity.Each}, {"cubic inch", quantity.Each},
	} {
		after, found := strings.CutPrefix(lower, known.word)
		if !found || after != "" && isLetter(after[0]) {
			continue
		}
		held := quantity.Ratio(16387064, 1000000) // (25.4 mm)³
		if known.unit != quantity.Each {
			held, _ = quantity.New(quantity.Int(1), known.unit).Base()
		}
		return known.unit, held, name[len(known.word):], true
	}
	return quantity.Each, quantity.Number{}, name, false
}

func isLetter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }

// measuresOf reads the measures of a food, in the publisher's order.
func measuresOf(f *Food) ([]Measure, error) {
	all := openMeasures()
	prefix := string(f.ID) + ","
	first := sort.Search(len(all), func(i int) bool { return all[i] >= prefix })
	var measures []Measure
	for _, line := range all[first:] {
		if !strings.HasPrefix(line, prefix) {
			break
		}
		m, err := readMeasure(line[len(prefix):])
		if err != nil {
			return nil, fmt.Errorf("food table %s: %s: %w", measuresFile, f.ID, err)
		}
		if faulty(f.ID, m) {
			m.aside = true
		}
		if f.Group == "Spices and Herbs" { // a spoon of a spice is of the ground one
			m.words = slices.DeleteFunc(m.words, func(w string) bool { return w == "ground" })
		}
		measures = append(measures, m)
	}
	return measures, nil
}

// readMeasure reads a line of measures.csv after its id.
func readMeasure(line string) (Measure, error) {
	var cells [4]string // amount, measure, grams, volume_ml
	if !fields(line, cells[:]) {
		return Measure{}, fmt.Errorf("%q: wrong number of fields", line)
	}
	amount, ok1 := thousandths(cells[0])
	grams, ok2 := thousandths(cells[2])
	if !ok1 || !ok2 || amount == 0 || grams == 0 {
		return Measure{}, fmt.Errorf("measure %q: amount and grams must be above 0", cells[1])
	}
	times, said := fraction(amount, cells[0])
	m := Measure{
		Amount: times, Name: cells[1], Grams: number(grams), Milliliters: quantity.Int(0),
		text: said + " " + cells[1] + " = " + cells[2] + " g",
	}
	if cells[3] == "" {
		name, _, _ := strings.Cut(m.Name, ", NS as to") // not specified
		m.words = stems(name)
		return m, nil
	}
	return m.asVolume()
}

// asVolume works out the volume of a measure that the table marks as one. The
// table's own volume is rounded to a microlitre; from the unit it is exact.
func (m Measure) asVolume() (Measure, error) {
	if u, held, rest, ok := volumeUnit(m.Name); ok {
		m.unit, m.Milliliters, m.words = u, m.Amount.Mul(held), stems(rest)
		m.aside = u == quantity.Each || strings.Contains(m.Name, "yield") && !strings.Contains(m.Name, "(yields")
		return m, nil
	}
	// "serving 2 tbsp", "scoop (2 tbsp)", "packet (2/3 tbsp)", "serving .25 cup"
	start := strings.IndexAny(m.Name, ".0123456789")
	if start < 0 {
		return Measure{}, fmt.Errorf("measure %q: a volume without a unit", m.Name)
	}
	count, unit, _ := strings.Cut(m.Name[start:], " ")
	if strings.HasPrefix(count, ".") {
		count = "0" + count
	}
	times, err := quantity.ParseNumber(count)
	if err != nil {
		return Measure{}, fmt.Errorf("measure %q: %w", m.Name, err)
	}
	u, held, _, ok := volumeUnit(unit)
	if !ok {
		return Measure{}, fmt.Errorf("measure %q: a volume without a unit", m.Name)
	}
	m.unit, m.Milliliters, m.aside = u, m.Amount.Mul(times).Mul(held), true
	return m, nil
}

// fraction undoes the table's rounding of amounts: 0.333 cup is a third of a
// cup. It also says the amount in words.
func fraction(thousandths int32, text string) (quantity.Number, string) {
	switch thousandths {
	case 333, 330:
		return quantity.Ratio(1, 3), "1/3"
	case 667, 670, 666:
		return quantity.Ratio(2, 3), "2/3"
	case 167:
		return quantity.Ratio(1, 6), "1/6"
	case 83:
		return quantity.Ratio(1, 12), "1/12"
	case 250:
		return quantity.Ratio(1, 4), "1/4"
	case 500:
		return quantity.Ratio(1, 2), "1/2"
	case 750:
		return quantity.Ratio(3, 4), "3/4"
	}
	return number(thousandths), text
}

// faulty names the one measure of the table that is known to be wrong and that
// no rule finds, because its food has only two: a quarter cup of agave syrup at
// 55 g would be lighter than water; its teaspoon at 6.9 g is right (see
// data/SOURCES.md).
func faulty(id ID, m Measure) bool { return id == "19912" && m.unit == quantity.Cup }
