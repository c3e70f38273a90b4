package draft

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

const (
	controlKey  = "as written" // of the control, where nobody names it
	mostSamples = 26
	longestKey  = 28 // of a sample that is named after its change
	changeForm  = `"water temperature: 98 °C", or "boiling: water temperature = 98 °C"`
)

// sample is a sample on its way.
type sample struct {
	key, name string
	like      string
	changes   []pair
	omit      []pair
	from      string
}

// change is one --change, parted.
type change struct {
	sample string // "" for one that makes a sample of its own
	like   string
	levels []pair // factor and level
	from   string
}

// samples turns names and changes into samples, the control first.
func (d *drafter) samples() {
	names, count := d.names()
	control := &sample{key: controlKey, name: "As written", from: d.wish.Samples.From}
	if len(names) > 0 {
		control = &sample{key: names[0], name: wording.Capital(names[0]), from: d.wish.Samples.From}
		names = names[1:]
	}
	d.samplesOf = []*sample{control}
	for _, name := range names {
		d.samplesOf = append(d.samplesOf, &sample{key: name, name: wording.Capital(name), from: d.wish.Samples.From})
	}
	free := d.samplesOf[1:] // named, and not yet changed
	for _, said := range d.wish.Changes {
		c, ok := d.change(said)
		if !ok {
			continue
		}
		free = d.apply(c, free)
	}
	for len(d.samplesOf) < count {
		letter := string(rune('A' + len(d.samplesOf)))
		d.samplesOf = append(d.samplesOf, &sample{key: "sample " + letter, name: "Sample " + letter, from: d.wish.Samples.From})
	}
	if count > 0 && len(d.samplesOf) > count {
		d.wrong(d.wish.Samples.From, "every change alone makes a sample, and the control is one more",
			"the changes make %d samples", len(d.samplesOf))
	}
	d.checkSamples()
}

// names reads --samples: names, or how many.
func (d *drafter) names() (names []string, count int) {
	text := strings.TrimSpace(d.wish.Samples.Text)
	if text == "" {
		return nil, 0
	}
	if n, err := strconv.Atoi(text); err == nil {
		if n < 2 || n > mostSamples {
			d.wrong(d.wish.Samples.From, "from 2 to "+strconv.Itoa(mostSamples), "%d samples", n)
			return nil, 0
		}
		return nil, n
	}
	for _, name := range strings.Split(text, ",") {
		if name = strings.Join(strings.Fields(name), " "); name != "" {
			names = append(names, name)
		}
	}
	return names, 0
}

// change parts a change: a factor and its level, a sample and its changes parted by
// semicolons, or a sample and the one that it starts from.
func (d *drafter) change(s Said) (change, bool) {
	c := change{from: s.From}
	if !strings.Contains(s.Text, ":") && strings.Contains(s.Text, "=") {
		d.wrong(s.From, "write it like "+changeForm, "no sample is named")
		return c, false
	}
	p, ok := d.cut(s, "water temperature: 98 °C")
	if !ok {
		return c, false
	}
	if base, like := strings.CutPrefix(p.value, "like "); like && !slices.Contains(d.factors(), p.name) {
		c.sample, c.like = p.name, strings.TrimSpace(base)
		return c, true
	}
	if !strings.Contains(p.value, "=") || slices.Contains(d.factors(), p.name) {
		c.levels = []pair{{p.name, p.value, s.From}}
		return c, d.known(c.levels[0])
	}
	c.sample = p.name
	for _, part := range strings.Split(p.value, ";") {
		factor, level, found := strings.Cut(part, "=")
		level, factor = strings.TrimSpace(level), strings.TrimSpace(factor)
		if !found || level == "" || factor == "" {
			d.wrong(s.From, "write it like "+changeForm, "%q does not say what becomes what", strings.TrimSpace(part))
			return c, false
		}
		c.levels = append(c.levels, pair{factor, level, s.From})
		if !d.known(c.levels[len(c.levels)-1]) {
			return c, false
		}
	}
	return c, true
}

// known reports a factor that nothing is called. A new ingredient is one that has an
// amount, and no name so near to another that it may be a slip.
func (d *drafter) known(p pair) bool {
	if slices.Contains(d.factors(), p.name) {
		return true
	}
	hint := problem.DidYouMean(p.name, d.factors())
	amount, food, err := quantity.ParseLeading(p.value, d.kitchen.Instruments.Volumes)
	isFood := err == nil && food != "" && amount.Dimension() != quantity.Temperature && amount.Dimension() != quantity.Time
	if hint == "" && isFood {
		return true
	}
	if hint == "" {
		hint = "say what it is otherwise with --condition " + strconv.Quote(p.name+": …")
	}
	d.wrong(p.from, hint, "no ingredient or condition is called %q", p.name)
	return false
}

// apply puts a change on the sample it names, or on the next one without a change, or
// makes one. It returns the samples that still have none.
func (d *drafter) apply(c change, free []*sample) []*sample {
	var s *sample
	switch {
	case c.sample != "":
		at := slices.IndexFunc(d.samplesOf, func(s *sample) bool { return s.key == c.sample })
		switch {
		case at < 0 && d.wish.Samples.Text != "" && !isNumber(d.wish.Samples.Text):
			d.wrong(c.from, problem.DidYouMean(c.sample, d.keys()), "%q is not among the samples", c.sample)
			return free
		case at < 0:
			s = &sample{key: c.sample, name: wording.Capital(c.sample), from: c.from}
			d.samplesOf = append(d.samplesOf, s)
		case at == 0:
			d.wrong(c.from, "write what it has under the recipe or the conditions", "%q is the control", c.sample)
			return free
		default:
			s = d.samplesOf[at]
		}
	case len(free) > 0:
		s = free[0]
	default:
		level := c.levels[0]
		s = &sample{key: d.keyOf(level), name: wording.Capital(level.name + ": " + level.value), from: c.from}
		d.samplesOf = append(d.samplesOf, s)
	}
	if c.like != "" {
		s.like = c.like
	}
	for _, level := range c.levels {
		s.level(level, d)
	}
	return slices.DeleteFunc(slices.Clone(free), func(o *sample) bool { return o == s && c.like == "" })
}

func (s *sample) level(p pair, d *drafter) {
	isRole := slices.ContainsFunc(d.ingredients, func(i pair) bool { return i.name == p.name })
	if isRole && strings.EqualFold(p.value, "none") {
		s.omit = append(s.omit, p)
		return
	}
	if slices.ContainsFunc(s.changes, func(o pair) bool { return o.name == p.name }) {
		d.wrong(p.from, "", "%q has a %s already", s.key, p.name)
		return
	}
	s.changes = append(s.changes, p)
}

// checkSamples reports samples that cannot be told apart, and starts that lead nowhere.
func (d *drafter) checkSamples() {
	seen := map[string]string{}
	for _, s := range d.samplesOf {
		address := trial.AddressName(s.key)
		if other, taken := seen[address]; taken {
			d.wrong(s.from, "give one another name", "two samples are called %q", other)
		}
		seen[address] = s.key
		if s.like != "" && !slices.Contains(d.keys(), s.like) {
			d.wrong(s.from, problem.DidYouMean(s.like, d.keys()), "no sample is called %q", s.like)
		}
	}
}

func (d *drafter) keys() []string {
	var keys []string
	for _, s := range d.samplesOf {
		keys = append(keys, s.key)
	}
	return keys
}

func isNumber(text string) bool {
	_, err := strconv.Atoi(strings.TrimSpace(text))
	return err == nil
}

// keyOf names a sample after its change, in words that are easy to type into a log:
// "water temperature 98 c".
func (d *drafter) keyOf(p pair) string {
	words := strings.FieldsFunc(strings.ToLower(p.name+" "+p.value), func(r rune) bool {
		return r > unicode.MaxASCII || !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
	name := "changed"
	if len(words) > 0 {
		name = words[0]
		for _, word := range words[1:] {
			if len(name)+1+len(word) > longestKey {
				break
			}
			name += " " + word
		}
	}
	free := name
	for n := 2; slices.Contains(d.keys(), free); n++ {
		free = name + " " + strconv.Itoa(n)
	}
	return free
}
