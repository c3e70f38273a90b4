package stats

import "testing"

// FAO document V7180E app. A (triangle); ISO 4120 and ISO 10399 (forms); R 4.2.2.
func TestDiscriminationReference(t *testing.T) {
	eachRow(t, "discrimination.csv", 80, func(r row) {
		m := methodOf(r)
		if r.has("p0") { // an input, printed with 13 digits
			r.close("p0", m.ByGuessing(), r.num("p0"), 1e-12)
		}
		switch kind := r.text("kind"); kind {
		case "critical":
			checkCritical(r, m)
		case "p_value":
			e, err := Discriminate(m, r.int("correct"), r.int("n"))
			if err != nil {
				r.t.Fatal(err)
			}
			r.want("p_value", e.P)
		case "pd_wald", "pd_cp", "pd_wald_upper":
			checkDiscriminators(r, m, kind)
		case "pc_from_dprime":
			pc, err := RightAt(m, r.num("dprime"))
			if err != nil {
				r.t.Fatal(err)
			}
			r.want("expected", pc)
		case "dprime_from_count":
			d, ok, err := DPrime(m, r.int("correct"), r.int("n"))
			if err != nil || !ok {
				r.t.Fatal(ok, err)
			}
			r.want("expected", d)
		case "power":
			p, err := PanelPower(m, r.int("n"), r.num("pd"), r.num("alpha"))
			if err != nil {
				r.t.Fatal(err)
			}
			r.want("expected", p)
			k, ok, err := CriticalNumber(m, r.int("n"), r.num("alpha"))
			if err != nil || !ok {
				r.t.Fatal(ok, err)
			}
			r.want("correct", float64(k))
		case "sample_size":
			n, ok, err := AssessorsNeeded(m, r.num("pd"), r.num("alpha"), r.num("power"), 300)
			if err != nil || !ok {
				r.t.Fatal(ok, err)
			}
			r.want("expected_low", float64(n.First))
			r.want("expected_high", float64(n.Safe))
		default:
			r.t.Fatalf("unknown kind %q", kind)
		}
	})
}

func methodOf(r row) Method {
	r.t.Helper()
	name := r.text("method")
	m, ok := map[string]Method{
		"triangle": Triangle, "chance_third": Triangle, "threeafc": ThreeAFC, "tetrad": Tetrad,
		"duotrio": DuoTrio, "chance_half": DuoTrio, "twoafc": TwoAFC,
		"paired_two_sided": PairedPreference, "paired_preference": PairedPreference,
	}[name]
	if !ok {
		r.t.Fatalf("unknown method %q", name)
	}
	return m
}

// checkCritical compares all three sizes; an empty cell means that no count of
// right answers is significant.
func checkCritical(r row, m Method) {
	r.t.Helper()
	for column, alpha := range map[string]float64{"05": 0.05, "01": 0.01, "001": 0.001} {
		k, ok, err := CriticalNumber(m, r.int("n"), alpha)
		if err != nil {
			r.t.Fatal(err)
		}
		if ok != r.has("critical_"+column) {
			r.t.Errorf("critical_%s: attainable is %v, want %v", column, ok, !ok)
		}
		r.want("critical_"+column, float64(k))
		if r.has("published_" + column) {
			r.close("published_"+column, float64(k), r.num("published_"+column), 0)
		}
	}
}

func checkDiscriminators(r row, m Method, kind string) {
	r.t.Helper()
	d, err := EstimateDiscriminators(m, r.int("correct"), r.int("n"), r.num("conf_level"))
	if err != nil {
		r.t.Fatal(err)
	}
	r.want("expected", d.PD)
	switch kind {
	case "pd_wald":
		r.want("expected_low", d.Wald.Low)
		r.want("expected_high", d.Wald.High)
	case "pd_cp":
		r.want("expected_low", d.Exact.Low)
		r.want("expected_high", d.Exact.High)
	case "pd_wald_upper":
		r.want("expected_high", d.WaldUpper)
	}
}
