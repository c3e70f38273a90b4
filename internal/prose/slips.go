package prose

import (
	"net/url"
	"regexp"
	"strings"

	"github.com/yuin/goldmark/ast"

	"sidebatch.example/sidebatch/internal/problem"
)

// CommonMark makes no link of an address with a space in it, and says nothing.
// Such slips are looked for in the text of a block.

var (
	// The end of what was meant as a link: ](address) or ] (address).
	slipPattern = regexp.MustCompile(`\](\s*)\(([^()<>]{1,300})\)`)
	// A definition of a reference: [label]: address.
	definitionPattern = regexp.MustCompile(`(?m)^ {0,3}\[[^\]\n]+\]:[ \t]*((?i:figure|table|value):[^\n<>]*)$`)
	// A title at the end of an address.
	titlePattern = regexp.MustCompile(`\s+("[^"]*"|'[^']*')\s*$`)
)

// run is the source of a block, its lines put together without what stands
// before them (list marks, quotation marks).
type run struct {
	text    string
	starts  []int // where the lines begin in text
	offsets []int // where they begin in the source
}

func (w *writer) run(block ast.Node) run {
	var r run
	var b strings.Builder
	lines := block.Lines()
	for i := range lines.Len() {
		line := lines.At(i)
		r.starts = append(r.starts, b.Len())
		r.offsets = append(r.offsets, line.Start)
		b.Write(w.src[line.Start:line.Stop])
	}
	r.text = b.String()
	return r
}

// offset returns where byte i of the run stands in the source.
func (r run) offset(i int) int {
	line := len(r.starts) - 1
	for line > 0 && r.starts[line] > i {
		line--
	}
	return r.offsets[line] + i - r.starts[line]
}

// findSlips reports what was meant as a link in a block and is none.
func (w *writer) findSlips(block ast.Node) {
	r := w.run(block)
	if !strings.Contains(r.text, "]") {
		return
	}
	made := w.made(block)
	for _, m := range slipPattern.FindAllStringSubmatchIndex(r.text, -1) {
		start := opening(r.text, m[0])
		if start < 0 || made.holds(r.offset(m[0])) || made.starts[r.offset(start)] {
			continue
		}
		s := slip{image: r.text[start] == '!', gap: m[2] < m[3], dest: titlePattern.ReplaceAllString(r.text[m[4]:m[5]], "")}
		w.reportSlip(r.offset(start), s)
	}
	for _, m := range definitionPattern.FindAllStringSubmatchIndex(r.text, -1) {
		if dest := titlePattern.ReplaceAllString(strings.TrimSpace(r.text[m[2]:m[3]]), ""); strings.ContainsAny(dest, " \t") {
			w.reportSlip(r.offset(m[0]), slip{image: true, dest: dest})
		}
	}
}

// slip is what was meant as a link.
type slip struct {
	image bool
	gap   bool // a space between ] and (
	dest  string
}

func (w *writer) reportSlip(offset int, s slip) {
	a := parseAddress(strings.TrimSpace(s.dest))
	spaced := strings.ContainsAny(a.whole, " \t\n")
	web := a.scheme == "https" || a.scheme == "http"
	at := w.at.pos(offset)
	switch {
	case spaced && a.ours():
		name := strings.Join(strings.Fields(a.rest), " ")
		w.problems.Hinted(at, problem.SpacedAddress,
			"write "+a.scheme+":"+strings.ReplaceAll(name, " ", "-")+" or <"+a.scheme+":"+name+">",
			"a space in the address %s:%s, so that no link was made", a.scheme, name)
	case spaced && (web || s.image && !s.gap):
		dest := strings.Join(strings.Fields(a.whole), " ")
		w.problems.Hinted(at, problem.SpacedAddress, "write "+(&url.URL{Path: "/" + dest}).EscapedPath()[1:]+" or <"+dest+">",
			"a space in the address %s, so that no link was made", dest)
	case s.gap && a.ours():
		w.problems.Hinted(at, problem.SpacedAddress, "write ]( without a space",
			"a space before the address %s, so that no link was made", a.whole)
	case a.ours():
		w.problems.Hinted(at, problem.BadAddress, "a link cannot stand inside the words of a link",
			"no link was made of the address %s", a.whole)
	}
}

const maxWords = 2_000 // bytes of a link's words that are looked through

// opening returns where the words that end at the bracket i begin, at their [
// or at the ! before it; -1 when they do not.
func opening(text string, i int) int {
	if escaped(text, i) {
		return -1
	}
	depth := 0
	for j := i; j >= max(0, i-maxWords); j-- {
		switch {
		case escaped(text, j):
		case text[j] == ']':
			depth++
		case text[j] == '[':
			depth--
		}
		if depth == 0 {
			if j > 0 && text[j-1] == '!' && !escaped(text, j-1) {
				return j - 1
			}
			return j
		}
	}
	return -1
}

// escaped says whether an odd number of backslashes stands before byte i.
func escaped(text string, i int) bool {
	n := 0
	for i > n && text[i-n-1] == '\\' {
		n++
	}
	return n%2 == 1
}

// links knows what the parser did make of a block.
type links struct {
	starts map[int]bool // offsets of links and images
	verbal [][2]int     // code and HTML, where a bracket is a bracket
}

func (l links) holds(offset int) bool {
	for _, v := range l.verbal {
		if offset >= v[0] && offset < v[1] {
			return true
		}
	}
	return false
}

func (w *writer) made(block ast.Node) links {
	l := links{starts: map[int]bool{}}
	_ = ast.Walk(block, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Link, *ast.Image:
			l.starts[n.Pos()] = true
		case *ast.CodeSpan:
			for c := n.FirstChild(); c != nil; c = c.NextSibling() {
				if t, ok := c.(*ast.Text); ok {
					l.verbal = append(l.verbal, [2]int{t.Segment.Start, t.Segment.Stop})
				}
			}
		case *ast.RawHTML:
			for i := range n.Segments.Len() {
				s := n.Segments.At(i)
				l.verbal = append(l.verbal, [2]int{s.Start, s.Stop})
			}
		}
		return ast.WalkContinue, nil
	})
	return l
}
