package stats

import (
	"strings"
	"testing"
)

// R 4.2.2 (UCBAdmissions; rabbits, Agresti 1990); DerSimonian & Laird 1986; BCG
// trials, Colditz et al. 1994.
func TestBlocksReference(t *testing.T) {
	eachRow(t, "blocks.csv", 21, func(r row) {
		switch method := r.text("method"); method {
		case "mantel_haenszel":
			blocks := r.blocks()
			checkPooled(r, blocks)
			checkConditional(r, blocks)
		case "inverse_variance":
			checkCombined(r)
		case "stratified_permutation":
			checkBlocked(r)
		default:
			r.t.Fatalf("unknown method %q", method)
		}
	})
}

// blocks reads strata like "8/8 5/8; 7/8 4/8".
func (r row) blocks() []Block {
	r.t.Helper()
	var out []Block
	for _, text := range strings.Split(r.text("strata"), ";") {
		n := parseList(r.t, strings.ReplaceAll(text, "/", " "))
		out = append(out, Block{X1: int(n[0]), N1: int(n[1]), X2: int(n[2]), N2: int(n[3])})
	}
	return out
}

func checkPooled(r row, blocks []Block) {
	r.t.Helper()
	p, err := MantelHaenszel(blocks, r.num("conf_level"))
	if err != nil {
		r.t.Fatal(err)
	}
	r.want("rd_mh", p.Difference)
	r.want("rd_se_sato", p.Sato.SE)
	r.want("rd_se_greenland_robins", p.GreenlandRobins.SE)
	r.want("rd_low_sato", p.Sato.Interval.Low)
	r.want("rd_high_sato", p.Sato.Interval.High)
	if p.OddsRatio.Defined != r.has("or_mh") {
		r.t.Errorf("odds ratio defined: %v", p.OddsRatio.Defined)
	}
	r.want("or_mh", p.OddsRatio.Value)
	r.want("or_low", p.OddsRatio.Interval.Low)
	r.want("or_high", p.OddsRatio.Interval.High)
	r.want("rr_mh", p.RiskRatio.Value)
	r.want("rr_low", p.RiskRatio.Interval.Low)
	r.want("rr_high", p.RiskRatio.Interval.High)
	r.want("cmh_chisq", p.CMH.Statistic)
	r.want("cmh_p", p.CMH.P)
	r.want("cmh_chisq_cc", p.CMHCorrected.Statistic)
	r.want("cmh_p_cc", p.CMHCorrected.P)
	if strings.Contains(r.text("note"), "published = cmh_chisq_cc") {
		r.published("published", p.CMHCorrected.Statistic)
	} else {
		r.published("published", p.OddsRatio.Value)
	}
	h, err := Homogeneity(blocks)
	if err != nil {
		r.t.Fatal(err)
	}
	r.want("breslow_day", h.Statistic)
	r.want("breslow_day_p", h.P)
}

func checkConditional(r row, blocks []Block) {
	r.t.Helper()
	c, err := ConditionalTest(blocks, r.num("conf_level"))
	if err != nil || !c.Defined {
		r.t.Fatal(c.Defined, err)
	}
	r.want("exact_p_two_sided", c.Exact.P)
	r.want("exact_p_less", c.Exact.Less)
	r.want("exact_p_greater", c.Exact.Greater)
	r.want("or_conditional_mle", c.OddsRatio)
	r.want("or_exact_low", c.Interval.Low)
	r.want("or_exact_high", c.Interval.High)
}

func checkCombined(r row) {
	r.t.Helper()
	c, err := Combine(r.list("y"), r.list("se"), r.num("conf_level"))
	if err != nil {
		r.t.Fatal(err)
	}
	r.want("fixed", c.Fixed.Value)
	r.want("fixed_se", c.Fixed.SE)
	r.want("fixed_low", c.Fixed.Interval.Low)
	r.want("fixed_high", c.Fixed.Interval.High)
	r.want("q", c.Q)
	r.want("q_df", float64(c.DF))
	r.want("q_p", c.QP)
	r.want("i_squared", c.ISquared)
	r.want("tau2_dl", c.Tau2)
	r.want("random", c.Random.Value)
	r.want("random_se", c.Random.SE)
	r.want("random_low", c.Random.Interval.Low)
	r.want("random_high", c.Random.Interval.High)
	r.published("published", c.Random.Value)
}

func checkBlocked(r row) {
	r.t.Helper()
	var blocks []BlockPair
	for _, text := range strings.Split(r.text("strata"), ";") {
		x, y, _ := strings.Cut(text, "/")
		blocks = append(blocks, BlockPair{X: mustSample(r.t, parseList(r.t, x)), Y: mustSample(r.t, parseList(r.t, y))})
	}
	b, err := BlockedPermutation(blocks, Sampling{})
	if err != nil {
		r.t.Fatal(err)
	}
	r.want("fixed", b.Difference)
	r.want("p_perm_two_sided", b.P)
	r.count("count_two_sided", b.Count.String())
	r.count("count_total", b.Total.String())
}
