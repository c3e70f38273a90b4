// Package bench makes what is printed for the counter and the table: the bench
// sheet with its blank log, and for a tasting the ballots, the pouring list and the
// key; and it reads ballots that were filled in back into logs.
//
// It computes nothing that is not order or wording: amounts come from the trial,
// codes and orders from design, the numbers about panels from stats. It opens and
// writes no file; who calls it does.
package bench
