package food

import (
	"strings"

	"sidebatch.example/sidebatch/internal/quantity"
)

// WaterShare is the share of water in the food by weight, 0 to 1; ok is false
// where the publisher did not report it.
func WaterShare(f *Food) (share quantity.Number, ok bool) {
	v := f.Nutrients.Of(Water)
	if !v.Reported {
		return quantity.Number{}, false
	}
	return v.Amount.Mul(quantity.Ratio(1, 100)), true
}

// IsWater says whether the food is plain drinking water, from the tap or a
// bottle, still or sparkling.
func IsWater(f *Food) bool {
	d := f.Description
	named := strings.HasPrefix(d, "Beverages, water, tap") || strings.HasPrefix(d, "Beverages, water, bottled") ||
		strings.HasPrefix(d, "Water, bottled, generic") || d == "Beverages, carbonated, club soda"
	v := f.Nutrients.Of(Water)
	return named && v.Reported && v.Amount.Cmp(quantity.Int(99)) >= 0
}

// IsLiquid says whether the food is poured in a kitchen, so that "oz" may be
// meant as fluid ounces: drinks, milk and cream, juices, broths and thin soups,
// vinegars, oils, extracts, syrups and honey. Yogurt, purées and spreads are not,
// nor are powders that a drink is made of.
func IsLiquid(f *Food) bool {
	d := f.Description
	if solid(d) {
		return false
	}
	switch f.Group {
	case "Beverages":
		v := f.Nutrients.Of(Water)
		return !v.Reported || v.Amount.Cmp(quantity.Int(40)) >= 0
	case "Fats and Oils":
		if strings.HasPrefix(d, "Oil, ") || strings.HasPrefix(d, "Fish oil") {
			return !hardOil(d)
		}
	}
	if poured(d) {
		return true
	}
	for _, m := range f.Measures {
		if m.unit == quantity.FluidOunce && !m.aside {
			return true
		}
	}
	return false
}

// hardOil knows the oils that are no liquid in a cool kitchen.
func hardOil(description string) bool {
	d := strings.ToLower(description)
	for _, word := range []string{"hydrogenated", "palm", "coconut", "butter", "babassu", "sheanut", "cupu assu", "spray"} {
		if strings.Contains(d, word) {
			return true
		}
	}
	return false
}

// solid catches forms that other words of a description would call a liquid.
// What was made up with water or milk again is one.
func solid(description string) bool {
	d := strings.ToLower(description)
	for _, made := range []string{"prepared with", "prepared from", "reconstituted", "wine"} {
		if strings.Contains(d, made) {
			return false
		}
	}
	for _, word := range []string{
		"powder", " dry", "dried", "dehydrated", "crystals", "cubes", "frozen novelt", "ice cream", "shakes", "undiluted",
	} {
		if strings.Contains(d, word) {
			return true
		}
	}
	return false
}

// poured knows liquids by the start of their description.
func poured(d string) bool {
	for _, start := range []string{
		"Milk, fluid", "Milk, whole", "Milk, reduced fat", "Milk, lowfat", "Milk, nonfat, fluid", "Milk, buttermilk, fluid",
		"Milk, goat", "Milk, sheep", "Milk, producer", "Milk, low sodium", "Milk, canned", "Milk, evaporated", "Milk, chocolate",
		"Milk, indian buffalo", "Milk, filled", "Milk, imitation",
		"Cream, fluid", "Cream substitute, liquid", "Whey, acid, fluid", "Whey, sweet, fluid", "Kefir", "Eggnog",
		"Soymilk", "Vinegar, ", "Vanilla extract", "Syrups, ", "Syrup, ", "Molasses", "Sweetener, syrup",
		"Soy sauce", "Sauce, soy", "Sauce, fish", "Sauce, worcestershire", "Sauce, oyster", "Sauce, teriyaki", "Sauce, ready-to-serve, pepper",
		"Nuts, coconut milk", "Nuts, coconut water", "Nuts, coconut cream",
		"Soup, stock", "Soup, beef broth", "Soup, chicken broth", "Soup, vegetable broth", "Fish broth", "Alcoholic beverage",
	} {
		if strings.HasPrefix(d, start) {
			return true
		}
	}
	at := strings.Index(d, " juice, ") // "Lemon juice, raw", but not "Pineapple, canned, juice pack"
	return d == "Honey" || at > 0 && at < 20 && !strings.Contains(d, "in juice")
}

// DatedFat says whether the row is a solid fat made with partly hydrogenated oil,
// as sold when the release was made. The US Food and Drug Administration took
// such oils off the list of safe ingredients (determination of 2015, 80 FR 34650;
// last date of compliance 1 January 2021; from memory), and Regulation (EU) 2019/649
// limits trans fat to 2 g per 100 g of fat. What is bought now has almost no trans fat and more
// saturated fat; total fat and energy hold. The reader is asked for the
// package's label.
func DatedFat(f *Food) bool {
	if f.Group != "Fats and Oils" {
		return false
	}
	d := strings.ToLower(f.Description)
	switch {
	case strings.Contains(d, "non-hydrogenated"), strings.Contains(d, "butter oil"), strings.HasPrefix(d, "fish oil"):
		return false
	case strings.Contains(d, "partially hydrogenated"), strings.Contains(d, "( partially"):
		return true
	}
	made := strings.Contains(d, "shortening") || strings.Contains(d, "margarine") || strings.Contains(d, "oil-butter spread")
	if !made {
		return false
	}
	// Fat that is hardened but reported without trans fat is another thing.
	fat, trans := f.Nutrients.Of(Fat), f.Nutrients.Of(Trans)
	if !fat.Reported || !trans.Reported {
		return true
	}
	return trans.Amount.Cmp(fat.Amount.Mul(quantity.Ratio(2, 100))) > 0
}
