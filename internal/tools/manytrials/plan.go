package main

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"strings"
)

// plan is one trial as it was drawn.
type plan struct {
	number  int // from 1
	draw    *rand.Rand
	dish    dish
	flavour flavour
	amounts []ingredient // of the full batch, the flavour's last
	samples []sample     // the control first
	measure []measure    // the one that leads first, a tasting's last
	lead    factor
	pieces  int // of each sample and batch
	batches int // 1 where there are none
	probe   bool
	cooked  date
	public  bool
	of      *plan // the trial that this one repeats
	extras  extras
}

type sample struct {
	key, name string
	like      string
	change    *change // nil of the control
	levels    []string
}

type change struct{ factor, value string }

// planOf draws the trial of an index. It depends on the seed and the index alone, so that
// a later trial can look up what an earlier one was.
func planOf(seed uint64, index int) *plan {
	p := &plan{number: index + 1, draw: rand.New(rand.NewPCG(seed, uint64(index))), batches: 1, extras: extrasOf(seed, index)}
	p.cooked = dayOf(p.draw.IntN(days))
	p.public = p.draw.IntN(40) > 0
	if index > 0 && p.draw.IntN(12) == 0 {
		first := planOf(seed, p.draw.IntN(index))
		if first.public && first.of == nil && first.cooked.day < days-60 {
			p.repeat(first)
			return p
		}
	}
	all := dishes()
	p.dish = all[p.draw.IntN(len(all))]
	p.flavour = p.dish.flavours[p.draw.IntN(len(p.dish.flavours))]
	p.weigh()
	p.choose()
	p.chooseMeasures()
	p.pieces = 4 + p.draw.IntN(6)
	if p.draw.IntN(5) == 0 {
		p.batches = 2 + p.draw.IntN(2)
		p.pieces = 3
	}
	p.probe = p.draw.IntN(5) < 2
	return p
}

// repeat takes the recipe, the samples and the measures of an earlier trial. Pieces and
// readings are its own.
func (p *plan) repeat(first *plan) {
	p.of, p.dish, p.flavour, p.lead = first, first.dish, first.flavour, first.lead
	p.amounts, p.samples, p.measure = first.amounts, first.samples, first.measure
	p.probe = first.probe
	p.pieces = 6 + p.draw.IntN(4)
	p.cooked = dayOf(first.cooked.day + 40 + p.draw.IntN(days-40-first.cooked.day))
}

// weigh moves the amounts of the recipe by up to a sixth, alike in all samples.
func (p *plan) weigh() {
	for _, i := range p.dish.ingredients {
		i.grams += int(float64(i.grams) * (p.draw.Float64() - 0.5) / 3)
		p.amounts = append(p.amounts, i)
	}
	p.amounts = append(p.amounts, ingredient{"extra", 40 + p.draw.IntN(60), p.flavour.food})
}

// choose draws what the samples change: first one factor against the control, then
// another level of it, or another factor on top.
func (p *plan) choose() {
	order := p.draw.Perm(len(p.dish.factors))
	p.lead = p.dish.factors[order[0]]
	second := p.dish.factors[order[1]]
	levels := p.draw.Perm(len(p.lead.levels))
	p.samples = []sample{{key: "usual", name: "As we always make it"}}
	p.add(p.lead, p.lead.levels[levels[0]], "")
	more := p.draw.IntN(3)
	if more > 0 {
		p.add(p.lead, p.lead.levels[levels[1]], "")
	}
	if more > 1 {
		p.add(second, second.levels[p.draw.IntN(len(second.levels))], p.samples[1].key)
	}
}

func (p *plan) add(f factor, l level, like string) {
	s := sample{key: l.key, name: strings.ToUpper(l.key[:1]) + l.key[1:], like: like, levels: []string{l.key}}
	if like != "" {
		s.key, s.name = like+" and "+l.key, p.samples[1].name+", "+l.key
		s.levels = append(s.levels, p.samples[1].levels...)
	}
	value := l.value
	if f.usual == "" {
		value = fmt.Sprintf("%d g %s", p.amount(f.name), l.value)
	}
	s.change = &change{f.name, value}
	p.samples = append(p.samples, s)
}

func (p *plan) amount(role string) int {
	for _, i := range p.amounts {
		if i.role == role {
			return i.grams
		}
	}
	return 0
}

// chooseMeasures takes three or four of the dish's measures, the parts of a sum always
// together, and in every other trial a score.
func (p *plan) chooseMeasures() {
	var parts []measure
	var rest []measure
	for _, m := range p.dish.measures {
		if m.isTime() {
			parts = append(parts, m)
		} else {
			rest = append(rest, m)
		}
	}
	p.draw.Shuffle(len(rest), func(i, j int) { rest[i], rest[j] = rest[j], rest[i] })
	p.measure = append(rest[:min(len(rest), 3+p.draw.IntN(2)-len(parts)/2)], parts...)
	if p.draw.IntN(2) == 0 {
		p.measure = append(p.measure, p.dish.taste)
	}
}

func (m measure) isTime() bool  { return strings.Contains(m.kind, "kind: time") }
func (m measure) isScore() bool { return strings.Contains(m.kind, "kind: score") }
func (m measure) isShare() bool { return m.step == 0 }

// sum is the name of the sum that a time is part of.
func (m measure) sum() string {
	_, after, _ := strings.Cut(m.kind, "part of: ")
	return strings.TrimSuffix(after, "%s}")
}

// reading draws a reading of a sample. What a level does to a measure is the same in
// every trial, give or take: there is something for a factor's page to add up.
func (p *plan) reading(draw *rand.Rand, m measure, s sample) string {
	effect := 0.0
	for _, l := range s.levels {
		h := fnv.New64a()
		h.Write([]byte(l + "\x00" + m.name))
		effect += rand.New(rand.NewPCG(h.Sum64(), 0)).NormFloat64()
	}
	if m.isShare() {
		if draw.Float64() < min(max(m.mean+0.18*effect, 0.05), 0.95) {
			return m.yes
		}
		return m.no
	}
	v := math.Round((m.mean+m.sd*(0.9*effect+draw.NormFloat64()))/m.step) * m.step
	switch {
	case m.isScore():
		return fmt.Sprint(int(min(max(v, 1), 9)))
	case m.isTime():
		return clockWords(max(int(v), 5))
	}
	return trimmed(max(v, m.step))
}

// clockWords writes seconds as a stopwatch does.
func clockWords(seconds int) string {
	if seconds >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d", seconds/3600, seconds/60%60, seconds%60)
	}
	return fmt.Sprintf("%d:%02d", seconds/60, seconds%60)
}

func trimmed(v float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0") }
