package quantity

import (
	"strings"
	"unicode"
)

// maxUnitWords is the length of the longest unit in words: "degrees C difference".
const maxUnitWords = 3

// unit reads the unit that stands here: the longest run of words that names one.
// Where none does, it stays where it is.
func (p *parser) unit() (Unit, bool, error) {
	back := p.at
	p.skipSpace()
	start := p.at
	ends := p.wordEnds()
	for i := len(ends) - 1; i >= 0; i-- {
		word := string(p.runes[start:ends[i]])
		if hint, puzzle := puzzling(strings.TrimSpace(word), p.volumes); puzzle {
			err := p.fail(start, quote(word)+" may mean two things", hint)
			if strings.HasPrefix(hint, "there is no") {
				err.What = quote(word) + " has no size here"
			}
			err.Word = word
			return Each, false, err
		}
		if u, ok := UnitNamed(word, p.volumes); ok {
			p.at = ends[i]
			return u, true, nil
		}
	}
	p.at = back
	return Each, false, nil
}

// wordEnds returns where the first, second and third word from here end.
func (p *parser) wordEnds() []int {
	var ends []int
	at := p.at
	for range maxUnitWords {
		_, end := p.wordAt(at)
		if end == at {
			break
		}
		ends = append(ends, end)
		for at = end; at < len(p.runes) && unicode.IsSpace(p.runes[at]); {
			at++
		}
	}
	return ends
}

// wordAt reads a word such as g, fl., U.S., °C, ° C or ". It is empty where letters
// run on into a hyphen or a digit: the t of t-bone is no word. A hyphen before a
// number is the dash of a range.
func (p *parser) wordAt(at int) (word string, end int) {
	i := at
	peek := func(k int) rune {
		if k < len(p.runes) {
			return p.runes[k]
		}
		return 0
	}
	switch r := peek(i); {
	case r == '"' || r == '″':
		return string(r), i + 1
	case r == '℃' || r == '℉':
		return string(r), i + 1
	case r == '°' || r == 'º':
		i++
		letters := i
		for unicode.IsSpace(peek(letters)) {
			letters++
		}
		if scale := unicode.ToLower(peek(letters)); scale == 'c' || scale == 'f' {
			i = letters
		}
	}
	for unicode.IsLetter(peek(i)) || peek(i) == '.' && i > at && unicode.IsLetter(peek(i-1)) {
		i++
	}
	next, after := peek(i), peek(i+1)
	// Digits of other scripts count, too: a word does not end inside a run of them.
	if unicode.IsDigit(next) || next == '-' && !isDigit(after) && !unicode.IsSpace(after) && after != '.' && !isMinus(after) {
		return "", at
	}
	return string(p.runes[at:i]), i
}
