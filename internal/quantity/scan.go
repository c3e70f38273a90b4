package quantity

import (
	"strconv"
	"strings"
	"unicode"
)

// Limits of what is read. They keep every number small before it becomes exact
// arithmetic, where a short text such as 1e4000 could otherwise grow without bound.
const (
	maxInput    = 200 // runes in a text
	maxDigits   = 12  // digits before the point, in a numerator, in a denominator
	maxDecimals = 9   // digits after the point
)

// ParseNumber reads a number: 3, 010 (which is ten), 1.10, .5, 1/2, 2 1/2, ½, 2½,
// 2 ½, each with an optional minus (- or −). The whole text must be the number. A
// comma, an exponent and a digit separator are errors; so are more than
// 12 digits before the point or 9 after it. The error is a [*SyntaxError].
func ParseNumber(s string) (Number, error) {
	sc, err := newScanner(s)
	if err != nil {
		return Number{}, err
	}
	n, err := sc.number()
	if err != nil {
		return Number{}, err
	}
	if sc.skipSpace(); !sc.done() {
		return Number{}, sc.fail(sc.at, "more than a number: "+quote(sc.rest()), "")
	}
	return n, nil
}

// scanner walks over a text rune by rune.
type scanner struct {
	in    string
	runes []rune
	at    int
}

func newScanner(s string) (*scanner, error) {
	// A rune has at most four bytes, so that the bytes bound the work before any is done.
	if len(s) > 4*maxInput || len([]rune(s)) > maxInput {
		return nil, &SyntaxError{Input: s, Offset: maxInput, What: "longer than " + strconv.Itoa(maxInput) + " characters"}
	}
	sc := &scanner{in: s, runes: []rune(s)}
	sc.skipSpace()
	return sc, nil
}

func (sc *scanner) fail(offset int, what, hint string) *SyntaxError {
	return &SyntaxError{Input: sc.in, Offset: offset, What: what, Hint: hint}
}

func (sc *scanner) done() bool { return sc.at >= len(sc.runes) }

func (sc *scanner) rest() string { return strings.TrimSpace(string(sc.runes[sc.at:])) }

// peek returns the rune i places ahead, or 0 past the end.
func (sc *scanner) peek(i int) rune {
	if sc.at+i >= len(sc.runes) || sc.at+i < 0 {
		return 0
	}
	return sc.runes[sc.at+i]
}

func (sc *scanner) skipSpace() {
	for !sc.done() && unicode.IsSpace(sc.peek(0)) {
		sc.at++
	}
}

func isDigit(r rune) bool { return '0' <= r && r <= '9' }
func isMinus(r rune) bool { return r == '-' || r == '−' }
func isSlash(r rune) bool { return r == '/' || r == '⁄' }

// startsNumber tells whether a number stands i places ahead.
func (sc *scanner) startsNumber(i int) bool {
	if isMinus(sc.peek(i)) {
		i++
	}
	if sc.peek(i) == '.' {
		return isDigit(sc.peek(i + 1))
	}
	_, glyph := valueOf(sc.peek(i))
	return glyph || isDigit(sc.peek(i))
}

// number reads one number and leaves the scanner right behind it.
func (sc *scanner) number() (Number, error) {
	start := sc.at
	if !sc.startsNumber(0) {
		return Number{}, sc.fail(start, "no number", sc.hintNoNumber())
	}
	negative := isMinus(sc.peek(0))
	if negative {
		sc.at++
	}
	n, err := sc.magnitude()
	if err != nil {
		return Number{}, err
	}
	if err := sc.endOfNumber(start); err != nil {
		return Number{}, err
	}
	if negative {
		n = n.Neg()
	}
	return n, nil
}

func (sc *scanner) hintNoNumber() string {
	rest := strings.ToLower(sc.rest())
	for _, word := range []string{"about", "ca", "circa", "approx", "~"} {
		if strings.HasPrefix(rest, word) && len(rest) > len(word) {
			return "leave out " + quote(word) + ": write the number"
		}
	}
	if strings.HasPrefix(rest, "a ") || strings.HasPrefix(rest, "an ") {
		return "write 1"
	}
	return "an amount starts with a number such as 2, 2.5, 2 1/2 or ½"
}

// magnitude reads a number without its sign.
func (sc *scanner) magnitude() (Number, error) {
	if v, ok := valueOf(sc.peek(0)); ok {
		sc.at++
		return v, nil
	}
	start := sc.at
	whole, err := sc.digits(maxDigits)
	if err != nil {
		return Number{}, err
	}
	switch {
	case sc.peek(0) == '.' && isDigit(sc.peek(1)):
		return sc.decimals(whole)
	case isSlash(sc.peek(0)):
		return sc.fraction(whole)
	default:
		return sc.mixed(start, whole)
	}
}

// digits reads a run of digits, none of which is 0.
func (sc *scanner) digits(limit int) (Number, error) {
	start := sc.at
	for isDigit(sc.peek(0)) {
		sc.at++
	}
	if sc.at == start {
		return Number{}, nil
	}
	if sc.at-start > limit {
		return Number{}, sc.fail(start, "a number of more than "+strconv.Itoa(limit)+" digits", "")
	}
	v, err := strconv.ParseInt(string(sc.runes[start:sc.at]), 10, 64)
	if err != nil {
		return Number{}, sc.fail(start, "not a number", "")
	}
	return Int(v), nil
}

func (sc *scanner) decimals(whole Number) (Number, error) {
	sc.at++ // the point
	start := sc.at
	part, err := sc.digits(maxDecimals)
	if err != nil {
		return Number{}, sc.fail(start, "more than "+strconv.Itoa(maxDecimals)+" digits after the point", "")
	}
	scale := int64(1)
	for range sc.at - start {
		scale *= 10
	}
	return whole.Add(part.over(Int(scale))), nil
}

func (sc *scanner) fraction(num Number) (Number, error) {
	sc.at++ // the slash
	start := sc.at
	if !isDigit(sc.peek(0)) {
		return Number{}, sc.fail(start, "no number under the fraction", "write 1/2")
	}
	den, err := sc.digits(maxDigits)
	if err != nil {
		return Number{}, err
	}
	q, ok := num.Quo(den)
	if !ok {
		return Number{}, sc.fail(start, "a fraction over 0", "")
	}
	return q, nil
}

// mixed reads what may follow a whole number: ½, or a space and 1/2.
func (sc *scanner) mixed(start int, whole Number) (Number, error) {
	end := sc.at
	sc.skipSpace()
	if v, ok := valueOf(sc.peek(0)); ok {
		sc.at++
		return whole.Add(v), nil
	}
	if sc.at == end || !sc.fractionAhead() {
		sc.at = end
		return whole, nil
	}
	num, err := sc.digits(maxDigits)
	if err != nil {
		return Number{}, err
	}
	part, err := sc.fraction(num)
	if err != nil {
		return Number{}, err
	}
	if part.Cmp(Int(1)) >= 0 {
		return Number{}, sc.fail(start, "a whole number and a fraction that is not below one", "write "+whole.Add(part).String())
	}
	return whole.Add(part), nil
}

// fractionAhead tells whether digits and a slash come next.
func (sc *scanner) fractionAhead() bool {
	i := 0
	for isDigit(sc.peek(i)) {
		i++
	}
	return i > 0 && isSlash(sc.peek(i))
}

// endOfNumber refuses what cannot stand right behind a number.
func (sc *scanner) endOfNumber(start int) error {
	next, after := sc.peek(0), sc.peek(1)
	switch {
	case next == ',' && isDigit(after):
		return sc.comma(start)
	case next == '.' && isDigit(after), isSlash(next), next == '_', isDigit(next):
		return sc.fail(sc.at, "a number that goes on with "+quote(string(next)), "")
	case next == '.' && (after == 0 || unicode.IsSpace(after)):
		return sc.fail(sc.at, "a point with no digits after it", "write "+string(sc.runes[start:sc.at]))
	case (next == 'e' || next == 'E') && (isDigit(after) || (isMinus(after) || after == '+') && isDigit(sc.peek(2))):
		return sc.fail(sc.at, "a number with an exponent", "write it out")
	case (next == 'x' || next == 'X') && sc.peek(-1) == '0' && isDigit(after):
		return sc.fail(sc.at, "a number in another base than ten", "")
	}
	if _, glyph := valueOf(next); glyph {
		return sc.fail(sc.at, "a number that goes on with "+quote(string(next)), "")
	}
	return nil
}

// comma asks what the comma in a number means.
func (sc *scanner) comma(start int) error {
	before := string(sc.runes[start:sc.at])
	i := 1
	for isDigit(sc.peek(i)) {
		i++
	}
	after := string(sc.runes[sc.at+1 : sc.at+i])
	hint := "decimal comma? write " + before + "." + after
	if len(after) == 3 {
		hint = "write " + before + after + ", or " + before + "." + after + " if it is a decimal comma"
	}
	return sc.fail(sc.at, "a comma in a number", hint)
}

func quote(s string) string { return strconv.Quote(s) }
