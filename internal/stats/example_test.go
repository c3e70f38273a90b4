package stats_test

import (
	"fmt"

	"sidebatch.example/sidebatch/internal/stats"
)

// Six of six against one of six.
func ExampleFisher() {
	e, err := stats.Fisher(6, 6, 1, 6)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v of %v, p = %.4f\n", e.Count, e.Total, e.P)
	// Output: 12 of 792, p = 0.0152
}

// What six pieces a sample could have shown, had all of the control's passed.
func ExamplePlan_DropFromAll() {
	plan := stats.Plan{N1: 6, N2: 6, Alpha: 0.05}
	d, ok, err := plan.DropFromAll(0.8)
	if err != nil || !ok {
		fmt.Println(ok, err)
		return
	}
	fmt.Printf("at most %d of 6, that is a true rate of %.0f %% or less\n", d.Critical, 100*d.Rate)
	// Output: at most 1 of 6, that is a true rate of 14 % or less
}

func ExamplePermutation() {
	control, err1 := stats.NewSample([]float64{4.1, 4.3, 4.0})
	changed, err2 := stats.NewSample([]float64{3.6, 3.7, 3.9})
	if err1 != nil || err2 != nil {
		fmt.Println(err1, err2)
		return
	}
	e, err := stats.Permutation(control, changed, stats.Sampling{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v of %v arrangements, p = %.1f\n", e.Count, e.Total, e.P)
	// Output: 2 of 20 arrangements, p = 0.1
}
