package recipe

import (
	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
)

// DailyValue is the daily value of a nutrient, in its unit, for adults and children
// of 4 years and over: the RDI of 21 CFR 101.9(c)(8)(iv) or the DRV of (c)(9), as
// amended in 2016 (81 FR 33742). Those of protein, vitamins A, C, D and E,
// magnesium, phosphorus and zinc are from memory. ok is false where there is none.
func DailyValue(n food.Nutrient) (value quantity.Number, ok bool) {
	whole := int64(0)
	switch n {
	case food.Fat:
		whole = 78
	case food.Saturated:
		whole = 20
	case food.Cholesterol:
		whole = 300
	case food.Sodium:
		whole = 2300
	case food.Carbohydrate:
		whole = 275
	case food.Fibre:
		whole = 28
	case food.Protein:
		whole = 50
	case food.VitaminA:
		whole = 900
	case food.VitaminC:
		whole = 90
	case food.VitaminD:
		whole = 20
	case food.VitaminE:
		whole = 15
	case food.Calcium:
		whole = 1300
	case food.Iron:
		whole = 18
	case food.Potassium:
		whole = 4700
	case food.Magnesium:
		whole = 420
	case food.Phosphorus:
		whole = 1250
	case food.Zinc:
		whole = 11
	}
	return quantity.Int(whole), whole > 0
}

// AddedSugarsDailyValue is the daily value of added sugars in g, 21 CFR
// 101.9(c)(9). The food table does not tell added sugars from others, so that only
// a label's can be held against it.
func AddedSugarsDailyValue() quantity.Number { return quantity.Int(50) }

// DailyPercent is an amount as a label's percentage of the daily value: to the
// nearest whole percent (21 CFR 101.9(d)(7)(ii), from memory), of vitamins and
// minerals other than sodium 0 below 2 percent, to the nearest 2 up to 10, the
// nearest 5 up to 50 and the nearest 10 above (101.9(c)(8)(iii)). ok is false
// without a daily value, below 0, and for protein, whose percentage rests on its
// quality, which is not in the food table (101.9(c)(7)(ii)).
func DailyPercent(n food.Nutrient, amount quantity.Number) (percent quantity.Number, ok bool) {
	value, ok := DailyValue(n)
	if !ok || n == food.Protein || amount.Sign() < 0 {
		return quantity.Number{}, false
	}
	percent, ok = amount.Mul(quantity.Int(100)).Quo(value)
	step := quantity.Int(1)
	if isMineral(n) {
		switch {
		case percent.Less(quantity.Int(2)):
			return quantity.Number{}, ok
		case percent.Cmp(quantity.Int(10)) <= 0:
			step = quantity.Int(2)
		case percent.Cmp(quantity.Int(50)) <= 0:
			step = quantity.Int(5)
		default:
			step = quantity.Int(10)
		}
	}
	percent, _ = percent.RoundTo(step)
	return percent, ok
}

// isMineral reports whether a nutrient has its place among the vitamins and
// minerals at the foot of the label.
func isMineral(n food.Nutrient) bool {
	switch n {
	case food.VitaminA, food.VitaminC, food.VitaminD, food.VitaminE, food.Calcium, food.Iron, food.Potassium,
		food.Magnesium, food.Phosphorus, food.Zinc:
		return true
	}
	return false
}

// GeneralEnergy is the energy in kcal that the general factors give to grams of
// protein, carbohydrate and fat: 4, 4 and 9 kcal a gram (21 CFR
// 101.9(c)(1)(i)(B)). Labels may be made so; the food table is not, which gives
// cocoa, bran or spices far less. It serves to explain such differences and is no
// part of Nutrition.
func GeneralEnergy(protein, carbohydrate, fat quantity.Number) quantity.Number {
	four, nine := quantity.Int(4), quantity.Int(9)
	return protein.Mul(four).Add(carbohydrate.Mul(four)).Add(fat.Mul(nine))
}
