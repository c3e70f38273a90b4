package food

import (
	"testing"

	"sidebatch.example/sidebatch/internal/quantity"
)

// BenchmarkOpen measures what the first question costs: indexing
// the foods, and reading the everyday names.
func BenchmarkOpen(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		t, err := readTable()
		if err != nil {
			b.Fatal(err)
		}
		if _, err := readNames(t); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkFind is a look-up after the first, by names that are written as they
// stand in the table, in another case, in the plural, and behind a size.
func BenchmarkFind(b *testing.B) {
	for _, name := range []string{"all-purpose flour", "Unsalted Butter", "carrot", "large eggs", "Leavening agents, baking soda", "01123"} {
		b.Run(name, func(b *testing.B) {
			if _, ok := Find(name); !ok {
				b.Fatalf("%q is not found", name)
			}
			b.ReportAllocs()
			for b.Loop() {
				Find(name)
			}
		})
	}
}

func BenchmarkNearest(b *testing.B) {
	for _, name := range []string{"flur", "all purpose flour bleached"} {
		b.Run(name, func(b *testing.B) {
			Nearest(name, 1)
			b.ReportAllocs()
			for b.Loop() {
				Nearest(name, 5)
			}
		})
	}
}

func BenchmarkGrams(b *testing.B) {
	m, ok := Find("brown sugar")
	if !ok {
		b.Fatal("brown sugar is not found")
	}
	a := quantity.New(quantity.Ratio(3, 4), quantity.Cup)
	b.ReportAllocs()
	for b.Loop() {
		Grams(m.Food, a, "packed brown sugar")
	}
}

func BenchmarkAllergens(b *testing.B) {
	m, ok := Find("worcestershire sauce")
	if !ok {
		b.Fatal("worcestershire sauce is not found")
	}
	b.ReportAllocs()
	for b.Loop() {
		Allergens(m.Name, m.Food)
	}
}
