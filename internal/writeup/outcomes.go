package writeup

import (
	"fmt"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/trial"
)

// Outcomes is the outcome table, or nil for a trial without readings.
func Outcomes(f *findings.Findings) *page.Outcomes {
	o := &page.Outcomes{}
	read := false
	for i := range f.Samples {
		o.Samples = append(o.Samples, Ref(&f.Samples[i]))
	}
	for _, m := range f.Trial.Measures {
		if m.Kind.IsDiscrimination() {
			continue
		}
		row := page.OutcomeRow{Measure: m.Name, Asks: asks(m), Primary: m.Primary}
		for i := range f.Samples {
			summary := f.Samples[i].Measure(m.Name)
			read = read || summary.N > 0 || summary.SetAside > 0
			cell := outcome(summary)
			if !f.Samples[i].ByPiece(m) {
				cell.Interval = ""
			}
			row.Cells = append(row.Cells, cell)
		}
		o.Rows = append(o.Rows, row)
	}
	if !read {
		return nil
	}
	return o
}

// asks says what a measure means: the question of a test, the ends of a scale, the
// parts of a sum.
func asks(m trial.Measure) string {
	switch {
	case m.Asks != "":
		return m.Asks
	case m.Kind == trial.Score && m.FromIs != "":
		return spoken(m.Language).Say("scale", "from", fmt.Sprint(m.From), "low", m.FromIs, "to", fmt.Sprint(m.To), "high", m.ToIs)
	case m.Source == trial.OfParts:
		return strings.Join(m.Parts, " + ")
	}
	return ""
}

func outcome(s *findings.Summary) page.OutcomeCell {
	cell := page.OutcomeCell{SetAside: s.SetAside}
	if s.N == 0 {
		return cell
	}
	cell.Value = s.Text()
	if s.Share == nil {
		cell.N = fmt.Sprint(s.N) // a share says it itself: 4 of 6
	}
	switch {
	case s.Share != nil:
		cell.Interval = fmt.Sprintf("%.0f–%.0f %%", 100*s.Share.Low, 100*s.Share.High)
	case s.Numbers != nil && s.N > 1:
		n, m := s.Numbers, s.Measure
		if n.HasSD {
			cell.Value = findings.WithSpread(m, n.Mean, n.SD)
		}
		cell.Median = findings.Measured(m, n.Median, 0)
		cell.Range = findings.Range(m, n.Min, n.Max, 0)
		if n.HasInterval {
			cell.Interval = findings.Range(m, n.Interval.Low, n.Interval.High, 1)
		}
	}
	return cell
}

// tray shows what became of every piece, or nil where nothing was tested by piece.
func tray(f *findings.Findings) *page.Tray {
	var tests []trial.Measure
	for _, m := range f.Trial.Measures {
		if m.Kind.IsShare() && m.Source == trial.OfPiece {
			tests = append(tests, m)
		}
	}
	if len(tests) == 0 || len(f.Trial.Pieces) == 0 {
		return nil
	}
	letters := testLetters(tests)
	t := &page.Tray{}
	for i, m := range tests {
		t.Tests = append(t.Tests, page.TrayTest{Letter: letters[i], Measure: m.Name, Asks: m.Asks})
	}
	for i := range f.Samples {
		s := &f.Samples[i]
		row := page.TraySample{SampleRef: Ref(s), Summary: traySummary(s, tests)}
		for _, p := range f.Trial.Pieces {
			if p.Sample == s.Key {
				row.Pieces = append(row.Pieces, piece(p, tests, letters, s.Batches))
			}
		}
		t.Samples = append(t.Samples, row)
	}
	return t
}

func traySummary(s *findings.Sample, tests []trial.Measure) string {
	var parts []string
	for _, m := range tests {
		if summary := s.Measure(m.Name); summary.N > 0 {
			parts = append(parts, m.Name+" "+summary.Text())
		}
	}
	return strings.Join(parts, ", ")
}

// testLetters gives every test a letter of its own: one of its name where one is
// free, otherwise a number.
func testLetters(tests []trial.Measure) []string {
	taken := map[string]bool{}
	var letters []string
	for i, m := range tests {
		letter := fmt.Sprint(i + 1)
		for _, r := range strings.ToUpper(m.Name) {
			if r >= 'A' && r <= 'Z' && !taken[string(r)] {
				letter = string(r)
				break
			}
		}
		taken[letter] = true
		letters = append(letters, letter)
	}
	return letters
}

func piece(p trial.Piece, tests []trial.Measure, letters []string, batches int) page.Piece {
	v := page.Piece{Label: p.Number, SetAside: p.SetAside, Note: p.Note}
	if batches > 1 {
		v.Label = fmt.Sprintf("%d.%s", p.Batch, p.Number)
	}
	for i, m := range tests {
		reading, read := p.Readings[m.Name]
		mark := page.Mark{Letter: letters[i], Measure: m.Name}
		if read && !reading.Missing {
			mark.State = state(m, reading)
			if p.SetAside == "" {
				mark.SetAside = reading.SetAside
			}
		}
		v.Marks = append(v.Marks, mark)
	}
	return v
}

func state(m trial.Measure, r trial.Reading) page.State {
	yes := r.Value.Sign() > 0
	switch {
	case m.Kind == trial.PassOrFail && yes:
		return page.Pass
	case m.Kind == trial.PassOrFail:
		return page.Fail
	case yes:
		return page.Yes
	}
	return page.No
}
