package quantity

import (
	"cmp"
	"strings"
)

// Notation is how a language writes amounts. The zero value is English.
type Notation struct {
	// Decimal parts whole from broken. Empty means a point.
	Decimal string
	// To stands between two bounds where a dash beside a minus could not be read.
	// Empty means "to".
	To string
	// Of stands between an amount with a unit and what it is of: "2 tazas de harina". Empty
	// means nothing, as in English.
	Of string
	// ToTaste stands for an amount that nobody measures. Empty means "to taste".
	ToTaste string
	// Symbols are the units' short forms by their English ones, singular and plural
	// ("cup", "cups"). A unit that is absent keeps its own.
	Symbols map[string]string
}

// Mark puts the language's decimal mark into a number that was written with a point.
func (n Notation) Mark(number string) string {
	if n.Decimal == "" {
		return number
	}
	return strings.Replace(number, ".", n.Decimal, 1)
}

// Symbol is the language's short form of a unit.
func (n Notation) Symbol(english string) string { return cmp.Or(n.Symbols[english], english) }

// Between writes two bounds: with a dash, or a word where the lower one is below zero.
func (n Notation) Between(low, high string, below bool) string {
	if below {
		return low + " " + cmp.Or(n.To, "to") + " " + high
	}
	return low + "–" + high
}

func (n Notation) toTaste() string { return cmp.Or(n.ToTaste, taste) }
