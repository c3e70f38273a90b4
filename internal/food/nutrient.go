package food

import (
	"sidebatch.example/sidebatch/internal/quantity"
)

// A Nutrient is one column of the food table, per 100 g of the edible part.
type Nutrient uint8

// The nutrients, in the order of the table's columns.
const (
	Energy Nutrient = iota // kilocalories, by the publisher's own factors
	Water
	Protein
	Fat // total
	Saturated
	Monounsaturated
	Polyunsaturated
	Trans // already inside mono- and polyunsaturated: do not add it
	Cholesterol
	Carbohydrate // by difference, so fibre is inside
	Fibre
	Sugars // total; added sugars are not in the data
	Sodium
	Potassium
	Calcium
	Iron
	VitaminD
	VitaminE
	Alcohol
	Ash
	Magnesium
	Phosphorus
	Zinc
	VitaminA // retinol activity equivalents
	VitaminC
	nutrientCount
)

// AllNutrients returns every nutrient, in the order of the columns.
func AllNutrients() []Nutrient {
	all := make([]Nutrient, nutrientCount)
	for i := range all {
		all[i] = Nutrient(i)
	}
	return all
}

// label names a nutrient for readers and says its unit and column.
type label struct{ name, unit, column string }

func (n Nutrient) label() label {
	labels := [nutrientCount]label{
		Energy:          {"energy", "kcal", "energy_kcal"},
		Water:           {"water", "g", "water_g"},
		Protein:         {"protein", "g", "protein_g"},
		Fat:             {"fat", "g", "fat_g"},
		Saturated:       {"saturated fat", "g", "saturated_fat_g"},
		Monounsaturated: {"monounsaturated fat", "g", "monounsaturated_fat_g"},
		Polyunsaturated: {"polyunsaturated fat", "g", "polyunsaturated_fat_g"},
		Trans:           {"trans fat", "g", "trans_fat_g"},
		Cholesterol:     {"cholesterol", "mg", "cholesterol_mg"},
		Carbohydrate:    {"carbohydrate", "g", "carbohydrate_g"},
		Fibre:           {"fibre", "g", "fibre_g"},
		Sugars:          {"sugars", "g", "sugars_g"},
		Sodium:          {"sodium", "mg", "sodium_mg"},
		Potassium:       {"potassium", "mg", "potassium_mg"},
		Calcium:         {"calcium", "mg", "calcium_mg"},
		Iron:            {"iron", "mg", "iron_mg"},
		VitaminD:        {"vitamin D", "µg", "vitamin_d_ug"},
		VitaminE:        {"vitamin E", "mg", "vitamin_e_mg"},
		Alcohol:         {"alcohol", "g", "alcohol_g"},
		Ash:             {"ash", "g", "ash_g"},
		Magnesium:       {"magnesium", "mg", "magnesium_mg"},
		Phosphorus:      {"phosphorus", "mg", "phosphorus_mg"},
		Zinc:            {"zinc", "mg", "zinc_mg"},
		VitaminA:        {"vitamin A", "µg", "vitamin_a_rae_ug"},
		VitaminC:        {"vitamin C", "mg", "vitamin_c_mg"},
	}
	if n >= nutrientCount {
		return label{name: "unknown nutrient"}
	}
	return labels[n]
}

// Name is the nutrient's name in plain words, such as "saturated fat".
func (n Nutrient) Name() string { return n.label().name }

// Unit is the unit of the nutrient's values: "kcal", "g", "mg" or "µg".
func (n Nutrient) Unit() string { return n.label().unit }

// A Value is one cell of the food table. Where the publisher reported nothing,
// Reported is false and Amount says nothing: a gap is not a 0. A reported 0 was
// measured, calculated or assumed by the publisher.
type Value struct {
	Amount   quantity.Number // in the nutrient's unit, exact as published
	Reported bool
}

// Nutrients are the values of one food per 100 g of its edible part. The zero
// Nutrients reports nothing.
type Nutrients struct {
	// Published values have three decimals at most, so that thousandths in 32
	// bits hold them exactly; TestWhole reads every cell.
	thousandths [nutrientCount]int32
	reported    uint32
}

// Of returns the value of one nutrient per 100 g, in the nutrient's unit.
func (n Nutrients) Of(which Nutrient) Value {
	if which >= nutrientCount || n.reported&(1<<which) == 0 {
		return Value{}
	}
	return Value{Amount: number(n.thousandths[which]), Reported: true}
}

// In returns how much of one nutrient some grams of the food hold, exactly.
func (n Nutrients) In(grams quantity.Number, which Nutrient) Value {
	v := n.Of(which)
	if v.Reported {
		v.Amount = v.Amount.Mul(grams).Mul(quantity.Ratio(1, 100))
	}
	return v
}

func (n *Nutrients) set(which Nutrient, thousandths int32) {
	n.thousandths[which] = thousandths
	n.reported |= 1 << which
}

// number turns thousandths into an exact number.
func number(thousandths int32) quantity.Number {
	return quantity.Ratio(int64(thousandths), 1000)
}

// thousandths reads a plain decimal such as 0.155 exactly. It takes digits with
// up to three decimals, no sign and no exponent, up to 2 million.
func thousandths(s string) (int32, bool) {
	const most = 2_000_000_000
	var v int64
	decimals := -1
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c >= '0' && c <= '9' && decimals < 3:
			v = v*10 + int64(c-'0')
			if decimals >= 0 {
				decimals++
			}
		case c == '.' && decimals < 0 && i > 0 && i < len(s)-1:
			decimals = 0
		default:
			return 0, false
		}
		if v > most {
			return 0, false
		}
	}
	if s == "" {
		return 0, false
	}
	for range 3 - max(decimals, 0) {
		v *= 10
	}
	return int32(min(v, most)), v <= most
}
