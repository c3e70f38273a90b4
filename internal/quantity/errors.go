package quantity

import "fmt"

// SyntaxError says why a text is no number or no amount. Rooms that know the
// file add its position to the offset.
type SyntaxError struct {
	Input  string // the text as it was handed in
	Offset int    // where the trouble starts, in runes of Input, from 0
	What   string // what is wrong: no capital, no full stop
	Hint   string // what was probably meant, or ""
	Word   string // the unit word that nobody knows, or "" when the trouble is another
}

// Error returns what is wrong with the hint in brackets.
func (e *SyntaxError) Error() string {
	if e.Hint == "" {
		return e.What
	}
	return e.What + " (" + e.Hint + ")"
}

// DimensionError says that an amount cannot be had in a unit of another kind.
type DimensionError struct {
	From, To Unit
}

// Error names both kinds.
func (e *DimensionError) Error() string {
	return fmt.Sprintf("%s is a unit of %s, %s of %s",
		e.From.Name(), e.From.Dimension(), e.To.Name(), e.To.Dimension())
}
