package quantity_test

import (
	"fmt"

	"sidebatch.example/sidebatch/internal/quantity"
)

func ExampleParseLeading() {
	a, food, err := quantity.ParseLeading("2 1/2 cups all-purpose flour", quantity.USCustomary)
	fmt.Println(a, "|", food, "|", err)
	_, _, err = quantity.ParseLeading("1,5 cups flour", quantity.USCustomary)
	fmt.Println(err)
	// Output:
	// 2.5 cups | all-purpose flour | <nil>
	// a comma in a number (decimal comma? write 1.5)
}

// A half batch of one cup and one tablespoon is exact, and so is what to measure it with.
func ExampleInstruments_Show() {
	a, _ := quantity.Parse("1 cup + 1 tbsp", quantity.USCustomary)
	half := a.Scale(quantity.Ratio(1, 2))
	var kitchen quantity.Instruments
	fmt.Println(kitchen.Show(half, quantity.USSystem).Text)
	fmt.Println(kitchen.Show(half, quantity.MetricSystem).Text)
	// Output:
	// ½ cup + 1½ tsp
	// 126 mL
}

// A third of a teaspoon cannot be measured with ordinary spoons: the text is the
// nearest, and says that it is.
func ExampleShown() {
	third, _ := quantity.Parse("1/3 tsp", quantity.USCustomary)
	shown := quantity.Instruments{}.Show(third, quantity.USSystem)
	fmt.Printf("%s, about: %v, off by %.1f %%\n", shown.Text, shown.About, 100*shown.RelativeError)
	// Output:
	// ¼ tsp + ⅛ tsp, about: true, off by 12.5 %
}

func ExampleAmount_Scale() {
	flour, _ := quantity.Parse("300 g", quantity.USCustomary)
	water, _ := quantity.Parse("20 °C", quantity.USCustomary)
	fmt.Println(flour.Scale(quantity.Int(2)), water.Scale(quantity.Int(2)))
	// Output:
	// 600 g 20 °C
}

func ExampleParseTime() {
	for _, s := range []string{"40", "1:10", "1 min 10 s"} {
		a, _ := quantity.ParseTime(s)
		fmt.Println(a)
	}
	// Output:
	// 40 s
	// 70 s
	// 70 s
}
