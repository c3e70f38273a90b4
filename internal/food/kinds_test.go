package food

import (
	"os"
	"strings"
	"testing"
)

func TestIsLiquid(t *testing.T) {
	for _, test := range []struct {
		name string
		want bool
	}{
		{"water", true}, {"milk", true}, {"buttermilk", true}, {"heavy cream", true}, {"olive oil", true}, {"honey", true},
		{"maple syrup", true}, {"corn syrup", true}, {"soy sauce", true}, {"vinegar, distilled", true}, {"lemon juice", true},
		{"chicken broth", true}, {"vanilla extract", true}, {"red wine", true}, {"beer", true}, {"coffee", true},
		{"coconut milk", true}, {"evaporated milk", true}, {"condensed milk", true}, {"soy milk", true}, {"molasses", true},
		{"flour", false}, {"sugar", false}, {"butter", false}, {"shortening", false}, {"lard", false}, {"coconut oil", false},
		{"yogurt", false}, {"sour cream", false}, {"cream cheese", false}, {"nonfat dry milk", false}, {"egg", false},
		{"cocoa powder", false}, {"instant coffee", false}, {"ice cream", false}, {"tomato paste", false}, {"peanut butter", false},
		{"chicken breast", false}, {"bouillon cube", false}, {"cocoa butter", false}, {"cooking spray", false},
	} {
		m, ok := Find(test.name)
		if !ok {
			t.Errorf("%q is not found", test.name)
			continue
		}
		if got := IsLiquid(m.Food); got != test.want {
			t.Errorf("%s (%s) is a liquid: %v, want %v", test.name, m.Food.Description, got, test.want)
		}
	}
	if f := get(t, "07088"); IsLiquid(f) {
		t.Errorf("%s is a liquid", f.Description)
	}
}

func TestIsWater(t *testing.T) {
	waters := make(map[ID]bool)
	table, err := openTable()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range table.rows {
		if f := get(t, ID(r.id)); IsWater(f) {
			waters[f.ID] = true
		}
	}
	for _, id := range []ID{"14411", "14412", "14429", "14555", "14121"} {
		if !waters[id] {
			t.Errorf("%s %s is no water", id, get(t, id).Description)
		}
		delete(waters, id)
	}
	for id := range waters {
		t.Errorf("%s %s is taken for water", id, get(t, id).Description)
	}
}

func TestWaterShare(t *testing.T) {
	for _, test := range []struct {
		id   ID
		want string
	}{
		{"14411", "0.999"}, {"01123", "0.7615"}, {"20581", "0.1192"}, {"04053", "0"},
	} {
		share, ok := WaterShare(get(t, test.id))
		if !ok || !closeTo(share, num(t, test.want), "0.0001") {
			t.Errorf("%s is water by %s, want %s", test.id, share, test.want)
		}
	}
	if _, ok := WaterShare(&Food{}); ok {
		t.Error("an empty food reports water")
	}
}

func TestDatedFat(t *testing.T) {
	for _, test := range []struct {
		name string
		want bool
	}{
		{"shortening", true}, {"vegetable shortening", true}, {"margarine", true}, {"stick margarine", true}, {"tub margarine", true},
		{"butter", false}, {"salted butter", false}, {"lard", false}, {"olive oil", false}, {"coconut oil", false},
		{"palm oil", false}, {"ghee", false}, {"flour", false}, {"puff pastry", false}, {"mayonnaise", false},
	} {
		m, ok := Find(test.name)
		if !ok {
			t.Errorf("%q is not found", test.name)
			continue
		}
		if got := DatedFat(m.Food); got != test.want {
			t.Errorf("%s (%s) is dated: %v, want %v", test.name, m.Food.Description, got, test.want)
		}
	}
	// Every row of fats that reports over 2 g of trans fat in 100 g of fat and is
	// no butter is dated (Regulation (EU) 2019/649).
	table, err := openTable()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range table.rows {
		f := get(t, ID(r.id))
		if DatedFat(f) && f.Group != "Fats and Oils" {
			t.Errorf("%s %s is in the group %s", f.ID, f.Description, f.Group)
		}
		if strings.Contains(strings.ToLower(f.Description), "partially hydrogenated") && f.Group == "Fats and Oils" && !DatedFat(f) {
			t.Errorf("%s %s is not dated", f.ID, f.Description)
		}
	}
}

// TestSource holds the citation against the record of the data, word for word.
func TestSource(t *testing.T) {
	s := Source()
	record, err := os.ReadFile("data/SOURCES.md")
	if err != nil {
		t.Fatal(err)
	}
	flat := strings.Join(strings.Fields(strings.ReplaceAll(string(record), ">", "")), " ")
	for _, want := range []string{s.Text, s.Address, "17 U.S.C. § 105", "Release 28"} {
		if want == "" || !strings.Contains(flat, want) {
			t.Errorf("data/SOURCES.md lacks %q", want)
		}
	}
	if s.Year != 2015 || len(s.Limits) < 5 || s.Licence == "" || s.Changes == "" {
		t.Errorf("the citation lacks something: %+v", s)
	}
	for _, forbidden := range []string{"/" + "work", "/" + "tmp", "/" + "root"} {
		if strings.Contains(string(record), forbidden) {
			t.Errorf("data/SOURCES.md names the place %s", forbidden)
		}
	}
}
