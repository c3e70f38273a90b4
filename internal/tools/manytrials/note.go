package main

import (
	"fmt"
	"strings"
)

// files are the note, the logs and the extras of a trial, with their paths in the kitchen.
func (p *plan) files() []file {
	r := p.log()
	all := []file{{"trial.md", p.front() + p.prose(r)}}
	for _, log := range r.logs {
		all = append(all, file{log.path, p.extras.saved(log.text)})
	}
	all = append(all, p.extras.files(p)...)
	for i := range all {
		all[i].path = p.slug() + "/" + all[i].path
	}
	return all
}

// slug is short enough to be read in an address, and holds the trial's number.
func (p *plan) slug() string {
	words := p.flavour.word + " " + p.dish.name + " " + p.lead.name
	return strings.ReplaceAll(strings.ToLower(words), " ", "-") + fmt.Sprintf("-%d", p.number)
}

// dishName is the flavour and the dish: "Walnut oat biscuits".
func (p *plan) dishName() string { return p.flavour.word + " " + p.dish.name }

func (p *plan) front() string {
	var b strings.Builder
	line := func(format string, values ...any) { fmt.Fprintf(&b, format+"\n", values...) }
	line("---\ntitle: %s and %s, no. %d", p.dishName(), p.lead.asks, p.number)
	line("question: Does %s make a difference to %s?", p.lead.asks, strings.ToLower(p.dishName()))
	line("cooked: %s", p.cooked)
	if p.public {
		line("published: %s", dayOf(p.cooked.day+3+p.number%20))
	}
	line("by: %s", p.pick("[Odile, Tamsin]", "[Tamsin]", "[Jory, Odile]", "[Jory]", "[Odile, Jory, Tamsin]"))
	line("keywords: [%s]", p.dish.keywords)
	if p.of != nil {
		line("repeats: %s", p.of.slug())
	}
	p.recipe(line)
	line("\nconditions:")
	for _, f := range p.dish.factors {
		if f.usual != "" {
			line("  %s: %s", f.name, f.usual)
		}
	}
	p.sampleLines(line)
	line("\nmeasures:")
	for i, m := range p.measure {
		primary := ""
		if i == 0 {
			primary = ", primary: true"
		}
		line("  %s: "+m.kind, m.name, primary)
	}
	best := p.samples[p.draw.IntN(len(p.samples))]
	line("\nverdict:\n  prefer: %s\n  because of: [%s]", best.key, p.measure[0].name)
	line("  in words: %s", p.pick("We keep to this one until somebody shows us better.", "It is the one that we were asked for again.",
		"A matter of taste, and this is ours.", "The least trouble for what it gives."))
	p.photoLines(line)
	line("---")
	return b.String()
}

func (p *plan) recipe(line func(string, ...any)) {
	line("\nrecipe:\n  name: %s\n  makes: %d %s\n  ingredients:", p.dishName(), p.pieces, p.dish.pieces)
	for _, i := range p.amounts {
		line("    %s: %d g %s", i.role, i.grams, i.food)
	}
	line("    salt: %s tsp table salt", p.salt())
	if p.dish.flours != "" {
		line("  flours: %s", p.dish.flours)
	}
	line("  steps:")
	for _, s := range p.dish.steps {
		line("    - %q", s)
	}
	line("  times: {prepare: %d min, cook: %d min}", 10+5*p.draw.IntN(5), max(p.dish.heat.minutes, 10))
}

// salt is of a trial's recipe, so a repeat has as much of it as the first.
func (p *plan) salt() string {
	first := p
	if p.of != nil {
		first = p.of
	}
	return []string{"1/4", "1/2", "3/4", "1"}[first.number%4]
}

func (p *plan) sampleLines(line func(string, ...any)) {
	line("\nsamples:")
	for i, s := range p.samples {
		line("  %s:\n    name: %s", s.key, s.name)
		if i == 0 {
			line("    control: true")
		}
		if s.like != "" {
			line("    like: %s", s.like)
		}
		if s.change != nil {
			line("    change: {%s: %s}", s.change.factor, s.change.value)
		}
		line("    divided into: %d", p.pieces)
	}
	if p.batches > 1 {
		line("\nbatches: side by side")
	}
}
