package site

import (
	"fmt"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/chart"
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/writeup"
)

// differencesFigure is the name of the figure of a measure's differences.
func differencesFigure(m trial.Measure) string { return m.Name + " differences" }

// scoresFigure is the name of the figure of a measure's scores by assessor.
func scoresFigure(m trial.Measure) string { return m.Name + " by taster" }

// compared are the measures with a difference and its interval in two contrasts or
// more: one alone is said in a sentence.
func compared(f *findings.Findings) []trial.Measure {
	return slices.DeleteFunc(slices.Clone(f.Trial.Measures), func(m trial.Measure) bool {
		return len(effectsOf(f, m)) < 2
	})
}

// tasted are the measures that several assessors scored or ranked in two samples or
// more.
func tasted(f *findings.Findings) []trial.Measure {
	return slices.DeleteFunc(slices.Clone(f.Trial.Measures), func(m trial.Measure) bool {
		return m.Source != trial.OfTasting || m.Kind.IsShare() || len(assessors(f, m)) < 2 || len(scored(f, m)) < 2
	})
}

// effectFigures lists the figures that a page shows only where the prose places
// them, or where the trial turns on their measure.
func (g *gallery) effectFigures() []string {
	var names []string
	for _, m := range g.compared {
		names = append(names, differencesFigure(m))
	}
	for _, m := range g.tasted {
		names = append(names, scoresFigure(m))
	}
	return names
}

// turnsOn reports whether a figure of effects is about a measure that the trial
// turns on: the primary one, one that the verdict rests on, or any tasting.
func turnsOn(f *findings.Findings, name string) bool {
	for _, m := range f.Trial.Measures {
		if name == scoresFigure(m) {
			return true
		}
		if name == differencesFigure(m) {
			return m.Primary || slices.Contains(f.Trial.Verdict.BecauseOf, m.Name)
		}
	}
	return false
}

// drawEffects draws a figure of effects by its name; false where it is no such.
func (g *gallery) drawEffects(name, caption, id string) (drawing, bool, error) {
	for _, m := range g.compared {
		if name == differencesFigure(m) {
			drawn, err := drawDifferences(g.Findings, m, caption, id)
			return drawn, true, err
		}
	}
	for _, m := range g.tasted {
		if name == scoresFigure(m) {
			drawn, err := drawScores(g.Findings, m, caption, id)
			return drawn, true, err
		}
	}
	return drawing{}, false, nil
}

// effectOf is a contrast's effect on one measure.
type effectOf struct {
	contrast findings.Contrast
	effect   findings.Effect
}

func effectsOf(f *findings.Findings, m trial.Measure) []effectOf {
	var all []effectOf
	for _, c := range f.Contrasts {
		for _, e := range c.Measures {
			if e.Measure.Name == m.Name && e.HasDifference && e.HasInterval {
				all = append(all, effectOf{c, e})
			}
		}
	}
	return all
}

// drawDifferences draws the differences of all contrasts of a measure, with their
// intervals; where one factor differs they are filled.
func drawDifferences(f *findings.Findings, m trial.Measure, caption, id string) (drawing, error) {
	say := phrasesFor(f.Trial)
	title := titled(caption, say.Say("one against another", "measure", m.Name))
	c := chart.Differences{Quantity: m.Name, Unit: m.Symbol(), Share: m.Kind.IsShare(), Time: m.Kind == trial.Time}
	table := page.Table{
		Caption: title,
		Head:    []string{say.Say("head pair"), say.Say("head factors"), say.Say("head difference"), say.Say("head interval"), "p"},
		Numeric: []bool{false, false, true, true, true},
	}
	scale := func(difference float64) float64 {
		if m.Kind.IsShare() || m.Kind == trial.Time {
			return difference
		}
		return findings.InUnit(m, difference) - findings.InUnit(m, 0)
	}
	for _, x := range effectsOf(f, m) {
		pair := pairOf(say, x.contrast)
		e := x.effect
		c.Rows = append(c.Rows, chart.DifferenceRow{
			Name:   pair + ": " + strings.Join(e.Factors, ", "),
			Note:   writeup.Change(m, e.Difference),
			Value:  scale(e.Difference),
			Low:    scale(e.Interval.Low),
			High:   scale(e.Interval.High),
			Filled: !e.Confounded,
		})
		row := []string{pair, strings.Join(e.Factors, ", "), writeup.Change(m, e.Difference),
			say.Say("from to", "low", writeup.Change(m, e.Interval.Low), "high", writeup.Change(m, e.Interval.High)), ""}
		if e.HasP {
			row[4] = writeup.Probability(say.Language(), e.P)
		}
		table.Rows = append(table.Rows, row)
	}
	c.Head = chart.Head{ID: id, Title: title, Description: say.Say("differences about", "measure", m.Name), Words: chartWords(say)}
	return drawing{c, id, title, table}, nil
}

// assessors lists who judged a measure, in the order of the log.
func assessors(f *findings.Findings, m trial.Measure) []string {
	var all []string
	for _, t := range f.Trial.Tastings {
		if r, ok := t.Readings[m.Name]; ok && r.Counts() && !slices.Contains(all, t.Assessor) {
			all = append(all, t.Assessor)
		}
	}
	return all
}

// scored lists the samples that anybody judged.
func scored(f *findings.Findings, m trial.Measure) []findings.Sample {
	return slices.DeleteFunc(slices.Clone(shown(f)), func(s findings.Sample) bool {
		return s.Measure(m.Name) == nil || s.Measure(m.Name).Numbers == nil
	})
}

// drawScores draws each assessor's scores as a line across the samples. The lines
// have no names: who tasted what is nobody's business on a page.
func drawScores(f *findings.Findings, m trial.Measure, caption, id string) (drawing, error) {
	say := phrasesFor(f.Trial)
	title := titled(caption, say.Say("taster by taster", "measure", m.Name))
	c := chart.Pairs{Quantity: m.Name}
	if m.Kind == trial.Score {
		c.From = chart.ScaleEnd{Value: float64(m.From), Words: m.FromIs}
		c.To = chart.ScaleEnd{Value: float64(m.To), Words: m.ToIs}
	} else {
		c.From, c.To = chart.ScaleEnd{Value: 1}, chart.ScaleEnd{Value: float64(len(scored(f, m)))}
	}
	table := page.Table{Caption: title, Head: []string{say.Say("head taster")}, Numeric: []bool{false}}
	for _, s := range scored(f, m) {
		mean := s.Measure(m.Name).Numbers.Mean
		c.Samples = append(c.Samples, chart.PairSample{Label: label(s), Mean: &mean})
		table.Head = append(table.Head, s.Letter+" "+s.Name)
		table.Numeric = append(table.Numeric, true)
	}
	for n, who := range assessors(f, m) {
		line := chart.Assessor{}
		row := []string{fmt.Sprint(n + 1)}
		for _, s := range scored(f, m) {
			score, text := scoreOf(f, m, who, s)
			line.Scores = append(line.Scores, score)
			row = append(row, text)
		}
		c.Assessors = append(c.Assessors, line)
		table.Rows = append(table.Rows, row)
	}
	c.Head = chart.Head{ID: id, Title: title, Description: say.Say("scores about"), Words: chartWords(say)}
	return drawing{c, id, title, table}, nil
}

func scoreOf(f *findings.Findings, m trial.Measure, who string, s findings.Sample) (chart.Score, string) {
	for _, t := range f.Trial.Tastings {
		if r, ok := t.Readings[m.Name]; ok && t.Assessor == who && t.Sample == s.Key && r.Counts() {
			return chart.Score{Value: r.Value.Float64()}, findings.Measured(m, r.Value.Float64(), 0)
		}
	}
	return chart.Score{Missing: true}, "–"
}
