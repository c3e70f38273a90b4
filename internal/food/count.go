package food

import (
	"slices"
	"strings"
)

// countMeasure chooses the measure for pieces of a food: all its words must be
// among the words said, or say what the food is anyway. Where no size was said,
// it is the medium one, of eggs the large one, or the whole fruit.
func (f *Food) countMeasure(word string) (Measure, bool) {
	said, own := stems(word), stems(f.Description)
	best, most, found := Measure{}, 0, false
	for _, m := range f.counts() {
		n, ok := fits(m.words, said, own)
		if ok && n > most {
			best, most, found = m, n, true
		}
	}
	if found {
		return best, true
	}
	return f.usualPiece(said, own)
}

// fits counts the words of a measure that were said; ok is false where one was
// not and does not belong to the food.
func fits(words, said, own []string) (n int, ok bool) {
	for _, w := range words {
		switch {
		case slices.Contains(said, w):
			n++
		case w != "whole" && !neutral(w) && !slices.Contains(own, w):
			return 0, false
		}
	}
	return n, true
}

// usualPiece is the piece that is meant where no size is said. It answers only
// for a name of the food itself: "garlic" counts nothing.
func (f *Food) usualPiece(said, own []string) (Measure, bool) {
	sizes := []string{"medium", "fruit"}
	if strings.HasPrefix(f.Description, "Egg, ") {
		sizes = []string{"large"}
	}
	if slices.ContainsFunc(said, isPart) {
		return Measure{}, false
	}
	for _, size := range sizes {
		for _, m := range f.counts() {
			if n, ok := fits(m.words, []string{size}, own); ok && n == 1 {
				return m, true
			}
		}
	}
	for _, m := range f.counts() {
		if _, ok := fits(m.words, nil, own); ok { // "pepper" of a jalapeño
			return m, true
		}
	}
	return Measure{}, false
}

// isPart names parts and packages, which are no whole pieces.
func isPart(word string) bool {
	switch word {
	case "slice", "wedge", "half", "quarter", "strip", "ring", "piece", "leaf", "sprig", "stalk", "stick", "clove", "head",
		"bunch", "can", "package", "packet", "jar", "box", "bag", "small", "large", "jumbo", "extra", "spear", "floweret", "cube", "ear":
		return true
	}
	return false
}

// counts lists the measures of pieces, packages and the like.
func (f *Food) counts() []Measure {
	return slices.DeleteFunc(slices.Clone(f.Measures), func(m Measure) bool {
		if m.Volume() || m.aside || len(m.words) == 0 {
			return true
		}
		switch m.words[0] {
		case "oz", "lb", "gram", "nlea", "serving":
			return true
		}
		return false
	})
}
