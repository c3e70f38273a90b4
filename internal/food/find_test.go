package food

import (
	"strings"
	"testing"
)

func TestFind(t *testing.T) {
	for _, test := range []struct {
		name string
		want ID
		via  Via
	}{
		{"all-purpose flour", "20581", EverydayExact},
		{"All Purpose Flour", "20581", EverydayExact},
		{"  all-purpose   flour ", "20581", EverydayExact},
		{"all‑purpose flour", "20581", EverydayExact}, // a non-breaking hyphen
		{"20581", "20581", ByID},
		{" 20581 ", "20581", ByID},
		{"Butter, without salt", "01145", ExactDescription},
		{"leavening agents, BAKING SODA", "18372", ExactDescription},
		{"butter", "01145", EverydayClose},
		{"egg", "01123", EverydayExact},
		{"eggs", "01123", EverydayExact},
		{"large egg", "01123", EverydayExact},
		{"large eggs", "01123", EverydayExact},
		{"extra-large eggs", "01123", EverydayExact},
		{"egg whites", "01124", EverydayExact},
		{"carrot", "11124", EverydayExact},
		{"small carrots", "11124", EverydayExact},
		{"potatoes", "11352", EverydayExact},
		{"bay leaves", "02004", EverydayExact},
		{"oats", "08120", EverydayExact}, // not 20038, whose description is Oats
		{"packed brown sugar", "19334", EverydayExact},
		{"firmly packed light brown sugar", "19334", EverydayExact},
		{"sifted cake flour", "20084", EverydayClose},
		{"cold butter", "01145", EverydayClose},
		{"melted lard", "04002", EverydayExact},
		{"crème fraîche", "01056", EverydayAssumption},
		{"jalapeño", "11979", EverydayExact},
		{"confectioner’s sugar", "19336", EverydayExact},
		{"confectioners' sugar", "19336", EverydayExact},
		{"2 % milk", "01079", EverydayExact},
		{"sliced almonds", "12061", EverydayExact}, // a name of its own
		{"cloves garlic", "11215", EverydayExact},
		{"clove of garlic", "11215", EverydayExact},
		{"stick butter", "01145", EverydayClose},
		{"slices of bread", "18069", EverydayExact},
		{"packet active dry yeast", "18375", EverydayExact},
		{"sprigs parsley", "11297", EverydayClose},
		{"cloves", "02011", EverydayExact},
		{"chopped walnuts", "12155", EverydayClose},
		{"finely chopped onion", "11282", EverydayClose},
		{"shredded cheddar", "01009", EverydayClose},
		{"chopped tomatoes", "11531", EverydayClose}, // a name of its own: the canned ones
		{"tomato puree (UK)", "11546", EverydayExact},
	} {
		t.Run(test.name, func(t *testing.T) {
			m, ok := Find(test.name)
			if !ok {
				t.Fatalf("%q is not found", test.name)
			}
			if m.Food.ID != test.want || m.Via != test.via {
				t.Errorf("%q is %s (%s) %s, want %s %s", test.name, m.Food.ID, m.Food.Description, m.Via, test.want, test.via)
			}
			if m.Name == "" {
				t.Errorf("%q has no name", test.name)
			}
		})
	}
}

// TestFindRefuses lists names that a guesser would take for something.
func TestFindRefuses(t *testing.T) {
	for _, name := range []string{
		"", " ", ",", "flur", "egg, beaten", "eggs beaten", "cider", "1123", "99999",
		"tomato puree",      // two things, by country
		"shredded coconut",  // sold sweetened and dried
		"crushed pineapple", // canned
		"mashed potatoes",   // a dish
		"hot pepper",        // a fruit, while pepper is a spice
		"stick cinnamon",    // the row is ground
		"can tomatoes",      // the row is raw
		"cloves of", "of garlic", "stick", "slice of flour",
		"large", "packed", "chopped", "finely chopped",
		"pancakes, whole wheat, dry mix, incomplete", // two rows, told apart by a hyphen and a capital
		"diced milk", // no measure of milk is diced
		"flour and water", "bread flour all-purpose flour", "butter substitute",
		strings.Repeat("flour ", 100), strings.Repeat("large ", 30) + "egg and",
		"\x00", "\xff\xfe", "🥚",
	} {
		if m, ok := Find(name); ok {
			t.Errorf("%q is taken for %s", name, m.Food.Description)
		}
	}
}

// TestEverydayNames looks up every name of the table, as it stands, and holds the
// answer against the table read by a full CSV reader.
func TestEverydayNames(t *testing.T) {
	_, rows := records(t, everydayFile)
	if got, want := len(rows), 1176; got != want { // data/SOURCES.md
		t.Fatalf("%d names, want %d", got, want)
	}
	via := map[string]Via{"exact": EverydayExact, "close": EverydayClose, "assumption": EverydayAssumption}
	count := make(map[string]int)
	for _, row := range rows {
		m, ok := Find(row[0])
		if !ok {
			t.Errorf("%q is not found", row[0])
			continue
		}
		// Two spellings that fold to one name may differ in their notes, never in their food.
		if string(m.Food.ID) != row[1] || m.Food.Description != row[4] || m.Via != via[row[2]] {
			t.Errorf("%q is %s %s, want %s %s", row[0], m.Food.ID, m.Via, row[1], row[2])
		}
		if m.Via == EverydayAssumption && m.Note == "" {
			t.Errorf("%q is a stand-in without a note", row[0])
		}
		count[row[2]]++
	}
	if count["exact"] != 764 || count["close"] != 317 || count["assumption"] != 95 { // data/SOURCES.md
		t.Errorf("names by via: %v", count)
	}
}

func TestDescriptionsAllResolve(t *testing.T) {
	table, err := openTable()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range table.rows {
		m, ok := Find(r.description)
		if !ok {
			t.Errorf("%q is not found", r.description)
			continue
		}
		if string(m.Food.ID) != r.id && r.description != "Oats" {
			t.Errorf("%q is %s, want %s", r.description, m.Food.ID, r.id)
		}
	}
}

func TestCutNote(t *testing.T) {
	m, ok := Find("chopped onion")
	if !ok || m.Note != "chopped is taken as the cut of onion" {
		t.Errorf("the note is %q", m.Note)
	}
}

// TestFindAllocates nothing: a look-up is done for every ingredient of every note.
func TestFindAllocates(t *testing.T) {
	for _, name := range []string{"all-purpose flour", "Large Eggs", "unsalted butter", "20581"} {
		if _, ok := Find(name); !ok {
			t.Fatalf("%q is not found", name)
		}
		if n := testing.AllocsPerRun(100, func() { Find(name) }); n != 0 {
			t.Errorf("Find(%q) allocates %v times", name, n)
		}
	}
}

func TestNumbers(t *testing.T) {
	for one, many := range map[string]string{
		"egg": "eggs", "berry": "berries", "potato": "potatoes", "radish": "radishes", "peach": "peaches",
		"leaf": "leaves", "carrot": "carrots", "fig": "figs",
	} {
		if got := singular(many); got != one {
			t.Errorf("the singular of %s is %q, want %q", many, got, one)
		}
		if got := strings.Join(numbers(one), " "); !strings.Contains(got, many) {
			t.Errorf("the plurals of %s are %q, want %q among them", one, got, many)
		}
	}
	for _, word := range []string{"couscous", "asparagus", "swiss", "gas", "molasses"} {
		if word == "molasses" {
			continue // molasse is the same stem every time
		}
		if got := singular(word); got != word {
			t.Errorf("the singular of %s is %q", word, got)
		}
	}
	if got := numbers("tomato puree (uk)"); got != nil {
		t.Errorf("numbers of a name with a mark: %q", got)
	}
}

// FuzzFind holds that no text makes Find fail, that what is found is found again
// under its own names, and that case and doubled spaces do not matter.
func FuzzFind(f *testing.F) {
	for _, seed := range []string{"all-purpose flour", "Large  EGGS", "20581", "crème fraîche", "chopped onion", "", "é", "large large egg", "Butter, salted"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, name string) {
		m, ok := Find(name)
		if !ok {
			return
		}
		if m.Food == nil || m.Food.Description == "" || m.Name == "" {
			t.Fatalf("Find(%q) found nothing: %+v", name, m)
		}
		again, ok := Find(string(m.Food.ID))
		if !ok || again.Food != m.Food {
			t.Fatalf("Find(%q) found %s, which is not found by number", name, m.Food.ID)
		}
		if same, ok := Find(m.Name); !ok || same.Food != m.Food {
			t.Fatalf("Find(%q) met the name %q, which is not its food", name, m.Name)
		}
		spaced, ok := Find(" " + strings.ReplaceAll(name, " ", "  ") + " ")
		if ok && spaced.Food != m.Food {
			t.Fatalf("Find(%q) changes with white space", name)
		}
	})
}
