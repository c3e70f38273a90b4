package prose

import (
	"errors"
	"html"
	"net/url"
	"regexp"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"sidebatch.example/sidebatch/internal/problem"
)

// Fold returns a name in the form in which names are compared: letter case is
// nothing, and a hyphen, an underscore or a run of spaces is one space.
func Fold(name string) string {
	name = strings.Map(func(r rune) rune {
		if r == '-' || r == '_' {
			return ' '
		}
		return r
	}, strings.ToLower(name))
	return strings.Join(strings.Fields(name), " ")
}

// address is where a link or image leads.
type address struct {
	scheme string // in lower case; "" for a relative address or a fragment
	rest   string // what follows the scheme
	whole  string
}

// An address begins with a scheme when a colon ends its first word (RFC 3986, 3.1).
var schemePattern = regexp.MustCompile(`^([A-Za-z][A-Za-z0-9+.-]*):`)

func parseAddress(dest string) address {
	a := address{rest: dest, whole: dest}
	if m := schemePattern.FindStringSubmatch(dest); m != nil {
		a.scheme, a.rest = strings.ToLower(m[1]), dest[len(m[0]):]
	}
	return a
}

// ours says whether the scheme is one of our own.
func (a address) ours() bool {
	return a.scheme == "figure" || a.scheme == "table" || a.scheme == "value"
}

// name returns what follows one of our schemes, with %20 and the like resolved.
func (a address) name() string {
	if name, err := url.PathUnescape(a.rest); err == nil {
		return strings.TrimSpace(name)
	}
	return strings.TrimSpace(a.rest)
}

// refused says why an ordinary address is refused, nil if it is not.
//
// Browsers drop tabs and line ends from addresses and read a backslash as a
// slash (WHATWG URL, basic URL parser), so addresses with those are refused
// rather than understood.
func (a address) refused(image bool) *Wrong {
	wrong := func(what, hint string) *Wrong { return &Wrong{Code: problem.BadAddress, What: what, Hint: hint} }
	control := strings.IndexFunc(a.whole, func(r rune) bool { return r < ' ' || r == 0x7F || r == '\\' })
	switch {
	case a.whole == "":
		return wrong("a link that leads nowhere", "write the address between the parentheses")
	case control >= 0:
		return wrong("an address with a character that none may hold", "write / for a slash")
	case strings.HasPrefix(a.whole, "//"):
		return wrong("an address without https:", "write https:"+a.whole)
	case a.scheme == "" || a.scheme == "https" || a.scheme == "http":
		return nil
	case a.scheme == "mailto" && !image:
		return nil
	}
	hint := "addresses begin with https:, or name a file of the trial"
	if near := problem.Nearest(a.scheme, []string{"figure", "table", "value", "https", "mailto"}); near != "" {
		hint = "did you mean " + near + ":?"
	}
	return wrong("the address "+a.scheme+": is not allowed", hint)
}

// destination resolves backslashes and entities in an address as written, and
// drops the spaces around it, as browsers do.
func destination(raw []byte) string {
	return strings.TrimSpace(string(util.ResolveEntityNames(util.ResolveNumericReferences(util.UnescapePunctuations(raw)))))
}

// report reports an error of the resolver, or of our own, at a node.
func (w *writer) report(n ast.Node, err error) {
	var wrong *Wrong
	if !errors.As(err, &wrong) {
		wrong = &Wrong{Code: problem.UnknownTarget, What: err.Error()}
	}
	w.problems.Hinted(w.at.pos(n.Pos()), wrong.Code, wrong.Hint, "%s", wrong.What)
}

func (w *writer) link(n *ast.Link) {
	a := parseAddress(destination(n.Destination))
	switch {
	case w.onlyHTTPS && a.scheme != "https":
		w.inlines(n)
	case a.scheme == "value":
		w.value(n, a)
	default:
		w.anchor(n, a, n.Title, func() { w.inlines(n) })
	}
}

// value writes a checked number. Its words keep their marks when they stand.
func (w *writer) value(n *ast.Link, a address) {
	words := w.plain(n)
	text, err := w.resolver.Value(a.name(), words)
	if err != nil {
		w.report(n, err)
		text = words
	}
	w.tag(`<span class="checked">`)
	if words != "" && text == words {
		w.inlines(n)
	} else {
		w.escape(text)
	}
	w.tag("</span>")
}

// anchor writes a link, or only its words when the address is refused.
func (w *writer) anchor(n ast.Node, a address, title []byte, words func()) {
	href, err := w.href(a, false)
	if err != nil {
		w.report(n, err)
	}
	if err != nil || w.inLink {
		words()
		return
	}
	w.inLink = true
	w.tag(`<a href="`, href, `"`)
	w.title(title)
	w.tag(">")
	words()
	w.tag("</a>")
	w.inLink = false
}

// href returns an ordinary address, escaped for an attribute.
func (w *writer) href(a address, image bool) (string, error) {
	// A figure or table written as a link leads to where it stands on the page.
	if !a.ours() {
		if wrong := a.refused(image); wrong != nil {
			return "", wrong
		}
	}
	href, err := w.resolver.Address(a.whole, image)
	if err != nil {
		return "", err
	}
	return html.EscapeString(string(util.URLEscape([]byte(href), false))), nil
}

func (w *writer) title(title []byte) {
	if len(title) > 0 {
		w.tag(` title="`)
		w.markdown(title)
		w.tag(`"`)
	}
}

func (w *writer) autoLink(n *ast.AutoLink) {
	label := string(n.Label(w.src))
	dest := label
	if n.AutoLinkType == ast.AutoLinkEmail && !strings.HasPrefix(strings.ToLower(dest), "mailto:") {
		dest = "mailto:" + dest
	}
	a := parseAddress(dest)
	switch {
	case w.onlyHTTPS && a.scheme != "https":
		w.escape(label)
	case a.ours():
		w.report(n, &Wrong{Code: problem.BadAddress, What: "an address in angle brackets alone",
			Hint: "write " + spelled(a.scheme, "words", "<"+label+">")})
		w.escape(label)
	default:
		w.anchor(n, a, nil, func() { w.escape(label) })
	}
}

// spelled returns the markdown that makes use of one of our addresses.
func spelled(scheme, words, dest string) string {
	if scheme == "value" {
		return "[" + words + "](" + dest + ")"
	}
	return "![" + words + "](" + dest + ")"
}
