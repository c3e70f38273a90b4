package findings

import (
	"math"
	"strconv"
	"strings"
)

// words says what a panel found of all samples together.
func (p *Panel) words(say phrases) string {
	aside := ""
	if !p.Measure.Primary {
		aside = say.Say("exploratory")
	}
	k := strconv.Itoa(len(p.Samples))
	if p.Kind == Nothing {
		return say.Say("panel nothing", "measure", p.Measure.Name, "k", k) + say.Say("end")
	}
	text := say.Say("panel seen", "n", say.Count("taster", p.Assessors), "measure", p.Measure.Name, "aside", aside, "k", k)
	if p.HasCritical {
		text += p.sums(say)
	}
	if p.HasP {
		text += say.Say("panel luck", "luck", say.often(p.P))
	}
	text += say.Say(p.answer())
	if p.HasCritical {
		text += say.Say("panel critical", "critical", strconv.Itoa(p.Critical))
	}
	switch {
	case p.LeftOut == 1:
		text += say.Say("panel left out1")
	case p.LeftOut > 1:
		text += say.Say("panel left out", "n", strconv.Itoa(p.LeftOut))
	}
	return text + say.Say("end")
}

func (p *Panel) answer() string {
	switch {
	case !p.HasP:
		return "panel alike"
	case p.Kind == Differs:
		return "panel differs"
	case p.Kind == Leans:
		return "panel leans"
	}
	return "panel none"
}

func (p *Panel) sums(say phrases) string {
	var sums []string
	for i, s := range p.Samples {
		sum := say.Language().Decimal(strings.TrimSuffix(decimal(p.RankSums[i], 1), ".0"))
		sums = append(sums, say.Say("panel sum", "letter", s.Letter, "sum", sum))
	}
	return say.Say("panel sums", "sums", strings.Join(sums, ", "))
}

// words says what a discrimination test or a preference showed.
func (d *Discrimination) words(say phrases) string {
	switch {
	case d.N == 0 && d.Undecided == 0:
		return say.Say("no answer", "measure", d.Measure.Name) + say.Say("end")
	case !d.HasP:
		return say.Say("one answer", "n", say.Count("answer", d.Sets), "measure", d.Measure.Name) + say.Say("end")
	case d.prefers():
		return d.preferenceWords(say) + d.confoundedWords(say) + say.Say("end")
	}
	text := say.Say("picked", "right", strconv.Itoa(d.Right), "n", say.Count("answer", d.N), "measure", d.Measure.Name) +
		say.Say("guessing", "luck", say.often(d.P))
	if d.HasCritical && d.Kind != Differs {
		text += say.Say("guessing critical", "critical", strconv.Itoa(d.Critical))
	}
	text += d.fill(say, map[Kind]string{Differs: "told apart", Leans: "perhaps apart", NoneSeen: "not told apart"}[d.Kind])
	switch {
	case d.Kind == NoneSeen:
		text += d.reach(say, "apart")
	case d.Kind == Differs && d.HasInterval:
		text += say.Say("discriminators", "tenths", tenths(d.PD), "low", tenths(d.Interval.Low), "high", tenths(d.Interval.High))
	}
	if d.Repeated {
		text += say.Say("repeated", "n", say.Count("taster", d.Assessors))
	}
	return text + d.confoundedWords(say) + say.Say("end")
}

func (d *Discrimination) preferenceWords(say phrases) string {
	phrase, what := "preferred in", "answer"
	if d.Unit == OfAssessor {
		phrase, what = "preferred by", "taster"
	}
	text := d.fill(say, phrase, "right", strconv.Itoa(d.Right), "n", say.Count(what, d.N)) +
		say.Say("coin", "luck", say.often(d.P)) +
		d.fill(say, map[Kind]string{Differs: "preference", Leans: "perhaps prefers", NoneSeen: "no preference"}[d.Kind])
	if d.Kind == NoneSeen {
		text += d.reach(say, "preference")
	}
	if d.Repeated {
		text += say.Say("one vote")
		if d.Undecided > 0 {
			text += say.Say("undecided", "n", strconv.Itoa(d.Undecided))
		}
	}
	return text
}

func (d *Discrimination) fill(say phrases, name string, more ...string) string {
	winner := d.Of.Name
	if 2*d.Right < d.N {
		winner = d.Against.Name
	}
	return say.Say(name, append([]string{"measure", d.Measure.Name, "of", d.Of.Name, "against", d.Against.Name,
		"winner", winner}, more...)...)
}

func (d *Discrimination) reach(say phrases, what string) string {
	switch {
	case d.Detectable == nil:
		return ""
	case d.Detectable.Never:
		return say.Say(what + " never")
	}
	// Rounded up, so that nothing is promised that the answers could not keep.
	return say.Say(what+" reach", "tenths", decimal(math.Ceil(10*d.Detectable.Difference-1e-9), 0))
}

func (d *Discrimination) confoundedWords(say phrases) string {
	if !d.Confounded {
		return ""
	}
	return say.Say("two things", "factors", say.list(d.Factors))
}

// tenths writes a share as a whole number of tenths, cut to 0 to 10.
func tenths(share float64) string {
	return decimal(10*min(1, max(0, share)), 0)
}
