package stats

import (
	"errors"
	"math"
)

// Three answers to the question how far two rank sums must lie apart. The rows
// are complete and untied: n assessors rank k samples.

// RankLSD is the critical difference of two rank sums for one comparison alone,
// from the normal approximation: z √(n k (k+1) / 6).
// Source: the form used in ISO 8587 (Friedman, complete blocks).
func RankLSD(k, n int, alpha float64) (float64, error) {
	if err := checkSpread(k, n, alpha); err != nil {
		return 0, err
	}
	return z(1-alpha) * math.Sqrt(float64(n)*float64(k)*float64(k+1)/6), nil
}

// RankHSD is the critical difference of two rank sums when all pairs are compared,
// for a large panel: q √(n k (k+1) / 12), q being the upper alpha quantile of the
// range of k standard normal values.
// Source: Hollander & Wolfe 1973, ch. 7 (after Nemenyi 1963).
func RankHSD(k, n int, alpha float64) (float64, error) {
	if err := checkSpread(k, n, alpha); err != nil {
		return 0, err
	}
	return normalRangeQuantile(k, 1-alpha) * math.Sqrt(float64(n)*float64(k)*float64(k+1)/12), nil
}

func checkSpread(k, n int, alpha float64) error {
	if k < 2 || k > 1000 || n < 1 || n > mostPieces {
		return errors.New("rank sums need 2 to 1000 samples and 1 to 10000 assessors")
	}
	return checkAlpha(alpha)
}

// RankRange is the exact critical difference when all pairs are compared: the
// smallest difference d for which the largest rank sum exceeds the smallest by d
// or more with a probability of at most alpha, and that probability. It is false
// where no difference is that rare. Panels too large to count are an error.
// Source: Newell & MacFarlane 1987, J. Food Sci. 52:1721, whose table takes the
// integer nearest to 5 % and so is smaller by one in places.
func RankRange(k, n int, alpha float64) (critical int, attained float64, ok bool, err error) {
	if err := checkPanel(k, n, alpha); err != nil {
		return 0, 0, false, err
	}
	row := countUp(k)
	rows := make([][]int64, n)
	for i := range rows {
		rows[i] = row
	}
	totals, ok := blockTotals(rows, 10*Sampling{}.work())
	if !ok {
		return 0, 0, false, tooLarge(k, n)
	}
	ranges := map[int64]count{}
	for columns, ways := range totals {
		width := columns[k-1] - columns[0]
		ranges[width] = ranges[width].plus(ways)
	}
	dist := spectrumOf(ranges)
	total := dist.total()
	for _, d := range dist.values {
		above := dist.atMost(d - 1).big()
		if p := ratio(above.Sub(total, above), total); p <= alpha {
			return int(d), p, true, nil
		}
	}
	return 0, 0, false, nil
}

// normalRange is the probability that the range of k standard normal values is at
// most q:
//
//	k ∫ φ(x) [Φ(x) − Φ(x − q)]^(k−1) dx
func normalRange(k int, q float64) float64 {
	return min(1, float64(k)*integral(func(x float64) float64 {
		return density(x) * math.Pow(normalUpper(x-q)-normalUpper(x), float64(k-1))
	}, -9, 9+q))
}

// normalRangeQuantile solves normalRange(k, q) = p by halving.
func normalRangeQuantile(k int, p float64) float64 {
	return solve(func(q float64) float64 { return normalRange(k, q) - p }, 0, 40)
}
