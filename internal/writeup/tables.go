package writeup

import (
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
)

// RecipeTable is the recipe at full size as a plain table, for the prose.
func RecipeTable(f *findings.Findings, caption string) page.Table {
	say, c := phrasesOf(f.Trial), card(f)
	if caption == "" {
		caption = c.Name
	}
	t := page.Table{Caption: caption, Head: append([]string{say.Say("head ingredient")}, c.Systems...), Numeric: []bool{false}}
	for range c.Systems {
		t.Numeric = append(t.Numeric, true)
	}
	for _, line := range c.Lines {
		food := line.Food
		if line.Preparation != "" {
			food += ", " + line.Preparation
		}
		row := []string{food}
		for _, a := range line.Full {
			row = append(row, say.about(a.Text, a.About))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// SamplesTable is what differs between the samples as a plain table, for the prose.
func SamplesTable(f *findings.Findings, caption string) page.Table {
	say := phrasesOf(f.Trial)
	if caption == "" {
		caption = say.Say("what differed")
	}
	t := page.Table{Caption: caption, Head: []string{say.Say("head factor")}, Numeric: []bool{false}}
	for i := range f.Samples {
		t.Head = append(t.Head, f.Samples[i].Letter+" "+f.Samples[i].Name)
	}
	for _, factor := range differs(f) {
		row := []string{factor.Factor}
		for _, level := range factor.Levels {
			text := level.Text
			if text == "" {
				text = say.Say("none")
			}
			row = append(row, text)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
