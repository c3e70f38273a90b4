package quantity

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// TestShortNumbers holds what is written and rounded in 64 bits against big fractions.
func TestShortNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.OneOf(rapid.Int64Range(-3000, 3000), rapid.Int64Range(-1<<54, 1<<54), rapid.Int64Range(-math.MaxInt64, math.MaxInt64))
		n := Ratio(whole.Draw(t, "num"), whole.Filter(func(den int64) bool { return den != 0 }).Draw(t, "den"))
		exact := big.NewRat(n.num, n.below())
		if got, _ := exact.Float64(); n.Float64() != got {
			t.Errorf("%v is %v as a float, want %v", exact, n.Float64(), got)
		}
		for places := range 20 {
			got, short := n.shortDecimal(places)
			if want := exact.FloatString(places); short && got != want {
				t.Errorf("%v with %d places is %s, want %s", exact, places, got, want)
			}
		}
		if _, short := n.shortDecimal(2); !short && exact.Cmp(big.NewRat(1<<50, 1)) < 0 && exact.Cmp(big.NewRat(-1<<50, 1)) > 0 {
			t.Errorf("%v with 2 places does not fit", exact)
		}
	})
}
