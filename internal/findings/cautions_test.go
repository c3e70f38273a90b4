package findings

import (
	"slices"
	"strings"
	"testing"
)

// kitchenScene makes a scene of foods ("name, preparation"), and of lines that are
// steps, or conditions where they begin with "name: ".
func kitchenScene(foods string, lines ...string) scene {
	s := scene{say: cautionPhrases(nil), lists: "us"}
	for _, f := range strings.Split(foods, ";") {
		name, preparation, _ := strings.Cut(strings.TrimSpace(f), ", ")
		if name != "" {
			s.food(sceneFood{folded(name), folded(preparation)})
		}
	}
	for _, line := range lines {
		name, value, condition := strings.Cut(line, ": ")
		if condition {
			s.setting(sceneSetting{folded(name), folded(value), line})
			continue
		}
		s.step(line)
	}
	return s
}

func codes(all []Caution) []string {
	var names []string
	for _, c := range all {
		names = append(names, c.Code)
	}
	return names
}

// TestCautionFoods holds the names of ingredients, alone in a recipe without a
// step, against the caution that they call for.
func TestCautionFoods(t *testing.T) {
	tests := []struct {
		code string
		yes  string
		no   string
	}{
		{"raw-flour", "all-purpose flour; oat flour; rye flour; cake flour; self-rising flour; flour, for dusting; semolina; cornmeal; almond flour; flours",
			"flour tortillas; flourless cake; heat-treated flour; cornstarch; rolled oats; cauliflower; sunflower oil"},
		{"raw-egg", "egg; eggs, beaten; egg yolks; egg white; 2 large eggs; hen's egg; duck eggs; egg wash",
			"eggplant; egg plant; egg noodles; egg substitute; vegan egg; flax egg; pasteurized egg; hard-boiled eggs; nutmeg; veggie stock; egg tagliatelle; egg replacer; eggs, hard-boiled"},
		{"poultry", "chicken thighs; turkey; whole duck; chicken livers; ground turkey; chicken stock and chicken wings; goose; Cornish hen",
			"chicken stock; chicken broth; chickpeas; duck eggs; quail eggs; cooked chicken; canned chicken; chicken of the woods; vegan chicken; duck fat; plant-based chicken; turkish delight; chicken bouillon; mock duck"},
		{"ground-meat", "ground beef; minced pork; beef, ground; lamb mince; sausage meat; pork sausages; hamburger",
			"minced garlic; ginger, minced; beef chuck; mincemeat; ground ginger; hamburger buns; ground turkey; vegetarian sausages; ground coffee"},
		{"meat", "beef chuck; pork shoulder; veal cutlets; lamb chops; rib eye steak; fresh ham; smoked ham; bacon",
			"beef stock; beef broth; lamb's lettuce; cauliflower steak; tuna steak; cooked ham; ground beef; coconut meat; beef jerky; steak sauce; crab meat; hamster food"},
		{"fish", "salmon fillet; cod; shrimp; oysters; mussels; tuna steak; sea bass; prawns; white fish",
			"fish sauce; oyster sauce; oyster mushrooms; canned tuna; crab apples; fish stock; dried shrimp; scallions; scalloped potatoes; codlins; tinned sardines"},
		{"honey-infants", "honey; clover honey; raw honey", "honeydew melon; honey mushrooms; honey melon"},
		{"raw-milk", "raw milk; unpasteurized milk; milk, raw; raw goat milk; unpasteurised cream; raw milk cheese; cheese, unpasteurized",
			"milk; coconut milk; raw coconut milk; almond milk; buttermilk; raw sugar; unpasteurized sauerkraut; milk chocolate; raw oats"},
		{"beans", "dried kidney beans; pinto beans; cannellini beans; black beans; dry soybeans",
			"canned kidney beans; green beans; vanilla beans; coffee beans; kidney beans, canned; cooked black beans; bean sprouts; baked beans; black bean sauce; jelly beans; kidney beans, drained; French beans"},
		{"raw-sprouts", "bean sprouts; alfalfa sprouts; mung bean sprouts", "Brussels sprouts; brussel sprouts; sprouted wheat; canned bean sprouts"},
		{"cooling", "white rice; basmati; sushi rice", "rice flour; rice vinegar; rice noodles; rice paper; cauliflower rice; puffed rice; licorice"},
		{"garlic-in-oil", "garlic oil; garlic-infused oil; garlic confit", "garlic; olive oil; garlic powder"},
		{"leftovers", "leftover rice; cooked chicken; rotisserie chicken", "chicken; roast"},
	}
	for _, tt := range tests {
		for _, want := range []bool{true, false} {
			names := tt.yes
			if !want {
				names = tt.no
			}
			for _, name := range strings.Split(names, ";") {
				name = strings.TrimSpace(name)
				got := slices.Contains(codes(cautionsIn(kitchenScene(name))), tt.code)
				if got != want {
					t.Errorf("%s for %q: %v, want %v", tt.code, name, got, want)
				}
			}
		}
	}
}

// TestCautionProcess holds steps and conditions against the cautions that they,
// together with the ingredients, call for.
func TestCautionProcess(t *testing.T) {
	tests := []struct {
		name, foods string
		lines       []string
		yes, no     string
	}{
		{"nothing to fear", "apples; walnuts", []string{"Slice the apples and serve."}, "", "raw-flour steam hot-ovens holding first-aid hands raw-egg"},
		{"a griddle with fat", "water; sunflower oil, for the pan", []string{"pan: cast-iron griddle, medium heat"}, "hot-fat first-aid", "hot-pans steam hot-ovens"},
		{"a griddle without", "water", []string{"pan: cast-iron griddle"}, "hot-pans first-aid", "hot-fat"},
		{"frying", "potatoes", []string{"Deep-fry them until they are brown."}, "hot-fat", "hot-ovens"},
		{"an air fryer", "potatoes", []string{"Cook them in the air fryer."}, "", "hot-fat hot-pans"},
		{"a loaf pan", "butter", []string{"Butter a loaf pan and fill it."}, "", "hot-fat hot-pans"},
		{"an oven", "apples", []string{"Bake at {oven}.", "oven: 180 °C"}, "hot-ovens first-aid", "hot-fat"},
		{"soda is no oven", "baking soda", []string{"Stir in the baking soda."}, "", "hot-ovens"},
		{"boiling", "potatoes", []string{"Simmer until they are soft."}, "steam first-aid", "boiling-syrup"},
		{"hot water", "tea", []string{"water temperature: 98 °C"}, "steam", "hot-pans"},
		{"hot water in °F", "tea", []string{"water temperature: 200 °F"}, "steam", ""},
		{"cool water", "tea", []string{"water temperature: 22 °C"}, "", "steam first-aid"},
		{"an oven's heat is not the water's", "water", []string{"oven: 220 °C"}, "hot-ovens", "steam"},
		{"syrup", "honey; butter", []string{"Bring the honey and butter to a boil."}, "boiling-syrup honey-infants steam", ""},
		{"sugar into boiling water", "sugar", []string{"Stir the sugar into boiling water."}, "steam", "boiling-syrup"},
		{"snap peas boil", "sugar snap peas", []string{"Boil the sugar snap peas."}, "steam", "boiling-syrup"},
		{"resting batter", "buttermilk; eggs", []string{"Let the batter rest for 30 min."}, "holding raw-egg", ""},
		{"the rest of the sugar", "eggs", []string{"Stir in the rest of the sugar."}, "raw-egg", "holding"},
		{"a stand mixer", "cream", []string{"Whip it in a stand mixer."}, "", "holding"},
		{"resting bread", "bread flour; water", []string{"Let the dough rest for 30 min."}, "raw-flour", "holding"},
		{"coconut milk rests", "coconut milk", []string{"Let it stand."}, "", "holding raw-milk"},
		{"a roast in a condition", "carrots", []string{"carrots cooked: roasted at 220 °C"}, "hot-ovens", ""},
		{"roasted nuts on top", "peanuts", []string{"Sprinkle with the roasted peanuts."}, "", "hot-ovens"},
		{"cooling pasta", "spaghetti", []string{"Let the spaghetti cool."}, "cooling", "leftovers"},
		{"hot pasta", "spaghetti", []string{"Serve at once."}, "", "cooling"},
		{"reheating", "spaghetti", []string{"Reheat it in the sauce."}, "leftovers cooling", ""},
		{"canning", "tomatoes", []string{"Process the jars in a boiling-water canner."}, "home-canning", ""},
		{"canned tomatoes", "canned tomatoes", []string{"Open the can."}, "", "home-canning"},
		{"garlic under oil", "garlic; olive oil", []string{"Steep the garlic in the oil overnight."}, "garlic-in-oil", ""},
		{"garlic fried in a pan", "garlic; olive oil", []string{"Warm the oil in a skillet and add the garlic."}, "hot-fat", "garlic-in-oil"},
		{"tea steeps", "tea", []string{"Steep for 3 min."}, "", "garlic-in-oil"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := codes(cautionsIn(kitchenScene(tt.foods, tt.lines...)))
			for _, code := range strings.Fields(tt.yes) {
				if !slices.Contains(got, code) {
					t.Errorf("%s is missing from %v", code, got)
				}
			}
			for _, code := range strings.Fields(tt.no) {
				if slices.Contains(got, code) {
					t.Errorf("%s is in %v", code, got)
				}
			}
		})
	}
}

// TestCautionBelow holds what a trial measured or set against the temperature at
// which food is done. 71.1 °C (160 °F), 73.9 °C (165 °F): USDA FSIS, Safe Minimum
// Internal Temperature Chart.
func TestCautionBelow(t *testing.T) {
	reading := func(measure string, lowest float64) func(*scene) {
		return func(s *scene) { s.readings = append(s.readings, sceneReading{measure, folded(measure), lowest}) }
	}
	tests := []struct {
		name, foods string
		lines       []string
		measured    func(*scene)
		code, want  string // want "" is a caution without a word of "Here"
	}{
		{"a soft yolk", "eggs", nil, reading("yolk", 64), "raw-egg", "Here the lowest reading of yolk was 64 °C (147 °F)"},
		{"a firm yolk", "eggs", nil, reading("yolk", 74), "raw-egg", ""},
		{"just there", "eggs", nil, reading("yolk", 71.1), "raw-egg", ""},
		{"the room is no yolk", "eggs", nil, reading("kitchen", 20), "raw-egg", ""},
		{"a water bath", "eggs", []string{"water bath: 63 °C"}, nil, "raw-egg", "Here it is set lower: water bath: 63 °C."},
		{"a step in °F", "eggs", []string{"Cook to 150 °F, stirring."}, nil, "raw-egg", "Here a step goes no higher than 65.6 °C (150 °F)."},
		{"a high enough step", "eggs", []string{"Cook to 165 °F, stirring."}, nil, "raw-egg", ""},
		{"soft in words", "eggs", []string{"Fold into a mousse and chill."}, nil, "raw-egg", "Here egg may stay raw or soft."},
		{"milk for yeast", "eggs", []string{"Warm to 38 °C."}, nil, "raw-egg", ""},
		{"pink chicken", "chicken thighs", nil, reading("inside", 68), "poultry", "Here the lowest reading of inside was 68 °C (154 °F)"},
		{"done chicken", "chicken thighs", nil, reading("inside", 74), "poultry", ""},
		{"a steak at 54", "rib eye steak", nil, reading("core", 54), "meat", "which is less"},
		{"a done steak", "rib eye steak", nil, reading("core", 63), "meat", ""},
		{"the pan's surface", "rib eye steak", nil, reading("surface", 50), "meat", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := kitchenScene(tt.foods, tt.lines...)
			if tt.measured != nil {
				tt.measured(&s)
			}
			all := cautionsIn(s)
			at := slices.Index(codes(all), tt.code)
			if at < 0 {
				t.Fatalf("no %s in %v", tt.code, codes(all))
			}
			words := all[at].Words
			if tt.want == "" && strings.Contains(words, "Here") || !strings.Contains(words, tt.want) {
				t.Errorf("%q, want %q in it", words, tt.want)
			}
		})
	}
}

func TestCautionLongWait(t *testing.T) {
	tests := []struct {
		line string
		want bool
	}{
		{"rest: 30 min", false}, {"rest: 2 h", false}, {"rest: 3 h", true}, {"rest: overnight", true},
		{"rest: overnight in the refrigerator", false}, {"stand: 12 hours at room temperature", true}, {"oven: 4 h at 90 °C", false},
	}
	for _, tt := range tests {
		all := cautionsIn(kitchenScene("eggs; milk", tt.line, "Let it stand."))
		at := slices.Index(codes(all), "holding")
		if at < 0 {
			t.Fatalf("%s: no caution", tt.line)
		}
		if got := strings.Contains(all[at].Words, "waits for longer ("+tt.line+")"); got != tt.want {
			t.Errorf("%s: %v, want %v", tt.line, got, tt.want)
		}
	}
}

// TestCautionsOfTrial reads a note: a food that only one sample has is a caution of
// the trial and of that sample alone; readings that were set aside say nothing.
func TestCautionsOfTrial(t *testing.T) {
	const note = `---
title: T
question: Q?
recipe:
  name: Cakes
  ingredients: {oats: 100 g rolled oats, honey: 20 g honey, water: 100 g water}
  steps: ["Cook them on {pan}."]
conditions: {pan: a griddle}
samples:
  plain: {control: true}
  egg: {change: {egg: 1 egg}}
measures:
  inside: {kind: temperature, in: °C}
  chew: {kind: score, from: 1 soft, to: 9 tough}
---
`
	f := of(t, note, "sample,piece,inside,chew,set aside\nplain,1,80,3,\negg,1,60,3,probe slipped\negg,2,66,3,\n")
	if got, want := strings.Join(codes(f.Cautions), " "), "honey-infants raw-egg hands hot-pans first-aid"; got != want {
		t.Errorf("the trial: %s, want %s", got, want)
	}
	if got, want := strings.Join(codes(f.CautionsOf(f.Sample("plain").Sample)), " "), "honey-infants hot-pans first-aid"; got != want {
		t.Errorf("plain: %s, want %s", got, want)
	}
	if words := f.Cautions[1].Words; !strings.Contains(words, "66 °C") {
		t.Errorf("not the lowest reading that counts: %s", words)
	}
}

// TestCautionNames: what the recipe or a sample is called says how it is cooked.
func TestCautionNames(t *testing.T) {
	s := kitchenScene("potatoes; water", "Cook them for 12 min.")
	s.names = []plainText{folded("Boiled potatoes"), folded("Salted at the start")}
	if got := strings.Join(codes(cautionsIn(s)), " "); got != "steam first-aid" {
		t.Error(got)
	}
	// Words of two names do not make a phrase.
	s.names = []plainText{folded("Steak raw"), folded("Egg")}
	if s.softEgg() {
		t.Error("two names were read as one")
	}
}

// TestCautionOrder: everything at once comes in the order of harm, every code once,
// and each with words, a subject and a source.
func TestCautionOrder(t *testing.T) {
	want := "home-canning garlic-in-oil honey-infants raw-milk tasters poultry ground-meat meat fish raw-egg beans raw-sprouts raw-flour hands " +
		"holding cooling leftovers hot-fat boiling-syrup steam hot-ovens first-aid"
	all := cautionsIn(everything())
	if got := strings.Join(codes(all), " "); got != want {
		t.Errorf("\n%s, want\n%s", got, want)
	}
	if len(all) != len(cautionRules(cautionPhrases(nil)))-1 { // hot fat says what hot pans do
		t.Errorf("%d rules, of which %d fire", len(cautionRules(cautionPhrases(nil))), len(all))
	}
	for _, c := range all {
		if c.About == "" || len(c.Sources) == 0 || c.Source != strings.Join(c.Sources, "; ") || !strings.HasSuffix(c.Words, ".") {
			t.Errorf("%+v", c)
		}
		// That labels and local rules go first is said once, below the list.
		if strings.Contains(c.Words, "local") {
			t.Errorf("%s defers by itself: %s", c.Code, c.Words)
		}
	}
}

// TestSpanishNotes: steps, conditions and foods that are written in Spanish call for the
// same cautions as their English fellows.
func TestSpanishNotes(t *testing.T) {
	for _, c := range []struct {
		foods string
		line  string
		want  string // codes that must be there
		not   string
	}{
		{"200 g harina de trigo; huevos", "Freír la masa en una sartén con aceite.", "raw-flour raw-egg hot-fat hands first-aid", "poultry"},
		{"pechuga de pollo", "Hornear hasta que esté hecho.", "poultry hot-ovens hands", "raw-egg"},
		{"carne molida", "Asar en la parrilla.", "ground-meat", "meat"},
		{"arroz", "Hervir y dejar enfriar.", "cooling steam", "hot-ovens"},
		{"leche cruda", "Mezclar.", "raw-milk", "hot-pans"},
		{"miel; agua", "Mezclar con pan rallado.", "honey-infants", "hot-pans"},
		{"ajo; aceite de oliva", "Confitar el ajo.", "garlic-in-oil", ""},
		{"frijoles rojos", "Remojar toda la noche.", "beans", ""},
		{"azúcar", "Hacer un almíbar.", "boiling-syrup", ""},
		{"pepinos", "Esterilizar los frascos.", "home-canning", ""},
		{"sal; agua", "Disolver la sal.", "", "steam hot-pans hot-ovens raw-flour"},
	} {
		s := scene{say: cautionPhrases(nil), lists: "us", language: "es"}
		for name := range strings.SplitSeq(c.foods, ";") {
			s.food(sceneFood{s.folded(name), nil})
		}
		s.step(c.line)
		got := codes(cautionsIn(s))
		for _, code := range strings.Fields(c.want) {
			if !slices.Contains(got, code) {
				t.Errorf("%s / %s: no caution %s in %v", c.foods, c.line, code, got)
			}
		}
		for _, code := range strings.Fields(c.not) {
			if slices.Contains(got, code) {
				t.Errorf("%s / %s: a caution %s in %v", c.foods, c.line, code, got)
			}
		}
	}
}
