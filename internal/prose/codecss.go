package prose

import "strings"

// ink is the colour of a kind of token, in light and in dark.
type ink struct {
	name        string // of the custom property, after --code-
	light, dark string
	classes     string // of the tokens, by chroma's short names
	style       string // what tells the kind apart besides its colour; may be empty
}

// inks returns the colours of code. Each is at least 4.5 to 1 against the
// paper of its mode (WCAG 2.2, 1.4.3); a test computes it.
func inks() []ink {
	return []ink{
		{"paper", "#f7f5f0", "#1e1d1b", "", ""},
		{"text", "#24211c", "#e8e4da", "", ""},
		{"comment", "#66604f", "#a89f8a", "c cp", "font-style: italic"},
		{"keyword", "#7b2d5b", "#e7a3cb", "k kc", "font-weight: 600"},
		{"name", "#1f4f86", "#9cc4f2", "nt na nf nb nv ni", ""},
		{"string", "#2f5d2a", "#a9d39e", "s", ""},
		{"number", "#8a3d00", "#f0b27a", "m", ""},
		{"sign", "#57524a", "#b9b2a4", "p o", ""},
		{"heading", "#1f4f86", "#9cc4f2", "gh", "font-weight: 600"},
		{"inserted", "#2f5d2a", "#a9d39e", "gi", ""},
		{"deleted", "#9b2226", "#f3a6a3", "gd", ""},
	}
}

// HighlightCSS returns the style rules for what [Highlight] writes. Colours are
// custom properties, --code-paper and --code-text among them, so that a theme
// can set its own; the ones here have no weight against a theme's.
func HighlightCSS() string {
	var b strings.Builder
	b.WriteString(":where(:root) {\n")
	for _, i := range inks() {
		b.WriteString("  --code-" + i.name + ": " + i.light + ";\n")
	}
	b.WriteString("}\n@media (prefers-color-scheme: dark) {\n  :where(:root) {\n")
	for _, i := range inks() {
		b.WriteString("    --code-" + i.name + ": " + i.dark + ";\n")
	}
	b.WriteString("  }\n}\n")
	b.WriteString(".code {\n  overflow-x: auto;\n  background: var(--code-paper);\n  color: var(--code-text);\n  tab-size: 4;\n}\n")
	for _, i := range inks() {
		if i.classes == "" {
			continue
		}
		b.WriteString(".code ." + strings.ReplaceAll(i.classes, " ", ", .code .") + " {\n  color: var(--code-" + i.name + ");\n")
		if i.style != "" {
			b.WriteString("  " + i.style + ";\n")
		}
		b.WriteString("}\n")
	}
	b.WriteString(".code .ge {\n  font-style: italic;\n}\n.code .gs {\n  font-weight: 600;\n}\n")
	return b.String()
}
