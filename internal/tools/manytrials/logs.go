package main

import (
	"fmt"
	"math"
	"strings"
)

// readings are the logs of a trial, and of every share how many of how many.
type readings struct {
	logs   []file
	counts map[string]string // by sample and measure: "5 of 6"
	aside  int
}

// log draws the pieces, the tasting and the thermometer's rows.
func (p *plan) log() readings {
	r := readings{counts: map[string]string{}}
	r.logs = append(r.logs, file{"pieces.csv", p.piecesLog(&r)})
	if last := p.measure[len(p.measure)-1]; last.isScore() {
		r.logs = append(r.logs, file{"tasting.csv", p.tastingLog(last)})
	}
	if p.probe {
		r.logs = append(r.logs, file{"probe-curve.csv", p.probeLog()})
	}
	return r
}

func countKey(s sample, m measure) string { return s.key + "/" + m.name }

// pieceMeasures are those that are read of a piece, and not at the table.
func (p *plan) pieceMeasures() []measure {
	if last := len(p.measure) - 1; p.measure[last].isScore() {
		return p.measure[:last]
	}
	return p.measure
}

func (p *plan) piecesLog(r *readings) string {
	lines := []string{strings.Join(append(p.heading(), "set aside", "note"), ",")}
	for _, s := range p.samples {
		lines = append(lines, p.sampleRows(s, r)...)
	}
	return strings.Join(lines, "\n") + "\n"
}

// heading names the columns up to the last measure.
func (p *plan) heading() []string {
	columns := []string{"sample"}
	if p.batches > 1 {
		columns = append(columns, "batch")
	}
	columns = append(columns, "piece")
	for _, m := range p.pieceMeasures() {
		columns = append(columns, m.name)
	}
	return columns
}

// rowOf says which piece a row is about, counted from 0 through all batches.
func (p *plan) rowOf(s sample, piece int) []string {
	row := []string{s.key}
	if p.batches > 1 {
		row = append(row, fmt.Sprint(1+piece/p.pieces))
	}
	return append(row, fmt.Sprint(1+piece%p.pieces))
}

// sampleRows draws the pieces of a sample, and counts what its shares come to.
func (p *plan) sampleRows(s sample, r *readings) []string {
	measures := p.pieceMeasures()
	good, of := map[string]int{}, map[string]int{}
	odd := p.draw.IntN(3 * p.pieces) // in one sample of three, a piece is set aside
	var rows []string
	for n := range p.pieces * p.batches {
		row := p.rowOf(s, n)
		reason, about := p.reason(n == odd, measures)
		if reason != "" {
			r.aside++
		}
		for _, m := range measures {
			reading := p.reading(p.draw, m, s)
			row = append(row, reading)
			if reason == "" || about != "" && about != m.name {
				of[m.name]++
				good[m.name] += ones(reading == m.yes)
			}
		}
		rows = append(rows, strings.Join(append(row, reason, p.remark()), ","))
	}
	for _, m := range measures {
		r.counts[countKey(s, m)] = fmt.Sprintf("%d of %d", good[m.name], of[m.name])
	}
	return rows
}

func ones(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// reason says why a piece is set aside, whole or for one measure.
func (p *plan) reason(odd bool, measures []measure) (reason, about string) {
	if !odd {
		return "", ""
	}
	if p.draw.IntN(2) == 0 {
		return p.pick("dropped on the way to the scale", "stuck to its neighbour", "stood on the hot spot", "cut too small by mistake"), ""
	}
	m := measures[p.draw.IntN(len(measures))]
	return m.name + ": " + p.pick("read twice and not alike", "written down late", "the reading slipped"), m.name
}

func (p *plan) remark() string {
	if p.draw.IntN(9) > 0 {
		return ""
	}
	return p.pick("a little lopsided", "the last of the bowl", "smelled of toffee", "nicest of all", "paler than the rest", "as before")
}

func (p *plan) tastingLog(m measure) string {
	lines := []string{"assessor,sample," + m.name + ",note"}
	for a := range 6 + p.draw.IntN(5) {
		for _, s := range p.samples {
			lines = append(lines, fmt.Sprintf("A%d,%s,%s,%s", a+1, s.key, p.reading(p.draw, m, s), p.remark()))
		}
	}
	return strings.Join(lines, "\n") + "\n"
}

// probeLog is a curve for each sample that nears a temperature the slower the closer it is.
func (p *plan) probeLog() string {
	heat := p.dish.heat
	const rows = 24
	var keys []string
	var rates []float64
	for _, s := range p.samples {
		keys = append(keys, s.key)
		rates = append(rates, 2.4+0.9*p.draw.Float64())
	}
	lines := []string{"time," + strings.Join(keys, ",")}
	for n := range rows + 1 {
		seconds := n * heat.minutes * 60 / rows
		row := []string{fmt.Sprintf("%d:%02d:%02d", seconds/3600, seconds/60%60, seconds%60)}
		for _, rate := range rates {
			at := heat.to + (heat.from-heat.to)*math.Exp(-rate*float64(n)/rows) + 0.3*p.draw.NormFloat64()
			row = append(row, trimmed(math.Round(at*2)/2))
		}
		lines = append(lines, strings.Join(row, ","))
	}
	return strings.Join(lines, "\n") + "\n"
}

func (p *plan) pick(of ...string) string { return of[p.draw.IntN(len(of))] }
