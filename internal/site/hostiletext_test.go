package site

import (
	"strings"
	"testing"
	"testing/fstest"

	"sidebatch.example/sidebatch/internal/problem"
)

// hostileWords are what a stranger writes where words belong: markup that closes what
// stands around it, scripts, template actions, the ends of comments and sections.
func hostileWords() []string {
	return []string{
		`<script>alert(1)</script>`, `"'><img src=x onerror=alert(1)>`, `{{.}}{{define "x"}}{{end}}{{template "home.html"}}`,
		`</title></style></textarea></script><svg onload=alert(1)>`, `]]><x/><![CDATA[`, `--!><b>--><!-- x`, `</script><!--<script>`,
		`&lt;script&gt;&#60;img src=x onerror=y&#62;`, `javascript:alert(1)`, `$1 \1 %s %d %!s`, `{lid} {nothing}`, "`${alert(1)}`",
		`=cmd|' /C calc'!A0`, `@SUM(1+1)`, `<a href="java&#x09;script:alert(1)">x</a>`, `a" autofocus onfocus="x`, `<!-- photo 0 --><!-- figure 0 -->`,
	}
}

// hostileKitchen writes the same words into every text of a kitchen, a note, its logs and
// what viewers sent. What is named by it is named so in every place.
func hostileKitchen(words string) fstest.MapFS {
	yaml := "'" + strings.ReplaceAll(words, "'", "''") + "'"
	cell := `"` + strings.ReplaceAll(words, `"`, `""`) + `"`
	// In the prose it stands as text, in links, captions, headings, tables and code.
	markdown := strings.NewReplacer(`[`, `\[`, `]`, `\]`, "`", "\\`", "|", `\|`).Replace(words)
	fill := strings.NewReplacer("@Y@", yaml, "@C@", cell, "@M@", markdown, "@W@", words,
		"@S@", strings.NewReplacer("{", "(", "}", ")").Replace(yaml), // in a step, braces name a condition
		"@F@", strings.Replace(yaml, "'", "'1 ", 1), "@T@", strings.Replace(yaml, "'", "'9 ", 1))
	file := func(text string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(fill.Replace(text))} }
	return fstest.MapFS{
		"kitchen.yaml":                             file(hostileKitchenFile),
		"kasha/trial.md":                           file(hostileNote),
		"kasha/pieces.csv":                         file(hostilePieces),
		"kasha/tasting.csv":                        file(hostileTasting),
		"kasha/replications/household-1.csv":       file(hostilePieces),
		"kasha/replications/people.yaml":           file("household-1: @Y@\n"),
		"kasha-again/trial.md":                     file(strings.Replace(hostileNote, "recipe:", "repeats: kasha\nrecipe:", 1)),
		"kasha-again/pieces.csv":                   file(hostilePieces),
		"kasha-again/tasting.csv":                  file(hostileTasting),
		"kasha-again/probe-pot.csv":                file("time,@C@\n0:00,20\n0:10,40\n0:20,60\n0:30,80\n"),
		"kasha-again/replications/household-2.csv": file(hostilePieces),
	}
}

const hostileKitchenFile = `name: @Y@
about: @Y@
people: {Ada: @Y@, Piet: @Y@}
address: https://kasha.example/a/
licence: {name: @Y@, address: "https://licence.example/"}
invented: true
`

const hostileNote = `---
title: @Y@
question: @Y@
cooked: 2026-01-10
published: 2026-01-12
by: [Ada, Piet]
keywords: [@Y@, other]

recipe:
  name: @Y@
  makes: 6 bowls
  ingredients:
    kasha: 300 g buckwheat groats
    water: 720 g water
    salt: 1 tsp table salt
  steps:
    - @S@
    - Cook for {cook} with the {lid}.

conditions:
  lid: @Y@
  cook: 18 min
  @Y@: @Y@

samples:
  closed:
    name: @Y@
    control: true
    divided into: 6
  open:
    name: Other
    change: {lid: lid off}
    divided into: 6
  third:
    change: {@Y@: other}
    divided into: 6

measures:
  boil:  {kind: time}
  whole: {kind: pass or fail, asks: @Y@, primary: true}
  liked: {kind: score, of: tasting, from: @F@, to: @T@}

verdict:
  prefer: closed
  because of: [whole]
  in words: @Y@

video:
  address: https://video.example/v?a=1&b="><script>
  chapters: {"0:10": @Y@}
---

@M@

# @M@

![@M@](table:outcomes)

![@M@](figure:boil)

[@M@](https://a.example/?"><script>alert(1)</script>) and **@M@**, [6 of 6](value:closed/whole).

> @M@

- @M@

| @M@ | b |
|-----|---|
| @M@ | c |

~~~@W@
@W@
~~~

~~~html
@W@
~~~

A note.[^n]

[^n]: @M@

@W@
`

const hostilePieces = `sample,piece,boil,whole,set aside,note
closed,1,18:10,pass,,@C@
closed,2,17:55,pass,,
closed,3,18:02,pass,,
closed,4,18:20,pass,@C@,@C@
closed,5,17:48,pass,,
closed,6,18:05,pass,,
closed,7,18:06,pass,,
open,1,21:30,fail,,@C@
open,2,20:58,fail,,
open,3,22:10,pass,,
open,4,21:05,fail,,
open,5,21:44,fail,,
third,1,20:40,fail,,
third,2,20:40,pass,,
third,3,20:41,fail,,
third,4,20:45,fail,,
`

const hostileTasting = `assessor,sample,liked,note
@C@,closed,5,@C@
@C@,open,6,
@C@,third,4,
Piet,closed,7,@C@
Piet,open,3,
Piet,third,4,
`

// TestHostileText publishes hostile words in every text at once and reads every file of
// the site as its reader would: nothing comes of them but text.
func TestHostileText(t *testing.T) {
	look := looks(t)
	for _, words := range hostileWords() {
		var problems problem.List
		s := Load(Content{FS: hostileKitchen(words), Shown: "content"}, &problems)
		for _, p := range problems.Sorted() {
			if p.Weight == problem.Error {
				t.Errorf("%s: %s", words, p)
			}
		}
		if len(s.Trials) != 2 || len(s.Trials[0].Trial.Replications) != 1 {
			t.Fatalf("%s: the trials were not read", words)
		}
		wrong, size := unsound(Plan(s, look), s.Kitchen.Address)
		for _, what := range wrong {
			t.Errorf("%s: %s", words, what)
		}
		if size < 200_000 {
			t.Errorf("%s: %d bytes are no site", words, size)
		}
	}
}

// TestHostileAddresses: addresses that are programs, however they are spelled, are
// refused wherever an address can stand.
func TestHostileAddresses(t *testing.T) {
	for _, address := range []string{
		`javascript:alert(1)`, `JavaScript:alert(1)`, `jAvAsCrIpT:alert(1)`, `vbscript:x`, `data:text/html,<script>alert(1)</script>`,
		`java&#115;cript:x`, `&#106;avascript:x`, `javascript&colon;x`, `java\tscript:x`, `java&Tab;script:x`, `java&NewLine;script:x`, `file:///etc/passwd`,
		`//elsewhere.example/x`, `\\elsewhere.example`, `https:\\elsewhere.example`, `blob:x`, `feed:javascript:x`, `view-source:x`,
	} {
		for _, place := range []string{
			"[x](<" + address + ">)", "![a thing to see](<" + address + ">)", "[x]\n\n[x]: <" + address + ">", `<` + address + `>`,
		} {
			content := hostileKitchen("plain")
			note := content["kasha/trial.md"]
			note.Data = append(note.Data, "\n\n"+place+"\n"...)
			var problems problem.List
			s := Load(Content{FS: content, Shown: "content"}, &problems)
			if problems.Errors() > 0 {
				continue
			}
			// What was taken for text is text.
			if wrong, _ := unsound(Plan(s, looks(t)), s.Kitchen.Address); wrong != nil {
				t.Errorf("%s: %q", place, wrong)
			}
		}
		for file, keys := range map[string][]string{
			"kitchen.yaml":   {"address: https://kasha.example/a/", `address: "https://licence.example/"`},
			"kasha/trial.md": {`address: https://video.example/v?a=1&b="><script>`},
		} {
			for _, key := range keys {
				content := hostileKitchen("plain")
				content[file].Data = []byte(strings.Replace(string(content[file].Data), key, "address: '"+address+"'", 1))
				var problems problem.List
				Load(Content{FS: content, Shown: "content"}, &problems)
				if problems.Errors() == 0 {
					t.Errorf("%s: %s is taken for an address", file, address)
				}
			}
		}
	}
}
