package site

import (
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/writeup"
)

// Every output says by a digest what it is made from. These functions are the one place
// where that stands: what a page is made of and its function here do not name, it must not
// be made of. The setting (program, theme, kitchen file) is part of all of them.

// from stands for the setting and some texts; zero where nothing is remembered.
func (p *planner) from(texts ...string) Digest {
	if p.setting == (Digest{}) {
		return Digest{}
	}
	return digestOfBoth([]string{p.setting.text(), strconv.FormatBool(p.anyTrial)}, texts)
}

// fromMany is from, for texts that are added one after the other.
func (p *planner) fromMany(add func(d *digesting)) Digest {
	if p.setting == (Digest{}) {
		return Digest{}
	}
	d := newDigesting()
	d.add(p.setting.text(), strconv.FormatBool(p.anyTrial))
	add(d)
	return d.digest()
}

// fromTrial is what the pages of one trial are made of: its files, and what is around it.
func (p *planner) fromTrial(c *Card, a around) Digest {
	if p.setting == (Digest{}) || !c.State.Known {
		return Digest{}
	}
	var room [24]string // on the stack, for most trials have no more around them
	return p.from(a.addTo(append(room[:0], "trial", c.State.Data.text()))...)
}

// fromOwn is what one of a trial's files is made of, by its path below the trial's folder:
// pictures of less than pages are, whose digest is given.
func (p *planner) fromOwn(c *Card, name string, pages Digest) Digest {
	switch {
	case pages == Digest{}:
		return Digest{}
	case strings.HasPrefix(name, photosFolder):
		return p.from("photos", c.Photos.text())
	case name == shareName:
		return p.from("share", c.Shared.text())
	}
	return pages
}

// fromLot is what all of a trial's files are made of, and which there are.
func (p *planner) fromLot(c *Card) Digest {
	pages := p.fromTrial(c, p.around(c))
	if pages == (Digest{}) {
		return Digest{}
	}
	return digestOf("lot", pages.text(), c.Photos.text(), c.Shared.text(), c.Files)
}

// fromCards stands for whole trials in their order.
func (p *planner) fromCards(what string, cards []*Card, more ...string) Digest {
	texts := append([]string{what}, more...)
	for _, c := range cards {
		if !c.State.Known {
			return Digest{}
		}
		texts = append(texts, c.Slug, c.State.Data.text())
	}
	return p.from(texts...)
}

// fromParts stands for one part of the cards of trials in their order.
func (p *planner) fromParts(what string, part int, cards []*Card, more ...string) Digest {
	return p.fromMany(func(d *digesting) {
		d.add(what)
		d.add(more...)
		for _, c := range cards {
			d.add(c.Slug)
			d.addDigest(c.Parts[part])
		}
	})
}

func (p *planner) fromHome() Digest {
	return p.fromCards("home", p.Trials[:min(len(p.Trials), newest)], strconv.Itoa(len(p.Trials)))
}

func (p *planner) fromFeed() Digest {
	return p.fromCards("feed", p.Trials[:min(len(p.Trials), newestInFeed)])
}

func (p *planner) fromNotFound() Digest {
	texts := []string{"not found"}
	for _, c := range p.Trials[:min(len(p.Trials), newestInNotFound)] {
		texts = append(texts, c.Slug, c.Title)
	}
	return p.from(texts...)
}

func (p *planner) fromFactorList() Digest {
	texts := []string{"factors"}
	for _, f := range p.factors {
		texts = append(texts, f.key, f.name, p.factorsAt.at[f.key], strconv.Itoa(f.tried))
	}
	return p.from(texts...)
}

func (p *planner) fromFoodList() Digest {
	texts := []string{"foods"}
	for _, f := range p.foods {
		texts = append(texts, f.key, f.name, p.foodsAt.at[f.key], strconv.Itoa(len(f.cards)))
	}
	return p.from(texts...)
}

// fromClaims stands for what all trials say of a factor.
func (p *planner) fromClaims(f factorPage) Digest {
	return p.fromMany(func(d *digesting) {
		d.add("claims", f.key)
		for _, c := range f.cards {
			which, _ := c.claimed(f.key)
			d.add(c.Slug)
			d.addDigest(which)
		}
	})
}

// fromRows stands for the rows of a factor on one measure: for what each trial says on it.
func (p *planner) fromRows(f factorPage, m *findings.MeasureEvidence, by map[*findings.Study]*claim) Digest {
	return p.fromMany(func(d *digesting) {
		d.add("rows", f.key)
		var of *claim
		number := -1
		for _, r := range m.Rows {
			if of != nil && of.Study == r.Study && number == r.MeasureNumber() {
				continue
			}
			of, number = by[r.Study], r.MeasureNumber()
			d.add(r.Study.Slug, of.on(number))
		}
	})
}

// fromFactorMeasure is what the page of a factor says on one measure is made of: its rows,
// where it stands, and the titles that it shows.
func (p *planner) fromFactorMeasure(g *gathered, i int) Digest {
	m := g.Measures[i]
	texts := []string{"measure", g.from[i].text(), strconv.Itoa(i)}
	for _, j := range writeup.Newest(m) {
		s := m.Rows[j].Study
		texts = append(texts, s.Title)
		if original := p.repeats[s.Slug]; original != nil {
			texts = append(texts, original.Slug, original.Title)
		}
	}
	return p.from(texts...)
}

// fromFactor is what the page of a factor is made of: what trials say of it, the lines of those
// that it lists, the titles of those that it names and of the trials that they repeat, and the
// foods that took its place.
func (p *planner) fromFactor(f factorPage, claims Digest, of *gathering) Digest {
	if claims == (Digest{}) {
		return Digest{}
	}
	listed, named, err := p.shownOn(f, claims, of)
	if err != nil {
		return Digest{} // why is told when the page is made
	}
	texts := []string{"factor", f.key, f.name, claims.text()}
	for _, slug := range listed {
		if c := p.published[slug]; c != nil {
			texts = append(texts, c.Parts[archiveRowPart].text())
		}
	}
	for _, slug := range named {
		if c := p.published[slug]; c != nil {
			texts = append(texts, c.Title)
		}
		if original := p.repeats[slug]; original != nil {
			texts = append(texts, original.Slug, original.Title)
		}
	}
	for _, i := range p.foodsFor[f.key] {
		texts = append(texts, p.foods[i].name, p.foodsAt.at[p.foods[i].key])
	}
	return p.from(texts...)
}

// fromFood is what the page of a food is made of: the newest uses of it, how many there
// are, and where the factors have their pages that it was varied as.
func (p *planner) fromFood(f foodPage) Digest {
	texts := append([]string{f.key, f.name, f.row, strconv.Itoa(len(f.cards)), strconv.Itoa(f.varied)}, f.written...)
	shown := f.newest()
	for _, c := range shown {
		for _, key := range c.food(f.key).Factors {
			texts = append(texts, key, p.factorsAt.at[key])
		}
	}
	return p.fromParts("food", foodsPart, shown, texts...)
}

// fromAddresses stands for where factors and foods have their pages, and what these are called.
func (p *planner) fromAddresses() string {
	return p.fromMany(func(d *digesting) {
		for _, f := range p.factors {
			d.add(f.key, f.name, p.factorsAt.at[f.key])
		}
		d.add("")
		for _, f := range p.foods {
			d.add(f.key, f.name, p.foodsAt.at[f.key])
		}
	}).text()
}

// fromArchive is what the first page of the archive is made of: its trials, the factors and
// foods, and how it is divided.
func (p *planner) fromArchive(a archivePart) Digest {
	texts := []string{p.addresses, p.fromFactorList().text()}
	for _, year := range a.parts {
		texts = append(texts, year.at, strconv.Itoa(year.trials()))
		for _, month := range year.parts {
			texts = append(texts, month.at)
		}
	}
	return p.fromListed(a, texts)
}

// fromArchivePart is what the page of a year or month is made of: its trials, and which
// pages come before and after.
func (p *planner) fromArchivePart(whole, part archivePart) Digest {
	newer, older := whole.beside(part, "", p.phrases().Language())
	texts := []string{p.addresses, part.at, newer.Href, newer.Text, older.Href, older.Text}
	for _, month := range part.parts {
		texts = append(texts, month.at, strconv.Itoa(month.trials()))
	}
	return p.fromListed(part, texts)
}

// fromListed stands for the trials of a page of the archive: what those say that it lists,
// and what it counts of the others.
func (p *planner) fromListed(a archivePart, more []string) Digest {
	return p.fromMany(func(d *digesting) {
		d.add(more...)
		d.add("archive", strconv.Itoa(a.shown()))
		for i, c := range p.Trials[a.from:a.to] {
			if i < a.shown() {
				d.add(c.Slug)
				d.addDigest(c.Parts[archiveRowPart])
			} else {
				d.addDigest(c.Counted)
			}
		}
	})
}
