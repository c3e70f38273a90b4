package draft

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/yamldoc"
)

func say(texts ...string) []Said {
	var all []Said
	for _, text := range texts {
		all = append(all, Said{text, strconv.Quote(text)})
	}
	return all
}

func one(text string) Said { return say(text)[0] }

// crepes is a wish with nothing wrong in it.
func crepes() Wish {
	return Wish{
		Slug: "crepes", Title: one("Should a crepe batter rest?"), Question: one("Does it tear less?"),
		Recipe: Recipe{Name: one("Crepes"), Makes: one("8 crepes"),
			Ingredients: say("flour: 125 g all-purpose flour", "milk: 250 g whole milk", "eggs: 2 eggs, beaten")},
		Conditions: say("rest: 0 min"),
		Changes:    say("rest: 30 min"),
		Measures:   say("griddle"),
	}
}

// readBack reads a draft as audit reads a trial, logs and all.
func readBack(files []File, problems *problem.List) *trial.Trial {
	fsys := fstest.MapFS{}
	for _, f := range files {
		fsys["crepes/"+f.Name] = &fstest.MapFile{Data: f.Data}
	}
	t := trial.Read(trial.Folder{FS: fsys, Slug: "crepes", Shown: "content"}, kitchen.Default(), problems)
	if t != nil {
		t.Check(problems)
	}
	return t
}

func TestBegin(t *testing.T) {
	d, mistakes := Begin(crepes(), kitchen.Default())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	var problems problem.List
	got := readBack(d.Files, &problems)
	if problems.Len() > 0 {
		t.Fatal(problems.Sorted())
	}
	if len(got.Samples) != 2 || got.Control() == nil || len(got.Pieces) != 12 || got.Title != "Should a crepe batter rest?" {
		t.Errorf("%d samples, control %v, %d pieces, title %q", len(got.Samples), got.Control(), len(got.Pieces), got.Title)
	}
	if single := got.Contrasts(nil); len(single) != 1 || !single[0].Single() {
		t.Errorf("contrasts %+v", single)
	}
}

// Whatever is asked for, what is written reads without an error and has the samples,
// pieces, batches and measures that were asked for.
func TestBeginAnything(t *testing.T) {
	word := rapid.StringMatching(`[a-zA-Zé½'"#:{}\[\],&*!|>%@\-? ]{1,12}`)
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.Custom(func(t *rapid.T) string { return "x" + word.Draw(t, "text") })
		w := crepes()
		w.Title, w.Question = one(text.Draw(t, "title")), one(text.Draw(t, "question"))
		w.Recipe.Name = one(text.Draw(t, "name"))
		w.Recipe.Steps = say("Wait for {rest}.", strings.NewReplacer("{", "(", "}", ")").Replace(text.Draw(t, "step")))
		w.Recipe.Beside = say("eggs")
		w.Conditions = append(w.Conditions, one("pan: "+text.Draw(t, "pan")))
		w.Pieces, w.Batches = rapid.IntRange(1, 12).Draw(t, "pieces"), rapid.IntRange(1, 4).Draw(t, "batches")
		w.Assessors = rapid.IntRange(1, 12).Draw(t, "assessors")
		w.Apart = rapid.Bool().Draw(t, "apart")
		changes := []string{"rest: 30 min", "rest: 60 min", "pan: steel", "milk: 300 g whole milk", "eggs: none", "sugar: 1 tbsp granulated sugar",
			"wetter: milk = 280 g whole milk; rest = 10 min", "wetter again: like wetter"}
		n := rapid.IntRange(1, len(changes)).Draw(t, "changes")
		w.Changes = say(changes[:n]...)
		sets := rapid.SliceOfNDistinct(rapid.SampledFrom(append(Measures(), "griddle", "oven", "fry", "boil", "no cooking", "tasting",
			"crumb: yes or no", "rise: length in mm")), 1, 6, rapid.ID).Draw(t, "measures")
		w.Measures = say(sets...)

		d, mistakes := Begin(w, kitchen.Default())
		if len(mistakes) > 0 {
			t.Fatal(mistakes)
		}
		var problems problem.List
		got := readBack(d.Files, &problems)
		if problems.Errors() > 0 {
			t.Fatal(problems.Sorted(), string(d.Files[0].Data))
		}
		if got.Title != w.Title.Text && got.Title != strings.TrimSpace(w.Title.Text) {
			t.Fatalf("title %q of %q", got.Title, w.Title.Text)
		}
		if len(got.Samples) != n+1 || got.Control() != got.Samples[0] {
			t.Fatalf("%d samples of %d changes", len(got.Samples), n)
		}
		for _, name := range sets {
			name, _, _ = strings.Cut(name, ":")
			isSet := slices.ContainsFunc(Sets(), func(s Set) bool { return s.Name == name })
			if !isSet && got.Measure(name) == nil {
				t.Fatalf("no measure %q", name)
			}
		}
		primary, pieces := 0, 0
		for _, m := range got.Measures {
			if m.Primary {
				primary++
			}
			if m.Source == trial.OfPiece {
				pieces = (n + 1) * w.Pieces * w.Batches
			}
		}
		if primary != 1 || len(got.Pieces) != pieces || got.SideBySide != (w.Batches > 1 && !w.Apart) {
			t.Fatalf("%d primary, %d of %d pieces, side by side %v", primary, len(got.Pieces), pieces, got.SideBySide)
		}
		for _, s := range got.Samples {
			if s.Weighed.Divided != w.Pieces {
				t.Fatalf("%s is divided into %d", s.Key, s.Weighed.Divided)
			}
		}
	})
}

func TestMistakes(t *testing.T) {
	for _, x := range []struct {
		name string
		say  func(*Wish)
		want string
	}{
		{"a unit", func(w *Wish) { w.Recipe.Ingredients[0] = one("flour: 125 grm flour") },
			`"flour: 125 grm flour": "grm" is not a unit (did you mean gram?)`},
		{"no colon", func(w *Wish) { w.Recipe.Ingredients[0] = one("125 g flour") },
			`"125 g flour": a name, a colon and what it is are needed (write it like "flour: 300 g all-purpose flour")`},
		{"said twice", func(w *Wish) { w.Conditions = say("rest: 0 min", "milk: cold") },
			`"milk: cold": "milk" is there already (give it another name)`},
		{"a slip in a factor", func(w *Wish) { w.Changes = say("rset: 30 min") },
			`"rset: 30 min": no ingredient or condition is called "rset" (did you mean rest?)`},
		{"an unknown factor", func(w *Wish) { w.Changes = say("weather: wet") },
			`"weather: wet": no ingredient or condition is called "weather" (say what it is otherwise with --condition "weather: …")`},
		{"no sample", func(w *Wish) { w.Changes = say("rest = 30 min") },
			`"rest = 30 min": no sample is named (write it like "water temperature: 98 °C", or "boiling: water temperature = 98 °C")`},
		{"half a change", func(w *Wish) { w.Changes = say("long: rest = 30 min; milk") },
			`"long: rest = 30 min; milk": "milk" does not say what becomes what (write it like "water temperature: 98 °C", or "boiling: water temperature = 98 °C")`},
		{"like nobody", func(w *Wish) { w.Changes = say("long: rest = 30 min", "longer: like lnog") },
			`"longer: like lnog": no sample is called "lnog" (did you mean long?)`},
		{"not among the samples", func(w *Wish) { w.Samples, w.Changes = one("fresh, rested"), say("restde: rest = 30 min") },
			`"restde: rest = 30 min": "restde" is not among the samples (did you mean rested?)`},
		{"the control changed", func(w *Wish) { w.Samples, w.Changes = one("fresh, rested"), say("fresh: rest = 30 min") },
			`"fresh: rest = 30 min": "fresh" is the control (write what it has under the recipe or the conditions)`},
		{"alike samples", func(w *Wish) { w.Samples = one("fresh, Fresh") },
			`"fresh, Fresh": two samples are called "fresh" (give one another name)`},
		{"more than said", func(w *Wish) { w.Samples, w.Changes = one("2"), say("rest: 30 min", "rest: 60 min") },
			`"2": the changes make 3 samples (every change alone makes a sample, and the control is one more)`},
		{"one sample", func(w *Wish) { w.Samples = one("1") }, `"1": 1 samples (from 2 to 26)`},
		{"a set", func(w *Wish) { w.Measures = say("gridle") }, `"gridle": there is no ready-made measure "gridle" (did you mean griddle?)`},
		{"a kind", func(w *Wish) { w.Measures = say("crumb: yes or nope") },
			`"crumb: yes or nope": "yes or nope" is not a word known here (did you mean yes or no?)`},
		{"a primary", func(w *Wish) { w.Primary = one("surfaec") }, `"surfaec": no measure is called "surfaec" (did you mean surface?)`},
		{"a step", func(w *Wish) { w.Recipe.Steps = say("Wait for {rset}.") },
			`"Wait for {rset}.": no condition is called "rset" (did you mean rest?)`},
		{"a size", func(w *Wish) { w.Recipe.TestedAt = one("haf batch") },
			`"haf batch": "haf batch" is not a batch size (write it like half batch, full batch or 1/3 batch)`},
		{"too many pieces", func(w *Wish) { w.Pieces = 101 }, `101 pieces of a batch (from 1 to 100 fit on sheets)`},
		{"an empty title", func(w *Wish) { w.Title = Said{From: "--title"} }, `--title: title is empty`},
	} {
		t.Run(x.name, func(t *testing.T) {
			w := crepes()
			x.say(&w)
			d, mistakes := Begin(w, kitchen.Default())
			if len(d.Files) > 0 {
				t.Error("there is a draft all the same")
			}
			var got []string
			for _, m := range mistakes {
				got = append(got, m.Error())
			}
			if !slices.Contains(got, x.want) {
				t.Errorf("%s\nwant %s", strings.Join(got, "\n"), x.want)
			}
		})
	}
}

func TestNamesAndCounts(t *testing.T) {
	w := crepes()
	w.Samples, w.Changes = one("fresh, rested, sweet"), say("rest: 30 min", "sweet: sugar = 1 tbsp granulated sugar", "sweet: eggs = none")
	d, mistakes := Begin(w, kitchen.Default())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	sweet := d.Trial.Sample("sweet")
	if _, has := sweet.Plan.Ingredient("eggs"); has || d.Trial.Sample("rested").Conditions[0].Value != "30 min" || !d.Trial.Sample("fresh").Control {
		t.Error("eggs are left out of sweet, rested rests, and fresh is the control")
	}
	w = crepes()
	w.Samples = one("4")
	if d, mistakes = Begin(w, kitchen.Default()); len(mistakes) > 0 || len(d.Trial.Samples) != 4 {
		t.Fatal(mistakes, len(d.Trial.Samples))
	}
}

// A note like an earlier one has its recipe as it is written there, comments and all.
func TestLike(t *testing.T) {
	content := os.DirFS("../../content")
	entries, err := os.ReadDir("../../content")
	if err != nil {
		t.Fatal(err)
	}
	like := 0
	for _, e := range entries {
		if !e.IsDir() {
			continue
		}
		t.Run(e.Name(), func(t *testing.T) {
			k := kitchen.Default()
			was := trial.Read(trial.Folder{FS: content, Slug: e.Name(), Shown: "content"}, k, nil)
			w := Wish{Slug: "crepes", Title: one("Again?"), Question: one("Is it so?"), Like: &Earlier{was, "--like"},
				Conditions: say("weather: dry"), Changes: say("weather: wet"), Batches: 2}
			d, mistakes := Begin(w, k)
			if len(mistakes) > 0 {
				t.Fatal(mistakes)
			}
			var problems problem.List
			got := readBack(d.Files, &problems)
			if problems.Errors() > 0 {
				t.Fatal(problems.Sorted())
			}
			if diff := cmp.Diff(fmt.Sprint(was.Recipe), fmt.Sprint(got.Recipe)); diff != "" {
				t.Error(diff)
			}
			if was.TestedAt.String() != got.TestedAt.String() || len(was.Measures) != len(got.Measures) || len(got.Conditions) != len(was.Conditions)+1 {
				t.Errorf("tested at %s of %s, %d of %d measures", got.TestedAt, was.TestedAt, len(got.Measures), len(was.Measures))
			}
			recipe := strings.Join((&Earlier{was, ""}).parts()["recipe"].lines, "\n")
			if recipe == "" || !strings.Contains(string(d.Files[0].Data), recipe) {
				t.Error("the recipe does not stand there as it was written")
			}
			like++
		})
	}
	if like < 5 {
		t.Errorf("only %d trials to be like", like)
	}
}

func TestLikeTestedAt(t *testing.T) {
	d, _ := Begin(crepes(), kitchen.Default())
	w := Wish{Slug: "crepes", Title: one("Again?"), Question: one("Is it so?"), Like: &Earlier{d.Trial, "--like"}, Changes: say("rest: 60 min")}
	w.Recipe.TestedAt = one("1/4 batch")
	again, mistakes := Begin(w, kitchen.Default())
	if len(mistakes) > 0 || again.Trial.TestedAt.String() != "0.25" {
		t.Fatal(mistakes, again.Trial)
	}
	w.Recipe.Name = one("Pancakes")
	if _, mistakes = Begin(w, kitchen.Default()); len(mistakes) != 1 || mistakes[0].What != "the recipe is that of crepes" {
		t.Error(mistakes)
	}
}

// Every text comes back as it was, in a line of its own and between braces.
func TestScalars(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.StringN(1, 20, -1), rapid.SampledFrom([]string{"no", "~", "null", "1:10", "- a", "a: b", "a #b", "{rest}", "'a'", "`", "%", "é½°"})).Draw(t, "text")
		for _, r := range text {
			// What acts instead of being seen, and what no file of text holds, is refused by
			// the reader, and so by begin.
			if problem.Acts(r) || r == 0xFFFD || r == 0xFEFF || r > 0xFFFF {
				t.Skip("no text")
			}
		}
		src := "a: " + block(text) + "\nb: {" + key(text) + ": [" + flow(text) + ", x]}\n"
		var problems problem.List
		doc := yamldoc.Parse("x", 1, []byte(src), &problems)
		entries := doc.Entries(&problems)
		if problems.Len() > 0 || len(entries) != 2 {
			t.Fatalf("%q: %v", src, problems.Sorted())
		}
		first, _ := entries[0].Value.Text(&problems)
		inner := entries[1].Value.Entries(&problems)
		second, _ := inner[0].Value.Items(&problems)[0].Text(&problems)
		if first != text || inner[0].Key != text || second != text {
			t.Fatalf("%q came back as %q, %q, %q", text, first, inner[0].Key, second)
		}
	})
}

// Every set and every single measure is one that the reader knows, and stands once.
func TestSetsAreWhole(t *testing.T) {
	names := Measures()
	for i, name := range names {
		if slices.Contains(names[:i], name) {
			t.Errorf("%s stands twice", name)
		}
	}
	for _, set := range Sets() {
		leads := 0
		for _, name := range set.Measures {
			for _, m := range ready("°C") {
				if m.name == name && m.leads {
					leads++
				}
			}
			if !slices.Contains(names, name) {
				t.Errorf("%s of %s is no measure", name, set.Name)
			}
		}
		if leads != 1 {
			t.Errorf("%d measures lead %s", leads, set.Name)
		}
	}
}

// The kitchen file of a new site explains every key that the reader asks for.
func TestSiteExplainsEveryKey(t *testing.T) {
	src, err := os.ReadFile("../kitchen/read.go")
	if err != nil {
		t.Fatal(err)
	}
	asked := regexp.MustCompile(`m\.Get\("([a-z ]+)"\)`).FindAllStringSubmatch(string(src), -1)
	if len(asked) < 15 {
		t.Fatalf("only %d keys found in the reader", len(asked))
	}
	for _, key := range asked {
		if !regexp.MustCompile(`(?m)(^[# ]*|[{ ])` + key[1] + `:( |$)`).MatchString(siteKitchen) {
			t.Errorf("%q is not explained", key[1])
		}
	}
}

func TestSite(t *testing.T) {
	fsys := fstest.MapFS{}
	for _, f := range Site() {
		fsys[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	content, err := fsys.Sub("content")
	if err != nil {
		t.Fatal(err)
	}
	var problems problem.List
	k := kitchen.Read("kitchen.yaml", []byte(siteKitchen), &problems)
	note := trial.Read(trial.Folder{FS: content, Slug: ExampleSlug}, k, &problems)
	note.Check(&problems)
	if problems.Len() > 0 {
		t.Fatal(problems.Sorted())
	}
	if !k.Invented || note.Published.IsZero() || !strings.Contains(siteNote, "This trial is invented") {
		t.Error("the example says that it is invented, and is published")
	}
}
