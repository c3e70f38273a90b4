package findings

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// reference runs one case for each row of a reference table that the case takes, and
// fails when it takes another number of rows than it should.
func reference(t *testing.T, table string, want int, check func(t *testing.T, r map[string]string) bool) {
	t.Helper()
	file, err := os.Open("../../testdata/reference/" + table)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	records, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	taken := 0
	for _, record := range records[1:] {
		r := map[string]string{}
		for i, name := range records[0] {
			r[name] = record[i]
		}
		t.Run(record[0], func(t *testing.T) {
			if check(t, r) {
				taken++
			}
		})
	}
	if taken != want {
		t.Errorf("%s: %d rows were checked, want %d", table, taken, want)
	}
}

// holds compares with an expected cell, in the table's own tolerance.
func holds(t *testing.T, r map[string]string, column string, got float64) {
	t.Helper()
	want := num(t, r[column])
	if math.IsNaN(got) || math.Abs(got-want) > num(t, r["tolerance"])*max(1, math.Abs(want)) {
		t.Errorf("%s is %.13g, want %.13g", column, got, want)
	}
}

func num(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func whole64(t *testing.T, text string) int { t.Helper(); return int(num(t, text)) }

// TestShares: Newcombe's intervals and Fisher's p of two_proportions.csv come out at
// the end of the whole way from note and log.
func TestShares(t *testing.T) {
	reference(t, "two_proportions.csv", 35, func(t *testing.T, r map[string]string) bool {
		newcombe := r["method"] == "newcombe_10" && r["conf_level"] == "0.95"
		n1, n2 := whole64(t, r["n1"]), whole64(t, r["n2"])
		if !newcombe && r["method"] != "fisher" || n1 < 2 || n2 < 2 || n1+n2 > 1000 {
			return false
		}
		e := bench{measures: done, pieces: shareHead +
			passed("b", whole64(t, r["x1"]), n1) + passed("a", whole64(t, r["x2"]), n2)}.of(t).first()
		if newcombe {
			holds(t, r, "estimate", e.Difference)
			holds(t, r, "lower", e.Interval.Low)
			holds(t, r, "upper", e.Interval.High)
			return true
		}
		holds(t, r, "p_two_sided", e.P)
		if e.Test != FisherTest || e.Unit != OfPiece {
			t.Errorf("%s of %ss", e.Test, e.Unit)
		}
		return true
	})
}

// TestNumbers: Welch's intervals and the permutation p of means.csv; and its paired
// rows, once as tasters and once as pairs of batches of one piece.
func TestNumbers(t *testing.T) {
	reference(t, "means.csv", 26, func(t *testing.T, r map[string]string) bool {
		x, y := strings.Fields(r["x"]), strings.Fields(r["y"])
		method := r["method"]
		switch {
		case method == "welch_t" && r["conf_level"] == "0.95" && r["ci_low"] != "":
			e := twoLists(t, x, y)
			holds(t, r, "estimate", e.Difference)
			holds(t, r, "ci_low", e.Interval.Low)
			holds(t, r, "ci_high", e.Interval.High)
		case method == "permutation_mean_difference":
			e := twoLists(t, x, y)
			if e.Why == Alike {
				return e.Kind == NoneSeen && !e.HasP // the table's p is 1: nothing can differ
			}
			holds(t, r, "p_two_sided", e.P)
		case method == "permutation_paired_sign_flip":
			holds(t, r, "p_two_sided", pairedTasters(t, x, y).Also.P)
			b := pairedBatches(t, x, y)
			holds(t, r, "p_two_sided", b.P)
			holds(t, r, "estimate", b.Difference)
			if b.Unit != OfBatch || b.Test != BatchPairTest {
				t.Errorf("%s of %ss", b.Test, b.Unit)
			}
		case strings.HasPrefix(method, "signed_rank_exact"):
			e := pairedTasters(t, x, y)
			holds(t, r, "p_two_sided", e.P)
			if r["estimate"] != "" {
				holds(t, r, "estimate", e.Difference)
			}
			if r["ci_low"] != "" {
				holds(t, r, "ci_low", e.Interval.Low)
				holds(t, r, "ci_high", e.Interval.High)
			}
		default:
			return false
		}
		return true
	})
}

func twoLists(t *testing.T, x, y []string) Effect {
	return bench{measures: size, pieces: numberHead + rows("b", x...) + rows("a", y...)}.of(t).first()
}

// pairedTasters takes y for nought where the table gives differences.
func pairedTasters(t *testing.T, x, y []string) Effect {
	return bench{measures: taste, tasting: tasted("b a", x, orNought(x, y))}.of(t).first()
}

func pairedBatches(t *testing.T, x, y []string) Effect {
	return bench{measures: size, more: "batches: side by side", pieces: numberHead + inPairs(x, orNought(x, y))}.of(t).first()
}

// inPairs writes one piece of each sample for every batch.
func inPairs(x, y []string) string {
	log := ""
	for i := range x {
		log += rows("b."+strconv.Itoa(i+1), x[i]) + rows("a."+strconv.Itoa(i+1), y[i])
	}
	return log
}

func orNought(x, y []string) []string {
	if len(y) > 0 {
		return y
	}
	y = make([]string, len(x))
	for i := range y {
		y[i] = "0"
	}
	return y
}

// TestBlocks: blocks.csv, the Mantel-Haenszel rows at 95 % and the permutation within
// blocks, as what the pieces say about batches made side by side.
func TestBlocks(t *testing.T) {
	reference(t, "blocks.csv", 11, func(t *testing.T, r map[string]string) bool {
		switch {
		case r["method"] == "mantel_haenszel" && r["conf_level"] == "0.95" && r["case"] != "mh_ucb_admissions":
			log := shareHead
			for i, stratum := range strings.Split(r["strata"], "; ") {
				for j, cell := range strings.Fields(stratum) {
					x, n, _ := strings.Cut(cell, "/")
					log += passed("ba"[j:j+1]+"."+strconv.Itoa(i+1), whole64(t, x), whole64(t, n))
				}
			}
			e := bench{measures: done, more: "batches: side by side", pieces: log}.of(t).first()
			holds(t, r, "rd_mh", e.Pieces.Difference)
			holds(t, r, "exact_p_two_sided", e.Pieces.P)
			if e.Unit != OfBatch || e.Pieces.Unit != OfPiece || e.Pieces.Test != StratifiedTest {
				t.Errorf("%s of %ss beside %s of %ss", e.Test, e.Unit, e.Pieces.Test, e.Pieces.Unit)
			}
			return true
		case r["method"] == "stratified_permutation":
			return blockedRow(t, r)
		}
		return false
	})
}

// blockedRow checks a row of the permutation within blocks. A single block is plain.
func blockedRow(t *testing.T, r map[string]string) bool {
	log := numberHead
	strata := strings.Split(r["strata"], "; ")
	for i, stratum := range strata {
		x, y, _ := strings.Cut(stratum, " / ")
		log += rows("b."+strconv.Itoa(i+1), strings.Fields(x)...) + rows("a."+strconv.Itoa(i+1), strings.Fields(y)...)
	}
	e := bench{measures: size, more: "batches: side by side", pieces: log}.of(t).first()
	within := &e.Outcome
	if len(strata) > 1 {
		within = e.Pieces
	}
	holds(t, r, "p_perm_two_sided", within.P)
	holds(t, r, "fixed", within.Difference)
	return true
}

// TestPanels: Friedman's and Cochran's rows of many_samples.csv, and the exact critical
// differences of rank sums at 5 %.
func TestPanels(t *testing.T) {
	reference(t, "many_samples.csv", 18, func(t *testing.T, r map[string]string) bool {
		k := 0
		if r["k"] != "" {
			k = whole64(t, r["k"])
		}
		switch {
		case r["method"] == "friedman" && k >= 3:
			p := panelOf(t, taste, strings.Split(r["data"], "; "))
			if r["statistic"] == "" {
				return !p.HasP && p.Kind == NoneSeen
			}
			holds(t, r, "statistic", p.Statistic)
			holds(t, r, "p_exact", p.P)
			holds(t, r, "kendall_w", p.W)
			for i, sum := range strings.Fields(r["rank_sums"]) {
				if p.RankSums[i] != num(t, sum) {
					t.Errorf("rank sums %v, want %s", p.RankSums, r["rank_sums"])
				}
			}
		case r["method"] == "cochran_q" && k >= 3:
			p := panelOf(t, "taste: {kind: yes or no, of: tasting}", strings.Split(r["data"], "; "))
			holds(t, r, "statistic", p.Statistic)
			holds(t, r, "p_exact", p.P)
			if p.HasW || p.Test != CochranTest {
				t.Errorf("%s with W %v", p.Test, p.HasW)
			}
		case r["method"] == "rank_sum_range_critical" && r["alpha"] == "0.05":
			row := strings.Join(strings.Fields("1 2 3 4")[:k], " ")
			data := make([]string, whole64(t, r["n"]))
			for i := range data {
				data[i] = row
			}
			p := panelOf(t, "taste: {kind: rank}", data)
			holds(t, r, "critical", float64(p.Critical))
		default:
			return false
		}
		return true
	})
}

// panelOf lets tasters judge as many samples as a row has numbers, each with one more
// thing changed.
func panelOf(t *testing.T, measure string, data []string) Panel {
	t.Helper()
	samples, keys := "s1: {control: true}\n", []string{"s1"}
	for i := range len(strings.Fields(data[0])) - 1 {
		key := "s" + strconv.Itoa(i+2)
		samples += key + ": {change: {boil: " + strconv.Itoa(20+i) + " min}}\n"
		keys = append(keys, key)
	}
	log := tasteHead
	for i, row := range data {
		for j, said := range strings.Fields(row) {
			log += "t" + strconv.Itoa(100+i) + "," + keys[j] + "," + said + "\n"
		}
	}
	return bench{samples: samples, measures: measure, tasting: log}.of(t).Panels[0]
}

// TestDiscriminations: the p-values, the critical numbers, the exact limits of the share
// of discriminators and d-prime of discrimination.csv.
func TestDiscriminations(t *testing.T) {
	kinds := map[string]string{"triangle": "triangle", "duotrio": "duo-trio", "twoafc": "two-alternative forced choice",
		"threeafc": "three-alternative forced choice", "tetrad": "tetrad", "paired_preference": "paired preference",
		"chance_third": "triangle", "chance_half": "duo-trio", "paired_two_sided": "paired preference"}
	reference(t, "discrimination.csv", 56, func(t *testing.T, r map[string]string) bool {
		correct := 0
		if r["correct"] != "" {
			correct = whole64(t, r["correct"])
		}
		taken := r["kind"] == "p_value" || r["kind"] == "critical" || r["kind"] == "dprime_from_count" ||
			r["kind"] == "pd_cp" && r["conf_level"] == "0.95"
		if !taken {
			return false
		}
		d := discriminationOf(t, kinds[r["method"]], correct, whole64(t, r["n"]))
		switch r["kind"] {
		case "p_value":
			holds(t, r, "p_value", d.P)
		case "critical":
			if r["critical_05"] == "" || d.N < 2 {
				return !d.HasCritical
			}
			holds(t, r, "critical_05", float64(d.Critical))
		case "pd_cp":
			holds(t, r, "expected", d.PD)
			holds(t, r, "expected_low", d.Interval.Low)
			holds(t, r, "expected_high", d.Interval.High)
		case "dprime_from_count":
			holds(t, r, "expected", d.DPrime)
		}
		return true
	})
}

// discriminationOf has n assessors answer one set each.
func discriminationOf(t *testing.T, kind string, right, n int) Discrimination {
	t.Helper()
	log := "assessor,set,odd,picked\n"
	for i := range n {
		picked := "111"
		if i >= right {
			picked = "222"
		}
		if kind == "paired preference" {
			picked = map[string]string{"111": "b", "222": "a"}[picked]
		}
		log += "t" + strconv.Itoa(i) + ",1,111," + picked + "\n"
	}
	if kind == "paired preference" {
		log = strings.ReplaceAll(strings.ReplaceAll(log, ",odd", ""), ",111", "")
	}
	return bench{measures: "test: {kind: " + kind + ", compares: [b, a], primary: true}",
		sets: map[string]string{"test": log}}.of(t).Discriminations[0]
}

// TestReach: the smallest drop from all that a comparison of two counts has an 80 %
// chance to show, and the pieces that a difference seen would have needed, of power.csv.
func TestReach(t *testing.T) {
	seen := map[string][4]int{ // samples in which just those rates were seen
		"samplesize_p1_0.5_power0.8_a0.05":   {6, 6, 3, 6},
		"samplesize_p1_0.6_power0.8_a0.05":   {5, 5, 3, 5},
		"samplesize_p0.9_0.5_power0.8_a0.05": {9, 10, 5, 10},
		"samplesize_p0.8_0.3_power0.8_a0.05": {8, 10, 3, 10},
	}
	reference(t, "power.csv", 15, func(t *testing.T, r map[string]string) bool {
		switch {
		case r["kind"] == "drop_from_100" && r["alpha"] == "0.05" && r["power"] == "0.8":
			n := whole64(t, r["n1"])
			e := bench{measures: done, pieces: shareHead + passed("a", n, n) + passed("b", n/2, n)}.of(t).first()
			holds(t, r, "detectable_drop", e.Detectable.Difference)
			holds(t, r, "detectable_p2", e.Detectable.Rate)
		case r["kind"] == "sample_size" && seen[r["case"]] != [4]int{}:
			x := seen[r["case"]]
			e := bench{measures: done, pieces: shareHead + passed("b", x[0], x[1]) + passed("a", x[2], x[3])}.of(t).first()
			if e.Needed.N != whole64(t, r["n_first"]) {
				t.Errorf("%d pieces are needed, want %s", e.Needed.N, r["n_first"])
			}
		case r["kind"] == "smallest_p":
			holds(t, r, "p_at_critical", smallestP(whole64(t, r["n1"]), whole64(t, r["n2"])))
		default:
			return false
		}
		return true
	})
}
