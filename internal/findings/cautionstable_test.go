package findings

import (
	"encoding/csv"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// everything is a scene that every rule fires in.
func everything() scene {
	s := kitchenScene("honey; raw milk; chicken; ground beef; pork chops; cod; eggs; kidney beans; bean sprouts; flour; rice; garlic; oil; leftover soup",
		"Deep-fry, bake, simmer and let cool.", "Steep the garlic.", "Process the jars.", "Boil the honey.", "pan: griddle")
	s.tasters = true
	return s
}

// held says where a row of a reference table stands in our words: the caution, and
// what its words must hold beside the figures of the row.
type held struct {
	code  string
	words []string
}

// safetyRows is every row of food_safety.csv and food_safety_more.csv.
func safetyRows() map[string]held {
	return map[string]held{
		"whole_cuts_145":         {"meat", []string{"Steaks, chops and roasts"}},
		"ham_fresh_145":          {"meat", []string{"fresh or smoked ham"}},
		"ground_meat_160":        {"ground-meat", []string{"Ground beef, pork, veal and lamb"}},
		"poultry_165":            {"poultry", []string{"whole, in parts or ground", "stuffing"}},
		"egg_160":                {"raw-egg", []string{"Egg dishes", "when white and yolk are firm"}},
		"fish_145":               {"fish", []string{"Fish and shellfish"}},
		"leftovers_165":          {"leftovers", []string{"Leftovers and casseroles"}},
		"danger_zone_low":        {"holding", []string{"Between"}},
		"danger_zone_high":       {"holding", []string{"Between"}},
		"two_hours":              {"holding", []string{"in total"}},
		"one_hour_above_90":      {"holding", []string{"above"}},
		"doubling_20_minutes":    {"holding", []string{"double in as little as 20 minutes"}},
		"food_code_differs":      {"holding", []string{"household figures", "US Food Code", "5 °C (41 °F)", "57.2 °C (135 °F)"}},
		"flour_raw":              {"raw-flour", []string{"raw food, not treated to kill germs", "do not taste raw dough or batter"}},
		"flour_ecoli":            {"raw-flour", []string{"E. coli outbreaks"}},
		"dough_eggs":             {"raw-egg", []string{"may carry Salmonella", "in dough and batter too"}},
		"no_home_heat_treatment": {"raw-flour", []string{"at home is not a proven way"}},
		"steam_lid":              {"steam", []string{"lids away from you", "escapes on the far side"}},
		"steam_worse":            {"steam", []string{"can burn worse than boiling water"}},
		"burn_first_aid":         {"first-aid", []string{"cool, not iced, running water", "3–5 minutes to 20 minutes", "medical help"}},
		"canning_defer":          {"home-canning", []string{"tested one", "never work out or scale processing times, jar sizes or acidity"}},
		"canning_low_acid":       {"home-canning", []string{"under pressure only, never in a boiling-water canner"}},
		"canning_altitude":       {"home-canning", []string{"Above 305 m (1,000 ft) time or pressure must be adjusted"}},
		"hands_20_seconds":       {"hands", []string{"soap and water for 20 seconds before and after"}},
		"thermometer":            {"poultry", []string{"thermometer in the thickest part, away from bone"}},
		"panel_allergens":        {"tasters", []string{"milk, eggs, fish, Crustacean shellfish, tree nuts, peanuts, wheat, soybeans, sesame."}},
		"honey_infants":          {"honey-infants", []string{"under one year", "pasteurized or not", "not cooked or baked"}},
		"garlic_in_oil_days":     {"garlic-in-oil", []string{"throw away what is left after"}},
		"garlic_in_oil_cold":     {"garlic-in-oil", []string{"refrigerated at"}},
		"kidney_beans_soak":      {"beans", []string{"Soak dry ones", "pour the water away"}},
		"kidney_beans_boil":      {"beans", []string{"boil them in fresh water", "slow cooker does not get hot enough"}},
		"raw_milk":               {"raw-milk", []string{"Salmonella, E. coli, Listeria", "pregnant, old, very young or ill"}},
		"sprouts":                {"raw-sprouts", []string{"Salmonella, E. coli and Listeria", "washing does not reach", "cook them through"}},
		"rice_cooling":           {"cooling", []string{"shallow dishes", "refrigerate", "Bacillus cereus"}},
	}
}

var shownDegrees = regexp.MustCompile(`(\d+(?:\.\d+)?) °C \((\d+) °F\)`)

// TestSafetyTable holds every row of the reference tables against our words: the
// temperatures within the row's tolerance, the times exactly. The tables name
// their sources row by row (USDA FSIS, US FDA, US CDC, USDA canning guide), and
// which values are from memory.
func TestSafetyTable(t *testing.T) {
	words := map[string]string{}
	for _, c := range cautionsIn(everything()) {
		words[c.Code] = c.Words
	}
	rows := safetyRows()
	for _, row := range referenceRows(t, "food_safety.csv", "food_safety_more.csv") {
		want, known := rows[row["case"]]
		if !known {
			t.Errorf("%s is held by no caution", row["case"])
			continue
		}
		delete(rows, row["case"])
		said := words[want.code]
		for _, phrase := range want.words {
			if !strings.Contains(said, phrase) {
				t.Errorf("%s: %q is not in %q", row["case"], phrase, said)
			}
		}
		if row["temp_f"] != "" && !saysTemperature(t, said, row) {
			t.Errorf("%s: no %s °F (%s °C) in %q", row["case"], row["temp_f"], row["temp_c"], said)
		}
		for column, unit := range map[string]string{"limit_hours": "hour", "rest_minutes": "minutes", "hours": "hours", "minutes": "minutes", "days": "days", "months": "months"} {
			if row[column] != "" && !strings.Contains(said, row[column]+" "+unit) {
				t.Errorf("%s: no %s %s in %q", row["case"], row[column], unit, said)
			}
		}
	}
	for name := range rows {
		t.Errorf("the tables have no row %s", name)
	}
}

// TestSafetyFigures: no temperature stands in our words that the tables do not have.
func TestSafetyFigures(t *testing.T) {
	known := map[string]bool{"41": true, "135": true} // the US Food Code's, in the words of its row
	for _, row := range referenceRows(t, "food_safety.csv", "food_safety_more.csv") {
		known[row["temp_f"]] = true
	}
	for _, c := range cautionsIn(everything()) {
		for _, m := range shownDegrees.FindAllStringSubmatch(c.Words, -1) {
			if !known[m[2]] {
				t.Errorf("%s: %s is in no table", c.Code, m[0])
			}
		}
		if n := strings.Count(c.Words, "°F"); n != len(shownDegrees.FindAllString(c.Words, -1)) {
			t.Errorf("%s: a temperature of another form in %q", c.Code, c.Words)
		}
	}
}

// TestUnsourced: what has no row in a table is marked as common practice.
func TestUnsourced(t *testing.T) {
	sourced := map[string]bool{}
	for _, h := range safetyRows() {
		sourced[h.code] = true
	}
	for _, c := range cautionsIn(everything()) {
		marked := slices.Contains(c.Sources, cautionPhrases(nil).Say(commonPractice))
		if !marked && !(sourced[c.Code] || c.Code == "tasters") || marked && sourced[c.Code] && c.Code != "steam" {
			t.Errorf("%s: sources %v, in a table: %v", c.Code, c.Sources, sourced[c.Code])
		}
	}
}

func saysTemperature(t *testing.T, words string, row map[string]string) bool {
	t.Helper()
	return slices.ContainsFunc(shownDegrees.FindAllStringSubmatch(words, -1), func(m []string) bool {
		within := number(t, row["tolerance"]) + 1e-9
		return math.Abs(number(t, m[1])-number(t, row["temp_c"])) <= within && math.Abs(number(t, m[2])-number(t, row["temp_f"])) <= within
	})
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	n, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// referenceRows reads rows of reference tables by the names of their columns.
func referenceRows(t *testing.T, files ...string) []map[string]string {
	t.Helper()
	var all []map[string]string
	for _, name := range files {
		f, err := os.Open("../../testdata/reference/" + name)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(f).ReadAll()
		f.Close()
		if err != nil || len(rows) < 2 {
			t.Fatalf("%s: %d rows, %v", name, len(rows), err)
		}
		for _, cells := range rows[1:] {
			row := map[string]string{}
			for i, cell := range cells {
				row[rows[0][i]] = cell
			}
			all = append(all, row)
		}
	}
	return all
}
