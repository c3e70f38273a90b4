package design

import (
	"fmt"
	"slices"
	"strconv"
)

// Codes draws three-digit codes for cups and plates, none twice.
//
// A code must tell an assessor nothing, so those that say something are never drawn
// (the rule of blind three-digit codes is that of sensory analysis, ISO 6658; what
// else says something is common practice, no source):
//
//   - none begins with 0, which gets lost in a spreadsheet, and none ends in 0, which
//     looks like an amount or a mark on an oven's dial;
//   - no digit stands twice (111, 100, 141 are told apart at a glance and remembered);
//   - the digits do not go up or down in equal steps (123, 864, and with them the
//     lines of a keypad: 147, 159);
//   - it is not one of the numbers that mean something to many people: emergency
//     numbers, luck, dates, prices (see meaningful).
//
// It is an error to ask for more than [MostCodes].
func Codes(n int, seed Seed) ([]string, error) {
	usable := usableCodes()
	if n < 0 || n > len(usable) {
		return nil, fmt.Errorf("%d codes are needed, and only %d can be told apart and say nothing", n, len(usable))
	}
	seed.rand().Shuffle(len(usable), func(i, j int) { usable[i], usable[j] = usable[j], usable[i] })
	return usable[:n:n], nil
}

// MostCodes is how many codes one plan can have.
func MostCodes() int { return len(usableCodes()) }

// usableCodes lists all codes that may be drawn, in order.
func usableCodes() []string {
	var codes []string
	for n := 100; n <= 999; n++ {
		if code := strconv.Itoa(n); saysNothing(code) {
			codes = append(codes, code)
		}
	}
	return codes
}

// saysNothing reports whether a code may be drawn.
func saysNothing(code string) bool {
	a, b, c := code[0], code[1], code[2]
	switch {
	case a == '0', c == '0':
		return false
	case a == b, b == c, a == c:
		return false
	case int(b)-int(a) == int(c)-int(b):
		return false
	}
	return !slices.Contains(meaningful(), code)
}

// meaningful are numbers that carry a meaning and are not ruled out by their
// digits. From memory; a list like this is never complete.
func meaningful() []string {
	return []string{
		"102", "103", "104", "105", "106", "107", "108", "109", // emergency numbers in many countries
		"192", "193", "194", // emergency numbers in Brazil and elsewhere
		"187", "419", // names of crimes
		"168", "518", "786", // luck and faith
		"247", "314", "365", // always, a number's first digits, a year
		"325", "375", "425", "475", // marks on an oven's dial, °F
		"199", "299", "399", "499", "599", "699", "799", "899", // prices
		"401", "403", "502", "503", // what a page that is not there says
		"451", "501", "512", "747", "911",
	}
}
