package main

import (
	"fmt"
	"strings"
)

// prose tells what happened in a few paragraphs. Values whose words the logs decide are
// left to be filled in, those of shares and of the recipe are written out: they have to
// agree. Figures stand beside what they show.
func (p *plan) prose(r readings) string {
	paragraphs := []string{p.opening(), p.method(), "## What happened"}
	extra := p.extraFigures()
	for i, m := range p.measure {
		if m.isTime() {
			continue
		}
		if m.isScore() {
			paragraphs = append(paragraphs, "## At the table")
		}
		paragraphs = append(paragraphs, p.told(m, r), figure(m.says, m.name))
		if i == 0 {
			paragraphs = append(paragraphs, "![All of it](table:outcomes)", p.aside(r))
		}
	}
	if sum := p.sum(); sum != "" {
		paragraphs = append(paragraphs, fmt.Sprintf("Both parts together took %s the usual way, and %s in the sample named %s.",
			p.cite(p.samples[0], sum, ""), p.cite(p.samples[1], sum, ""), p.samples[1].key), figure("Both parts, end to end", sum))
	}
	if p.probe {
		paragraphs = append(paragraphs, p.pick("A probe sat in the middle of one of each.", "We left a probe in one of each and let it write.")+
			" The curves lie close, and the thermometer is good to one degree.", figure("One of each, in the middle", "curve"))
	}
	if p.extras.table {
		paragraphs = append(paragraphs, "Before anybody sat down, the table looked like this.",
			fmt.Sprintf("![Drawing of a plate from above with nine %s on it](%s \"One of each, and some to spare.\")", p.dish.pieces, tablePhoto))
	}
	if len(extra) > 0 {
		paragraphs = append(paragraphs, "## Seen another way", p.pick("The same numbers, drawn so that the samples stand against each other.",
			"Whoever likes intervals better than dots may look here."))
		paragraphs = append(paragraphs, extra...)
	}
	paragraphs = append(paragraphs, p.doubt(), "## Take care", p.dish.care)
	return "\n" + strings.Join(paragraphs, "\n\n") + "\n"
}

func figure(caption, name string) string {
	return fmt.Sprintf("![%s](<figure:%s>)", strings.ToUpper(caption[:1])+caption[1:], name)
}

// cite is a checked value: without words, it says what the log says.
func (p *plan) cite(s sample, name, words string) string {
	return fmt.Sprintf("[%s](<value:%s/%s>)", words, s.key, name)
}

func (p *plan) opening() string {
	if p.of != nil {
		return fmt.Sprintf("We cooked [our earlier trial](../%s/) again, with the same recipe and fresh eyes. %s *The data are invented, as they were the first time.*",
			p.of.slug(), p.pick("Once is not much to go by.", "Two letters had asked for it.", "The first time we had hurried."))
	}
	return fmt.Sprintf("%s %s, and %s was the one thing that we could not agree on. %s *The data are invented, and so are the people.*",
		p.pick("In our kitchen we often make", "Every autumn we make", "For a birthday we made", "On a wet Sunday we made"),
		strings.ToLower(p.dishName()), p.lead.asks,
		p.pick("So we put it to the test.", "One of us swears by it, and the other has never seen a difference.", "The old card in the drawer says nothing about it.",
			"A neighbour does it another way, and hers are good as well."))
}

func (p *plan) method() string {
	first, last := p.amounts[0], p.amounts[len(p.amounts)-1]
	text := fmt.Sprintf("All samples are from one recipe, with [%d g](value:recipe/%s) of %s and [](value:recipe/%s) of %s. %s",
		first.grams, first.role, first.food, last.role, last.food,
		p.pick("We weighed everything to the gram.", "The bowls were the same, and so was the hand that stirred.", "We changed one thing at a time and wrote down the rest."))
	if p.batches > 1 {
		text += fmt.Sprintf(" It took %d days, and on each of them we made every sample once, so that a bad day is bad for all.", p.batches)
	}
	return text + fmt.Sprintf(" Of each there were %d %s.", p.pieces*p.batches, p.dish.pieces)
}

// told says of a measure what each sample came to.
func (p *plan) told(m measure, r readings) string {
	var each []string
	for _, s := range p.samples {
		words := ""
		if m.isShare() {
			words = r.counts[countKey(s, m)]
		}
		each = append(each, fmt.Sprintf("%s for %q", p.cite(s, m.name, words), s.key))
	}
	list := strings.Join(each[:len(each)-1], ", ") + " and " + each[len(each)-1]
	if m.isShare() {
		return fmt.Sprintf("We looked for this: %s. It was %s. %s", m.says, list, p.pick("So few pieces leave room for luck.", "One piece more or less would look different.", "That is a count, and no proof."))
	}
	return fmt.Sprintf("Next comes %s: %s. %s", m.says, list, p.pick("The spread within a sample is about as wide as the step between two.", "We had expected more.", "We had expected less.", "The dots overlap."))
}

func (p *plan) aside(r readings) string {
	if r.aside == 0 {
		return "Nothing was set aside. " + p.pick("It was a quiet day.", "For once nothing was dropped.")
	}
	return p.pick("What was set aside stands in the log with its reason.", "Some readings are left out, and [the log](pieces.csv) says why.") + " Putting them back is one switch away."
}

func (p *plan) doubt() string {
	return p.pick("The one who measured knew which sample was which, and a hand that expects something may help it along.",
		"One kitchen, one day and one bag of each: another kitchen may find something else.",
		"We shall do it again when the weather is cooler, and tell what comes of it.") + " " +
		p.pick("Tell us what you find.", "If you try it at home, use pieces of one size.", "Until then we keep both cards in the drawer.")
}

func (p *plan) sum() string {
	for _, m := range p.measure {
		if m.isTime() {
			return m.sum()
		}
	}
	return ""
}

// extraFigures are those that a page shows only where they are placed, as many as bring
// the trial to about six.
func (p *plan) extraFigures() []string {
	have := 0
	var can []string
	for _, m := range p.measure {
		switch {
		case m.isTime():
			can = append(can, figure("The part called "+m.name, m.name))
			continue
		case m.isScore():
			can = append(can, figure("What each of us gave", m.name+" by taster"))
		}
		have++
		if len(p.samples) > 2 && !m.isShare() {
			can = append(can, figure("Differences of "+m.name, m.name+" differences"))
		}
	}
	if p.sum() != "" {
		have++
	}
	if p.probe {
		have++
	}
	p.draw.Shuffle(len(can), func(i, j int) { can[i], can[j] = can[j], can[i] })
	return can[:min(len(can), max(0, 5+p.draw.IntN(3)-have))]
}
