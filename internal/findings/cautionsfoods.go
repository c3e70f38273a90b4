package findings

import (
	"math"
	"slices"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/trial"
)

// foodRule says by which words the name of an ingredient is recognized.
type foodRule struct {
	any    []string // one of these phrases
	not    []string // after these were cut out: they are something else
	excuse []string // and not at all with one of these in the name or preparation
}

// names reports whether an ingredient is meant.
func (r foodRule) names(f sceneFood) bool {
	return f.name.without(r.not...).has(r.any...) && !f.name.has(r.excuse...) && !f.preparation.has(r.excuse...)
}

// holds reports whether the scene has an ingredient that a rule names.
func (s scene) holds(rules ...foodRule) bool {
	return slices.ContainsFunc(s.foods, func(f sceneFood) bool {
		return slices.ContainsFunc(rules, func(r foodRule) bool { return r.names(f) })
	})
}

// plantBased are the words of what only looks like food from animals.
func plantBased() []string {
	return []string{"vegan", "vegetarian", "plant based", "meatless", "meat free", "mock", "imitation", "egg free", "eggless", "seitan"}
}

// ready are the words of what was cooked, canned or cured before it was bought.
func ready() []string {
	return []string{"canned", "tinned", "jarred", "can", "tin", "cooked", "precooked", "boiled", "roasted", "cured", "jerky", "leftover", "rotisserie"}
}

func flourFood() foodRule {
	return foodRule{
		any:    []string{"flour", "semolina", "cornmeal", "gram flour", "cake mix", "pancake mix", "muffin mix", "brownie mix", "atta"},
		not:    []string{"flour tortilla", "flour wrap"},
		excuse: []string{"heat treated"},
	}
}

func eggFood() foodRule {
	return foodRule{
		any: []string{"egg", "yolk", "egg white"},
		not: []string{"egg noodle", "egg pasta", "egg tagliatelle", "egg fettuccine", "egg spaghetti", "egg vermicelli",
			"egg substitute", "egg replacer", "flax egg", "chia egg", "egg plant", "chocolate egg", "egg roll wrapper", "egg wrapper", "egg biscuit"},
		excuse: append(plantBased(), "pasteurized", "pasteurised", "boiled", "hard boiled", "powdered", "egg powder", "dried egg"),
	}
}

func poultryFood() foodRule {
	return foodRule{
		any: []string{"chicken", "turkey", "duck", "goose", "hen", "quail", "pheasant", "guinea fowl", "poultry", "capon"},
		not: []string{"chicken stock", "chicken broth", "chicken bouillon", "chicken stock cube", "chicken soup", "chicken powder", "chicken seasoning",
			"chicken salt", "chicken gravy", "chicken fat", "turkey stock", "turkey broth", "duck stock", "duck fat", "goose fat", "duck sauce", "chicken of the woods",
			"hen of the woods", "duck egg", "goose egg", "quail egg", "hen egg", "hens egg", "goose berry"},
		excuse: append(plantBased(), ready()...),
	}
}

// meatCuts is meat of mammals, in one piece or ground.
func meatCuts() foodRule {
	return foodRule{
		any: []string{"beef", "pork", "veal", "lamb", "mutton", "venison", "bison", "steak", "ham", "bacon", "brisket", "sausage meat", "mince", "hamburger", "sausage", "meat"},
		not: []string{"beef stock", "beef broth", "beef bouillon", "beef tallow", "beef dripping", "beef fat", "beef gelatin", "pork rind", "pork fat", "pork stock",
			"pork broth", "lamb stock", "lambs lettuce", "lamb lettuce", "veal stock", "meat stock", "meat broth", "bacon fat", "bacon bits", "ham stock",
			"steak sauce", "steak seasoning", "cauliflower steak", "tuna steak", "salmon steak", "swordfish steak", "cod steak", "halibut steak", "fish steak",
			"ham bone", "hamburger bun", "meat tenderizer", "meat glue", "crab meat", "lobster meat", "chicken meat", "turkey meat", "duck meat", "nut meat",
			"chicken mince", "turkey mince", "mince pie", "chicken sausage", "turkey sausage", "coconut meat", "beef tomato"},
		excuse: append(plantBased(), ready()...),
	}
}

// isGround reports whether meat was ground.
func isGround(f sceneFood) bool {
	return f.name.has("ground", "minced", "mince", "hamburger", "sausage", "sausage meat") || f.preparation.has("ground", "minced")
}

func fishFood() foodRule {
	return foodRule{
		any: []string{"fish", "salmon", "tuna", "cod", "trout", "haddock", "halibut", "mackerel", "sardine", "shrimp", "prawn", "crab", "lobster", "clam",
			"mussel", "oyster", "scallop", "squid", "octopus", "tilapia", "sea bass", "snapper", "herring", "eel", "catfish", "pollock", "monkfish",
			"swordfish", "sea bream", "sole fillet", "shellfish", "crayfish", "crawfish", "seafood"},
		not: []string{"fish sauce", "oyster sauce", "oyster mushroom", "king oyster", "oyster cracker", "oyster crackers", "fish stock", "fish broth", "fish flake",
			"clam juice", "shrimp paste", "dried shrimp", "shrimp cracker", "crab apple", "crab boil", "crab stick", "cod liver oil", "fish oil", "fish gelatin",
			"seafood seasoning", "seafood stock", "scallop squash"},
		excuse: append(plantBased(), append(ready(), "cold smoked", "hot smoked")...),
	}
}

func dairyFood() foodRule {
	return foodRule{
		any: []string{"milk", "buttermilk", "cream", "yogurt", "yoghurt", "ricotta", "cottage cheese", "mascarpone", "mozzarella", "custard", "kefir", "creme fraiche"},
		not: []string{"coconut milk", "coconut cream", "almond milk", "oat milk", "soy milk", "soya milk", "rice milk", "hemp milk", "cashew milk", "nut milk", "milk powder",
			"dried milk", "powdered milk", "dry milk", "buttermilk powder", "cream of tartar", "cream of wheat", "cream cracker", "cream crackers", "creamed corn",
			"evaporated milk", "condensed milk", "milk chocolate", "custard powder", "custard apple", "cream sherry", "milk thistle", "ice cream", "creamed honey"},
		excuse: plantBased(),
	}
}

func riceFood() foodRule {
	return foodRule{
		any: []string{"rice", "arborio", "basmati", "congee"},
		not: []string{"rice flour", "rice vinegar", "rice wine", "rice paper", "rice noodle", "rice vermicelli", "rice cereal", "rice syrup", "rice bran", "rice bran oil",
			"rice milk", "rice starch", "rice cake", "rice cracker", "cauliflower rice", "riced cauliflower", "puffed rice", "crisped rice", "rice stick"},
	}
}

// starchFood is what, cooked and kept warm, feeds the same germs as rice.
func starchFood() foodRule {
	return foodRule{any: []string{"pasta", "spaghetti", "macaroni", "noodle", "potato", "barley", "bulgur", "couscous", "quinoa", "millet"},
		not: []string{"potato starch", "potato flour", "potato chip", "potato crisp", "barley malt", "barley malt syrup", "barley flour", "quinoa flour", "millet flour"}}
}

func beanFood() foodRule {
	return foodRule{
		any: []string{"bean", "kidney bean", "cannellini", "haricot", "borlotti", "soybean", "flageolet"},
		not: []string{"green bean", "string bean", "wax bean", "french bean", "snap bean", "haricot vert", "haricots verts", "vanilla bean", "coffee bean", "cocoa bean",
			"cacao bean", "tonka bean", "jelly bean", "bean sprout", "bean paste", "bean curd", "bean sauce", "black bean sauce", "bean thread", "bean noodle",
			"refried bean", "baked bean", "bean flour", "mung bean", "soybean oil", "soybean paste", "soybean sprout", "bean chip", "carob bean", "locust bean", "locust bean gum"},
		excuse: append(ready(), "drained", "frozen edamame", "edamame"),
	}
}

func kidneyFood() foodRule {
	r := beanFood()
	r.any = []string{"kidney bean", "cannellini", "red bean"}
	r.not = append(r.not, "red bean paste")
	return r
}

func sproutFood() foodRule {
	return foodRule{any: []string{"sprout", "bean sprout", "alfalfa sprout", "beansprout"},
		not: []string{"brussels sprout", "brussel sprout"}, excuse: ready()}
}

func fatFood() foodRule {
	return foodRule{
		any: []string{"oil", "lard", "shortening", "ghee", "tallow", "butter", "drippings", "dripping", "margarine", "bacon", "bacon fat", "duck fat", "goose fat", "schmaltz"},
		not: []string{"peanut butter", "almond butter", "nut butter", "cocoa butter", "apple butter", "butter bean", "butter lettuce", "essential oil", "butter extract",
			"peppermint oil", "orange oil", "lemon oil", "butter biscuit", "butter cookie"},
	}
}

func sugarFood() foodRule {
	return foodRule{any: []string{"sugar", "honey", "syrup", "molasses", "treacle", "caramel", "jaggery", "glucose"},
		not: []string{"sugar snap", "sugar snap pea", "honey mustard", "honeydew", "honey melon", "sugar pumpkin", "powdered sugar for dusting", "sugar free", "sugar substitute"}}
}

// lowestReadings returns, for every measure of temperature, the lowest reading
// that counts among the samples. What was set aside is no evidence.
func lowestReadings(t *trial.Trial, samples []*trial.Sample) []sceneReading {
	var all []sceneReading
	for _, m := range t.Measures {
		if m.Kind != trial.Temperature {
			continue
		}
		lowest := math.Inf(1)
		for _, s := range samples {
			if s == nil {
				continue
			}
			for _, r := range t.Readings(s, m) {
				if r.Counts() {
					lowest = min(lowest, r.Value.Float64())
				}
			}
		}
		if !math.IsInf(lowest, 1) {
			all = append(all, sceneReading{m.Name, folded(food.InEnglish(t.Kitchen.Language, m.Name+"; "+m.Asks)), lowest})
		}
	}
	return all
}
