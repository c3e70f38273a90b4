package draft

import (
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/trial"
)

// measure is a measure on its way.
type measure struct {
	name, kind string
	more       string // what else stands between its braces
	about      string // the comment behind it
	compares   bool   // two samples, to be named
	leads      bool   // a set turns on it: primary, if nothing else is
	primary    bool
	from       string
}

// Set is a ready-made set of measures.
type Set struct {
	Name     string
	Measures []string
}

// Sets returns the ready-made sets, in the order in which they are offered.
func Sets() []Set {
	return []Set{
		{"griddle", []string{"side 1", "side 2", "surface", "turns clean"}},
		{"oven", []string{"oven air", "in the oven", "height", "spread", "baked through"}},
		{"fry", []string{"fat", "in the fat", "core", "crisp"}},
		{"boil", []string{"pot", "in the pot", "core", "done"}},
		{"no cooking", []string{"weight", "run off", "holds"}},
		{"tasting", []string{"flavor", "texture", "liking"}},
	}
}

// Measures returns the names of all ready-made measures: those of the sets, and more.
func Measures() []string {
	var names []string
	for _, m := range ready("") {
		names = append(names, m.name)
	}
	return names
}

// ready are the ready-made measures; temperatures are in the unit given.
func ready(degrees string) []measure {
	score := func(from, to string) string { return "from: " + from + ", to: " + to + ", of: tasting" }
	return []measure{
		{name: "side 1", kind: "time", more: "part of: cook time", about: "seconds, or 1:10"},
		{name: "side 2", kind: "time", more: "part of: cook time", about: "the two are added up"},
		{name: "surface", kind: "temperature", more: "in: " + degrees + ", not controlled: true", about: "the bare griddle, just before each piece"},
		{name: "turns clean", kind: "pass or fail", more: "asks: turns over in one piece", leads: true},

		{name: "oven air", kind: "temperature", more: "in: " + degrees + ", not controlled: true", about: "beside the tray, by a thermometer of its own"},
		{name: "in the oven", kind: "time", about: "from door to door"},
		{name: "height", kind: "length", more: "in: mm", about: "at the highest point, when it is cool"},
		{name: "spread", kind: "length", more: "in: mm", about: "the widest way across"},
		{name: "baked through", kind: "pass or fail", more: "asks: a skewer comes out clean", leads: true},

		{name: "fat", kind: "temperature", more: "in: " + degrees + ", not controlled: true", about: "just before each piece goes in"},
		{name: "in the fat", kind: "time"},
		{name: "core", kind: "temperature", more: "in: " + degrees, about: "in the thickest part; local food-safety guidance says what it must reach"},
		{name: "crisp", kind: "pass or fail", more: "asks: breaks with a snap after five minutes", leads: true},

		{name: "pot", kind: "temperature", more: "in: " + degrees + ", not controlled: true", about: "just before it goes in"},
		{name: "in the pot", kind: "time"},
		{name: "done", kind: "pass or fail", more: "asks: the tip of a knife goes in and out without lifting it", leads: true},

		{name: "weight", kind: "mass", more: "in: g"},
		{name: "run off", kind: "mass", more: "in: g", about: "what has drained from it"},
		{name: "holds", kind: "pass or fail", more: "asks: keeps its shape for a minute", leads: true},

		{name: "flavor", kind: "score", more: score("1 faint", "9 strong")},
		{name: "texture", kind: "score", more: score("1 tender", "9 tough")},
		{name: "liking", kind: "score", more: score("1 dislike", "9 like"), leads: true},

		{name: "thickness", kind: "length", more: "in: mm"},
		{name: "width", kind: "length", more: "in: mm"},
		{name: "volume", kind: "volume", more: "in: mL"},
		{name: "browned", kind: "yes or no"},
		{name: "puffed", kind: "yes or no"},
		{name: "cracked", kind: "yes or no"},
		{name: "crunch", kind: "score", more: score("1 soft", "9 crisp")},
		{name: "sweetness", kind: "score", more: score("1 not sweet", "9 very sweet")},
		{name: "saltiness", kind: "score", more: score("1 not salty", "9 very salty")},
		{name: "ranking", kind: "rank", about: "1 is liked best"},
		{name: "odd one out", kind: string(trial.Triangle), compares: true, about: "three cups, two alike: which is the odd one?"},
		{name: "preferred", kind: string(trial.PairedPreference), compares: true, about: "two cups: which do you like better?"},
	}
}

// measures turns the names of sets and measures into measures, each once, and marks
// the one that the question turns on.
func (d *drafter) measures() {
	if d.wish.Like != nil && len(d.wish.Measures) == 0 {
		return // those of the earlier trial
	}
	degrees := "°C"
	if d.kitchen.Units[0] == quantity.USSystem {
		degrees = "°F"
	}
	for _, said := range d.wish.Measures {
		for _, m := range d.named(said, ready(degrees)) {
			if !slices.ContainsFunc(d.measuresOf, func(o measure) bool { return o.name == m.name }) {
				m.from = said.From
				d.measuresOf = append(d.measuresOf, m)
			}
		}
	}
	d.primary()
}

// named are the measures of a name: of a set, one alone, or one that is described.
func (d *drafter) named(said Said, all []measure) []measure {
	if strings.Contains(said.Text, ":") {
		p, ok := d.cut(said, "crumb: yes or no")
		if !ok {
			return nil
		}
		m := measure{name: p.name, kind: p.value}
		if kind, unit, in := strings.Cut(p.value, " in "); in {
			m.kind, m.more = strings.TrimSpace(kind), "in: "+flow(strings.TrimSpace(unit))
		}
		m.compares = trial.Kind(m.kind).IsDiscrimination()
		return []measure{m}
	}
	name := strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(said.Text, "-", " ")), " "))
	var names []string
	for _, set := range Sets() {
		names = append(names, set.Name)
		if set.Name != name {
			continue
		}
		var found []measure
		for _, name := range set.Measures {
			at := slices.IndexFunc(all, func(m measure) bool { return m.name == name })
			found = append(found, all[at])
		}
		return found
	}
	for _, m := range all {
		names = append(names, m.name)
		if m.name == name {
			return []measure{m}
		}
	}
	hint := problem.DidYouMean(name, names)
	if hint == "" {
		hint = `one of your own is described, like "crumb: yes or no"`
	}
	d.wrong(said.From, hint, "there is no ready-made measure %q", said.Text)
	return nil
}

// primary marks the measure that was named, or the first that leads a set, or the
// first there is.
func (d *drafter) primary() {
	if len(d.measuresOf) == 0 {
		return
	}
	wanted := d.wish.Primary.Text
	at := slices.IndexFunc(d.measuresOf, func(m measure) bool { return m.name == wanted })
	switch {
	case wanted != "" && at < 0:
		var names []string
		for _, m := range d.measuresOf {
			names = append(names, m.name)
		}
		d.wrong(d.wish.Primary.From, problem.DidYouMean(wanted, names), "no measure is called %q", wanted)
		return
	case wanted == "":
		at = max(0, slices.IndexFunc(d.measuresOf, func(m measure) bool { return m.leads }))
	}
	d.measuresOf[at].primary = true
}

// line is the measure as the note has it.
func (m measure) line(samples []*sample) string {
	text := "kind: " + flow(m.kind)
	if m.more != "" {
		text += ", " + m.more
	}
	if m.compares && len(samples) > 1 {
		text += ", compares: [" + flow(samples[0].key) + ", " + flow(samples[1].key) + "]"
	}
	if m.primary {
		text += ", primary: true"
	}
	return key(m.name) + ": {" + text + "}"
}
