package stats

import "testing"

// R 4.2.2 with its data sets; Fisher 1935 (Darwin's maize); Hollander & Wolfe 1973.
func TestMeansReference(t *testing.T) {
	eachRow(t, "means.csv", 50, func(r row) {
		switch method := r.text("method"); method {
		case "welch_t", "student_t", "paired_t":
			checkT(r, method)
		case "permutation_mean_difference":
			x, y := r.sample("x"), r.sample("y")
			e, err := Permutation(x, y, Sampling{})
			r.exact(e, err)
			r.want("estimate", x.Mean()-y.Mean())
		case "permutation_paired_sign_flip":
			d := differences(r)
			e, err := SignFlip(d, Sampling{})
			r.exact(e, err)
			r.want("estimate", d.Mean())
		case "rank_sum_exact", "rank_sum_exact_midranks":
			rt, err := RankSum(r.sample("x"), r.sample("y"), levelOf(r), Sampling{})
			r.rankTest(rt, err)
		case "signed_rank_exact", "signed_rank_exact_midranks":
			rt, err := SignedRank(differences(r), levelOf(r), Sampling{})
			r.rankTest(rt, err)
		case "sign_test":
			s, err := Sign(differences(r))
			r.exact(s.Exact, err)
			r.want("statistic", float64(s.Positive))
			r.want("df", float64(s.N))
			r.want("estimate", s.Median)
		case "hodges_lehmann":
			shift, err := HodgesLehmann(r.sample("x"), r.sample("y"))
			if err != nil {
				r.t.Fatal(err)
			}
			r.want("estimate", shift)
		case "standardised_mean_difference":
			checkEffect(r)
		default:
			r.t.Fatalf("unknown method %q", method)
		}
	})
}

func checkT(r row, method string) {
	r.t.Helper()
	test := map[string]func(x, y Sample, level float64) (TTest, bool){
		"welch_t": Welch, "student_t": Student, "paired_t": PairedT,
	}[method]
	got, ok := test(r.sample("x"), r.sample("y"), r.num("conf_level"))
	if !ok {
		r.t.Fatal("not defined")
	}
	r.want("estimate", got.Difference)
	r.want("statistic", got.T)
	r.want("df", got.DF)
	r.want("p_two_sided", got.P)
	r.want("p_less", got.Less)
	r.want("p_greater", got.Greater)
	r.want("ci_low", got.Interval.Low)
	r.want("ci_high", got.Interval.High)
	r.published("published_statistic", got.T)
	r.published("published_p", got.P)
}

func checkEffect(r row) {
	r.t.Helper()
	x, y := r.sample("x"), r.sample("y")
	d, okD := CohenD(x, y)
	g, okG := HedgesG(x, y)
	approximate, okA := HedgesGApproximate(x, y)
	if !okD || !okG || !okA {
		r.t.Fatal("not defined")
	}
	r.want("estimate", x.Mean()-y.Mean())
	r.want("df", float64(x.N()+y.N()-2))
	r.want("cohen_d", d)
	r.want("hedges_g", g)
	r.want("hedges_g_approx", approximate)
}

// differences are those of a row's pairs, or its x where they stand there.
func differences(r row) Sample {
	r.t.Helper()
	if !r.has("y") {
		return r.sample("x")
	}
	d, err := Differences(r.sample("x"), r.sample("y"))
	if err != nil {
		r.t.Fatal(err)
	}
	return d
}

// levelOf is the row's level, where it has one.
func levelOf(r row) float64 {
	if r.has("conf_level") {
		return r.num("conf_level")
	}
	return 0.95
}

// exact compares an exact test with its counts and probabilities.
func (r row) exact(e Exact, err error) {
	r.t.Helper()
	if err != nil {
		r.t.Fatal(err)
	}
	r.want("p_two_sided", e.P)
	r.want("p_less", e.Less)
	r.want("p_greater", e.Greater)
	r.count("count_two_sided", e.Count.String())
	r.count("count_less", e.CountLess.String())
	r.count("count_greater", e.CountGreater.String())
	r.count("count_total", e.Total.String())
	// The sources print the two-sided p of a sign flip, the upper one of a rank test.
	if r.text("method") == "permutation_paired_sign_flip" {
		r.published("published_p", e.P)
	} else {
		r.published("published_p", e.Greater)
	}
}

func (r row) rankTest(rt RankTest, err error) {
	r.t.Helper()
	r.exact(rt.Exact, err)
	r.want("statistic", rt.Statistic)
	r.want("estimate", rt.Estimate)
	r.published("published_statistic", rt.Statistic)
	if !r.has("ci_low") {
		return
	}
	if !rt.HasInterval {
		r.t.Fatal("no interval")
	}
	r.want("ci_low", rt.Interval.Low)
	r.want("ci_high", rt.Interval.High)
}
