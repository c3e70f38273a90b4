package house

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"go/token"
	"io/fs"
	"slices"
	"strconv"
	"strings"
)

// wordsFile is the original that every language's words are measured by.
const wordsFile = "themes/bench/words/en.json"

// phraseUse is a text in the code that names a phrase, whole or in part: of
// Say("about " + code) the phrase begins with it.
type phraseUse struct {
	text         string
	begins, ends bool
	at           string
}

func (u phraseUse) meets(key string) bool {
	switch {
	case u.begins:
		return strings.HasPrefix(key, u.text)
	case u.ends:
		return strings.HasSuffix(key, u.text)
	}
	return key == u.text
}

// checkPhrases holds the phrases that the code asks for against the words file: none
// is missing there, and none stands there that nothing asks for. The words of
// templates are held by package page, and units may be as many as there are.
func checkPhrases(t *tree) []string {
	text, err := fs.ReadFile(t.fsys, wordsFile)
	if err != nil {
		return nil // a tree that says nothing
	}
	var sections map[string]map[string]any
	if err := json.Unmarshal(text, &sections); err != nil {
		return []string{wordsFile + ": " + err.Error()}
	}
	var keys []string
	for section, phrases := range sections {
		if section == "page" {
			continue
		}
		for key := range phrases {
			keys = append(keys, key)
		}
	}
	var wrong []string
	said, texts := t.phraseUses()
	for _, use := range said {
		if !slices.ContainsFunc(keys, use.meets) {
			wrong = append(wrong, fmt.Sprintf("%s: no phrase %q in %s", use.at, use.text, wordsFile))
		}
	}
	for section, phrases := range sections {
		if section == "page" || section == "units" {
			continue
		}
		for key := range phrases {
			if !slices.ContainsFunc(texts, func(u phraseUse) bool { return u.meets(key) }) {
				wrong = append(wrong, fmt.Sprintf("%s: nothing says %q of %s", wordsFile, key, section))
			}
		}
	}
	return wrong
}

// phraseUses lists the texts that Say and Count are called with, and all texts of the
// code, for a phrase may be chosen before it is said.
func (t *tree) phraseUses() (said, all []phraseUse) {
	for _, s := range t.sources {
		if s.test {
			continue
		}
		ast.Inspect(s.file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				if says(n) {
					said = append(said, t.phraseOf(n.Args[0])...)
				}
			case ast.Expr:
				all = append(all, t.phraseOf(n)...)
			}
			return true
		})
	}
	return said, all
}

// says reports whether a call asks for a phrase.
func says(call *ast.CallExpr) bool {
	f, is := call.Fun.(*ast.SelectorExpr)
	if !is || len(call.Args) == 0 || f.Sel.Name != "Say" && f.Sel.Name != "Count" {
		return false
	}
	x, is := f.X.(*ast.Ident)
	return !is || x.Name != "strings" && x.Name != "bytes"
}

// phraseOf reads a text, or a text joined with something.
func (t *tree) phraseOf(e ast.Expr) []phraseUse {
	switch e := e.(type) {
	case *ast.BasicLit:
		if text, ok := literal(e); ok {
			return []phraseUse{{text: text, at: t.at(e)}}
		}
	case *ast.BinaryExpr:
		if e.Op != token.ADD {
			return nil
		}
		if text, ok := literal(e.X); ok {
			return []phraseUse{{text: text, begins: true, at: t.at(e)}}
		}
		if text, ok := literal(e.Y); ok {
			return []phraseUse{{text: text, ends: true, at: t.at(e)}}
		}
	}
	return nil
}

func literal(e ast.Expr) (string, bool) {
	lit, is := e.(*ast.BasicLit)
	if !is || lit.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(lit.Value)
	return text, err == nil && text != ""
}
