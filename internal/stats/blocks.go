package stats

import (
	"errors"
	"fmt"
	"math"
)

// Block is one two-by-two table among several: a day, a household, a batch. The
// counts are successes of pieces, first sample and second.
type Block struct {
	X1, N1, X2, N2 int
}

func (b Block) floats() (a, n1, c, n0, n float64) {
	return float64(b.X1), float64(b.N1), float64(b.X2), float64(b.N2), float64(b.N1 + b.N2)
}

// empty says whether every piece of the block passed or every piece failed: it
// then says nothing about an odds ratio.
func (b Block) empty() bool {
	passes := b.X1 + b.X2
	return passes == 0 || passes == b.N1+b.N2
}

// checkBlocks refuses no blocks and impossible counts.
func checkBlocks(blocks []Block) error {
	if len(blocks) == 0 {
		return errors.New("no blocks (there must be at least one)")
	}
	for i, b := range blocks {
		if err := checkTwo(b.X1, b.N1, b.X2, b.N2); err != nil {
			return fmt.Errorf("block %d: %w", i+1, err)
		}
	}
	return nil
}

// Estimate is a value with its standard error and interval. Where Defined is
// false the rest means nothing.
type Estimate struct {
	Value, SE float64
	Interval  Interval
	Defined   bool
}

// ChiTest is a chi-squared statistic with its p. Where Defined is false there is
// nothing in the data that could differ.
type ChiTest struct {
	Statistic, P float64
	Defined      bool
}

// Pooled is the comparison of two samples over blocks by Mantel and Haenszel.
type Pooled struct {
	// Difference is the pooled difference of the success rates, always defined:
	// Σ (x1 n2 − x2 n1)/n over Σ n1 n2/n. A block in which everything passes counts.
	Difference float64
	// Sato and GreenlandRobins are the same difference with two standard errors.
	// Sato's holds for many small blocks and for few large ones; the other for few
	// large blocks. Limits may leave −1 to 1. They are not defined where nothing
	// varies.
	Sato, GreenlandRobins Estimate

	// OddsRatio has the standard error of its logarithm (Robins, Breslow &
	// Greenland). It is not defined where it would be 0 or infinite.
	OddsRatio Estimate
	// RiskRatio has the standard error of its logarithm (Greenland & Robins).
	RiskRatio Estimate

	// CMH tests for no difference in any block, without and with the continuity
	// correction (a half, or the whole difference where that is less).
	CMH, CMHCorrected ChiTest
}

// MantelHaenszel pools blocks of two success counts.
// Source: Mantel & Haenszel 1959, J. Natl. Cancer Inst. 22:719; Robins, Breslow &
// Greenland 1986, Biometrics 42:311; Greenland & Robins 1985, Biometrics 41:55;
// Sato 1989, Biometrics 45:1323.
func MantelHaenszel(blocks []Block, level float64) (Pooled, error) {
	if err := errors.Join(checkBlocks(blocks), checkLevel(level)); err != nil {
		return Pooled{}, err
	}
	p := Pooled{
		OddsRatio: oddsRatio(blocks, level),
		RiskRatio: riskRatio(blocks, level),
	}
	p.poolDifference(blocks, level)
	p.CMH, p.CMHCorrected = cmh(blocks)
	return p, nil
}

// poolDifference fills in the difference and its two standard errors.
func (p *Pooled) poolDifference(blocks []Block, level float64) {
	var top, weight, satoP, satoQ, gr float64
	for _, block := range blocks {
		a, n1, c, n0, n := block.floats()
		top += (a*n0 - c*n1) / n
		weight += n1 * n0 / n
		satoP += (n1*n1*c - n0*n0*a + n1*n0*(n0-n1)/2) / (n * n)
		satoQ += (a*(n0-c) + c*(n1-a)) / (2 * n)
		gr += (a*(n1-a)*n0*n0*n0 + c*(n0-c)*n1*n1*n1) / (n1 * n0 * n * n)
	}
	p.Difference = top / weight
	p.Sato = normalEstimate(p.Difference, (p.Difference*satoP+satoQ)/(weight*weight), level)
	p.GreenlandRobins = normalEstimate(p.Difference, gr/(weight*weight), level)
}

// normalEstimate has normal limits. It is not defined without a variance; rounding
// may leave a trace of one where all terms are whole and cancel.
func normalEstimate(value, variance, level float64) Estimate {
	if !(variance > 1e-15) {
		return Estimate{}
	}
	se := math.Sqrt(variance)
	return Estimate{Value: value, SE: se, Interval: around(value, z(level)*se), Defined: true}
}

// ratioEstimate has normal limits on the scale of the logarithm.
func ratioEstimate(value, logVariance, level float64) Estimate {
	if !(value > 0 && logVariance > 0) || math.IsInf(value, 0) {
		return Estimate{}
	}
	se := math.Sqrt(logVariance)
	width := math.Exp(z(level) * se)
	return Estimate{Value: value, SE: se, Interval: Interval{Low: value / width, High: value * width}, Defined: true}
}

// oddsRatio is Σ a d/n over Σ b c/n, a and b being the passes and failures of the
// first sample and c and d those of the second.
func oddsRatio(blocks []Block, level float64) Estimate {
	var sumR, sumS, pr, mixed, qs float64
	for _, block := range blocks {
		a, n1, c, n0, n := block.floats()
		b, d := n1-a, n0-c
		r, s := a*d/n, b*c/n
		p, q := (a+d)/n, (b+c)/n
		sumR += r
		sumS += s
		pr += p * r
		mixed += p*s + q*r
		qs += q * s
	}
	if sumR == 0 || sumS == 0 {
		return Estimate{}
	}
	variance := pr/(2*sumR*sumR) + mixed/(2*sumR*sumS) + qs/(2*sumS*sumS)
	return ratioEstimate(sumR/sumS, variance, level)
}

// riskRatio is Σ x1 n2/n over Σ x2 n1/n.
func riskRatio(blocks []Block, level float64) Estimate {
	var top, bottom, spread float64
	for _, block := range blocks {
		a, n1, c, n0, n := block.floats()
		top += a * n0 / n
		bottom += c * n1 / n
		spread += (n1*n0*(a+c) - a*c*n) / (n * n)
	}
	if top == 0 || bottom == 0 {
		return Estimate{}
	}
	return ratioEstimate(top/bottom, spread/(top*bottom), level)
}

// cmh is the Cochran-Mantel-Haenszel test, without and with correction.
func cmh(blocks []Block) (plain, corrected ChiTest) {
	var off, variance float64
	for _, block := range blocks {
		if block.empty() {
			continue
		}
		a, n1, c, n0, n := block.floats()
		m := a + c
		off += a - n1*m/n
		variance += n1 * n0 * m * (n - m) / (n * n * (n - 1))
	}
	if variance == 0 {
		return ChiTest{}, ChiTest{}
	}
	test := func(distance float64) ChiTest {
		statistic := distance * distance / variance
		return ChiTest{Statistic: statistic, P: chiUpper(statistic, 1), Defined: true}
	}
	return test(off), test(max(0, math.Abs(off)-0.5))
}

// Homogeneity tests whether the odds ratio is the same in all blocks, by Breslow
// and Day without Tarone's correction, with one degree of freedom fewer than
// blocks. It is not defined for a single block, where the pooled odds ratio is
// not, or where a block has nothing but passes or nothing but failures.
// Source: Breslow & Day 1980, Statistical Methods in Cancer Research I, s. 4.4.
func Homogeneity(blocks []Block) (ChiTest, error) {
	if err := checkBlocks(blocks); err != nil {
		return ChiTest{}, err
	}
	ratio := oddsRatio(blocks, 0.95)
	if len(blocks) < 2 || !ratio.Defined {
		return ChiTest{}, nil
	}
	statistic := 0.0
	for _, block := range blocks {
		if block.empty() {
			return ChiTest{}, nil
		}
		statistic += block.misfit(ratio.Value)
	}
	return ChiTest{Statistic: statistic, P: chiUpper(statistic, float64(len(blocks)-1)), Defined: true}, nil
}

// misfit is (a − A)² (1/A + 1/B + 1/C + 1/D), capitals being the cells that have
// the block's margins and the given odds ratio.
func (b Block) misfit(ratio float64) float64 {
	a, n1, c, n0, _ := b.floats()
	m := a + c
	fitted := solve(func(e float64) float64 {
		return e*(n0-m+e) - ratio*(n1-e)*(m-e)
	}, max(0, m-n0), min(n1, m))
	return (a - fitted) * (a - fitted) * (1/fitted + 1/(m-fitted) + 1/(n1-fitted) + 1/(n0-m+fitted))
}
