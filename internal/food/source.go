package food

// A Citation is what a page that shows figures of the table says about them.
type Citation struct {
	Name      string   // the dataset
	Publisher string   // who issued it
	Year      int      // when
	Text      string   // the citation as the publisher asks for it
	Address   string   // where the publisher put it
	Licence   string   // on what terms
	Changes   string   // what was done to it here
	Limits    []string // what a reader should know before leaning on it
}

// Source is the citation of the food table.
func Source() Citation {
	return Citation{
		Name:      "USDA National Nutrient Database for Standard Reference, Release 28",
		Publisher: "US Department of Agriculture, Agricultural Research Service, Nutrient Data Laboratory",
		Year:      2015,
		Text: "US Department of Agriculture, Agricultural Research Service, Nutrient Data Laboratory. " +
			"USDA National Nutrient Database for Standard Reference, Release 28. " +
			"Version Current: September 2015. Internet: http://www.ars.usda.gov/ba/bhnrc/ndl",
		Address: "http://www.ars.usda.gov/ba/bhnrc/ndl",
		Licence: "public domain: a work of the United States Government (17 U.S.C. § 105)",
		Changes: "branded, fast-food, restaurant and infant foods were left out; volumes of measures, everyday names and allergen rules were added",
		Limits: []string{
			"values are of US foods of 2015 and before, per 100 g of the edible part, and of the raw food unless the row says otherwise",
			"a nutrient that was not reported is missing, not zero; trans fat is missing for about half of the foods",
			"energy uses the publisher's own factors for each food, so a label made with 4, 4 and 9 kcal a gram will differ, most for cocoa, bran and spices",
			"carbohydrate includes fibre",
			"shortening and margarine are of the time of partly hydrogenated fats: use the package's label",
			"cup weights are averages: a flour weighed in grams is always better",
		},
	}
}
