package wording

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
)

// Language is the words of one language. It never changes and may be used from
// several goroutines.
type Language struct {
	name    string // BCP 47
	tag     language.Tag
	phrases map[string]phrase // by SECTION/KEY

	original *Language // what it lacks is said in this one
}

// phrase is what is said, by plural form; one without forms has only Other.
type phrase map[plural.Form]string

// Name is the language's tag, as BCP 47 has it: "en", "es".
func (l *Language) Name() string { return l.name }

// Phrases are the words of one section of the file. The zero value says nothing but
// the names that it is asked for.
type Phrases struct {
	language *Language
	section  string
}

// Of returns the phrases of a section. Sections are named after the rooms that use
// them.
func (l *Language) Of(section string) Phrases { return Phrases{l, section} }

// Language is the one these phrases are of.
func (p Phrases) Language() *Language { return p.language }

// Has reports whether there is a phrase of that name.
func (p Phrases) Has(key string) bool {
	_, has := p.find(key)
	return has
}

func (p Phrases) find(key string) (phrase, bool) {
	if p.language == nil {
		return nil, false
	}
	found, has := p.language.phrases[p.section+"/"+key]
	if !has && p.language.original != nil {
		found, has = p.language.original.phrases[p.section+"/"+key]
	}
	return found, has
}

// All returns the phrases of the section by their names.
func (p Phrases) All() map[string]string {
	all := map[string]string{}
	if p.language == nil {
		return all
	}
	for name, found := range p.language.phrases {
		if key, of := strings.CutPrefix(name, p.section+"/"); of {
			all[key] = found[plural.Other]
		}
	}
	return all
}

// Say returns a phrase with its names in braces filled in: names and values in
// turn. A phrase that is missing comes out as its own name in brackets, so that it
// is seen; the tests of internal/house look for such names in all code.
func (p Phrases) Say(key string, fill ...string) string {
	found, has := p.find(key)
	if !has {
		return "[" + p.section + "/" + key + "]"
	}
	return filled(found[plural.Other], fill)
}

// Count is Say for so many of something: it takes the form that the language has for
// that number, and {n} is the number as the language writes it, unless it is filled in
// otherwise.
func (p Phrases) Count(key string, n int, fill ...string) string {
	found, has := p.find(key)
	if !has {
		return "[" + p.section + "/" + key + "]"
	}
	text, has := found[p.language.form(n)]
	if !has {
		text = found[plural.Other]
	}
	return filled(text, append(slices.Clone(fill), "n", p.language.Integer(n)))
}

// Fill is Say for templates: each {} is replaced by the next value, or {1}, {2} by
// the first and the second, where a language has another order.
func (p Phrases) Fill(key string, values ...any) (string, error) {
	found, has := p.find(key)
	if !has {
		return "", fmt.Errorf("no word %q", key)
	}
	text := found[plural.Other]
	if takes := places(text); takes != len(values) {
		return "", fmt.Errorf("word %q takes %d values, not %d", key, takes, len(values))
	}
	pairs := make([]string, 0, 2*len(values))
	for i, v := range values {
		text = strings.Replace(text, "{}", "{"+strconv.Itoa(i+1)+"}", 1)
		pairs = append(pairs, strconv.Itoa(i+1), fmt.Sprint(v))
	}
	return filled(text, pairs), nil
}

// Takes is how many values a template must give for a phrase; ok is false where
// there is no such phrase.
func (p Phrases) Takes(key string) (n int, ok bool) {
	found, has := p.find(key)
	return places(found[plural.Other]), has
}

// places counts the numbered and the plain braces.
func places(text string) int {
	n := strings.Count(text, "{}")
	for strings.Contains(text, "{"+strconv.Itoa(n+1)+"}") {
		n++
	}
	return n
}

// filled replaces each {name} in one pass, so that braces in a value stay what they
// are.
func filled(text string, pairs []string) string {
	if !strings.Contains(text, "{") {
		return text
	}
	var b strings.Builder
	for {
		before, rest, open := strings.Cut(text, "{")
		b.WriteString(before)
		if !open {
			return b.String()
		}
		name, after, closed := strings.Cut(rest, "}")
		value, known := valueOf(pairs, name)
		if !closed || !known {
			b.WriteByte('{')
			text = rest
			continue
		}
		b.WriteString(value)
		text = after
	}
}

func valueOf(pairs []string, name string) (string, bool) {
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i] == name {
			return pairs[i+1], true
		}
	}
	return "", false
}

// form is the plural form of a whole number in this language (Unicode CLDR).
func (l *Language) form(n int) plural.Form {
	if n < 0 {
		n = -n
	}
	return plural.Cardinal.MatchPlural(l.tag, n, 0, 0, 0, 0)
}

// Integer writes a whole number as the language does: 1,200.
func (l *Language) Integer(n int) string {
	numbers := l.Of("numbers")
	text, minus := strconv.Itoa(n), ""
	if n < 0 {
		text, minus = text[1:], "−"
	}
	if from, err := strconv.Atoi(numbers.Say("grouped from digits")); err != nil || len(text) < from {
		return minus + text
	}
	for i := len(text) - 3; i > 0; i -= 3 {
		text = text[:i] + numbers.Say("group") + text[i:]
	}
	return minus + text
}

// Decimal writes a number that has a point for its decimal mark with the language's.
func (l *Language) Decimal(number string) string {
	return strings.Replace(number, ".", l.Of("numbers").Say("decimal"), 1)
}

// Unit is the language's short form of a unit, by its English one.
func (l *Language) Unit(symbol string) string {
	if units := l.Of("units"); units.Has(symbol) {
		return units.Say(symbol)
	}
	return symbol
}

// List joins words: a, b and c.
func (l *Language) List(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := words[len(words)-1]
	key, numbers := "and", l.Of("numbers")
	if numbers.Has("and before i") && soundsLikeI(last) {
		key = "and before i"
	}
	return numbers.Say(key, "list", strings.Join(words[:len(words)-1], ", "), "last", last)
}

// soundsLikeI reports whether a word begins with the vowel i and no diphthong, before
// which Spanish and Italian have another "and" (Real Academia Española, Diccionario
// panhispánico de dudas, "y2").
func soundsLikeI(word string) bool {
	word = strings.TrimPrefix(strings.ToLower(word), "h")
	word, starts := strings.CutPrefix(strings.Replace(word, "í", "i", 1), "i")
	return starts && !strings.HasPrefix(word, "a") && !strings.HasPrefix(word, "e") && !strings.HasPrefix(word, "o")
}

// Capital begins a sentence: it sets a text's first letter large, whatever its script.
func Capital(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if size == 0 || first == utf8.RuneError {
		return text
	}
	return string(unicode.ToUpper(first)) + text[size:]
}

// Date writes a day: 14 February 2026. The month counts from 1.
func (l *Language) Date(year, month, day int) string {
	dates := l.Of("dates")
	return dates.Say("date", "day", strconv.Itoa(day), "month", dates.Say("month "+strconv.Itoa(month)), "year", strconv.Itoa(year))
}

// Month names a month, counted from 1, as in a list of months.
func (l *Language) Month(month int) string { return l.Of("dates").Say("month " + strconv.Itoa(month)) }

// MonthOf writes a month of a year: February 2026.
func (l *Language) MonthOf(year, month int) string {
	return l.Of("dates").Say("month of year", "month", l.Month(month), "year", strconv.Itoa(year))
}
