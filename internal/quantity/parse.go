package quantity

import (
	"errors"
	"strings"
	"unicode"
)

// Parse reads a text that is an amount and nothing else:
//
//	amount = "to taste" | sum [ dash sum ]
//	sum    = term { [ "+" ] term }
//	term   = number [ unit ]
//	dash   = "–" | "-" | "to"
//
// as in 300 g, 2½ cups, 20–25 °C, 2 to 3, 45 min to 1 h, 1 lb 5.2 oz, 1 cup + 1
// tbsp. The terms of a sum are of one kind and fall in size unless a plus stands
// between them; the sum is in its smallest unit. v says what a bare tsp, cup or pint
// means. Only temperatures and differences go below zero. The error is a
// [*SyntaxError].
func Parse(s string, v Volumes) (Amount, error) {
	p, err := newParser(s, v)
	if err != nil {
		return Amount{}, err
	}
	if isTaste(p.rest()) {
		return ToTaste(), nil
	}
	a, err := p.amount()
	if err != nil {
		return Amount{}, err
	}
	if p.skipSpace(); !p.done() {
		return Amount{}, p.surplus()
	}
	return a, nil
}

// ParseLeading reads the amount at the start of a text and returns what follows it:
// "300 g all-purpose flour" is 300 g and "all-purpose flour"; "2 large eggs" is 2
// and "large eggs". "Of" after a unit and a comma after the amount are dropped.
// "Salt, to taste", "salt to taste" and "to taste salt" are to taste and "salt".
//
// A unit nobody knows cannot be told from a food here: "3 grm flour" is 3
// and "grm flour". Ask [LooksLikeUnit] about the first word when the food is unknown.
// The error is a [*SyntaxError].
func ParseLeading(s string, v Volumes) (a Amount, rest string, err error) {
	p, err := newParser(s, v)
	if err != nil {
		return Amount{}, "", err
	}
	if food, ok := cutTaste(p.rest()); ok && !p.startsNumber(0) {
		return ToTaste(), food, nil
	}
	if a, err = p.amount(); err != nil {
		return Amount{}, "", err
	}
	if err := p.checkRest(a); err != nil {
		return Amount{}, "", err
	}
	return a, p.rest(), nil
}

const taste = "to taste"

func isTaste(s string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(s), " "), taste)
}

// cutTaste takes "to taste" from the start or the end of a text.
func cutTaste(s string) (food string, ok bool) {
	fields := strings.Fields(s)
	n := len(fields)
	if n < 2 {
		return s, false
	}
	isTo := func(i int) bool { return strings.EqualFold(fields[i], "to") }
	bare := func(word string) string { return strings.ToLower(strings.Trim(word, ",;:")) }
	switch {
	case isTo(0) && bare(fields[1]) == "taste":
		food = strings.Join(fields[2:], " ")
	case isTo(n-2) && bare(fields[n-1]) == "taste":
		food = strings.Join(fields[:n-2], " ")
	default:
		return s, false
	}
	return strings.Trim(food, " ,;:"), true
}

// parser reads amounts.
type parser struct {
	*scanner
	volumes Volumes
}

// term is a number with the unit behind it, or none.
type term struct {
	n       Number
	unit    Unit
	hasUnit bool
	start   int
}

func newParser(s string, v Volumes) (*parser, error) {
	sc, err := newScanner(s)
	if err != nil {
		return nil, err
	}
	p := &parser{scanner: sc, volumes: v}
	if p.done() {
		return nil, p.fail(0, "no amount", "write a number and a unit, or to taste")
	}
	return p, nil
}

// amount reads a sum or a range of two.
func (p *parser) amount() (Amount, error) {
	low, err := p.sum()
	if err != nil {
		return Amount{}, err
	}
	dash := p.at
	ranged, err := p.dash()
	if err != nil {
		return Amount{}, err
	}
	if !ranged {
		return New(low.n, low.unit), p.checkTerm(low)
	}
	high, err := p.sum()
	if err != nil {
		return Amount{}, err
	}
	return p.between(low, high, dash)
}

// between joins two sums to a range. A lower bound without a unit has that of the upper one.
func (p *parser) between(low, high term, dash int) (Amount, error) {
	if !low.hasUnit {
		low.unit = high.unit
	}
	if low.hasUnit && !high.hasUnit {
		return Amount{}, p.fail(high.start, "a range whose end has no unit", "write it after the last number")
	}
	if low.unit.Dimension() != high.unit.Dimension() {
		return Amount{}, p.fail(high.start, "a range from "+low.unit.Dimension().String()+" to "+high.unit.Dimension().String(), "")
	}
	for _, t := range []term{low, high} {
		if err := p.checkTerm(t); err != nil {
			return Amount{}, err
		}
	}
	u := smaller(low.unit, high.unit)
	from, to := New(low.n, low.unit).in(u).low, New(high.n, high.unit).in(u).low
	if to.Less(from) {
		hint := "write the smaller number first"
		if low.n.IsInt() && high.n.Cmp(Int(1)) < 0 && high.n.Sign() > 0 {
			hint = "a mixed number? write " + low.n.String() + " " + high.n.rat().String()
		}
		return Amount{}, p.fail(dash, "a range that falls", hint)
	}
	for _, n := range []Number{from, to} {
		if err := p.checkTerm(term{n: n, unit: u, start: high.start}); err != nil {
			return Amount{}, err
		}
	}
	return Between(from, to, u), nil
}

func smaller(a, b Unit) Unit {
	if b.row().factor.Less(a.row().factor) {
		return b
	}
	return a
}

// checkTerm refuses what is below zero and cannot be, and what came out of a sum or
// another unit with more digits than an amount may have.
func (p *parser) checkTerm(t term) error {
	d := t.unit.Dimension()
	if t.n.Sign() < 0 && d != Temperature && d != TemperatureDifference {
		return p.fail(t.start, "a "+d.String()+" below zero", "")
	}
	if !t.n.short() {
		return p.fail(t.start, "more digits than can be written", "use one unit")
	}
	return nil
}

// dash moves over the sign of a range when a number follows it.
func (p *parser) dash() (bool, error) {
	start := p.at
	p.skipSpace()
	switch {
	case p.peek(0) == '–' || p.peek(0) == '-':
		p.at++
	case p.peek(0) == '−' || p.peek(0) == '—':
		spaces := 1
		for unicode.IsSpace(p.peek(spaces)) {
			spaces++
		}
		if p.startsNumber(spaces) {
			return false, p.fail(p.at, "a minus or a long dash between two numbers", "a range? write 20–25 or 20 to 25")
		}
	case p.word("to") && p.at > start:
		p.at += len("to")
	}
	mark := p.at
	p.skipSpace()
	if mark == start || !p.startsNumber(0) || !p.marked(start, mark) {
		p.at = start
		return false, nil
	}
	return true, nil
}

// marked tells whether more than spaces stands between two places.
func (p *parser) marked(from, to int) bool {
	return strings.TrimSpace(string(p.runes[from:to])) != ""
}

// word tells whether that lower-case word stands here, in any case, on its own.
func (p *parser) word(w string) bool {
	i := 0
	for _, r := range w {
		if unicode.ToLower(p.peek(i)) != r {
			return false
		}
		i++
	}
	return !unicode.IsLetter(p.peek(i)) && !isDigit(p.peek(i)) && p.peek(i) != '-'
}

// sum reads one term or several of one kind, added up in the smallest unit.
func (p *parser) sum() (term, error) {
	total, err := p.term()
	if err != nil || !total.hasUnit {
		return total, err
	}
	for {
		back := p.at
		plus := p.plus()
		next, ok, err := p.nextTerm(total, plus)
		if err != nil {
			return term{}, err
		}
		if !ok {
			p.at = back
			return total, nil
		}
		u := smaller(total.unit, next.unit)
		total.n = New(total.n, total.unit).in(u).low.Add(New(next.n, next.unit).in(u).low)
		total.unit = u
	}
}

func (p *parser) plus() bool {
	p.skipSpace()
	switch {
	case p.peek(0) == '+':
		p.at++
	case p.word("plus"):
		p.at += len("plus")
	default:
		return false
	}
	p.skipSpace()
	return true
}

// nextTerm reads a further term of a sum. Without a plus it has to be a smaller unit of the
// same kind, else it belongs to what follows the amount.
func (p *parser) nextTerm(total term, plus bool) (term, bool, error) {
	start := p.at
	if isMinus(p.peek(0)) || !p.startsNumber(0) {
		if plus {
			return term{}, false, p.fail(start, "no amount after the plus", "")
		}
		return term{}, false, nil
	}
	next, err := p.term()
	if err != nil || !next.hasUnit {
		if plus && err == nil {
			err = p.fail(start, "no unit after the plus", "")
		}
		// Without a plus this may be the food: 00 flour, 70 % chocolate. A unit that
		// puzzles is no food.
		if bad := (*SyntaxError)(nil); !plus && errors.As(err, &bad) && bad.Word == "" {
			err = nil
		}
		return term{}, false, err
	}
	d := next.unit.Dimension()
	if d == Temperature || d != total.unit.Dimension() {
		return term{}, false, p.fail(start, "two amounts, a "+total.unit.Dimension().String()+" and a "+d.String(), "write one of them")
	}
	if !plus && !next.unit.row().factor.Less(total.unit.row().factor) {
		return term{}, false, p.fail(start, "two amounts", "a sum? write + between them")
	}
	return next, true, nil
}

// term reads a number and its unit.
func (p *parser) term() (term, error) {
	t := term{start: p.at}
	var err error
	if t.n, err = p.number(); err != nil {
		return term{}, err
	}
	t.unit, t.hasUnit, err = p.unit()
	return t, err
}

// checkRest refuses what cannot be the name of a food.
func (p *parser) checkRest(a Amount) error {
	for p.skipSpace(); p.peek(0) == ',' || p.peek(0) == ';'; p.skipSpace() {
		p.at++
	}
	if a.unit != Each && p.word("of") {
		p.at += len("of")
		p.skipSpace()
	}
	first := p.peek(0)
	switch {
	case p.done() || unicode.IsLetter(first) || first == '"' || first == '“' || first == '‘' || first == '\'':
	case first == '(':
		return p.fail(p.at, "brackets after the amount", "write one amount, the total: 400 g beans")
	case isDigit(first):
		if err := p.secondAmount(); err != nil {
			return err
		}
		if a.unit == Each { // 1 000 g, or 2 70 % bars
			return p.fail(p.at, "two numbers", "one amount: the total of them")
		}
	case first == '-':
		return p.fail(p.at, "a hyphen after the number", "write a space before the unit")
	default:
		return p.fail(p.at, "unexpected "+quote(string(first))+" after the amount", "")
	}
	if food, ok := cutTaste(p.rest()); ok {
		return p.fail(p.at, "an amount and to taste", "write the amount of "+food+", or to taste")
	}
	return nil
}

// secondAmount refuses "14 oz cans" behind a number, but not "00 flour" or "2 % milk".
func (p *parser) secondAmount() error {
	start := p.at
	second, err := p.term()
	p.at = start
	if err == nil && second.hasUnit {
		return p.fail(start, "a second amount", "write one amount, the total")
	}
	return nil
}

// surplus explains what is left behind an amount that should have been everything.
func (p *parser) surplus() error {
	word, end := p.wordAt(p.at)
	if end == p.at || !unicode.IsLetter(p.runes[p.at]) {
		return p.fail(p.at, "more than an amount: "+quote(p.rest()), "")
	}
	err := p.fail(p.at, "unknown unit "+quote(word), "")
	err.Word = word
	if near, ok := LooksLikeUnit(word); ok {
		err.Hint = "did you mean " + near + "?"
	}
	return err
}
