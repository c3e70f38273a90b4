package food

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// fold writes s to dst the way names are compared: lower case, accents of Latin
// letters dropped, hyphens and white space as one space, no apostrophes, no
// space before a percent sign.
func fold(dst []byte, s string) []byte {
	start := len(dst)
	space := false
	for i, r := range s {
		if c := byte(r); r < utf8.RuneSelf && (c >= 'a' && c <= 'z' || c >= '0' && c <= '9') {
			if space {
				dst = append(dst, ' ')
				space = false
			}
			dst = append(dst, s[i])
			continue
		}
		switch {
		case r == '\'' || r == '’' || r == 'ʼ':
			continue
		case r == '-' || r == '_' || r == '‐' || r == '‑' || unicode.IsSpace(r):
			space = len(dst) > start
			continue
		}
		if space && r != '%' {
			dst = append(dst, ' ')
		}
		space = false
		if r >= utf8.RuneSelf {
			if plain := unaccented(r); plain != 0 {
				dst = append(dst, plain)
				continue
			}
		}
		dst = utf8.AppendRune(dst, unicode.ToLower(r))
	}
	return dst
}

// unaccented returns the plain letter of an accented Latin one, or 0.
func unaccented(r rune) byte {
	switch unicode.ToLower(r) {
	case 'à', 'á', 'â', 'ã', 'ä', 'å':
		return 'a'
	case 'ç':
		return 'c'
	case 'è', 'é', 'ê', 'ë':
		return 'e'
	case 'ì', 'í', 'î', 'ï':
		return 'i'
	case 'ñ':
		return 'n'
	case 'ò', 'ó', 'ô', 'õ', 'ö':
		return 'o'
	case 'ù', 'ú', 'û', 'ü':
		return 'u'
	}
	return 0
}

func folded(s string) string { return string(fold(make([]byte, 0, 64), s)) }

// stems cuts text into its words, each folded and in the singular, without
// filler words and without what stands in parentheses.
func stems(text string) []string {
	var out []string
	for _, word := range words(withoutAsides(text)) {
		if !filler(word) {
			out = append(out, singular(word))
		}
	}
	return out
}

// words cuts text into runs of letters and digits, folded.
func words(text string) []string {
	return strings.FieldsFunc(folded(text), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
}

// withoutAsides drops what stands in parentheses.
func withoutAsides(text string) string {
	if !strings.Contains(text, "(") {
		return text
	}
	var b strings.Builder
	depth := 0
	for _, r := range text {
		switch {
		case r == '(':
			depth++
		case r == ')' && depth > 0:
			depth--
			b.WriteByte(' ')
		case depth == 0:
			b.WriteRune(r)
		}
	}
	return b.String()
}

func filler(word string) bool {
	return slices.Contains([]string{"a", "an", "and", "of", "or", "the", "in", "with", "for", "from", "as"}, word)
}

// singular undoes an English plural: eggs, berries, potatoes, leaves, radishes.
// It is for comparing words with each other, not for show: what it makes of a
// word in the singular is the same every time.
func singular(word string) string {
	n := len(word)
	switch {
	case n < 4 || !strings.HasSuffix(word, "s"):
		return word
	case strings.HasSuffix(word, "ss"), strings.HasSuffix(word, "us"), strings.HasSuffix(word, "is"):
		return word
	case strings.HasSuffix(word, "ies") && n > 4:
		return word[:n-3] + "y"
	case word == "leaves" || word == "halves" || word == "loaves":
		return word[:n-3] + "f"
	case strings.HasSuffix(word, "oes"), strings.HasSuffix(word, "ches"), strings.HasSuffix(word, "shes"),
		strings.HasSuffix(word, "xes"), strings.HasSuffix(word, "sses"):
		return word[:n-2]
	}
	return word[:n-1]
}

// numbers returns the other numbers of a name's last word: its plurals when it
// looks like a singular, and the other way round.
func numbers(name string) []string {
	if name == "" || !unicode.IsLetter(rune(name[len(name)-1])) {
		return nil
	}
	cut := strings.LastIndexByte(name, ' ') + 1
	head, last := name[:cut], name[cut:]
	if one := singular(last); one != last {
		return []string{head + one}
	}
	many := []string{last + "s"}
	switch n := len(last); {
	case strings.HasSuffix(last, "s"), strings.HasSuffix(last, "x"), strings.HasSuffix(last, "ch"), strings.HasSuffix(last, "sh"):
		many = []string{last + "es"}
	case strings.HasSuffix(last, "o"):
		many = append(many, last+"es")
	case n > 1 && strings.HasSuffix(last, "y") && !strings.ContainsRune("aeiou", rune(last[n-2])):
		many = append(many, last[:n-1]+"ies")
	case last == "leaf" || last == "half" || last == "loaf":
		many = append(many, last[:n-1]+"ves")
	}
	for i := range many {
		many[i] = head + many[i]
	}
	return many
}
