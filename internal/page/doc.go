// Package page says how one thing looks: it turns a view of a write-up, a
// recipe, an archive into the bytes of an HTML page.
//
// A view holds what a reader will read, ready made: strings with their units and
// rounding done, and template.HTML where HTML was made by another room (prose,
// figures, highlighted source). The package refuses to compute: it knows no
// quantity, no statistics, no files and no clock, and it decides nothing but
// order, markup and the fixed words around what it is given.
//
// Every string of a view is escaped for where it stands. Only fields of type
// template.HTML are trusted; who fills them answers for them.
package page
