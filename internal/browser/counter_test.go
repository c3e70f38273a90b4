package browser

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"sidebatch.example/sidebatch/internal/cli"
)

// TestCounter repeats a trial on a phone as somebody with wet hands would: timers for two
// pieces at once, a pass, a temperature, a page that is loaded again in the middle, no
// network, and the log saved.
func TestCounter(t *testing.T) {
	asked(t)
	site := serve(t, os.DirFS(publish(t).folder), policy)
	p := newTab(t, startChromium(t, browserProgram(t)))
	p.look(t, screen{width: phone})
	p.do(t, "Browser.setDownloadBehavior", map[string]any{"behavior": "deny"}, nil)
	address := site + "rested-oat-batter/repeat/"
	p.open(t, address)

	press := func(selector string) { t.Helper(); p.run(t, pressed(selector), nil) }
	press(`[data-measure="side 1"] .counter-go`)
	p.wait(t, `document.querySelector('[data-measure="side 1"] .counter-clock').textContent !== "0:00"`)
	press("#counter-after")
	press(`[data-measure="side 2"] .counter-go`)
	if got := p.text(t, "#counter-running"); !strings.Contains(got, "A 1, side 1") || !strings.Contains(got, "A 2, side 2") {
		t.Errorf("running: %q", got)
	}

	// Loaded again, the timers still run, and nothing is lost.
	p.wait(t, `navigator.serviceWorker.ready.then(() => !!navigator.serviceWorker.controller)`)
	p.do(t, "Network.emulateNetworkConditions", map[string]any{"offline": true, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1}, nil)
	p.open(t, address)
	if got := p.text(t, "#counter-now"); got != "Piece 2 of A, Cooked at once" {
		t.Errorf("open is %q", got)
	}
	press(`#counter-running button`)
	press(`[data-measure="side 2"] .counter-go`)
	if got := p.text(t, "#counter-running"); got != "" {
		t.Errorf("still running: %q", got)
	}
	press(`[data-measure="flips clean"] input[value="pass"]`)
	p.run(t, typed(`[data-measure="surface"] input`, "181,5"), nil)
	p.run(t, `(() => { const s = document.querySelector('[data-measure="surface"] select'); s.value = "°C"; s.dispatchEvent(new Event("change")) })()`, nil)
	p.run(t, typed("#counter-note", `=1+1, "crisp"`), nil)
	p.run(t, typed(`[data-measure="side 1"] input`, "soon"), nil)
	if got := p.text(t, "#counter-told"); !strings.Contains(got, "side 1") {
		t.Errorf("a time that is none is not told of: %q", got)
	}
	if noise := p.noise(); len(noise) > 0 {
		t.Errorf("%q", noise)
	}

	saved, rows := savedLog(t, p)
	if got := strings.Join(rows[0], ","); got != "sample,batch,piece,side 1,side 2,surface,flips clean,lacy edge,set aside,note" {
		t.Fatalf("heading %s", got)
	}
	first, second := rows[1], rows[2]
	if first[3] == "" || first[3] == "0:00" || second[4] == "" {
		t.Errorf("times: %q, %q", first, second)
	}
	second[4] = ""
	if got := strings.Join(second, "|"); got != `fresh|1|2|||181.5 °C|pass|||'=1+1, "crisp"` {
		t.Errorf("second piece: %s", got)
	}
	if len(rows) != 1+7+7+1+7 {
		t.Errorf("%d rows", len(rows))
	}
	gathered(t, saved)
}

// gathered takes the saved log into a copy of the demo kitchen, as its cooks would who got
// it from a viewer: the two pieces that were begun, and no remark.
func gathered(t *testing.T, saved string) {
	t.Helper()
	folder := t.TempDir()
	content := filepath.Join(folder, "content")
	if err := os.CopyFS(content, os.DirFS("../../content")); err != nil {
		t.Fatal(err)
	}
	log := filepath.Join(folder, "rested-oat-batter-pieces.csv")
	if err := os.WriteFile(log, []byte(saved), 0o666); err != nil {
		t.Fatal(err)
	}
	var said bytes.Buffer
	if code := cli.Run([]string{"gather", "rested-oat-batter", log, "--content", content}, &said, &said); code != cli.Done {
		t.Fatalf("gather ends with %d:\n%s", code, &said)
	}
	at := filepath.Join(content, "rested-oat-batter", "replications")
	households, err := os.ReadDir(at)
	if err != nil {
		t.Fatal(err)
	}
	before, _ := os.ReadDir("../../content/rested-oat-batter/replications") // none where there is no such folder
	if len(households) != len(before)+1 {
		t.Fatalf("%d files beside %d", len(households), len(before))
	}
	var kept []byte
	for _, h := range households {
		if !slices.ContainsFunc(before, func(old os.DirEntry) bool { return old.Name() == h.Name() }) {
			if kept, err = os.ReadFile(filepath.Join(at, h.Name())); err != nil {
				t.Fatal(err)
			}
		}
	}
	rows, err := csv.NewReader(bytes.NewReader(kept)).ReadAll()
	if err != nil || len(rows) != 3 {
		t.Fatalf("%v, kept is\n%s", err, kept)
	}
	if got := strings.Join(rows[0], ","); got != "sample,batch,piece,side 1,side 2,surface,flips clean,lacy edge,set aside" {
		t.Errorf("heading %s", got)
	}
	if second := rows[2]; second[2] != "2" || second[5] != "181.5 °C" || second[6] != "pass" || strings.Contains(string(kept), "crisp") {
		t.Errorf("kept is\n%s", kept)
	}
	if code := cli.Run([]string{"audit", "--content", content}, &said, &said); code != cli.Done {
		t.Errorf("audit ends with %d:\n%s", code, &said)
	}
}

// savedLog presses the button and reads what is saved.
func savedLog(t *testing.T, p *tab) (text string, rows [][]string) {
	t.Helper()
	p.run(t, `(() => {
		const make = URL.createObjectURL;
		let saved;
		URL.createObjectURL = (blob) => { saved = blob; return make.call(URL, blob); };
		document.getElementById("counter-export").click();
		URL.createObjectURL = make;
		return saved.text();
	})()`, &text)
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return text, rows
}

func pressed(selector string) string {
	return "document.querySelector(`" + selector + "`).click()"
}

// typed is what somebody does who types into a field and leaves it.
func typed(selector, text string) string {
	return "(() => { const f = document.querySelector(`" + selector + "`); f.value = `" + text + "`; f.dispatchEvent(new Event('change')) })()"
}

// text is what an element shows.
func (p *tab) text(t testing.TB, selector string) string {
	t.Helper()
	var text string
	p.run(t, "document.querySelector(`"+selector+"`).textContent.trim()", &text)
	return text
}

// wait waits until an expression of the page is true.
func (p *tab) wait(t testing.TB, expression string) {
	t.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		var is bool
		p.run(t, expression, &is)
		if is {
			return
		}
	}
	t.Fatalf("never true: %s", expression)
}
