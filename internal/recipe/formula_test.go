package recipe

import (
	"encoding/csv"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/quantity"
)

// TestBakersPercentTable checks every row of the reference table of baker's
// percentages (worked by hand, each step written out; source column of the table).
func TestBakersPercentTable(t *testing.T) {
	for _, row := range referenceRows(t, "bakers_percent.csv") {
		t.Run(row["case"], func(t *testing.T) {
			check, known := bakersChecks()[row["kind"]]
			if !known {
				t.Fatalf("no check for kind %q", row["kind"])
			}
			check(t, row)
		})
	}
}

func bakersChecks() map[string]func(*testing.T, map[string]string) {
	return map[string]func(*testing.T, map[string]string){
		"percents":          checkPercents,
		"scale_to_dough":    checkScaled,
		"scale_to_portions": checkScaled,
		"scale_to_flour":    checkScaled,
		"scale_factor":      checkScaled,
		"hydration":         checkScaled,
		"preferment":        checkPreferment,
		"preferment_scale":  checkPrefermentScale,
	}
}

func checkPercents(t *testing.T, row map[string]string) {
	formula := parseFormula(t, row["formula"])
	p, ok := formula.Percentages()
	if row["expected_percents"] == "" {
		if ok {
			t.Fatalf("percentages without flour: %v", p)
		}
		return
	}
	if !ok {
		t.Fatal("no percentages")
	}
	checkParts(t, sharesOf(p), row["expected_percents"])
	checkTotals(t, row, formula)
}

// checkScaled does what the row's input asks for and compares the masses.
func checkScaled(t *testing.T, row map[string]string) {
	formula := parseFormula(t, row["formula"])
	scaled, ok := scaleAs(t, formula, row["input"])
	if !ok {
		t.Fatal("not scaled")
	}
	checkParts(t, scaled, row["expected_masses"])
	checkTotals(t, row, scaled)
	if row["scale_factor"] != "" {
		factor, _ := scaled.Mass().Quo(formula.Mass())
		near(t, "scale factor", factor, row["scale_factor"])
	}
}

func scaleAs(t *testing.T, f Formula, input string) (Formula, bool) {
	t.Helper()
	var a, b, c float64
	one := quantity.Int(1)
	switch {
	case scan(input, `^dough ([\d.]+) g$`, &a):
		return f.ToMass(exact(t, a))
	case scan(input, `^flour ([\d.]+) g$`, &a):
		return f.ToFlour(exact(t, a))
	case scan(input, `^factor ([\d.]+)/([\d.]+)$`, &a, &b):
		by, _ := exact(t, a).Quo(exact(t, b))
		return f.Scale(by), true
	case scan(input, `^raise hydration to ([\d.]+) %$`, &a):
		return f.ToHydration(exact(t, a))
	case scan(input, `^([\d.]+) portions of ([\d.]+) g, ([\d.]+) % dough loss$`, &a, &b, &c):
		loss, _ := exact(t, c).Quo(quantity.Int(100))
		return f.ToPortions(exact(t, a), exact(t, b), loss)
	case scan(input, `^([\d.]+) portions of ([\d.]+) g$`, &a, &b):
		return f.ToPortions(exact(t, a), exact(t, b), one.Sub(one))
	}
	t.Fatalf("input %q is not understood", input)
	return nil, false
}

// checkPreferment counts the flour and water of the preferment in the totals.
func checkPreferment(t *testing.T, row map[string]string) {
	var formula Formula
	for _, part := range strings.Split(row["formula"], "; ") {
		name := ""
		if head, rest, named := strings.Cut(part, ": "); named {
			name, part = strings.TrimSuffix(head, "final dough"), rest
			formula = append(formula, within(name, parseFormula(t, part))...)
			continue
		}
		// Parts belong to the preferment that was named last.
		if len(formula) > 0 {
			name = formula[len(formula)-1].Preferment
		}
		var grams float64
		if scan(part, `^starter ([\d.]+) \(equal flour and water\)$`, &grams) {
			half := fmt.Sprint(grams / 2)
			formula = append(formula, within("starter", parseFormula(t, "flour "+half+"; water "+half))...)
			continue
		}
		formula = append(formula, within(name, parseFormula(t, part))...)
	}
	total := formula.Together()
	p, ok := total.Percentages()
	if !ok {
		t.Fatal("no percentages")
	}
	checkParts(t, sharesOf(p), row["expected_percents"])
	checkParts(t, total, row["expected_masses"])
	checkTotals(t, row, total)
	split, _ := formula.Percentages()
	near(t, "prefermented flour", split.Prefermented, row["prefermented_flour_percent"])
}

func within(preferment string, f Formula) Formula {
	for i := range f {
		f[i].Preferment = preferment
	}
	return f
}

// checkPrefermentScale builds the biga from its share of the flour and its
// hydration, and scales the whole to the dough asked for.
func checkPrefermentScale(t *testing.T, row map[string]string) {
	const wording = `^total formula percent: (.*); biga holds ([\d.]+) % of the flour at ([\d.]+) % hydration$`
	m := regexp.MustCompile(wording).FindStringSubmatch(row["formula"])
	if m == nil {
		t.Fatalf("formula %q is not understood", row["formula"])
	}
	share, hydration := parse(t, m[2]), parse(t, m[3])
	hundred := quantity.Int(100)
	bigaWater, _ := share.Mul(hydration).Quo(hundred)
	formula := Formula{
		{Role: "biga flour", Grams: share, Flour: true, Preferment: "biga"},
		{Role: "biga water", Grams: bigaWater, Water: true, Preferment: "biga"},
	}
	for _, p := range parseFormula(t, m[1]) {
		switch {
		case p.Flour:
			p.Grams = p.Grams.Sub(share)
		case p.Water:
			p.Grams = p.Grams.Sub(bigaWater)
		}
		formula = append(formula, p)
	}
	scaled, ok := scaleAs(t, formula, row["input"])
	if !ok {
		t.Fatal("not scaled")
	}
	checkParts(t, scaled, row["expected_masses"])
	checkTotals(t, row, scaled)
	p, _ := scaled.Percentages()
	near(t, "prefermented flour", p.Prefermented, row["prefermented_flour_percent"])
}

func checkTotals(t *testing.T, row map[string]string, f Formula) {
	t.Helper()
	near(t, "total mass", f.Mass(), row["total_mass"])
	p, ok := f.Percentages()
	if !ok {
		return
	}
	near(t, "total percent", p.Total, row["total_percent"])
	near(t, "hydration", p.Hydration, row["hydration_percent"])
}

func sharesOf(p Percentages) Formula {
	var f Formula
	for _, part := range p.Parts {
		f = append(f, Part{Role: part.Role, Grams: part.Share})
	}
	return f
}

func checkParts(t *testing.T, got Formula, want string) {
	t.Helper()
	expected := parseFormula(t, want)
	if len(got) != len(expected) {
		t.Fatalf("got %d parts, want %d", len(got), len(expected))
	}
	for i, p := range expected {
		if got[i].Role != p.Role {
			t.Errorf("part %d is %q, want %q", i, got[i].Role, p.Role)
		}
		near(t, p.Role, got[i].Grams, p.Grams.String())
	}
}

// near compares at the table's tolerance of 1e-9, relative above 1.
func near(t *testing.T, what string, got quantity.Number, want string) {
	t.Helper()
	if want == "" {
		return
	}
	w := parse(t, want)
	slack := quantity.Ratio(1, 1_000_000_000)
	if w.Abs().Cmp(quantity.Int(1)) > 0 {
		slack = slack.Mul(w.Abs())
	}
	if got.Sub(w).Abs().Cmp(slack) > 0 {
		t.Errorf("%s is %s, want %s", what, got, want)
	}
}

// parseFormula reads "flour 1000; water 650". In the tables every name with flour
// in it is a flour, and water is water.
func parseFormula(t *testing.T, text string) Formula {
	t.Helper()
	var f Formula
	for _, part := range strings.Split(strings.TrimSuffix(text, " (percent)"), "; ") {
		at := strings.LastIndexByte(part, ' ')
		name := part[:at]
		f = append(f, Part{
			Role:  name,
			Grams: parse(t, part[at+1:]),
			Flour: strings.HasSuffix(name, "flour"),
			Water: strings.HasSuffix(name, "water"),
		})
	}
	return f
}

func parse(t *testing.T, text string) quantity.Number {
	t.Helper()
	whole, fraction, _ := strings.Cut(text, ".")
	if len(fraction) > 9 { // printed with fifteen digits; parsing takes nine decimals
		fraction = fraction[:9]
	}
	if fraction != "" {
		whole += "." + fraction
	}
	n, err := quantity.ParseNumber(whole)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func exact(t *testing.T, f float64) quantity.Number {
	t.Helper()
	return parse(t, fmt.Sprint(f))
}

func scan(text, pattern string, into ...*float64) bool {
	m := regexp.MustCompile(pattern).FindStringSubmatch(text)
	if m == nil {
		return false
	}
	for i, p := range into {
		fmt.Sscan(m[i+1], p)
	}
	return true
}

func referenceRows(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/reference/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, record := range records[1:] {
		row := map[string]string{}
		for i, cell := range record {
			row[records[0][i]] = cell
		}
		rows = append(rows, row)
	}
	return rows
}

// drawFormula draws a dough with one flour at least.
func drawFormula(t *rapid.T) Formula {
	f := Formula{{Role: "flour", Flour: true, Grams: quantity.Int(rapid.Int64Range(1, 5000).Draw(t, "flour"))}}
	for i := range rapid.IntRange(0, 6).Draw(t, "parts") {
		f = append(f, Part{
			Role:  fmt.Sprint("part ", i),
			Grams: quantity.Ratio(rapid.Int64Range(0, 9000).Draw(t, "grams"), 10),
			Flour: rapid.Bool().Draw(t, "flour?"),
			Water: rapid.Bool().Draw(t, "water?"),
		})
	}
	return f
}

// TestPercentagesLaws: the percentages do not change with the size, the flours are
// 100 together, and a formula scaled to its own mass is itself.
func TestPercentagesLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFormula(t)
		by := quantity.Ratio(rapid.Int64Range(1, 400).Draw(t, "num"), rapid.Int64Range(1, 90).Draw(t, "den"))
		p, _ := f.Percentages()
		q, _ := f.Scale(by).Percentages()
		flours := quantity.Int(0)
		for i, part := range p.Parts {
			if !part.Share.Equal(q.Parts[i].Share) {
				t.Fatalf("%s: %s, scaled %s", part.Role, part.Share, q.Parts[i].Share)
			}
			if f[i].Flour {
				flours = flours.Add(part.Share)
			}
		}
		if !flours.Equal(quantity.Int(100)) {
			t.Fatalf("the flours are %s %%", flours)
		}
		same, ok := f.ToMass(f.Mass())
		if !ok || !same[0].Grams.Equal(f[0].Grams) {
			t.Fatal("a formula scaled to its own mass changed")
		}
	})
}
