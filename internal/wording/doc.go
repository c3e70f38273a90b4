// Package wording holds the words of one language: the fixed sentences that pages,
// findings and feeds are made of, with their forms for one and for many, months,
// and how numbers are written.
//
// It knows no trial and composes nothing of its own accord: what is said is decided
// by whoever asks for a phrase, and by the words file of the theme (words/en.json).
package wording
