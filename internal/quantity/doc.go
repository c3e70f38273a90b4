// Package quantity is the arithmetic of the kitchen: exact numbers, units,
// amounts, and the rounding that turns an amount into something a cook can
// measure.
//
// A [Number] is an exact rational. An [Amount] is a number, or a range of
// numbers, of a [Unit], or "to taste". Amounts are read by [Parse],
// [ParseLeading] and [ParseTime], computed with exactly, and rounded once, at
// the very end, by [Instruments.Show], which says what the rounding cost.
//
// What the package refuses to do:
//
//   - It does not guess. A comma in a number, a bare degree sign, a T that may
//     be a tablespoon or a slip for t: each is a [*SyntaxError] that asks.
//   - It does not turn floating-point numbers into amounts. A reading is text, and text is
//     exact.
//   - It does not mix kinds. Mass does not become volume (that takes a density,
//     and this package knows no food), and a temperature is not a temperature
//     difference: 20 °C doubled is not 40 °C.
//   - It does not print 0 for something that is in the recipe.
//
// Every value is immutable; the zero values are 0, and 0 of [Each].
package quantity
