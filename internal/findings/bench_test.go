package findings

import (
	"fmt"
	"strings"
	"testing"
)

// wide is a trial with 3 samples, 12 measures and 12 pieces of each: eight measured
// ones with one decimal and four counted ones.
func wide() (note, log string) {
	var n, l strings.Builder
	n.WriteString(`---
title: T
question: Q?
recipe: {name: R, ingredients: {rice: 200 g white rice, water: 400 g water}}
conditions: {boil: 12 min, lid: "on"}
samples:
  a: {control: true}
  b: {change: {boil: 18 min}}
  c: {like: b, change: {lid: "off"}}
measures:
`)
	header := "sample,piece"
	for m := range 12 {
		kind := []string{"time", "length", "pass or fail"}[m%3]
		fmt.Fprintf(&n, "  m%d: {kind: %s}\n", m, kind)
		header += fmt.Sprintf(",m%d", m)
	}
	n.WriteString("---\n")
	l.WriteString(header + ",set aside\n")
	for i := range 36 {
		sample := string("abc"[i/12])
		fmt.Fprintf(&l, "%s,%d", sample, i)
		for m := range 12 {
			spread := (i*7919+m*104729)%97 + 5*(i/12)
			if m%3 == 2 {
				fmt.Fprintf(&l, ",%s", []string{"pass", "fail"}[spread/50%2])
			} else {
				fmt.Fprintf(&l, ",%d.%d", 30+spread/10, spread%10)
			}
		}
		aside := ""
		if i%12 == 5 {
			aside = "dropped"
		}
		l.WriteString("," + aside + "\n")
	}
	return n.String(), l.String()
}

// BenchmarkFindings: all findings of such a trial, on one core.
func BenchmarkFindings(b *testing.B) {
	note, log := wide()
	f := of(b, note, log)
	for b.Loop() {
		Of(f.Trial)
	}
}
