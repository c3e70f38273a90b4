package site

import (
	"encoding/hex"
	"errors"
	"strings"

	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/findings"
)

// A claim is what a trial says of one factor: a study about it. What is written of it is without
// what the card has beside it (slug and title) and what pages of factors do not say (foods).
// Those of a factor lie together, for its page is made of all of them and of no others.

// bytesOfClaim is how many bytes a claim takes, about.
const bytesOfClaim = 2 << 10

// writeClaims writes what a trial says of its factors.
func (c *Card) writeClaims(says said) {
	var digests strings.Builder
	c.claims = make([]string, len(says.factors))
	for i, factor := range says.factors {
		study := says.study.About(factor.Key)
		about := claim{Study: &study}
		about.aboutMeasures()
		text := writeForm(bytesOfClaim, func(f *form) { f.claim(&about) })
		c.claims[i] = strings.Clone(text) // without room to grow
		digests.WriteString(digestOf(text).text())
	}
	c.Claims = digests.String()
}

// claimed stands for what the trial says of a factor, which is one of the card's, and has that
// number there; zero where it says nothing of it.
func (c *Card) claimed(key string) (which Digest, number int) {
	for i, f := range c.Factors {
		if f.Key == key && len(c.Claims) >= (i+1)*digestSize {
			return Digest([]byte(c.Claims[i*digestSize : (i+1)*digestSize])), i
		}
	}
	return Digest{}, 0
}

// claim is what a trial says of one factor.
type claim struct {
	*findings.Study
	measures string // what stands for what it says on each measure, one after the other
}

// shortDigest is how much of a digest tells what a trial says on a measure from what it said.
const shortDigest = digestSize / 2

// on stands for what it says on a measure.
func (c *claim) on(measure int) string {
	if len(c.measures) < (measure+1)*shortDigest {
		return "" // of a trial that stays in memory, where nothing is remembered
	}
	return c.measures[measure*shortDigest : (measure+1)*shortDigest]
}

// aboutMeasures fills in what stands for each measure.
func (c *claim) aboutMeasures() {
	var digests strings.Builder
	for i := range c.Measures {
		on := claim{Study: new(findings.Study)}
		*on.Study = c.On(i)
		which := digestOf(writeForm(bytesOfClaim, func(f *form) { f.claim(&on) }))
		digests.Write(which[:shortDigest])
	}
	c.measures = digests.String()
}

// claim is what a trial says of one of its factors. What is lost of an earlier run is made again.
func (x *Index) claim(c *Card, key string) (*claim, error) {
	if c.says != nil {
		return &claim{Study: c.says.study}, nil
	}
	which, number := c.claimed(key)
	text := ""
	if c.claims != nil {
		text = c.claims[number]
	} else {
		text = x.memory.claim(key, which)
	}
	if s, ok := c.readClaim(text); ok {
		return s, nil
	}
	at, err := x.opened.get(c)
	if err != nil {
		return nil, err
	}
	again := *c
	again.writeClaims(at.entry.says())
	s, ok := c.readClaim(again.claims[number])
	if !ok {
		return nil, errForm
	}
	x.memory.claims.of(key).found(which, again.claims[number])
	return s, nil
}

func (c *Card) readClaim(text string) (*claim, bool) {
	s := &claim{Study: &findings.Study{Slug: c.Slug, Title: c.Title}}
	return s, readForm(text, func(f *form) { f.claim(s) })
}

// claimsAbout are what trials say of a factor, in their order.
func (x *Index) claimsAbout(key string, cards []*Card) ([]*claim, error) {
	all := make([]*claim, len(cards))
	errs := make([]error, len(cards))
	each(len(cards), func(i int) { all[i], errs[i] = x.claim(cards[i], key) })
	return all, errors.Join(errs...)
}

// claim returns what was written of a claim in the last run, if it is there.
func (m *Memory) claim(key string, which Digest) string {
	return m.claims.of(key).get(which, func() string {
		data, _, _ := m.store.ReadDated(claimsName(key))
		return data
	})
}

// claimsName names the blob with what all trials say of a factor.
func claimsName(key string) string {
	which := digestOf(key)
	return "claims-" + hex.EncodeToString(which[:8])
}

// otherClaims adds the factors of which two cards say other things; one may be nil.
func otherClaims(was, is *Card, other map[string]bool) {
	differ := func(a, b *Card) {
		if a == nil {
			return
		}
		for _, f := range a.Factors {
			of, _ := a.claimed(f.Key)
			if b != nil {
				if now, _ := b.claimed(f.Key); now == of {
					continue
				}
			}
			other[f.Key] = true
		}
	}
	differ(was, is)
	differ(is, was)
}

// keepClaims writes what trials say of factors of which some say other things.
func (m *Memory) keepClaims(cards []*Card, other map[string]bool) error {
	m.claims.addFound(other)
	held := map[string]map[Digest]string{}
	for key := range other {
		held[key] = map[Digest]string{}
	}
	for _, c := range cards {
		for i, f := range c.Factors {
			if held[f.Key] == nil {
				continue
			}
			which, _ := c.claimed(f.Key)
			text := ""
			if c.claims != nil {
				text = c.claims[i]
			} else {
				text = m.claim(f.Key, which)
			}
			if text != "" {
				held[f.Key][which] = text
			}
		}
	}
	for key, claims := range held {
		if err := m.writeParts(claimsName(key), claims); err != nil {
			return err
		}
	}
	return nil
}

// claim is what a claim has of a study, and what stands for its measures.
func (f *form) claim(s *claim) {
	f.text(&s.measures)
	f.date(&s.Day)
	f.text(&s.Recipe)
	f.text(&s.Repeats)
	listOf(f, &s.Measures, f.studyMeasure)
	listOf(f, &s.Contrasts, f.studyContrast)
	listOf(f, &s.Answers, f.studyAnswers)
	listOf(f, &s.Households, func(h *findings.StudyHousehold) {
		f.text(&h.Name)
		listOf(f, &h.Contrasts, f.studyContrast)
	})
}

func (f *form) studyMeasure(m *findings.StudyMeasure) {
	f.text(&m.Name)
	wordOf(f, &m.Kind)
	numberOf(f, &m.Unit)
	f.number(&m.Decimals)
	f.text(&m.PartOf)
	f.texts(&m.Parts)
	f.text(&m.Asks)
	f.whole(&m.From)
	f.whole(&m.To)
	f.text(&m.FromIs)
	f.text(&m.ToIs)
	numberOf(f, &m.Source)
	f.yes(&m.Primary)
}

func (f *form) studyContrast(c *findings.StudyContrast) {
	f.text(&c.Of)
	f.text(&c.Against)
	f.text(&c.OfDough)
	f.text(&c.AgainstDough)
	listOf(f, &c.Differing, func(d *findings.StudyDifference) {
		f.designFactor(&d.Factor)
		f.text(&d.Of.Text)
		f.text(&d.Of.Key)
		f.text(&d.Against.Text)
		f.text(&d.Against.Key)
		f.yes(&d.Below)
	})
	f.number(&c.Planned)
	listOf(f, &c.Effects, f.studyEffect)
}

func (f *form) designFactor(x *design.Factor) {
	numberOf(f, &x.Kind)
	f.text(&x.Name)
}

func (f *form) studyEffect(e *findings.StudyEffect) {
	f.number(&e.Measure)
	wordOf(f, &e.Unit)
	f.yes(&e.Paired)
	for _, group := range [...]*findings.StudyGroup{&e.Of, &e.Against} {
		f.number(&group.Units)
		f.number(&group.Readings)
	}
	f.decimal(&e.Difference)
	f.yes(&e.HasDifference)
	f.decimal(&e.Interval.Low)
	f.decimal(&e.Interval.High)
	f.yes(&e.HasInterval)
	f.decimal(&e.StandardError)
	f.yes(&e.HasStandardError)
	listOf(f, &e.Blocks, func(b *findings.StudyBlock) {
		f.number(&b.X1)
		f.number(&b.N1)
		f.number(&b.X2)
		f.number(&b.N2)
	})
}

func (f *form) studyAnswers(a *findings.StudyAnswers) {
	f.number(&a.Measure)
	f.number(&a.Contrast)
	f.text(&a.Of)
	wordOf(f, &a.Unit)
	f.number(&a.Right)
	f.number(&a.N)
	f.number(&a.Assessors)
	f.decimal(&a.P)
	f.yes(&a.HasP)
}
