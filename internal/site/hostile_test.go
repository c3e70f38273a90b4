package site

import (
	"archive/zip"
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"

	"sidebatch.example/sidebatch/internal/problem"
)

// The work that a small kitchen may cause, counted in bytes rather than by the clock.
const (
	mostAllocated = 1500 << 20 // in all, collected again or not
	mostKept      = 400 << 20  // asked of the system
	mostWritten   = 32 << 20   // into the site
	mostProblems  = 2500
)

// TestHostile reads and publishes kitchens that were made to keep a program busy, to fill
// its memory or its disk: each is refused or published within the bounds. Small ones are
// archives in testdata/hostile, and the ones that are large are made here.
func TestHostile(t *testing.T) {
	if raced {
		t.Skip("counts what is allocated, which the race detector adds to: .ci/run runs it without")
	}
	look := looks(t)
	for name, content := range hostileKitchens(t) {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&before)
			var problems problem.List
			s := Load(Content{FS: content, Shown: "content"}, &problems)
			told := problems.Sorted()
			size := 0
			if problems.Errors() == 0 {
				var wrong []string
				wrong, size = unsound(Plan(s, look), s.Kitchen.Address)
				for _, what := range wrong {
					t.Error(what)
				}
			}
			runtime.ReadMemStats(&after)
			if n := after.TotalAlloc - before.TotalAlloc; n > mostAllocated {
				t.Errorf("%d MB were allocated", n>>20)
			}
			if n := after.HeapSys - min(before.HeapSys, after.HeapSys); n > mostKept {
				t.Errorf("the heap grew by %d MB", n>>20)
			}
			if size > mostWritten {
				t.Errorf("the site has %d MB", size>>20)
			}
			if len(told) > mostProblems {
				t.Errorf("%d problems are told", len(told))
			}
			for _, p := range told {
				if text := p.String(); len(text) > 4000 || strings.ContainsFunc(text, problem.Acts) {
					t.Fatalf("a problem that cannot be shown: %.300q", text)
				}
			}
			t.Logf("%d MB allocated, %d kB of site, %d problems", (after.TotalAlloc-before.TotalAlloc)>>20, size>>10, len(told))
		})
	}
}

func hostileKitchens(t *testing.T) map[string]fstest.MapFS {
	t.Helper()
	all := map[string]fstest.MapFS{}
	files, err := filepath.Glob("../../testdata/hostile/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatalf("no archives: %v", err)
	}
	for _, file := range files {
		a, err := txtar.ParseFile(file)
		if err != nil {
			t.Fatal(err)
		}
		content := fstest.MapFS{}
		for _, f := range a.Files {
			name, escaped := strings.CutSuffix(f.Name, ".escaped")
			if escaped {
				f.Data = unescape(t, f.Data)
			}
			content[name] = &fstest.MapFile{Data: f.Data}
		}
		all[strings.TrimSuffix(filepath.Base(file), ".txtar")] = content
	}
	for name, content := range largeKitchens(t) {
		all[name] = content
	}
	return all
}

// largeKitchens are a plain kitchen with one file of it changed.
func largeKitchens(t *testing.T) map[string]fstest.MapFS {
	t.Helper()
	all := map[string]fstest.MapFS{}
	plain, err := txtar.ParseFile("../../testdata/problems/none.txtar")
	if err != nil {
		t.Fatal(err)
	}
	with := func(name, file, data string) {
		content := fstest.MapFS{}
		for _, f := range plain.Files {
			content[f.Name] = &fstest.MapFile{Data: f.Data}
		}
		if strings.HasSuffix(file, ".xlsx") {
			delete(content, strings.TrimSuffix(file, ".xlsx")+".csv")
		}
		content[file] = &fstest.MapFile{Data: []byte(data)}
		all[name] = content
	}
	const note, log = "millet/trial.md", "millet/pieces.csv"
	text := ""
	for _, f := range plain.Files {
		if f.Name == note {
			text = string(f.Data)
		}
	}
	for name, prose := range hostileProse() {
		with("prose: "+name, note, text+"\n"+prose)
	}
	for name, change := range hostileChanges() {
		before, after, _ := strings.Cut(change, "\x00")
		if !strings.Contains(text, before) {
			t.Fatalf("%s: no %q in the note", name, before)
		}
		with("note: "+name, note, strings.Replace(text, before, after, 1))
	}
	for name, data := range hostileLogs() {
		with("log: "+name, log, data)
	}
	for name, data := range hostileSheets() {
		with("workbook: "+name, "millet/pieces.xlsx", workbook(t, data[0], data[1]))
	}
	with("kitchen: many spoons", "kitchen.yaml", "instruments: {spoons: [\n"+numbered("%d.5 ml,\n", 9000)+"1 ml]}\n")
	with("kitchen: many people", "kitchen.yaml", "people:\n  Ada: A\n  Piet: P\n"+numbered("  p%d: P\n", 9000))
	return all
}

// numbered writes a line for every number below n.
func numbered(line string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, line, i)
	}
	return b.String()
}

func hostileProse() map[string]string {
	many := strings.Repeat
	return map[string]string{
		"brackets": many(many("[", 100)+"\n", 1000), "closing brackets": many(many("](a)", 4000)+"\n", 60),
		"headings of one name": many("# Same\n\n", 50_000), "headings that look numbered": numbered("# Same-%d\n\n# Same\n\n", 20_000),
		"references": numbered("[a%[1]d]: https://a.example/%[1]d\n\n", 20_000), "links that lead nowhere": many("[a](../other/)\n\n", 40_000),
		"values": many("[6 of 6](value:closed/whole)\n\n", 20_000), "figures": many("![](figure:boil)\n\n", 40_000),
		"tables": many("![](table:outcomes)\n\n", 40_000), "quotations": many(">", 9000) + "a\n", "lists": many("- ", 9000) + "a\n",
		"columns": many("|a", 5000) + "\n" + many("|-", 5000) + "\n" + many("|\n", 900), "emphasis": many("*a **b ", 900) + "\n\n" + many("_", 1900),
		"code of one sign": many("~~~yaml\n"+many(many("{", 499)+"\n", 39)+"~~~\n\n", 40), "strings in code": many("~~~python\n"+many(many(`"""`, 160)+"\n", 39)+"~~~\n\n", 40),
		"entities": many("&amp;", 3900) + "\n&#x202e;&#27;[31m\n", "footnotes": numbered("a[^%[1]d]\n\n[^%[1]d]: b\n\n", 10_000),
		"a long line": many("x", 900_000),
	}
}

// hostileChanges are a text of the note, and what stands in its place.
func hostileChanges() map[string]string {
	many := strings.Repeat
	return map[string]string{
		"many samples":     "measures:\n\x00" + numbered("  s%[1]d: {name: Lid %[1]d, change: {lid: lid %[1]d}}\n", 3000) + "measures:\n",
		"many measures":    "measures:\n\x00measures:\n" + numbered("  m%d: {kind: time}\n", 4000),
		"many ingredients": "    salt: 1 tsp\x00" + numbered("    r%[1]d: 5 g zq%[1]dwood\n", 4000) + "    salt: 1 tsp",
		"many steps":       "  steps:\n\x00  steps:\n" + many("    - Stir {lid}.\n", 15_000),
		"many conditions":  "conditions:\n\x00conditions:\n" + numbered("  c%d: x\n", 8000),
		"many keys":        "by: [Ada]\n\x00by: [Ada]\n" + numbered("zzzz%d: x\n", 8000),
		"many people":      "by: [Ada]\n\x00by:\n" + numbered("  - p%d\n", 8000),
		"a long title":     "title: Lid on or off for millet?\x00title: >-\n" + many("  "+many("x ", 4000)+"\n", 100),
		"long names":       "    name: Lid on\n\x00    name: " + many("x ", 4500) + "\n",
		"aliases":          "by: [Ada]\n\x00a: &a [x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b,*b,*b]\nby: [Ada]\n",
		"depth":            "by: [Ada]\n\x00by: " + many("[", 5000) + "\n",
		"deep indentation": "by: [Ada]\n\x00by:\n" + many("- ", 4000) + "\n",
		"digits":           "300 g millet\x00" + many("9", 9000) + " g millet",
		"an exponent":      "300 g millet\x001e999999999 g millet",
		"a small share":    "300 g millet\x001/999999999999 g millet",
		"a large share":    "makes: 6 bowls\x00makes: 999999999999 bowls",
		"pieces":           "divided into: 6\x00divided into: 999999999999",
	}
}

func hostileLogs() map[string]string {
	many := strings.Repeat
	const heading = "sample,piece,boil,whole\n"
	return map[string]string{
		"nothing but commas": many(",", 16<<20), "short lines": heading + many("a\n", 8<<20-20), "commas in every line": many(many(",", 190)+"\n", 80_000),
		"rows that are all wrong": heading + many("a,b,c,d\n", 99_000), "long cells that are all wrong": heading + many(many("a", 9000)+",b,c,d\n", 1700),
		"quotes": heading + many("a\"b\n", 4<<20-20), "a quote that stays open": heading + "\"" + many("a\n", 8<<20-20),
		"one record": heading + many("\"\n\",", 4<<20-20), "one piece": heading + many("closed,1,1:10,pass\n", 99_000),
		"many pieces": heading + numbered("closed,%d,1:10,pass\n", 99_000), "many doubts": heading + numbered("closed,%d,\"1,500\",pass\n", 99_000),
		"a long number": heading + "closed,1," + many("9", 1<<20) + ",pass\n",
	}
}

// hostileSheets are what stands in the sheet, and in the texts that cells share.
func hostileSheets() map[string][2]string {
	many := strings.Repeat
	const heading = `<row><c t="inlineStr"><is><t>sample</t></is></c><c t="inlineStr"><is><t>piece</t></is></c></row>`
	shared := many(`<row><c t="s"><v>0</v></c><c t="s"><v>0</v></c></row>`, 50_000)
	return map[string][2]string{
		"texts inside one another":        {heading + `<row><c t="inlineStr"><is>` + many("<t>x", 2<<20), ""},
		"shared texts inside one another": {heading, "<si>" + many("<t>x", 2<<20)},
		"one text in all cells":           {heading + shared, "<si><t>" + many("\r\nx", 1<<20) + "</t></si>"},
		"a text of a page in all":         {heading + shared, "<si><t>" + many("\r\nx", 3000) + "</t></si>"},
		"empty rows":                      {heading + many("<row/>", 4<<20), ""},
		"empty cells":                     {heading + "<row>" + many("<c/>", 4<<20) + "</row>", ""},
		"the last column":                 {heading + many(`<row><c/><c/><c/></row>`, 10) + numberedRows(60_000), ""},
		"nothing but space":               {heading + many(" ", 60<<20), ""},
		"merged cells":                    {heading + "</sheetData>" + many(`<mergeCell ref="A1:B2"/>`, 1<<20) + "<sheetData>", ""},
	}
}

func numberedRows(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, `<row r="%[1]d"><c r="XFD%[1]d"><v>1</v></c></row>`, i+20)
	}
	return b.String()
}

// workbook packs a sheet and shared texts (ECMA-376 Part 1, 12.3).
func workbook(t *testing.T, sheet, shared string) string {
	t.Helper()
	const (
		kinds = "application/vnd.openxmlformats-officedocument.spreadsheetml."
		rels  = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
		space = "http://schemas.openxmlformats.org/package/2006/"
		main  = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	)
	var packed bytes.Buffer
	z := zip.NewWriter(&packed)
	for _, part := range [][2]string{
		{"[Content_Types].xml", `<Types xmlns="` + space + `content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
			`<Override PartName="/xl/workbook.xml" ContentType="` + kinds + `sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="` + kinds + `worksheet+xml"/></Types>`},
		{"_rels/.rels", `<Relationships xmlns="` + space + `relationships"><Relationship Id="r1" Type="` + rels + `/officeDocument" Target="xl/workbook.xml"/></Relationships>`},
		{"xl/workbook.xml", `<workbook xmlns="` + main + `" xmlns:r="` + rels + `"><sheets><sheet name="pieces" sheetId="1" r:id="r1"/></sheets></workbook>`},
		{"xl/_rels/workbook.xml.rels", `<Relationships xmlns="` + space + `relationships"><Relationship Id="r1" Type="` + rels + `/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`},
		{"xl/worksheets/sheet1.xml", `<worksheet xmlns="` + main + `"><sheetData>` + sheet + `</sheetData></worksheet>`},
		{"xl/sharedStrings.xml", `<sst xmlns="` + main + `">` + shared + `</sst>`},
	} {
		w, err := z.Create(part[0])
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(part[1])); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return packed.String()
}

// FuzzPublish reads any bytes as a kitchen with one trial, and publishes it where there is
// no error: every file can be made, is what its name says, runs nothing of the note's, and
// leads somewhere.
func FuzzPublish(f *testing.F) {
	look := looks(f)
	for _, folder := range []string{"../../content/*/", "../../testdata/kitchens/*/*/"} {
		notes, _ := filepath.Glob(folder + "trial.md")
		for _, note := range notes {
			dir := filepath.Dir(note)
			read := func(name string) []byte {
				data, _ := os.ReadFile(name) // one that is not there is empty
				return data
			}
			f.Add(read(note), read(dir+"/pieces.csv"), read(filepath.Dir(dir)+"/kitchen.yaml"), read(dir+"/tasting.csv"))
		}
	}
	for _, words := range hostileWords() {
		k := hostileKitchen(words)
		f.Add(k["kasha/trial.md"].Data, k["kasha/pieces.csv"].Data, k["kitchen.yaml"].Data, k["kasha/tasting.csv"].Data)
	}
	f.Fuzz(func(t *testing.T, note, pieces, kitchenFile, tasting []byte) {
		if len(note)+len(pieces)+len(kitchenFile)+len(tasting) > 20_000 {
			return
		}
		content := fstest.MapFS{"a/trial.md": {Data: note}, "kitchen.yaml": {Data: kitchenFile}}
		for name, data := range map[string][]byte{"a/pieces.csv": pieces, "a/tasting.csv": tasting} {
			if len(data) > 0 {
				content[name] = &fstest.MapFile{Data: data}
			}
		}
		var problems problem.List
		s := Load(Content{FS: content, Shown: "content"}, &problems)
		for _, p := range problems.Sorted() {
			if strings.ContainsFunc(p.String(), problem.Acts) {
				t.Errorf("a problem that cannot be shown: %q", p)
			}
		}
		if problems.Errors() > 0 {
			return
		}
		wrong, _ := unsound(Plan(s, look), s.Kitchen.Address)
		for _, what := range wrong {
			t.Error(what)
		}
	})
}
