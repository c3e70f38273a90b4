package food

import (
	_ "embed"
	"slices"
	"strings"
	"sync"
)

//go:embed data/terms-es.txt
var spanishTerms string

// term is a phrase of another language and the English one.
type term struct {
	words   []string
	english string
}

// spanish is the table, by the first word of the phrase, the longest phrases first.
var spanish = sync.OnceValue(func() map[string][]term { return readTerms(spanishTerms) })

// InEnglish returns a text with the kitchen words of a language (BCP 47) replaced by
// the English ones that the rules for cautions and allergens look for. What is no
// such word stays as it is, without its accents where it was looked at; languages
// without a table come back unchanged.
//
// It is for looking into, not for reading: grammar is lost. What is not in the table
// is not found, as in English, so a page without a caution is no promise.
func InEnglish(language, text string) string {
	if language != "es" && !strings.HasPrefix(language, "es-") {
		return text
	}
	return translated(spanish(), text)
}

func translated(table map[string][]term, text string) string {
	words := strings.FieldsFunc(plainSpanish(text), func(r rune) bool { return r == ' ' || r == '\t' || r == '\n' || r == '\u00a0' })
	var out []string
	for at := 0; at < len(words); {
		n, english := longest(table, words[at:])
		if n == 0 {
			n, english = 1, words[at]
		}
		out = append(out, english)
		at += n
	}
	return strings.Join(out, " ")
}

// longest finds the longest phrase that the words begin with, and how many of them it
// takes. Punctuation behind a word stays out of the comparison and ends a phrase.
func longest(table map[string][]term, words []string) (n int, english string) {
	first, _ := bareWord(words[0])
	for _, key := range singulars(first) {
		for _, t := range table[key] {
			if len(t.words) > n && t.begins(words) {
				_, mark := bareWord(words[len(t.words)-1])
				n, english = len(t.words), t.english+mark
			}
		}
	}
	return n, english
}

// begins reports whether the words begin with the phrase, each in the singular or the
// plural, and no punctuation between.
func (t term) begins(words []string) bool {
	if len(words) < len(t.words) {
		return false
	}
	for i, want := range t.words {
		word, mark := bareWord(words[i])
		if !slices.Contains(singulars(word), want) || mark != "" && i < len(t.words)-1 {
			return false
		}
	}
	return true
}

// singulars lists what a word may be the plural of, itself first.
func singulars(word string) []string {
	all := []string{word}
	if one, is := strings.CutSuffix(word, "s"); is {
		all = append(all, one)
	}
	if one, is := strings.CutSuffix(word, "es"); is {
		all = append(all, one)
	}
	return all
}

// bareWord parts a word from the punctuation around it.
func bareWord(word string) (bare, behind string) {
	bare = strings.TrimLeft(word, "(«\"'¿¡")
	bare = strings.TrimRight(bare, ".,;:!?)»\"'")
	return bare, word[strings.Index(word, bare)+len(bare):]
}

// plainSpanish is small letters without accents.
func plainSpanish(text string) string {
	return withoutAccents.Replace(strings.ToLower(text))
}

var withoutAccents = strings.NewReplacer("á", "a", "é", "e", "í", "i", "ó", "o", "ú", "u", "ü", "u", "ñ", "n")

func readTerms(text string) map[string][]term {
	table := map[string][]term{}
	for line := range strings.Lines(text) {
		forms, english, is := strings.Cut(strings.TrimSpace(line), " = ")
		if !is || strings.HasPrefix(line, "#") {
			continue
		}
		for form := range strings.SplitSeq(forms, "|") {
			words := strings.Fields(form)
			table[words[0]] = append(table[words[0]], term{words, english})
		}
	}
	return table
}
