package recipe

import "sidebatch.example/sidebatch/internal/quantity"

// Practice is a fact of the trade: what cooks find, with the range in which they
// find it. None has a published source; whoever shows one says so.
type Practice struct {
	Claim     string
	Low, High quantity.Number
	Unit      string // "oz", "°F", "percent", "s", "min"
	Note      string
}

// The facts of the trade that the program leans on, or holds readings against.
// Common practice, no source.

// SaltTeaspoon: what a level teaspoon of table salt weighs.
func SaltTeaspoon() Practice {
	return Practice{"a level teaspoon of table salt weighs about a fifth of an ounce",
		quantity.Ratio(20, 100), quantity.Ratio(22, 100), "oz", ""}
}

// WarmWater: water for a hand-kneaded dough.
func WarmWater() Practice {
	return Practice{"water for a hand-kneaded dough is used lukewarm", quantity.Int(85), quantity.Int(104), "°F", "29 to 40 °C"}
}

// DoughLoss: what a dough loses between bowl and scale; more earns a question.
func DoughLoss() Practice {
	return Practice{"dough divided by hand comes to a little less than what went in",
		quantity.Int(0), quantity.Int(8), "percent", "bowl and hands and the scale's step"}
}

// ThinSide: how long a side of a thin griddle bread takes.
func ThinSide() Practice {
	return Practice{"a thin griddle bread takes less than a minute a side on a hot pan",
		quantity.Int(10), quantity.Int(60), "s", "longer when the pan is not yet hot"}
}

// PuffedSurface: a surface reading above the boiling point of water is no fault of
// the thermometer.
func PuffedSurface() Practice {
	return Practice{"the surface of a puffed griddle bread reads above the boiling point of water",
		quantity.Int(230), quantity.Int(245), "°F", "steam inside and a dry crust; not a fault of the thermometer"}
}

// PowderGas: when baking powder gives off its gas.
func PowderGas() Practice {
	return Practice{"baking powder gives off most of its gas as the dough warms",
		quantity.Int(104), quantity.Int(140), "°F", "40 to 60 °C"}
}

// DoughRest: how long a kneaded dough rests before it rolls out.
func DoughRest() Practice {
	return Practice{"a kneaded dough rests about half an hour before it rolls out without springing back",
		quantity.Int(20), quantity.Int(40), "min", ""}
}
