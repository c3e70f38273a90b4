package food

import (
	"fmt"
	"sort"
	"strings"
	"sync"
	"sync/atomic"
)

// An ID is the publisher's number of a food: five digits, with leading zeros,
// so it is text.
type ID string

// A Food is one row of the table. Foods are shared: do not change one.
type Food struct {
	ID          ID
	Group       string // the publisher's food group
	Description string // the publisher's description: the name of the row
	OtherNames  string // further names in the publisher's words; mostly empty
	Scientific  string // scientific name; mostly empty
	Nutrients   Nutrients
	Measures    []Measure // household measures in the publisher's order; weights are of the edible part
	Refuse      Value     // percent of the weight as bought that is thrown away
	RefuseOf    string    // what is thrown away, such as "Core and stem"
}

// row is a line of the table with what a search needs cut out already; the rest
// is read when the food is asked for.
type row struct {
	id, group, description string
	rest                   string // from energy on
}

// table is the food table: all rows as text, foods as they are asked for.
type table struct {
	rows  []row // sorted by id
	foods []atomic.Pointer[Food]
}

var openTable = sync.OnceValues(readTable)

// readTable reads foods.csv as far as the index goes.
func readTable() (*table, error) {
	cut := lines(foodsText)
	t := &table{rows: make([]row, len(cut)), foods: make([]atomic.Pointer[Food], len(cut))}
	for i, line := range cut {
		r := &t.rows[i]
		r.id, line, _ = field(line)
		r.group, line, _ = field(line)
		r.description, r.rest, _ = field(line)
		if len(r.id) != 5 || i > 0 && t.rows[i-1].id >= r.id {
			return nil, fmt.Errorf("food table %s: row %d: ids are not sorted five-digit numbers", foodsFile, i+1)
		}
	}
	return t, nil
}

// openMeasures reads measures.csv into lines; they are sorted by id.
var openMeasures = sync.OnceValue(func() []string { return lines(measuresText) })

// Get returns the food with an id.
func Get(id ID) (*Food, bool) {
	t, err := openTable()
	if err != nil {
		return nil, false
	}
	i, ok := t.find(string(id))
	if !ok {
		return nil, false
	}
	f, err := t.food(i)
	return f, err == nil
}

// Count is how many foods the table holds.
func Count() int {
	t, err := openTable()
	if err != nil {
		return 0
	}
	return len(t.rows)
}

// Verify reads every table whole and returns the first thing that is wrong with
// the embedded data. A program that was built and tested never sees one.
func Verify() error {
	t, err := openTable()
	if err != nil {
		return err
	}
	for i := range t.rows {
		if _, err := t.food(i); err != nil {
			return err
		}
	}
	if _, err := openNames(); err != nil {
		return err
	}
	_, err = openRules()
	return err
}

func (t *table) find(id string) (int, bool) {
	return sort.Find(len(t.rows), func(i int) int { return strings.Compare(id, t.rows[i].id) })
}

// food returns the food of a row, the same pointer every time.
func (t *table) food(i int) (*Food, error) {
	if f := t.foods[i].Load(); f != nil {
		return f, nil
	}
	f, err := t.rows[i].read()
	if err != nil {
		return nil, err
	}
	if f.Measures, err = measuresOf(f); err != nil {
		return nil, err
	}
	if !t.foods[i].CompareAndSwap(nil, f) {
		f = t.foods[i].Load() // somebody else was first
	}
	return f, nil
}

// The columns of foods.csv after the description: the nutrients, then these.
const (
	refuseColumn = int(nutrientCount) + iota
	refuseOfColumn
	otherNamesColumn
	scientificColumn
	proteinFactorColumn // the publisher's energy factors are not used
	fatFactorColumn
	carbohydrateFactorColumn
	columnCount
)

// read turns the text of a row into a food, without its measures.
func (r row) read() (*Food, error) {
	var cells [columnCount]string
	if !fields(r.rest, cells[:]) {
		return nil, fmt.Errorf("food table %s: %s: wrong number of fields", foodsFile, r.id)
	}
	f := &Food{
		ID: ID(r.id), Group: r.group, Description: r.description,
		OtherNames: cells[otherNamesColumn], Scientific: cells[scientificColumn],
		RefuseOf: cells[refuseOfColumn],
	}
	for n := range nutrientCount {
		if cells[n] == "" {
			continue
		}
		v, ok := thousandths(cells[n])
		if !ok {
			return nil, fmt.Errorf("food table %s: %s: %q is no %s", foodsFile, r.id, cells[n], n.Name())
		}
		f.Nutrients.set(n, v)
	}
	if percent := cells[refuseColumn]; percent != "" {
		v, ok := thousandths(percent)
		if !ok {
			return nil, fmt.Errorf("food table %s: %s: %q is no percentage of refuse", foodsFile, r.id, percent)
		}
		f.Refuse = Value{Amount: number(v), Reported: true}
	}
	return f, nil
}
