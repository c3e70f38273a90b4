package site

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"golang.org/x/net/html"

	"sidebatch.example/sidebatch/internal/linkcheck"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/tabular"
)

// looks are the built-in theme's pages; they keep nothing between sites.
func looks(t testing.TB) Look {
	t.Helper()
	pages, err := page.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	methods, err := page.MethodTexts(nil, "en")
	if err != nil {
		t.Fatal(err)
	}
	return Look{Pages: pages, Methods: methods}
}

// unsound makes every file of a site and returns what is wrong with any of them: what a
// browser would run or load that is not the site's own, what is not well-formed, what a
// spreadsheet would take for a formula, and addresses that lead nowhere. It also returns
// how many bytes were made.
func unsound(outputs []Output, address string) (wrong []string, size int) {
	links := linkcheck.New(address)
	facts := map[string][]byte{}
	for _, o := range outputs {
		data, err := o.Make()
		if err != nil {
			wrong = append(wrong, fmt.Sprintf("%s cannot be made: %v", o.Path, err))
			continue
		}
		size += len(data)
		for _, what := range unsoundFile(o.Path, data) {
			wrong = append(wrong, o.Path+": "+what)
		}
		facts[o.Path] = links.See(o.Path, data)
	}
	factsOf := func(name string) []byte { return facts[name] }
	has := func(name string) bool { return facts[name] != nil }
	if _, err := links.Broken(has, factsOf, func(string) bool { return false }, nil); err != nil {
		wrong = append(wrong, err.Error())
	}
	return wrong, size
}

func unsoundFile(name string, data []byte) []string {
	switch path.Ext(name) {
	case ".html":
		return unsoundHTML(data)
	case ".svg", ".xml":
		return unsoundXML(data)
	case ".json", ".jsonld":
		if !json.Valid(data) {
			return []string{"no JSON"}
		}
	case ".csv":
		return unsoundCSV(data)
	}
	return nil
}

var (
	ownAddress = regexp.MustCompile(`^(https?://|mailto:|[^:]*$|[^:]*[/?#].*)`)
	ownScript  = regexp.MustCompile(`^[a-z0-9./-]*\.js$`)
)

// unsoundHTML reads a page as a browser does.
func unsoundHTML(data []byte) []string {
	doc, err := html.Parse(bytes.NewReader(data))
	if err != nil {
		return []string{err.Error()}
	}
	var wrong []string
	for n := range doc.Descendants() {
		switch {
		case n.Type == html.TextNode && strings.ContainsFunc(n.Data, turnsOrActs):
			wrong = append(wrong, fmt.Sprintf("a character that acts in %.60q", n.Data))
		case n.Type == html.CommentNode:
			wrong = append(wrong, fmt.Sprintf("a comment %.60q", n.Data))
		case n.Type == html.ElementNode:
			wrong = append(wrong, unsoundElement(n)...)
		}
	}
	return wrong
}

func turnsOrActs(r rune) bool {
	return r != '\n' && r != '\t' && unicode.IsControl(r) || problem.Turns(r)
}

func unsoundElement(n *html.Node) []string {
	var wrong []string
	foreign := []string{"iframe", "object", "embed", "base", "style", "applet", "frame", "portal", "foreignobject", "plaintext", "noscript"}
	if slices.Contains(foreign, strings.ToLower(n.Data)) {
		wrong = append(wrong, "an element "+n.Data)
	}
	attributes := map[string]string{}
	for _, a := range n.Attr {
		attributes[a.Key] = a.Val
		to := slices.Contains([]string{"href", "src", "action", "formaction", "poster", "data", "xlink:href"}, a.Key)
		switch {
		case strings.HasPrefix(a.Key, "on"), a.Key == "style", a.Key == "srcdoc":
			wrong = append(wrong, fmt.Sprintf("an attribute %s=%.60q", a.Key, a.Val))
		case to && (!ownAddress.MatchString(a.Val) || strings.ContainsFunc(a.Val, turnsOrActs)):
			wrong = append(wrong, fmt.Sprintf("the address %.60q", a.Val))
		case strings.ContainsAny(a.Key, `"'<>{`):
			wrong = append(wrong, fmt.Sprintf("an attribute called %q", a.Key))
		}
	}
	if n.Data == "img" && strings.Contains(attributes["src"], ":") {
		wrong = append(wrong, "a picture from elsewhere: "+attributes["src"])
	}
	if n.Data == "meta" && attributes["http-equiv"] != "" {
		wrong = append(wrong, "a meta element that stands for a header")
	}
	if n.Data == "script" {
		text := ""
		if n.FirstChild != nil {
			text = n.FirstChild.Data
		}
		ld := attributes["type"] == "application/ld+json" && json.Valid([]byte(text))
		own := ownScript.MatchString(attributes["src"]) && strings.TrimSpace(text) == ""
		if !ld && !own {
			wrong = append(wrong, fmt.Sprintf("a script: %.80q %v", text, attributes))
		}
	}
	return wrong
}

// unsoundXML reads a drawing, a feed or a site map.
func unsoundXML(data []byte) []string {
	var wrong []string
	in := xml.NewDecoder(bytes.NewReader(data))
	for {
		token, err := in.Token()
		if errors.Is(err, io.EOF) {
			return wrong
		}
		if err != nil {
			return append(wrong, err.Error())
		}
		switch t := token.(type) {
		case xml.Directive, xml.Comment:
			wrong = append(wrong, fmt.Sprintf("%.60q", fmt.Sprint(t)))
		case xml.CharData:
			if strings.ContainsFunc(string(t), turnsOrActs) {
				wrong = append(wrong, fmt.Sprintf("a character that acts in %.60q", t))
			}
		case xml.StartElement:
			name := strings.ToLower(t.Name.Local)
			if slices.Contains([]string{"script", "foreignobject", "iframe", "image", "animate", "set"}, name) {
				wrong = append(wrong, "an element "+name)
			}
			for _, a := range t.Attr {
				if strings.HasPrefix(strings.ToLower(a.Name.Local), "on") ||
					a.Name.Local == "href" && !ownAddress.MatchString(a.Value) {
					wrong = append(wrong, fmt.Sprintf("an attribute %s=%.60q", a.Name.Local, a.Value))
				}
			}
		}
	}
}

// unsoundCSV reads a table as a spreadsheet does.
func unsoundCSV(data []byte) []string {
	in := csv.NewReader(bytes.NewReader(data))
	in.FieldsPerRecord = -1
	rows, err := in.ReadAll()
	if err != nil {
		return []string{err.Error()}
	}
	var wrong []string
	for _, row := range rows {
		for _, cell := range row {
			// One that is guarded already gets another apostrophe, and needs none.
			if !strings.HasPrefix(cell, "'") && tabular.Guard(cell) != cell {
				wrong = append(wrong, fmt.Sprintf("the formula %.60q", cell))
			}
		}
	}
	return wrong
}

// TestUnsoundSees: the checks find what they look for.
func TestUnsoundSees(t *testing.T) {
	for name, files := range map[string][]string{
		"a.html": {"<script>1</script>", "<p onclick=x>", "<iframe src=x>", `<a href="javascript:x">`, `<a href=" java&#9;script:x">`,
			"<img src=https://a.example/x>", "<p style=x>", "<style>", "<!-- x -->", "<p>\u202e", `<script type="application/ld+json">{</script>`,
			`<script src="https://a.example/x.js"></script>`, `<meta http-equiv=refresh content=0>`, `<base href=/>`},
		"a.svg":  {"<svg><script/></svg>", "<svg onload='x'/>", "<svg><a href='javascript:x'/></svg>", "<svg>", "<svg><!-- x --></svg>", "<!DOCTYPE svg><svg/>"},
		"a.json": {"{"},
		"a.csv":  {"=1+1\n", "a,@x\n", "+1 (234)\n", "\"\tx\"\n"},
	} {
		for _, text := range files {
			if len(unsoundFile(name, []byte(text))) == 0 {
				t.Errorf("%s passes as sound: %s", name, text)
			}
		}
	}
	for name, text := range map[string]string{
		"a.html": `<a href="a/b#c">x</a><a href="https://a.example/?x=a:b">x</a><script src="../assets/a-1.js" defer></script>`,
		"a.csv":  "a,-18,'=x\n", "a.svg": "<svg><a href='#x'/></svg>",
	} {
		if wrong := unsoundFile(name, []byte(text)); wrong != nil {
			t.Errorf("%s: %v", name, wrong)
		}
	}
}
