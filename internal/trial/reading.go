package trial

import (
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/tabular"
)

// reading reads one cell of a measure. A cell that cannot be read is reported and
// counts as missing.
func (r *reader) reading(m Measure, c tabular.Cell) Reading {
	reading := Reading{Missing: c.Text == "", Place: c.Place}
	if reading.Missing {
		return reading
	}
	if m.Kind == Time && c.Doubt != "" {
		r.problems.Hinted(c.Place, problem.UnsureTime, "type 0:01:10 for 1 min 10 s, or let the cell show its seconds",
			"%s: %s", m.Name, c.Doubt)
		reading.Missing = true
		return reading
	}
	value, what, hint := r.value(m, c.Text)
	if what != "" {
		r.problems.Hinted(c.Place, problem.BadReading, hint, "%s: %s", m.Name, what)
		reading.Missing = true
		return reading
	}
	reading.Value = value
	return reading
}

// value turns a cell into a number of the measure's base unit. What says what is
// wrong, or is empty.
func (r *reader) value(m Measure, text string) (value quantity.Number, what, hint string) {
	switch {
	case m.Kind.IsShare():
		return r.shareValue(m, text)
	case m.Kind == Score, m.Kind == Rank, m.Kind == Number:
		return r.plainValue(m, text)
	}
	return r.measuredValue(m, text)
}

func (r *reader) shareValue(m Measure, text string) (value quantity.Number, what, hint string) {
	yes, no := shareWords(r.kitchen.Language)
	word := strings.ToLower(text)
	switch {
	case slices.Contains(yes, word):
		return quantity.Int(1), "", ""
	case slices.Contains(no, word):
		return quantity.Int(0), "", ""
	}
	hint = "write pass or fail, yes or no"
	if near := problem.Nearest(word, append(yes, no...)); near != "" && len(word) > 2 {
		hint = "did you mean " + near + "?"
	}
	return value, quote(text) + " is neither " + string(m.Kind), hint
}

// shareWords are the words for pass and yes, fail and no: those of English, which
// logs everywhere use, and of the kitchen's language.
func shareWords(language string) (yes, no []string) {
	yes = []string{"pass", "passed", "yes", "y", "true", "1", "✓", "✔", "ok"}
	no = []string{"fail", "failed", "no", "n", "false", "0", "✗", "✘", "x"}
	if strings.HasPrefix(language, "es") {
		yes = append(yes, "sí", "si", "s", "pasa", "apto", "bien", "verdadero")
		no = append(no, "falla", "no apto", "mal", "falso")
	}
	return yes, no
}

func (r *reader) plainValue(m Measure, text string) (value quantity.Number, what, hint string) {
	value, err := quantity.ParseNumber(text)
	if err != nil {
		return value, quote(text) + " is not a number", hintOf(err)
	}
	if m.Kind == Rank && (!value.IsInt() || value.Sign() <= 0) {
		return value, quote(text) + " is no rank", "ranks are 1, 2, 3 …"
	}
	outside := value.Cmp(quantity.Int(int64(m.From))) < 0 || value.Cmp(quantity.Int(int64(m.To))) > 0
	if m.Kind == Score && outside {
		return value, quote(text) + " is off the scale", "the scale runs from " + quantity.Int(int64(m.From)).String() +
			" to " + quantity.Int(int64(m.To)).String()
	}
	return value, "", ""
}

func (r *reader) measuredValue(m Measure, text string) (value quantity.Number, what, hint string) {
	amount, err := r.measuredAmount(m, text)
	if err != nil {
		return value, quote(text) + " is not a " + string(m.Kind), hintOf(err)
	}
	dimension, _ := m.Kind.dimension()
	if amount.Dimension() != dimension {
		return value, quote(text) + " is not a " + string(m.Kind), ""
	}
	if amount.IsRange() || amount.IsToTaste() {
		return value, quote(text) + " is not one reading", "write what the instrument showed"
	}
	value, _ = amount.Base()
	if value.Sign() < 0 && m.Kind != Temperature {
		return value, quote(text) + " is below nothing", ""
	}
	return value, "", ""
}

// measuredAmount reads an amount; a number alone is in the measure's own unit.
func (r *reader) measuredAmount(m Measure, text string) (quantity.Amount, error) {
	if number, err := quantity.ParseNumber(text); err == nil {
		return quantity.New(number, m.In), nil
	}
	if m.Kind == Time {
		return quantity.ParseTime(text)
	}
	return quantity.Parse(text, r.kitchen.Instruments.Volumes)
}

func hintOf(err error) string {
	if syntax, ok := err.(*quantity.SyntaxError); ok {
		return syntax.Hint
	}
	return ""
}

func quote(text string) string {
	const longest = 40
	if short := []rune(text); len(short) > longest {
		text = string(short[:longest]) + "…"
	}
	return "“" + text + "”"
}

// CheckReading says what is wrong with a text as a reading of the measure in a log
// of that kitchen, and what was probably meant; nothing where it can be read.
func (m Measure) CheckReading(text string, k kitchen.Kitchen) (what, hint string) {
	r := &reader{kitchen: k}
	_, what, hint = r.value(m, text)
	return what, hint
}
