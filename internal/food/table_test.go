package food

import (
	"encoding/csv"
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/quantity"
)

// num reads a number that a test writes.
func num(t *testing.T, s string) quantity.Number {
	t.Helper()
	n, err := quantity.ParseNumber(s)
	if err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	return n
}

// records reads an embedded table with a full CSV reader, as a second opinion.
func records(t *testing.T, name string) (heading []string, rows [][]string) {
	t.Helper()
	all, err := csv.NewReader(strings.NewReader(texts()[name].text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return all[0], all[1:]
}

func get(t *testing.T, id ID) *Food {
	t.Helper()
	f, ok := Get(id)
	if !ok {
		t.Fatalf("food %s is not in the table", id)
	}
	return f
}

// TestWhole reads everything whole and compares each cell of foods.csv with what
// a full CSV reader and the exact number reader of the quantity room make of it.
func TestWhole(t *testing.T) {
	if err := Verify(); err != nil {
		t.Fatal(err)
	}
	heading, rows := records(t, foodsFile)
	column := make(map[string]int)
	for i, name := range heading {
		column[name] = i
	}
	if got, want := len(rows), 6441; got != want || Count() != want { // data/SOURCES.md
		t.Fatalf("%d rows, %d foods, want %d", got, Count(), want)
	}
	seen := make(map[string]string)
	missing := 0
	for _, row := range rows {
		f := get(t, ID(row[column["id"]]))
		for got, want := range map[string]string{
			f.Group: row[column["food_group"]], f.Description: row[column["description"]],
			f.OtherNames: row[column["other_names"]], f.Scientific: row[column["scientific_name"]],
			f.RefuseOf: row[column["refuse_description"]],
		} {
			if got != want {
				t.Fatalf("%s: read %q, want %q", f.ID, got, want)
			}
		}
		for _, n := range AllNutrients() {
			sameValue(t, string(f.ID)+" "+n.Name(), f.Nutrients.Of(n), row[column[n.label().column]])
		}
		sameValue(t, string(f.ID)+" refuse", f.Refuse, row[column["refuse_percent"]])
		if !f.Nutrients.Of(Trans).Reported {
			missing++
		}
		if other, twice := seen[f.Description]; twice {
			t.Errorf("%s and %s have one description", other, f.ID)
		}
		seen[f.Description] = row[0]
	}
	if missing != 3106 { // data/SOURCES.md
		t.Errorf("trans fat is missing in %d rows, want 3106", missing)
	}
}

// sameValue holds a value against the text of its cell; of says which one it is.
func sameValue(t *testing.T, of string, got Value, cell string) {
	t.Helper()
	if got.Reported != (cell != "") {
		t.Fatalf("%s: reported is %v, the cell is %q", of, got.Reported, cell)
	}
	if cell != "" && !got.Amount.Equal(num(t, cell)) {
		t.Fatalf("%s: %s, want %s", of, got.Amount, cell)
	}
}

// TestMeasuresWhole compares every measure with the table: grams exactly, amounts
// up to the rounding of a third, and volumes, which are worked out again, with
// the rounded ones.
func TestMeasuresWhole(t *testing.T) {
	_, rows := records(t, measuresFile)
	if got, want := len(rows), 12024; got != want { // data/SOURCES.md
		t.Fatalf("%d measures, want %d", got, want)
	}
	at := make(map[ID]int)
	for _, row := range rows {
		id := ID(row[0])
		f := get(t, id)
		if at[id] >= len(f.Measures) {
			t.Fatalf("%s: only %d measures", id, len(f.Measures))
		}
		m := f.Measures[at[id]]
		at[id]++
		if m.Name != row[2] || !m.Grams.Equal(num(t, row[3])) {
			t.Fatalf("%s: read %s, want %s", id, m, row)
		}
		if off := m.Amount.Sub(num(t, row[1])).Abs(); quantity.Ratio(5, 1000).Less(off) {
			t.Fatalf("%s: amount %s, want %s", id, m.Amount, row[1])
		}
		if m.Volume() != (row[4] != "") {
			t.Fatalf("%s %q: a volume is %v, want %q", id, m.Name, m.Volume(), row[4])
		}
		if row[4] == "" {
			continue
		}
		want := num(t, row[4])
		if off := m.Milliliters.Sub(want).Abs(); want.Mul(quantity.Ratio(1, 90)).Less(off) {
			t.Fatalf("%s %q: %s mL, want about %s", id, m.Name, m.Milliliters.Decimal(3), want)
		}
	}
	for id, n := range at {
		if got := len(get(t, id).Measures); got != n {
			t.Errorf("%s has %d measures, want %d", id, got, n)
		}
	}
}

// TestExactVolumes holds the units of measures against NIST Handbook 44,
// Appendix C: a US cup is 236.5882365 mL, a teaspoon 4.92892159375 mL.
func TestExactVolumes(t *testing.T) {
	for _, test := range []struct {
		id      ID
		measure string
		want    string
	}{
		{"20581", "cup", "236.5882365"},
		{"02047", "tsp", "4.928921594"},
		{"02047", "tbsp", "14.786764781"},
		{"16098", "tbsp", "29.573529563"}, // 2 tbsp
		{"14411", "fl oz", "29.573529563"},
		{"14411", "liter", "1000"},
		{"08120", "cup", "236.5882365"},
		{"01009", "cubic inch", "16.387064"},
	} {
		found := false
		for _, m := range get(t, test.id).Measures {
			if m.Name == test.measure && !found {
				found = true
				if !closeTo(m.Milliliters, num(t, test.want), "0.000000001") {
					t.Errorf("%s %s holds %s mL, want %s", test.id, test.measure, m.Milliliters, test.want)
				}
			}
		}
		if !found {
			t.Errorf("%s has no measure %q", test.id, test.measure)
		}
	}
}

func closeTo(got, want quantity.Number, within string) bool {
	limit, err := quantity.ParseNumber(within)
	return err == nil && got.Sub(want).Abs().Cmp(limit) <= 0
}

func TestMissingIsNotZero(t *testing.T) {
	flour := get(t, "20581")
	if v := flour.Nutrients.Of(Trans); v.Reported {
		t.Errorf("trans fat of flour is %s, want not reported", v.Amount)
	}
	if v := flour.Nutrients.In(quantity.Int(500), Trans); v.Reported {
		t.Errorf("trans fat of 500 g flour is %s, want not reported", v.Amount)
	}
	salt := get(t, "02047")
	if v := salt.Nutrients.Of(Trans); !v.Reported || v.Amount.Sign() != 0 {
		t.Errorf("trans fat of salt is %v, want a reported 0", v)
	}
	if v := flour.Nutrients.Of(nutrientCount); v.Reported {
		t.Error("a nutrient that does not exist is reported")
	}
	if v := (Nutrients{}).Of(Energy); v.Reported {
		t.Error("the zero Nutrients report energy")
	}
}

// TestSanityRows holds rows against values published elsewhere: per serving, as
// on labels, which are rounded (energy to 5 kcal up to 50 kcal, else to 10 kcal;
// fat to 0.5 g below 5 g, else to 1 g: 21 CFR 101.9(c)).
func TestSanityRows(t *testing.T) {
	for _, test := range []struct {
		name, grams string
		nutrient    Nutrient
		want, off   string
		source      string
	}{
		{"banana", "126", Energy, "110", "5", "FDA, label values for raw fruit (21 CFR 101.45); looked up in a reproduction"},
		{"lemon", "58", Energy, "15", "5", "the same"},
		{"lime", "67", Energy, "20", "5", "the same"},
		{"strawberries", "147", Energy, "45", "5", "the same"},
		{"pear", "166", Energy, "100", "10", "the same"},
		{"banana", "126", Potassium, "400", "60", "the same"},
		{"olive oil", "13.5", Energy, "120", "5", "label of a tablespoon of olive oil, common practice, from memory"},
		{"olive oil", "13.5", Saturated, "2", "0.5", "the same"},
		{"unsalted butter", "14", Energy, "100", "5", "label of a tablespoon of butter, common practice, from memory"},
		{"unsalted butter", "14", Saturated, "7", "0.5", "the same"},
		{"all-purpose flour", "30", Energy, "110", "5", "label of a quarter cup of flour, common practice, from memory"},
		{"sugar", "4", Energy, "15", "2", "label of a teaspoon of sugar, common practice, from memory"},
		{"salt", "100", Sodium, "39337", "600", "sodium chloride by atomic masses 22.990 and 35.453; table salt holds 1 to 2 % of other things"},
		{"large egg", "50", Protein, "6", "0.5", "label of a large egg, common practice, from memory"},
		{"large egg", "50", Cholesterol, "185", "5", "the same"},
		{"water", "100", Water, "100", "0.2", "it is water"},
		{"baking soda", "100", Sodium, "27366", "100", "sodium bicarbonate, NaHCO3, by atomic masses 22.990 of 84.007"},
	} {
		m, ok := Find(test.name)
		if !ok {
			t.Errorf("%s is not found", test.name)
			continue
		}
		got := m.Food.Nutrients.In(num(t, test.grams), test.nutrient)
		if !got.Reported || !closeTo(got.Amount, num(t, test.want), test.off) {
			t.Errorf("%s g %s: %s is %s %s, want %s ± %s (%s)", test.grams, test.name, test.nutrient.Name(),
				got.Amount.Decimal(2), test.nutrient.Unit(), test.want, test.off, test.source)
		}
	}
}

// TestPublishedRows holds rows against the figures that data/SOURCES.md took from the
// publisher's own files by another program.
func TestPublishedRows(t *testing.T) {
	for _, test := range []struct {
		id                                          ID
		kcal, protein, fat, sat, mono, poly, carbon string
	}{
		{"20581", "364", "10.33", "0.98", "0.155", "0.087", "0.413", "76.31"},
		{"04615", "884", "0", "99.97", "24.98", "41.186", "28.097", "0"},
		{"04002", "902", "0", "100", "39.2", "45.1", "11.2", "0"},
		{"01145", "717", "0.85", "81.11", "50.489", "23.43", "3.01", "0.06"},
		{"01123", "143", "12.56", "9.51", "3.126", "3.658", "1.911", "0.72"},
		{"19335", "387", "0", "0", "0", "0", "0", "99.98"},
		{"12061", "579", "21.15", "49.93", "3.802", "31.551", "12.329", "21.55"},
	} {
		f := get(t, test.id)
		for n, want := range map[Nutrient]string{
			Energy: test.kcal, Protein: test.protein, Fat: test.fat, Saturated: test.sat,
			Monounsaturated: test.mono, Polyunsaturated: test.poly, Carbohydrate: test.carbon,
		} {
			sameValue(t, string(f.ID)+" "+n.Name(), f.Nutrients.Of(n), want)
		}
	}
	if v := get(t, "04615").Nutrients.Of(Trans); !v.Reported || !v.Amount.Equal(num(t, "13.164")) {
		t.Errorf("trans fat of shortening is %v, want 13.164 g", v)
	}
}

// TestExactSum adds a thousand tenths of a published value: no error adds up.
func TestExactSum(t *testing.T) {
	flour := get(t, "20581").Nutrients
	sum := quantity.Int(0)
	for range 1000 {
		sum = sum.Add(flour.In(quantity.Ratio(1, 10), Saturated).Amount)
	}
	if want := num(t, "0.155"); !sum.Equal(want) {
		t.Errorf("a thousand times 0.1 g flour holds %s g saturated fat, want %s", sum, want)
	}
}

func TestNutrientNames(t *testing.T) {
	heading, _ := records(t, foodsFile)
	for i, n := range AllNutrients() {
		column := heading[3+i]
		if got := n.label().column; got != column {
			t.Errorf("%s is read from %q, the column is %q", n.Name(), got, column)
		}
		unit := strings.Replace(n.Unit(), "µ", "u", 1)
		if !strings.HasSuffix(column, "_"+unit) {
			t.Errorf("%s has the unit %s, the column is %q", n.Name(), n.Unit(), column)
		}
	}
	if got := Nutrient(200).Name(); got != "unknown nutrient" {
		t.Errorf("Nutrient(200) is %q", got)
	}
}

func TestGet(t *testing.T) {
	if a, b := get(t, "01123"), get(t, "01123"); a != b {
		t.Error("one food has two pointers")
	}
	for _, id := range []ID{"", "1123", "99999", "abcde", "01123 "} {
		if f, ok := Get(id); ok {
			t.Errorf("Get(%q) is %s", id, f.Description)
		}
	}
}

func TestThousandths(t *testing.T) {
	for _, test := range []struct {
		in   string
		want int32
		ok   bool
	}{
		{"0", 0, true}, {"12", 12000, true}, {"0.155", 155, true}, {"38758", 38758000, true}, {"2.5", 2500, true},
		{"", 0, false}, {".5", 0, false}, {"5.", 0, false}, {"1.2345", 0, false}, {"-1", 0, false}, {"1e3", 0, false},
		{"1.2.3", 0, false}, {"3000000", 0, false}, {"99999999999999999999", 0, false}, {"1,5", 0, false},
	} {
		if got, ok := thousandths(test.in); ok != test.ok || ok && got != test.want {
			t.Errorf("thousandths(%q) is %d, %v; want %d, %v", test.in, got, ok, test.want, test.ok)
		}
	}
}

func TestFields(t *testing.T) {
	for _, test := range []struct {
		line string
		want []string
		ok   bool
	}{
		{`a,b,c`, []string{"a", "b", "c"}, true},
		{`a,,`, []string{"a", "", ""}, true},
		{`"a, b","say ""x""",c`, []string{"a, b", `say "x"`, "c"}, true},
		{`a,b`, nil, false},
		{`a,b,c,d`, nil, false},
		{`a,b,c,`, nil, false},
		{`"open,b,c`, nil, false},
	} {
		var got [3]string
		ok := fields(test.line, got[:])
		if ok != test.ok {
			t.Errorf("fields(%q) is %v, want %v", test.line, ok, test.ok)
			continue
		}
		for i := range test.want {
			if got[i] != test.want[i] {
				t.Errorf("fields(%q)[%d] is %q, want %q", test.line, i, got[i], test.want[i])
			}
		}
	}
}

// FuzzField compares the field cutter with the standard library's reader, on
// lines that the latter accepts.
func FuzzField(f *testing.F) {
	f.Add(`01001,"Butter, salted",717`)
	f.Add(`"pat (1"" sq, 1/3"" high)",5,`)
	f.Add(`"",""`)
	f.Fuzz(func(t *testing.T, line string) {
		if strings.ContainsAny(line, "\r\n") || line == "" {
			return
		}
		r := csv.NewReader(strings.NewReader(line))
		want, err := r.Read()
		if err != nil {
			return
		}
		got := make([]string, len(want))
		if !fields(line, got) {
			t.Fatalf("%q has %d fields", line, len(want))
		}
		for i := range want {
			if got[i] != want[i] {
				t.Fatalf("%q: field %d is %q, want %q", line, i, got[i], want[i])
			}
		}
	})
}
