package stats

import "testing"

// Newcombe 1998, Stat. Med. 17:873, table II; Fisher 1935; R 4.2.2.
func TestTwoProportionsReference(t *testing.T) {
	eachRow(t, "two_proportions.csv", 45, func(r row) {
		x1, n1, x2, n2 := r.int("x1"), r.int("n1"), r.int("x2"), r.int("n2")
		r.want("estimate", float64(x1)/float64(n1)-float64(x2)/float64(n2))
		switch method := r.text("method"); method {
		case "newcombe_10":
			i, err := Newcombe(x1, n1, x2, n2, r.num("conf_level"))
			if err != nil {
				r.t.Fatal(err)
			}
			r.want("lower", i.Low)
			r.want("upper", i.High)
			r.published("published_lower", i.Low)
			r.published("published_upper", i.High)
		case "fisher":
			e, err := Fisher(x1, n1, x2, n2)
			if err != nil {
				r.t.Fatal(err)
			}
			r.want("p_two_sided", e.P)
			r.want("p_two_doubled", e.Doubled())
			r.want("p_less", e.Less)
			r.want("p_greater", e.Greater)
			r.published("published_p", e.P)
		case "boschloo":
			u, err := Boschloo(x1, n1, x2, n2)
			if err != nil {
				r.t.Fatal(err)
			}
			r.want("p_two_sided", u.P)
			r.want("p_two_doubled", u.Doubled())
			r.want("p_less", u.Less)
			r.want("p_greater", u.Greater)
			r.published("published_p", u.Greater) // printed one-sided, as the note says
		default:
			r.t.Fatalf("unknown method %q", method)
		}
	})
}
