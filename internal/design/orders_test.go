package design

import (
	"encoding/csv"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestReference holds every row of the table of serving orders, which was counted
// with R; the source stands in each row.
func TestReference(t *testing.T) {
	checks := map[string]func(*testing.T, map[string]string){
		"design":       checkDesign,
		"check_design": checkGiven,
		"panel":        checkPanel,
		"test_orders":  checkTestOrders,
	}
	seen := map[string]int{}
	for _, row := range referenceRows(t) {
		t.Run(row["case"], func(t *testing.T) {
			check := checks[row["kind"]]
			if check == nil {
				t.Fatalf("nothing holds rows of the kind %q", row["kind"])
			}
			seen[row["kind"]]++
			check(t, row)
		})
	}
	if len(seen) != len(checks) || len(referenceRows(t)) != 24 {
		t.Errorf("held %v of %d rows", seen, len(referenceRows(t)))
	}
}

func referenceRows(t *testing.T) []map[string]string {
	t.Helper()
	file, err := os.Open("../../testdata/reference/serving_orders.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	records, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, record := range records[1:] {
		row := map[string]string{}
		for i, cell := range record {
			row[records[0][i]] = cell
		}
		rows = append(rows, row)
	}
	return rows
}

func number(t *testing.T, text string) int {
	t.Helper()
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func checkDesign(t *testing.T, row map[string]string) {
	n := number(t, row["treatments"])
	orders := Williams(n)
	if len(orders) != number(t, row["orders_needed"]) {
		t.Errorf("%d orders, want %s", len(orders), row["orders_needed"])
	}
	place, pair := number(t, row["position_count"]), number(t, row["neighbour_count"])
	if got, want := BalanceOf(orders, n), (Balance{place, place, pair, pair}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

func checkGiven(t *testing.T, row map[string]string) {
	n := number(t, row["treatments"])
	var orders [][]int
	for _, text := range strings.Split(row["design"], ";") {
		var order []int
		for _, sample := range strings.Fields(text) {
			order = append(order, int(sample[0]-'A'))
		}
		orders = append(orders, order)
	}
	if len(orders) != number(t, row["orders_needed"]) {
		t.Fatalf("read %d orders, want %s", len(orders), row["orders_needed"])
	}
	got := BalanceOf(orders, n)
	want := Balance{number(t, row["position_min"]), number(t, row["position_max"]), number(t, row["neighbour_min"]), number(t, row["neighbour_max"])}
	if got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if got.Position() != (row["balanced_position"] == "yes") || got.Neighbour() != (row["balanced_neighbour"] == "yes") {
		t.Errorf("position %v, neighbour %v; want %s, %s", got.Position(), got.Neighbour(), row["balanced_position"], row["balanced_neighbour"])
	}
}

func checkPanel(t *testing.T, row map[string]string) {
	n, tasters := number(t, row["treatments"]), number(t, row["panelists"])
	if got := len(Williams(n)); got != number(t, row["orders_needed"]) {
		t.Errorf("a design has %d orders, want %s", got, row["orders_needed"])
	}
	for seed := range 5 {
		got := BalanceOf(ServingOrders(n, tasters, SeedOf(fmt.Sprint(seed))), n)
		if got.PositionMin != number(t, row["position_min"]) || got.PositionMax != number(t, row["position_max"]) {
			t.Errorf("places %d to %d, want %s to %s", got.PositionMin, got.PositionMax, row["position_min"], row["position_max"])
		}
		if row["neighbour_min"] != "" && (got.NeighbourMin != number(t, row["neighbour_min"]) || got.NeighbourMax != number(t, row["neighbour_max"])) {
			t.Errorf("neighbours %d to %d, want %s to %s", got.NeighbourMin, got.NeighbourMax, row["neighbour_min"], row["neighbour_max"])
		}
		if got.Position() != (row["balanced_position"] == "yes") || (row["balanced_neighbour"] == "yes") && !got.Neighbour() {
			t.Errorf("%+v", got)
		}
	}
}

func checkTestOrders(t *testing.T, row map[string]string) {
	tests := map[string]Test{
		"orders_triangle": Triangle, "orders_tetrad": Tetrad, "orders_paired": Paired, "orders_duotrio_balanced": DuoTrioBalanced,
	}
	test, known := tests[row["case"]]
	if !known {
		t.Fatal("a test that nothing holds")
	}
	all := test.Arrangements()
	if len(all) != number(t, row["orders_needed"]) {
		t.Errorf("%d arrangements, want %s", len(all), row["orders_needed"])
	}
	// The note of the row lists the arrangements, where it does.
	_, list, _ := strings.Cut(row["note"], ": ")
	list, _, _ = strings.Cut(list, ",")
	list, _, _ = strings.Cut(list, ";")
	for _, cups := range strings.Fields(list) {
		if !slices.ContainsFunc(all, func(a Arrangement) bool { return a.Cups == cups }) && strings.Trim(cups, "AB") == "" {
			t.Errorf("no arrangement %s", cups)
		}
	}
}

// Every sample stands once in each order; every design is balanced; so is any whole
// number of designs, for any seed.
func TestOrderLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		samples := rapid.IntRange(1, 9).Draw(t, "samples")
		assessors := rapid.IntRange(0, 40).Draw(t, "assessors")
		seed := SeedOf(rapid.String().Draw(t, "seed"))
		orders := ServingOrders(samples, assessors, seed)
		if len(orders) != assessors {
			t.Fatalf("%d orders for %d assessors", len(orders), assessors)
		}
		for _, order := range orders {
			sorted := slices.Sorted(slices.Values(order))
			for i := range samples {
				if len(sorted) != samples || sorted[i] != i {
					t.Fatalf("the order %v", order)
				}
			}
		}
		b := BalanceOf(orders, samples)
		if b.PositionMax-b.PositionMin > 1 {
			t.Fatalf("places differ by more than one: %+v", b)
		}
		if most := 2 - (samples+1)%2; b.NeighbourMax-b.NeighbourMin > most {
			t.Fatalf("neighbours differ by more than %d: %+v", most, b)
		}
		if assessors%len(Williams(samples)) == 0 && !(b.Position() && b.Neighbour()) {
			t.Fatalf("whole designs are not balanced: %+v", b)
		}
		if again := ServingOrders(samples, assessors, seed); fmt.Sprint(again) != fmt.Sprint(orders) {
			t.Fatal("the same seed gives other orders")
		}
	})
}

// For up to seven samples no choice of orders out of a design is more even than the one
// that is taken.
func TestFewest(t *testing.T) {
	for _, samples := range []int{3, 5} {
		design := Williams(samples)
		for n := 1; n < len(design); n++ {
			got := BalanceOf(fewest(design, samples, n), samples).spread()
			subsets(len(design), n, func(chosen []int) {
				var some [][]int
				for _, i := range chosen {
					some = append(some, design[i])
				}
				if other := BalanceOf(some, samples).spread(); slices.Compare(other[:], got[:]) < 0 {
					t.Fatalf("%d of %d: %v is more even than %v", n, len(design), other, got)
				}
			})
		}
	}
	if Williams(0) != nil || ServingOrders(0, 3, Seed{}) != nil {
		t.Error("orders of nothing")
	}
}

// Over batches the first sample is not always the same, and it is drawn apart from the
// serving orders.
func TestCookingOrders(t *testing.T) {
	seed := SeedOf("rye", "1")
	orders := CookingOrders(4, 4, seed)
	first := map[int]bool{}
	for _, order := range orders {
		first[order[0]] = true
	}
	if len(first) != 4 {
		t.Errorf("four batches begin with %d of the samples", len(first))
	}
	if fmt.Sprint(orders) == fmt.Sprint(ServingOrders(4, 4, seed)) {
		t.Error("cooked and served in the same orders")
	}
}

func TestSeeds(t *testing.T) {
	if SeedOf("a", "b") == SeedOf("ab") || SeedOf("a").For("b") == SeedOf("a").For("c") {
		t.Error("two seeds are the same")
	}
	first := SeedOf("a").For("b")
	if again := SeedOf("a").For("b"); again != first {
		t.Error("a seed changes")
	}
}
