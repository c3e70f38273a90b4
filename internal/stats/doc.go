// Package stats holds the statistics of small samples: intervals, exact tests,
// power, and the pooling of blocks. It is written for counts like six of six and
// panels of eight, where approximations for large samples mislead.
//
// Exact tests count arrangements in whole numbers and report the count beside
// the probability. Readings are compared as the decimals that were written down,
// not as binary fractions, so that 4.1 − 3.6 and 0.5 are the same.
//
// The package refuses to know kitchens, to drop readings, to choose a test after
// looking at the data, and to answer with NaN: input that has no answer gives an
// error, or false where nothing is wrong with the input but the quantity is not
// defined for it. Inputs are never changed.
//
// Everywhere a level is the confidence of an interval (0.95), alpha the size of
// a test (0.05), "less" means that the first sample lies below the second, and a
// difference is the first sample minus the second.
package stats
