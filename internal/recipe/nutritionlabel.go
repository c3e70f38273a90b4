package recipe

import (
	"strings"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
)

// Label is what a package states for a serving of a food. It takes the place of
// the food table for every line of the recipe with that food.
//
// What a label leaves out is the table's, unless the table is known to be about
// another thing: a stand-in has nothing to add, and where a label states a fat or
// a carbohydrate, its others are not mixed with another product's (a fat that is
// labelled with 3 g saturated a serving does not have the table's trans fat). The
// figures of a label are rounded by its maker: 0 g may be up to half a gram. The
// carbohydrate of a European label is without fibre, the table's and a US label's
// with it.
type Label struct {
	Food    string                            // as the recipe's lines write it
	Serving quantity.Amount                   // a mass, a volume or a count, above 0
	Values  map[food.Nutrient]quantity.Number // of one serving, in the nutrient's unit
}

// LabelUse says that a line's values come from a label.
type LabelUse struct {
	Role, Food string
	Unserved   bool            // the amount cannot be told in servings, so that nothing stated could be used
	Table      []food.Nutrient // what the label leaves out and the food table gave
}

// LabelValue reads a line of a label as packages print it: energy in kcal or kJ;
// salt, from which sodium is worked out; everything else in g, mg or µg. The name
// is one of energy, fat, saturated, monounsaturated, polyunsaturated, trans,
// cholesterol, carbohydrate, fibre, sugars, protein, sodium, salt, or the nutrient's own.
// ok is false for another name or unit.
//
// Salt is sodium × 2.5: Regulation (EU) No 1169/2011, Annex I, point 11. 1 kcal is
// 4.184 kJ, the thermochemical calorie (NIST SP 811, Appendix B).
func LabelValue(name string, amount quantity.Number, unit string) (n food.Nutrient, value quantity.Number, ok bool) {
	if name == "salt" {
		grams, ok := converted(amount, unit, "mg")
		return food.Sodium, grams.Mul(quantity.Ratio(2, 5)), ok
	}
	for _, n := range food.AllNutrients() {
		if name == n.Name() || name+" fat" == n.Name() {
			value, ok := converted(amount, unit, n.Unit())
			return n, value, ok
		}
	}
	return 0, quantity.Number{}, false
}

// converted turns an amount of one of a label's units into another.
func converted(amount quantity.Number, from, to string) (quantity.Number, bool) {
	size := func(unit string) (micrograms quantity.Number, ok bool) {
		switch unit {
		case "g":
			return quantity.Int(1_000_000), true
		case "mg":
			return quantity.Int(1000), true
		case "µg":
			return quantity.Int(1), true
		}
		return quantity.Number{}, false
	}
	if to == "kcal" {
		switch from {
		case "kcal":
			return amount, true
		case "kJ":
			return amount.Mul(quantity.Ratio(1000, 4184)), true
		}
		return quantity.Number{}, false
	}
	a, known := size(from)
	b, asked := size(to)
	if !known || !asked {
		return quantity.Number{}, false
	}
	return amount.Mul(a).Quo(b)
}

// supply is a line of a recipe with where its values come from.
type supply struct {
	line     Ingredient
	mass     Mass
	weighed  bool
	label    *Label          // nil: the food table alone
	servings quantity.Number // of the label, in the line's amount
	served   bool            // whether servings is known
}

func supplyOf(i Ingredient, labels []Label) supply {
	s := supply{line: i}
	s.mass, s.weighed = i.Mass()
	for n := range labels {
		if sameFood(labels[n].Food, i.Food) {
			s.label = &labels[n]
			s.servings, s.served = s.inServings()
			break
		}
	}
	return s
}

func sameFood(a, b string) bool {
	return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b))
}

// inServings tells the line's amount in servings of its label: by the same kind of
// amount, else through the weight of both.
func (s supply) inServings() (quantity.Number, bool) {
	i, serving := s.line, s.label.Serving
	if i.Amount.IsToTaste() || serving.IsToTaste() {
		return quantity.Number{}, false
	}
	if kind := serving.Dimension(); i.Amount.Dimension() == kind {
		switch kind {
		case quantity.Mass, quantity.Volume, quantity.Count:
			return middle(i.Amount).Quo(middle(serving))
		}
		return quantity.Number{}, false
	}
	i.Amount = serving
	one, ok := i.Mass()
	if !ok || !s.weighed {
		return quantity.Number{}, false
	}
	return s.mass.Grams.Quo(one.Grams)
}

// value returns how much of a nutrient the line holds.
func (s supply) value(n food.Nutrient) food.Value {
	if s.label != nil {
		if stated, ok := s.label.Values[n]; ok {
			return food.Value{Amount: stated.Mul(s.servings), Reported: s.served}
		}
		if !s.filledIn(n) {
			return food.Value{}
		}
	}
	if !s.line.Found {
		return food.Value{}
	}
	nutrients := s.line.Match.Food.Nutrients
	if s.weighed {
		return nutrients.In(s.mass.Grams, n)
	}
	v := nutrients.Of(n)
	v.Reported = v.Reported && v.Amount.Sign() == 0
	return v
}

// weighedValue is value for sums that are held against the mass of the batch: a
// line that is not in that mass has no value, unless it is 0.
func (s supply) weighedValue(n food.Nutrient) food.Value {
	v := s.value(n)
	v.Reported = v.Reported && (s.weighed || v.Amount.Sign() == 0)
	return v
}

// filledIn reports whether the food table may complete a label that leaves a
// nutrient out.
func (s supply) filledIn(n food.Nutrient) bool {
	if !s.line.Found || s.line.Match.Via == food.EverydayAssumption {
		return false
	}
	for _, relative := range relatives(n) {
		if _, stated := s.label.Values[relative]; stated {
			return false
		}
	}
	return true
}

// relatives are the nutrients that are parts of one whole with n.
func relatives(n food.Nutrient) []food.Nutrient {
	switch n {
	case food.Fat, food.Saturated, food.Monounsaturated, food.Polyunsaturated, food.Trans:
		return fats()
	case food.Carbohydrate, food.Fibre, food.Sugars:
		return []food.Nutrient{food.Carbohydrate, food.Fibre, food.Sugars}
	}
	return nil
}

func fats() []food.Nutrient {
	return []food.Nutrient{food.Fat, food.Saturated, food.Monounsaturated, food.Polyunsaturated, food.Trans}
}

// use says what of the line comes from its label.
func (s supply) use() LabelUse {
	use := LabelUse{Role: s.line.Role, Food: s.line.Food, Unserved: !s.served}
	for _, n := range food.AllNutrients() {
		if _, stated := s.label.Values[n]; !stated && s.value(n).Reported {
			use.Table = append(use.Table, n)
		}
	}
	return use
}

// standIn reports whether a value or the weight of the line is another food's.
func (s supply) standIn() bool {
	if !s.line.Found || s.line.Match.Via != food.EverydayAssumption {
		return false
	}
	byWeight := s.mass.By != ""
	return s.label == nil || byWeight
}

// dated reports whether the line's fatty acids are those of a fat that is no
// longer sold.
func (s supply) dated() bool {
	if !s.line.Found || !food.DatedFat(s.line.Match.Food) {
		return false
	}
	return s.label == nil || s.filledIn(food.Trans)
}
