package stats

import (
	"testing"
)

// Newcombe 1998, Stat. Med. 17:857, table I; R 4.2.2.
func TestProportionReference(t *testing.T) {
	eachRow(t, "proportion_intervals.csv", 41, func(r row) {
		x, n, level := r.int("x"), r.int("n"), r.num("conf_level")
		r.want("estimate", float64(x)/float64(n))
		wilson, err := Wilson(x, n, level)
		if err != nil {
			r.t.Fatal(err)
		}
		r.want("wilson_low", wilson.Low)
		r.want("wilson_high", wilson.High)
		r.published("published_wilson_low", wilson.Low)
		r.published("published_wilson_high", wilson.High)
		exact, err := ClopperPearson(x, n, level)
		if err != nil {
			r.t.Fatal(err)
		}
		r.want("cp_low", exact.Low)
		r.want("cp_high", exact.High)
		r.published("published_cp_low", exact.Low)
		r.published("published_cp_high", exact.High)
	})
}
