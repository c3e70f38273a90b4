// Package house holds the tests of the house plan, and no code that anything
// runs: which room may import which, what is banned outside which room, how long
// a file or a function may be, what may lie at the top level, and that every
// package says what it is.
//
// The plan itself is text: the tables in DEVELOPERS.md for rooms and libraries,
// the tables in rules_test.go for bans and their exceptions. The tests compare
// it with the code as it is written, for every operating system at once. Each
// check is also run on a small bad tree (testdata), so that it has been seen to
// fail. It judges form only: whether a room does its job is for that room's tests.
package house
