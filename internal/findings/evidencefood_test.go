package findings

import (
	"slices"
	"strings"
	"testing"
)

func TestPantry(t *testing.T) {
	older := bench{measures: size, more: cooked(1), pieces: numberHead + rows("b", "12", "14") + rows("a", "10", "11"),
		samples: "a: {name: Salted, control: true}\nb: {name: Plain, omit: [salt]}"}.of(t)
	newer := bench{measures: size, more: cooked(2), pieces: numberHead + rows("b", "12", "14") + rows("a", "10", "11"),
		samples: "a: {name: Short, control: true}\nb: {name: With zingwort, change: {boil: 18 min, herb: 3 g zingwort, more: 1 tsp SALT}}"}.of(t)
	var got []string
	for _, p := range PantryOf(studies(newer, older)) {
		line := p.Name
		if p.Row == "" {
			line += " (no row)"
		}
		for _, w := range p.Written {
			line += ", also " + w
		}
		for _, u := range p.Uses {
			line += " | " + strings.Join(u.Lines, "; ")
			if u.Varied {
				line += " varied: "
				for i, l := range u.Levels {
					if i > 0 {
						line += " / "
					}
					line += l.Text
				}
			}
			for _, f := range u.Factors {
				line += " <" + f.Name + ">"
			}
		}
		got = append(got, line)
	}
	want := []string{
		"white rice | 200 g white rice | 200 g white rice",
		"table salt, also SALT | 5 g table salt varied: 5 g table salt /  <salt> | 5 g table salt varied: 5 g table salt / 5 g table salt; 1 tsp SALT <more>",
		"water | 400 g water | 400 g water",
		"zingwort (no row) |  varied:  / 3 g zingwort <herb>",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
