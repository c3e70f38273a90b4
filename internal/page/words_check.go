package page

import (
	"errors"
	"fmt"
	"html/template"
	"text/template/parse"

	"sidebatch.example/sidebatch/internal/wording"
)

// wordUse is one {{word "key" …}} in a template.
type wordUse struct {
	at   string // file:line:column
	key  string // empty when the key is not written out
	args int

	counts bool // {{count "key" n}}: the form for so many
}

// checkWords finds every use of a word in the templates and reports those that
// the words of this language do not have, or that are given too many or too few
// values. A key must be written out, so that this check sees all of them.
func checkWords(set *template.Template, w wording.Phrases) error {
	var found []error
	for _, use := range wordUses(set) {
		switch takes, known := w.Takes(use.key); {
		case use.key == "":
			found = append(found, fmt.Errorf("theme: %s: the key of a word is not written out", use.at))
		case !known:
			found = append(found, fmt.Errorf("theme: %s: no word %q", use.at, use.key))
		case takes != use.args && !use.counts:
			found = append(found, fmt.Errorf("theme: %s: word %q takes %d values, not %d", use.at, use.key, takes, use.args))
		}
	}
	return errors.Join(found...)
}

// wordUses lists the uses of words in all templates of a set.
func wordUses(set *template.Template) []wordUse {
	var uses []wordUse
	for _, t := range set.Templates() {
		if t.Tree == nil || t.Tree.Root == nil {
			continue
		}
		walk(t.Tree.Root, func(c *parse.CommandNode) {
			name, is := c.Args[0].(*parse.IdentifierNode)
			if !is || name.Ident != "word" && name.Ident != "count" {
				return
			}
			at, _ := t.Tree.ErrorContext(c)
			use := wordUse{at: at, args: len(c.Args) - 2, counts: name.Ident == "count"}
			if len(c.Args) > 1 {
				if key, is := c.Args[1].(*parse.StringNode); is {
					use.key = key.Text
				}
			}
			uses = append(uses, use)
		})
	}
	return uses
}

// walk calls visit for every command below a node.
func walk(n parse.Node, visit func(*parse.CommandNode)) {
	branch := func(b *parse.BranchNode) {
		walk(b.Pipe, visit)
		walk(b.List, visit)
		if b.ElseList != nil {
			walk(b.ElseList, visit)
		}
	}
	switch n := n.(type) {
	case *parse.ListNode:
		for _, child := range n.Nodes {
			walk(child, visit)
		}
	case *parse.ActionNode:
		walk(n.Pipe, visit)
	case *parse.TemplateNode:
		if n.Pipe != nil {
			walk(n.Pipe, visit)
		}
	case *parse.PipeNode:
		for _, c := range n.Cmds {
			walk(c, visit)
		}
	case *parse.CommandNode:
		visit(n)
		for _, arg := range n.Args {
			walk(arg, visit)
		}
	case *parse.IfNode:
		branch(&n.BranchNode)
	case *parse.RangeNode:
		branch(&n.BranchNode)
	case *parse.WithNode:
		branch(&n.BranchNode)
	}
}
