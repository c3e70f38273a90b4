package stats

import "testing"

// R 4.2.2, by the definition of fisher.test() and dbinom().
func TestPowerReference(t *testing.T) {
	eachRow(t, "power.csv", 40, func(r row) {
		switch kind := r.text("kind"); kind {
		case "drop_from_100":
			plan := Plan{N1: r.int("n1"), N2: r.int("n2"), Alpha: r.num("alpha"), Side: side(r)}
			d, ok, err := plan.DropFromAll(r.num("power"))
			if err != nil || !ok {
				r.t.Fatal(ok, err)
			}
			r.want("p1", 1)
			r.want("critical_x2", float64(d.Critical))
			r.want("p_at_critical", d.PAtCritical)
			r.want("p_next", d.PNext)
			r.want("detectable_p2", d.Rate)
			r.want("detectable_drop", d.Drop)
			rate, ok, err := plan.FindableRate(1, r.num("power"))
			if err != nil || !ok {
				r.t.Fatal(ok, err)
			}
			r.want("detectable_p2", rate) // by search, not by the beta quantile
		case "power":
			plan := Plan{N1: r.int("n1"), N2: r.int("n2"), Alpha: r.num("alpha"), Side: side(r)}
			p, err := plan.Power(r.num("p1"), r.num("p2"))
			if err != nil {
				r.t.Fatal(err)
			}
			r.want("power", p)
		case "sample_size":
			side(r)
			n, ok, err := PiecesNeeded(r.num("p1"), r.num("p2"), r.num("alpha"), r.num("power"), 60)
			if err != nil || !ok {
				r.t.Fatal(ok, err)
			}
			r.want("n_first", float64(n.First))
			r.want("n_stable", float64(n.Safe))
		case "smallest_p":
			side(r)
			p, err := SmallestP(r.int("n1"), r.int("n2"))
			if err != nil {
				r.t.Fatal(err)
			}
			r.want("p_at_critical", p)
		default:
			r.t.Fatalf("unknown kind %q", kind)
		}
	})
}

func side(r row) Side {
	r.t.Helper()
	switch name := r.text("sides"); name {
	case "two":
		return TwoSided
	case "one_greater":
		return GreaterSided
	default:
		r.t.Fatalf("unknown side %q", name)
		return TwoSided
	}
}
