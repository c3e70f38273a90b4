package main

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// extras are what only a few trials have. They are drawn apart from the rest of the
// trial.
type extras struct {
	draw       *rand.Rand
	semicolons bool // the logs come from a spreadsheet that writes decimal commas
	households int  // how many viewers repeated the trial
	photos     bool // of every sample
	table      bool // and of the table, in the prose
}

func extrasOf(seed uint64, index int) extras {
	x := extras{draw: rand.New(rand.NewPCG(^seed, uint64(index)))}
	x.semicolons = x.draw.IntN(10) == 0
	if x.draw.IntN(30) == 0 {
		x.households = 1 + x.draw.IntN(3)
	}
	x.photos = x.draw.IntN(20) == 0
	x.table = x.photos && x.draw.IntN(2) == 0
	return x
}

// files are the extras as files in the folder of their trial.
func (x extras) files(p *plan) []file {
	var all []file
	for h := range x.households {
		all = append(all, file{fmt.Sprintf("replications/household-%d.csv", h+1), x.household(p)})
	}
	if x.households > 1 {
		all = append(all, file{"replications/people.yaml", "household-2: Ondine Harl # invented\n"})
	}
	if x.photos {
		for i := range p.samples {
			all = append(all, file{photoName(i), x.photo(len(p.samples) + i)})
		}
	}
	if x.table {
		all = append(all, file{tablePhoto, x.drawing(9)})
	}
	return all
}

// household is a viewer's log. It has what ours has but remarks, and always commas.
func (x extras) household(p *plan) string {
	lines := []string{strings.Join(append(p.heading(), "set aside"), ",")}
	for _, s := range p.samples {
		for n := range p.pieces * p.batches {
			row := p.rowOf(s, n)
			for _, m := range p.pieceMeasures() {
				row = append(row, p.reading(x.draw, m, s))
			}
			lines = append(lines, strings.Join(append(row, ""), ","))
		}
	}
	return strings.Join(lines, "\n") + "\n"
}

// saved writes a log as the kitchen's spreadsheet does.
func (x extras) saved(log string) string {
	if !x.semicolons {
		return log
	}
	return strings.NewReplacer(",", ";", ".", ",").Replace(log)
}
