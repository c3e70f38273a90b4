// Package food answers what a named ingredient is: its row in a public food
// table, what a cup or a piece of it weighs, what it holds per 100 g, which
// allergens its name points to, and where all that comes from.
//
// The figures are those of the USDA National Nutrient Database for Standard
// Reference, Release 28 (2015), without its branded, fast-food and infant rows;
// the everyday names and the allergen rules are the project's own. data/SOURCES.md
// says what was done to the release and how far to trust it.
//
// Everything is embedded, and opened at the first question only: a program that
// asks nothing pays nothing.
//
// What it refuses to do:
//
//   - It does not guess. [Find] knows whole names and nothing else; [Nearest] gives
//     candidates to show to a person, never an answer to compute with.
//   - It does not fill gaps. A nutrient that the publisher did not report stays
//     unreported: it is never 0 (see [Value]).
//   - It does not replace the label of the package in hand. Allergen rules read
//     names (see [Notice]), and some fats of the table are no longer sold
//     (see [DatedFat]).
//   - It does not know what cooking does: rows are added up raw, water loss is
//     measured by the cook.
package food
