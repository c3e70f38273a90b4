package page

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// luminance and contrast are those of WCAG 2.2, "relative luminance" and
// "contrast ratio".
func luminance(hex string) float64 {
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(hex[1+2*i:3+2*i], 16, 8)
		if err != nil {
			return math.NaN()
		}
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

func contrast(a, b string) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// palettes reads the custom properties of the light, dark and print rules.
func palettes(t *testing.T, css string) map[string]map[string]string {
	t.Helper()
	blocks := regexp.MustCompile(`(?s):root \{(.*?)\}`).FindAllStringSubmatch(css, -1)
	if len(blocks) != 3 {
		t.Fatalf("%d palettes, want light, dark and print", len(blocks))
	}
	all := make(map[string]map[string]string)
	for i, name := range []string{"light", "dark", "print"} {
		all[name] = make(map[string]string)
		for _, m := range regexp.MustCompile(`--([a-z-]+): (#[0-9a-f]{3,6});`).FindAllStringSubmatch(blocks[i][1], -1) {
			value := m[2]
			if len(value) == 4 {
				value = fmt.Sprintf("#%[1]c%[1]c%[2]c%[2]c%[3]c%[3]c", value[1], value[2], value[3])
			}
			all[name][m[1]] = value
		}
	}
	return all
}

// WCAG 2.2: 4.5 for text (1.4.3), 3 for large text and for what is drawn (1.4.3, 1.4.11).
func TestContrast(t *testing.T) {
	if got := contrast("#000000", "#ffffff"); math.Abs(got-21) > 1e-9 {
		t.Fatalf("black on white is %v, not 21", got)
	}
	if got := contrast("#777777", "#ffffff"); got >= 4.5 || got < 4.4 {
		t.Fatalf("#777 on white is %v, not 4.48", got)
	}
	for name, p := range palettes(t, string(mustNew(t).Styles())) {
		check := func(ink, paper string, least float64) {
			t.Helper()
			a, b := p[ink], p[paper]
			if a == "" || b == "" {
				t.Errorf("%s: no %s or %s", name, ink, paper)
				return
			}
			if got := contrast(a, b); !(got >= least) {
				t.Errorf("%s: %s on %s has a contrast of %.2f, less than %v", name, ink, paper, got, least)
			}
		}
		for _, paper := range []string{"card", "tint", "paper", "warn-tint"} {
			for _, ink := range []string{"text", "muted", "link"} {
				check(ink, paper, 4.5)
			}
		}
		for _, ink := range []string{"good", "warn"} {
			check(ink, "card", 4.5)
			check(ink, "tint", 4.5)
		}
		for _, ink := range []string{"text", "comment", "keyword", "name", "string", "number", "sign", "heading", "inserted", "deleted"} {
			check("code-"+ink, "code-paper", 4.5)
		}
		for _, ink := range []string{"figure-text", "figure-muted", "figure-boil"} {
			check(ink, "card", 4.5)
		}
		check("card", "text", 4.5) // the button that is picked
		check("line", "card", 3)
		check("red", "card", 3)
		for i := range inks {
			ink := "ink-" + string(rune('a'+i))
			check(ink, "card", 3)   // chips and trays bring their own card
			check("on-ink", ink, 3) // the mark's letter: bold, 19 px, which is large text
		}
	}
}

// The style sheet loads nothing, and knows every ink.
func TestStyles(t *testing.T) {
	css := string(mustNew(t).Styles())
	for _, no := range []string{"url(", "@import", "!important", "expression("} {
		if strings.Contains(css, no) {
			t.Errorf("the style sheet has %s", no)
		}
	}
	for i := range inks {
		name := "ink-" + string(rune('a'+i))
		if got := strings.Count(css, "--"+name+": #"); got != 3 {
			t.Errorf("%s has %d values, want 3: light, dark, print", name, got)
		}
		if !strings.Contains(css, "."+name+" { --ink: var(--"+name+"); --weave: ") {
			t.Errorf("%s has no weave", name)
		}
	}
	if open, closed := strings.Count(css, "{"), strings.Count(css, "}"); open != closed {
		t.Errorf("%d braces open, %d close", open, closed)
	}
}

// Twelve sizes can be picked without a script.
func TestSizesCanBePicked(t *testing.T) {
	css := string(mustNew(t).Styles())
	for i := range 12 {
		rule := fmt.Sprintf(".ingredients:has(.pick-size-%d:checked) .size:not(.size-%d)", i, i)
		if !strings.Contains(css, rule) {
			t.Errorf("no rule %s", rule)
		}
	}
	html, err := mustNew(t).Recipe(fakeRecipe())
	if err != nil {
		t.Fatal(err)
	}
	for i := range 3 {
		for _, want := range []string{fmt.Sprintf(`class="pick-size-%d"`, i), fmt.Sprintf(`<section class="size size-%d`, i)} {
			if strings.Count(string(html), want) != 1 {
				t.Errorf("the recipe page has not one %s", want)
			}
		}
	}
	if got := strings.Count(string(html), " is-default"); got != 2 {
		t.Errorf("%d sizes are shown before a choice, want 2", got)
	}
}
