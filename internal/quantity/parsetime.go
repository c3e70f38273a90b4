package quantity

import "strings"

// ParseTime reads a time and returns it in seconds: 40 and 40 s, 1:10 (minutes and
// seconds), 1:10:30 (hours, minutes, seconds), 1 min 10 s, 1.5 min, or a range of
// what [Parse] reads. The seconds after a colon have two digits and may have
// decimals. The error is a [*SyntaxError].
func ParseTime(s string) (Amount, error) {
	p, err := newParser(s, USCustomary)
	if err != nil {
		return Amount{}, err
	}
	if strings.ContainsRune(s, ':') {
		return p.clock()
	}
	a, err := Parse(s, USCustomary)
	if err != nil {
		return Amount{}, err
	}
	switch {
	case a.taste:
		return Amount{}, p.fail(p.at, "no time", "write 40, 1:10 or 1 min 10 s")
	case a.unit == Each:
		return Between(a.low, a.high, Second), nil
	case a.Dimension() != Time:
		return Amount{}, p.fail(p.at, "a "+a.Dimension().String()+", not a time", "write 40, 1:10 or 1 min 10 s")
	}
	a = a.in(Second)
	if !a.high.short() || !a.low.short() {
		return Amount{}, p.fail(p.at, "more seconds than can be written", "")
	}
	return a, nil
}

// clock reads fields with colons between them, the last of which is seconds.
func (p *parser) clock() (Amount, error) {
	total, fields := Number{}, 0
	for {
		start := p.at
		n, err := p.field(fields > 0)
		if err != nil {
			return Amount{}, err
		}
		if fields > 0 && n.Cmp(Int(60)) >= 0 {
			return Amount{}, p.fail(start, "60 or more after a colon", "")
		}
		total = total.Mul(Int(60)).Add(n)
		if fields++; p.peek(0) != ':' {
			break
		}
		if fields == 3 || !n.IsInt() {
			return Amount{}, p.fail(p.at, "one colon too many", "hours:minutes:seconds")
		}
		p.at++
	}
	if p.skipSpace(); !p.done() {
		return Amount{}, p.fail(p.at, "more than a time: "+quote(p.rest()), "")
	}
	if fields == 1 {
		return Amount{}, p.fail(p.at, "no time", "write 40, 1:10 or 1 min 10 s")
	}
	if !total.short() {
		return Amount{}, p.fail(0, "more seconds than can be written", "")
	}
	return New(total, Second), nil
}

// field reads digits, two of them after a colon, with decimals where they may stand.
func (p *parser) field(afterColon bool) (Number, error) {
	start := p.at
	whole, err := p.digits(maxDigits)
	if err != nil {
		return Number{}, err
	}
	switch n := p.at - start; {
	case n == 0:
		return Number{}, p.fail(start, "no digits beside the colon", "write 1:10")
	case afterColon && n != 2:
		return Number{}, p.fail(start, "not two digits after a colon", "write 1:05 for a minute and five seconds")
	}
	if afterColon && p.peek(0) == '.' && isDigit(p.peek(1)) {
		return p.decimals(whole)
	}
	return whole, nil
}
