package chart

import (
	"fmt"
	"slices"
)

// drawer is what every figure is.
type drawer interface{ Draw() ([]byte, error) }

// figureCase is one figure with a golden file of its name, and why it is there.
type figureCase struct {
	name string
	why  string
	fig  drawer
}

func head(id string) Head {
	return Head{ID: id, Title: "A figure of the trial", Description: "What it shows, in a sentence."}
}

func labels(n int) []Label {
	names := []string{"Cool water", "Boiling water", "Boiling water, no rest", "Boiling water, oil in the dough",
		"Half spelt", "Half rye", "Milk", "Whey", "Twice kneaded", "Cold overnight", "Thin", "Thick"}
	all := make([]Label, n)
	for i := range all {
		all[i] = Label{Letter: string(rune('A' + i)), Name: names[i], Index: i}
	}
	return all
}

const longName = "Boiling water with two tablespoons of toasted sesame oil in the dough, rested for thirty minutes under a damp cloth, then rolled out twice"

func ptr(v float64) *float64 { return &v }

// wave is a plain made-up series: no randomness, spread out enough to look at.
func wave(i, k int) float64 { return float64((i*37+k*53)%23) - 11 }

func stacked(id string, samples, pieces int) StackedTimes {
	f := StackedTimes{Head: head(id), Quantity: "time on the griddle", Parts: []string{"side 1", "side 2"}}
	for k, l := range labels(samples) {
		s := TimeSample{Label: l}
		for i := range pieces {
			s.Pieces = append(s.Pieces, TimePiece{
				Name:     fmt.Sprint(i + 1),
				Seconds:  []float64{40 + wave(i, k), 32 + wave(i+3, k)/2 + .5},
				SetAside: i == 0,
			})
			s.Pieces[i].Seconds[1] = float64(int(s.Pieces[i].Seconds[1]))
		}
		f.Samples = append(f.Samples, s)
	}
	return f
}

func marks(id string, samples, pieces int, about, by float64) Marks {
	f := Marks{Head: head(id), Quantity: "surface temperature", Unit: "°C"}
	for k, l := range labels(samples) {
		s := MarkSample{Label: l}
		for i := range pieces {
			s.Marks = append(s.Marks, Mark{Value: about + by*wave(i, k)/11, SetAside: i == 2})
		}
		s.Mean = ptr(about + by*float64(k%3)/10)
		if pieces > 1 {
			s.Interval = &Interval{*s.Mean - by/2, *s.Mean + by/2}
		}
		f.Samples = append(f.Samples, s)
	}
	return f
}

func shares(id string, samples int) Shares {
	f := Shares{Head: head(id), Asks: "rolls up without a crack"}
	// Wilson intervals at 95 % for 0..6 of 6, written down to four places.
	low := []float64{0, .0301, .0968, .1876, .3, .4365, .6097}
	high := []float64{.3903, .5635, .7, .8124, .9032, .9699, 1}
	for i, l := range labels(samples) {
		n := (i*4 + 4) % 7
		f.Samples = append(f.Samples, ShareSample{Label: l, Note: fmt.Sprintf("%d of 6", n), Count: n, N: 6, Rate: float64(n) / 6, Low: low[n], High: high[n]})
	}
	return f
}

func pairs(id string, samples, assessors int) Pairs {
	f := Pairs{Head: head(id), Quantity: "chew", From: ScaleEnd{1, "tender"}, To: ScaleEnd{9, "tough"}}
	for i, l := range labels(samples) {
		f.Samples = append(f.Samples, PairSample{Label: l, Mean: ptr(4.5 + float64(i%4)/2)})
	}
	names := []string{"Noor", "Teo", "Ines", "Omar", "Assessor with a very long name"}
	for a := range assessors {
		s := Assessor{Name: fmt.Sprint("assessor ", a+1)}
		if a < len(names) {
			s.Name = names[a]
		}
		for i := range samples {
			s.Scores = append(s.Scores, Score{Value: float64((a*5+i*3)%9 + 1), Missing: a == 1 && i == 1})
		}
		f.Assessors = append(f.Assessors, s)
	}
	return f
}

func curves(id string, probes, readings int) Curves {
	f := Curves{Head: head(id), Quantity: "inside the loaf", Unit: "°C", Lines: []Line{{"water boils, 99.6 °C", 99.6}}}
	for k, l := range labels(probes) {
		p := Probe{Label: l}
		for i := range readings {
			x := float64(i) / float64(readings)
			p.Readings = append(p.Readings, Reading{
				Seconds: float64(i) * 10,
				Value:   22 + (76-2*float64(k))*(1-(1-x)*(1-x)) + wave(i, k)/12,
				Missing: k == 1 && i > readings/3 && i < readings/2,
			})
		}
		f.Probes = append(f.Probes, p)
	}
	return f
}

func grouped(id string, series int) Grouped {
	f := Grouped{Head: head(id), Quantity: "per tablespoon", Unit: "g", Groups: []string{"Fat", "Saturated fat", "Protein"}}
	f.Series = labels(series)
	for g := range f.Groups {
		var row []Bar
		for i := range series {
			v := float64((g*5+i*7)%15) + .5
			row = append(row, Bar{Value: v, Written: plainNumber(v, .1) + "\u00a0g", Missing: g == 2 && i == 1})
		}
		f.Bars = append(f.Bars, row)
	}
	return f
}

func differences(id string) Differences {
	return Differences{Head: head(id), Quantity: "thickness", Unit: "mm", Rows: []DifferenceRow{
		{Name: "Boiling water against cool water", Value: .8, Low: .2, High: 1.4, Filled: true},
		{Name: "No rest against boiling water", Note: "−0.3 mm (−1.1 to 0.5)", Value: -.3, Low: -1.1, High: .5, Filled: true},
		{Name: "Together", Note: "2 trials, +0.3 mm", Value: .3, Low: -.1, High: .7, Filled: true, Sum: true},
		{Name: "Oil in the dough, no rest, against cool water", Value: .1, Low: -1.6, High: 1.8},
	}}
}

// cases are all golden figures: each kind as a trial usually has it, and its extremes.
func cases() []figureCase {
	return slices.Concat(timeCases(), markCases(), comparisonCases(), otherCases())
}

func timeCases() []figureCase {
	usual := stacked("cook-time", 3, 6)
	usual.Samples[0].Note = "mean 1:08"
	missing := stacked("t", 2, 4)
	missing.Samples[0].Pieces[1].Missing = []bool{false, true}
	missing.Samples[1].Pieces[2].Missing = []bool{true, true}
	missing.Samples = append(missing.Samples, TimeSample{Label: labels(3)[2]})
	onePart := stacked("t", 2, 3)
	onePart.Parts = []string{"bake"}
	fourParts := stacked("t", 1, 2)
	fourParts.Parts = []string{"sear the first side", "turn and sear the second", "in the oven", "rest under foil"}
	for k := range onePart.Samples {
		for i := range onePart.Samples[k].Pieces {
			p := &onePart.Samples[k].Pieces[i]
			p.Seconds = []float64{3000 + 300*p.Seconds[0]/10}
			p.Name = fmt.Sprintf("batch %d, loaf %d of the morning", k+1, i+1)
		}
	}
	for i := range fourParts.Samples[0].Pieces {
		fourParts.Samples[0].Pieces[i].Seconds = []float64{90, 75.5, 240, 300}
	}
	long := stacked("t", 3, 2)
	for i := range long.Samples {
		long.Samples[i].Name = longName
		long.Samples[i].Note = "mean 1:08 (0:59–1:17), one set aside"
	}
	zero := stacked("t", 1, 2)
	zero.Samples[0].Pieces = []TimePiece{{Name: "1", Seconds: []float64{0, 0}}}

	hostile := stacked("h", 2, 2)
	hostile.Title = `</title><script>alert("1")</script> & 'x'`
	hostile.Description = "]]>\x00\x1b[31m<b>\u202e\ufffe"
	hostile.Samples[0].Name = `<img src=x onerror="alert(1)">&amp;` + "\x07\u2066"
	hostile.Samples[1].Name = "煮沸的水 وماء بارد 🥞 Crème brûlée"
	hostile.Samples[0].Pieces[0].Name = `"><`
	hostile.Parts[0] = "a&b\n\tc"

	return []figureCase{
		{"stacked", "three samples of six pieces", usual},
		{"stacked-twelve", "twelve samples", stacked("t", 12, 3)},
		{"stacked-200", "two hundred pieces", stacked("t", 4, 50)},
		{"stacked-one", "one piece", stacked("t", 1, 1)},
		{"stacked-missing", "parts, a whole piece and a whole sample not read", missing},
		{"stacked-one-part", "one part, over an hour, long piece names", onePart},
		{"stacked-four-parts", "four parts and half a second", fourParts},
		{"stacked-long", "names too long for two lines", long},
		{"stacked-zero", "no time at all", zero},
		{"stacked-hostile", "markup, controls and other scripts in the labels", hostile},
	}
}

func markCases() []figureCase {
	boiled := marks("surface", 3, 6, 97, 4)
	boiled.Lines, boiled.Accuracy, boiled.Written = []Line{{"water boils, 99.6 °C", 99.6}}, 1.5, "±1.5 °C"
	boiled.Samples[1].Note = "mean 97.4 °C (95.4–99.4)"
	lines := marks("m", 2, 5, 97, 4)
	lines.Lines = []Line{{"water boils, 99.6 °C", 99.6}, {"egg sets", 95}, {longName, 96}}
	alike := marks("m", 2, 6, 5, 0)
	alike.Unit, alike.Quantity, alike.Accuracy = "mm", "thickness", .5
	cold := marks("m", 2, 6, -18, 3)
	wideInterval := marks("m", 2, 2, 50, 1)
	wideInterval.Samples[0].Interval = &Interval{-400, 500}
	timed := marks("m", 2, 6, 65, 30)
	timed.Time, timed.Quantity = true, "time to brown"
	none := marks("m", 2, 3, 5, 1)
	none.Samples[1] = MarkSample{Label: labels(2)[1]}

	return []figureCase{
		{"marks", "temperatures near the boiling point", boiled},
		{"marks-lines", "several lines, one with a long name", lines},
		{"marks-alike", "all values alike", alike},
		{"marks-cold", "below zero", cold},
		{"marks-wide", "an interval far wider than the readings", wideInterval},
		{"marks-time", "times", timed},
		{"marks-200", "two hundred pieces", marks("m", 2, 100, 97, 4)},
		{"marks-twelve", "twelve samples", marks("m", 12, 6, 97, 4)},
		{"marks-one", "one piece", marks("m", 1, 1, 97, 4)},
		{"marks-none", "a sample without readings", none},
	}
}

func comparisonCases() []figureCase {
	shareLong := shares("s", 3)
	shareLong.Samples[0].Name, shareLong.Asks = longName, longName
	shareNone := shares("s", 2)
	shareNone.Samples[1] = ShareSample{Label: labels(2)[1]}

	shareDiff := differences("d")
	shareDiff.Share, shareDiff.Quantity = true, "rolls up without a crack"
	for i := range shareDiff.Rows {
		r := &shareDiff.Rows[i]
		r.Value, r.Low, r.High = r.Value/2, r.Low/2, r.High/2
	}
	timeDiff := Differences{Head: head("d"), Time: true, Quantity: "cook time", Rows: []DifferenceRow{
		{Name: longName, Note: longName, Value: -12, Low: -30, High: 6},
	}}
	zeroDiff := Differences{Head: head("d"), Unit: "g", Rows: []DifferenceRow{{Name: "A against B", Filled: true}}}

	return []figureCase{
		{"shares", "three samples", shares("roll", 3)},
		{"shares-twelve", "twelve samples", shares("s", 12)},
		{"shares-long", "long names", shareLong},
		{"shares-none", "a sample without pieces", shareNone},
		{"differences", "single-factor and confounded", differences("contrasts")},
		{"differences-share", "percentage points", shareDiff},
		{"differences-time", "times, long name and note", timeDiff},
		{"differences-zero", "no difference and no width", zeroDiff},
	}
}

func otherCases() []figureCase {
	night := curves("c", 2, 4000)
	night.Quantity = "in the dough, overnight"
	freezer := curves("c", 2, 60)
	freezer.Lines = nil
	for k := range freezer.Probes {
		for i := range freezer.Probes[k].Readings {
			freezer.Probes[k].Readings[i].Value -= 60
		}
	}
	oneReading := Curves{Head: head("c"), Unit: "°C", Probes: []Probe{{Label: labels(1)[0], Readings: []Reading{{Seconds: 30, Value: 21}}}}}

	foods := grouped("foods", 2)
	below := grouped("g", 2)
	below.Bars[1][0] = Bar{Value: -6, Written: "−6 g"}
	nothing := grouped("g", 1)
	for g := range nothing.Bars {
		nothing.Bars[g][0] = Bar{Value: 0, Written: "0 g"}
	}

	return []figureCase{
		{"pairs", "three samples, five assessors, one score missing", pairs("chew", 3, 5)},
		{"pairs-twelve", "twelve samples", pairs("p", 12, 3)},
		{"pairs-many", "sixty assessors", pairs("p", 3, 60)},
		{"pairs-one", "one assessor, one sample", pairs("p", 1, 1)},
		{"curves", "two probes, one with a gap", curves("loaf", 2, 180)},
		{"curves-twelve", "twelve probes", curves("c", 12, 60)},
		{"curves-night", "eleven hours", night},
		{"curves-cold", "below zero", freezer},
		{"curves-one", "one reading", oneReading},
		{"grouped", "two foods", foods},
		{"grouped-twelve", "twelve foods", grouped("g", 12)},
		{"grouped-below", "a value below zero", below},
		{"grouped-zero", "nothing but zeros", nothing},
	}
}
