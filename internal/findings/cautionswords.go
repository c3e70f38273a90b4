package findings

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// plainText is text cut into folded words, for rules to look in.
type plainText []string

// folded folds text: small letters without accents, words of letters and digits. A
// hyphen parts words and an apostrophe does not.
func folded(text string) plainText {
	text = strings.Map(withoutAccent, strings.ToLower(text))
	return strings.FieldsFunc(text, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r > 127)
	})
}

// withoutAccent is a small letter as rules write it; −1 is nothing.
func withoutAccent(r rune) rune {
	switch r {
	case '\'', '’':
		return -1
	case 'é', 'è', 'ê':
		return 'e'
	case 'ä', 'à':
		return 'a'
	case 'ö':
		return 'o'
	case 'ü':
		return 'u'
	case 'ç':
		return 'c'
	case 'ñ':
		return 'n'
	case 'î':
		return 'i'
	}
	return r
}

// has reports whether one of the phrases stands in the text as whole words. The
// last word of a phrase may stand in the plural.
func (t plainText) has(phrases ...string) bool {
	for _, phrase := range phrases {
		var few [8]string
		if t.find(wordsOf(phrase, few[:0]), 0) >= 0 {
			return true
		}
	}
	return false
}

// without returns the text with the phrases cut out, so that what is left of
// "chicken stock and chicken thighs" is the thighs.
func (t plainText) without(phrases ...string) plainText {
	left := t
	for _, phrase := range phrases {
		var few [8]string
		words := wordsOf(phrase, few[:0])
		for at := left.find(words, 0); at >= 0; at = left.find(words, at) {
			// What stood on the two sides is not next to each other.
			left = slices.Concat(left[:at], plainText{"-"}, left[at+len(words):])
		}
	}
	return left
}

// wordsOf appends the words of a phrase. There are a thousand phrases to look for in every
// trial, so nothing is allocated for one.
func wordsOf(phrase string, words []string) []string {
	for word := range strings.FieldsSeq(phrase) {
		words = append(words, word)
	}
	return words
}

// find returns where a phrase begins, at a place or after it, or −1.
func (t plainText) find(phrase []string, from int) int {
	for at := from; at+len(phrase) <= len(t); at++ {
		if t[at:].begins(phrase) {
			return at
		}
	}
	return -1
}

func (t plainText) begins(phrase []string) bool {
	for i, word := range phrase {
		more, alike := strings.CutPrefix(t[i], word)
		last := i == len(phrase)-1
		if !alike || more != "" && !(last && (more == "s" || more == "es")) {
			return false
		}
	}
	return true
}

var (
	degrees = regexp.MustCompile(`(\d+(?:[.,]\d+)?)(?:\s*(?:[-–]|to)\s*(\d+(?:[.,]\d+)?))?\s*(?:°|º|degrees?)\s*([CF])\b`)
	hours   = regexp.MustCompile(`(\d+(?:[.,]\d+)?)\s*(?:h|hr|hrs|hour|hours|horas?)\b`)
)

// temperatures returns those that text gives, in °C; of a range both ends.
func temperatures(text string) []float64 {
	var all []float64
	for _, m := range degrees.FindAllStringSubmatch(text, -1) {
		for _, figure := range m[1:3] {
			value, err := strconv.ParseFloat(strings.Replace(figure, ",", ".", 1), 64)
			if err != nil {
				continue
			}
			if m[3] == "F" {
				value = (value - 32) / 1.8
			}
			all = append(all, value)
		}
	}
	return all
}

// longestHours returns the longest time in hours that text gives in hours, or as
// overnight; 0 for none.
func longestHours(text string) float64 {
	longest := 0.0
	for _, m := range hours.FindAllStringSubmatch(text, -1) {
		value, err := strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
		if err == nil {
			longest = max(longest, value)
		}
	}
	if folded(text).has("overnight") {
		longest = max(longest, 8)
	}
	return longest
}

// fahrenheit writes a temperature given in °F as the published charts do, °C first
// and to a tenth: "71.1 °C (160 °F)".
func (s scene) fahrenheit(f float64) string { return s.both((f-32)/1.8, f) }

// celsius writes a temperature given in °C.
func (s scene) celsius(c float64) string { return s.both(c, c*1.8+32) }

func (s scene) both(c, f float64) string {
	tenths := s.say.Language().Decimal(strings.TrimSuffix(strconv.FormatFloat(c, 'f', 1, 64), ".0"))
	return tenths + " °C (" + strconv.FormatFloat(f, 'f', 0, 64) + " °F)"
}
