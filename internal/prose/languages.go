package prose

import (
	"math"
	"slices"
	"sync"

	"github.com/alecthomas/chroma/v2"
)

// The rules are our own: the library's registry of all languages costs every
// start of the program some ten milliseconds. They colour what a reader of a
// note looks at and do not claim to check the code. No rule looks further than
// the end of its token, so that the time grows with the length of the code
// alone; what is not closed goes on to the end of the code. Rules are compiled when a language is first used.

// lexers returns our languages by name.
var lexers = sync.OnceValue(func() map[string]chroma.Lexer {
	yaml := language("yaml", yamlRules)
	css := language("css", cssRules)
	javascript := language("javascript", javascriptRules)
	return map[string]chroma.Lexer{
		"yaml":       yaml,
		"markdown":   language("markdown", func() chroma.Rules { return markdownRules(yaml) }),
		"json":       language("json", jsonRules),
		"csv":        language("csv", csvRules),
		"go":         language("go", goRules),
		"python":     language("python", pythonRules),
		"javascript": javascript,
		"bash":       language("bash", bashRules),
		"html":       language("html", func() chroma.Rules { return htmlRules(css, javascript) }),
		"css":        css,
		"diff":       language("diff", diffRules),
	}
})

func language(name string, rules func() chroma.Rules) chroma.Lexer {
	patiently := func() chroma.Rules {
		all := rules()
		all["root"] = append(all["root"], chroma.Rule{Pattern: `\b\B`, Type: chroma.Text, Mutator: patient{}})
		return all
	}
	return chroma.MustNewLexer(&chroma.Config{Name: name}, patiently)
}

// patient takes the time limit off the rules of a lexer: a rule that ran out of it would
// count as one that does not fit, and the same code would come out otherwise on a machine
// that is busy. How much code there is is bounded, and no rule of ours goes back far. It
// stands with a rule that fits nowhere, and is gone once it has done its work.
type patient struct{}

func (patient) MutatorKind() string             { return "patient" }
func (patient) Mutate(*chroma.LexerState) error { return nil }

func (patient) MutateLexer(rules chroma.CompiledRules, state string, own int) error {
	for _, all := range rules {
		for _, rule := range all {
			if rule.Regexp != nil {
				rule.Regexp.MatchTimeout = math.MaxInt64
			}
		}
	}
	rules[state] = slices.Delete(rules[state], own, own+1)
	return nil
}

const (
	doubleQuoted = `"(?:[^"\\\n]|\\.)*"`
	singleQuoted = `'(?:[^'\\\n]|\\.)*'`
	number       = `(?:0[xXbBoO][0-9a-fA-F_]+|\d[\d_]*(?:\.\d+)?(?:[eE][+-]?\d+)?)\b`
	starComment  = `/\*(?:[^*]|\*(?!/))*(?:\*/|\z)`
	slashComment = `//[^\n]*|` + starComment
)

func yamlRules() chroma.Rules {
	const end = `(?=\s|$|[,\]}])`
	return chroma.Rules{"root": {
		{Pattern: `\s+`, Type: chroma.Text},
		{Pattern: `#[^\n]*`, Type: chroma.Comment},
		{Pattern: `^(?:---|\.\.\.)$`, Type: chroma.Punctuation},
		{Pattern: `-(?=\s|$)`, Type: chroma.Punctuation},
		{Pattern: `[|>][-+]?(?=\s*$)`, Type: chroma.Punctuation},
		{Pattern: `(?:"(?:[^"\\\n]|\\.)*"|'(?:[^'\n]|'')*')(?=\s*:)`, Type: chroma.NameTag},
		{Pattern: `"(?:[^"\\]|\\.)*(?:"|\z)|'(?:[^']|'')*(?:'|\z)`, Type: chroma.LiteralString},
		{Pattern: `[\[\]{},]`, Type: chroma.Punctuation},
		{Pattern: `[^\s\[\]{},#:"'|>-](?:[^:\n,\[\]{}#]|:(?=\S)|(?<=\S)#)*(?=:(?:\s|$))`, Type: chroma.NameTag},
		{Pattern: `:(?=\s|$)`, Type: chroma.Punctuation},
		{Pattern: `-?\d+(?:\.\d+)?` + end, Type: chroma.LiteralNumber},
		{Pattern: `(?:true|false|yes|no|null|~)` + end, Type: chroma.KeywordConstant},
		{Pattern: `[^\s,\[\]{}](?:[^\n,\[\]{}:#]|:(?=\S)|(?<=\S)#)*`, Type: chroma.Text},
	}}
}

func markdownRules(yaml chroma.Lexer) chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: `\A(---\n)((?:(?!---$)[^\n]*\n)*)(---$)`, Type: chroma.ByGroups(chroma.Punctuation, chroma.UsingLexer(yaml), chroma.Punctuation)},
		{Pattern: `^#{1,6} [^\n]*`, Type: chroma.GenericHeading},
		{Pattern: "^(```|~~~)[^\\n]*\\n(?:(?!\\1)[^\\n]*\\n)*(?:\\1)?", Type: chroma.LiteralString},
		{Pattern: "`[^`\\n]+`", Type: chroma.LiteralString},
		{Pattern: `^ {0,3}>`, Type: chroma.Punctuation},
		{Pattern: `^\s*(?:[-*+]|\d+[.)])(?=\s)`, Type: chroma.Punctuation},
		{Pattern: `\*\*[^*\n]+\*\*|__[^_\n]+__`, Type: chroma.GenericStrong},
		{Pattern: `\*[^*\s][^*\n]*\*|\b_[^_\s][^_\n]*_\b`, Type: chroma.GenericEmph},
		{Pattern: `(!?\[)([^\[\]\n]*)(\]\()([^()\n]*)(\))`, Type: chroma.ByGroups(chroma.Punctuation, chroma.NameTag, chroma.Punctuation, chroma.LiteralString, chroma.Punctuation)},
		{Pattern: `\\.`, Type: chroma.Text},
		{Pattern: "[^\\n\\[!*_`\\\\]+|.", Type: chroma.Text},
		{Pattern: `\n`, Type: chroma.Text},
	}}
}

func jsonRules() chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: `\s+`, Type: chroma.Text},
		{Pattern: doubleQuoted + `(?=\s*:)`, Type: chroma.NameTag},
		{Pattern: doubleQuoted, Type: chroma.LiteralString},
		{Pattern: `-?` + number, Type: chroma.LiteralNumber},
		{Pattern: `\b(?:true|false|null)\b`, Type: chroma.KeywordConstant},
		{Pattern: `[\[\]{},:]`, Type: chroma.Punctuation},
		{Pattern: `.`, Type: chroma.Text},
	}}
}

func csvRules() chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: `"(?:[^"]|"")*(?:"|\z)`, Type: chroma.Text},
		{Pattern: `,`, Type: chroma.Punctuation},
		{Pattern: `[^",]+|"`, Type: chroma.Text},
	}}
}

func goRules() chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: `\s+`, Type: chroma.Text},
		{Pattern: slashComment, Type: chroma.Comment},
		{Pattern: "`[^`]*(?:`|\\z)|" + doubleQuoted + "|" + singleQuoted, Type: chroma.LiteralString},
		{Pattern: chroma.Words(`\b`, `\b`, "break", "case", "chan", "const", "continue", "default", "defer", "else", "fallthrough", "for", "func",
			"go", "goto", "if", "import", "interface", "map", "package", "range", "return", "select", "struct", "switch", "type", "var"), Type: chroma.Keyword},
		{Pattern: chroma.Words(`\b`, `\b`, "true", "false", "nil", "iota"), Type: chroma.KeywordConstant},
		{Pattern: chroma.Words(`\b`, `\b`, "any", "bool", "byte", "error", "float32", "float64", "int", "int8", "int16", "int32", "int64",
			"rune", "string", "uint", "uint8", "uint16", "uint32", "uint64", "uintptr"), Type: chroma.NameBuiltin},
		{Pattern: number, Type: chroma.LiteralNumber},
		{Pattern: `[\p{L}_][\p{L}\p{N}_]*(?=\()`, Type: chroma.NameFunction},
		{Pattern: `[\p{L}_][\p{L}\p{N}_]*`, Type: chroma.Text},
		{Pattern: `[-+*/%&|^<>=!:.,;(){}\[\]~]`, Type: chroma.Punctuation},
		{Pattern: `.`, Type: chroma.Text},
	}}
}

func pythonRules() chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: `\s+`, Type: chroma.Text},
		{Pattern: `#[^\n]*`, Type: chroma.Comment},
		{Pattern: `[rRbBfFuU]{0,2}(?:"""(?:[^"\\]|\\.|"(?!""))*(?:"""|\z)|'''(?:[^'\\]|\\.|'(?!''))*(?:'''|\z))`, Type: chroma.LiteralString},
		{Pattern: `[rRbBfFuU]{0,2}(?:` + doubleQuoted + `|` + singleQuoted + `)`, Type: chroma.LiteralString},
		{Pattern: `@[A-Za-z_][\w.]*`, Type: chroma.NameFunction},
		{Pattern: chroma.Words(`\b`, `\b`, "and", "as", "assert", "async", "await", "break", "class", "continue", "def", "del", "elif", "else",
			"except", "finally", "for", "from", "global", "if", "import", "in", "is", "lambda", "nonlocal", "not", "or", "pass", "raise",
			"return", "try", "while", "with", "yield"), Type: chroma.Keyword},
		{Pattern: chroma.Words(`\b`, `\b`, "True", "False", "None", "self"), Type: chroma.KeywordConstant},
		{Pattern: number, Type: chroma.LiteralNumber},
		{Pattern: `[\p{L}_][\p{L}\p{N}_]*(?=\()`, Type: chroma.NameFunction},
		{Pattern: `[\p{L}_][\p{L}\p{N}_]*`, Type: chroma.Text},
		{Pattern: `[-+*/%&|^<>=!:.,;(){}\[\]~@]`, Type: chroma.Punctuation},
		{Pattern: `.`, Type: chroma.Text},
	}}
}

func javascriptRules() chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: `\s+`, Type: chroma.Text},
		{Pattern: slashComment, Type: chroma.Comment},
		{Pattern: "`(?:[^`\\\\]|\\\\.)*(?:`|\\z)|" + doubleQuoted + "|" + singleQuoted, Type: chroma.LiteralString},
		{Pattern: chroma.Words(`\b`, `\b`, "async", "await", "break", "case", "catch", "class", "const", "continue", "delete", "do", "else",
			"export", "extends", "finally", "for", "from", "function", "if", "import", "in", "instanceof", "let", "new", "of", "return",
			"static", "switch", "throw", "try", "typeof", "var", "void", "while", "yield"), Type: chroma.Keyword},
		{Pattern: chroma.Words(`\b`, `\b`, "true", "false", "null", "undefined", "this"), Type: chroma.KeywordConstant},
		{Pattern: number, Type: chroma.LiteralNumber},
		{Pattern: `[\p{L}_$][\p{L}\p{N}_$]*(?=\()`, Type: chroma.NameFunction},
		{Pattern: `[\p{L}_$][\p{L}\p{N}_$]*`, Type: chroma.Text},
		{Pattern: `[-+*/%&|^<>=!:.,;(){}\[\]~?]`, Type: chroma.Punctuation},
		{Pattern: `.`, Type: chroma.Text},
	}}
}

func bashRules() chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: `\s+`, Type: chroma.Text},
		{Pattern: `#[^\n]*`, Type: chroma.Comment},
		{Pattern: `"(?:[^"\\]|\\.)*(?:"|\z)|'[^']*(?:'|\z)`, Type: chroma.LiteralString},
		{Pattern: `\$(?:\{[^}\n]*\}|\w+|[@*#?$!-])`, Type: chroma.NameVariable},
		{Pattern: chroma.Words(`\b`, `\b(?![-.=/])`, "if", "then", "else", "elif", "fi", "for", "in", "do", "done", "while", "until", "case",
			"esac", "function", "return", "local", "export"), Type: chroma.Keyword},
		{Pattern: `--?[A-Za-z][\w-]*`, Type: chroma.NameAttribute},
		{Pattern: `[|&;<>(){}=]`, Type: chroma.Punctuation},
		{Pattern: `[^\s"'$|&;<>(){}=#]+#?|.`, Type: chroma.Text},
	}}
}

func htmlRules(css, javascript chroma.Lexer) chroma.Rules {
	return chroma.Rules{
		"root": {
			{Pattern: `<!--(?:[^-]|-(?!->))*(?:-->|\z)`, Type: chroma.Comment},
			{Pattern: `<![^>]*(?:>|\z)`, Type: chroma.CommentPreproc},
			{Pattern: `(?i)<(script)(?=[\s>])`, Type: chroma.NameTag, Mutator: chroma.Push("script", "tag")},
			{Pattern: `(?i)<(style)(?=[\s>])`, Type: chroma.NameTag, Mutator: chroma.Push("style", "tag")},
			{Pattern: `</?[A-Za-z][\w:-]*`, Type: chroma.NameTag, Mutator: chroma.Push("tag")},
			{Pattern: `&#?\w+;`, Type: chroma.NameEntity},
			{Pattern: `[^<&]+|.`, Type: chroma.Text},
		},
		"tag": {
			{Pattern: `\s+`, Type: chroma.Text},
			{Pattern: `/?>`, Type: chroma.NameTag, Mutator: chroma.Pop(1)},
			{Pattern: `[^\s=>/"']+`, Type: chroma.NameAttribute},
			{Pattern: `(=)(\s*)("[^"]*(?:"|\z)|'[^']*(?:'|\z)|[^\s>"']+)`, Type: chroma.ByGroups(chroma.Punctuation, chroma.Text, chroma.LiteralString)},
			{Pattern: `.`, Type: chroma.Text},
		},
		"script": {
			{Pattern: `(?i)</script`, Type: chroma.NameTag, Mutator: chroma.Mutators(chroma.Pop(1), chroma.Push("tag"))},
			{Pattern: `(?:[^<]|<(?!/script))+`, Type: chroma.UsingLexer(javascript)},
		},
		"style": {
			{Pattern: `(?i)</style`, Type: chroma.NameTag, Mutator: chroma.Mutators(chroma.Pop(1), chroma.Push("tag"))},
			{Pattern: `(?:[^<]|<(?!/style))+`, Type: chroma.UsingLexer(css)},
		},
	}
}

func cssRules() chroma.Rules {
	return chroma.Rules{
		"root": {
			{Pattern: `\s+`, Type: chroma.Text},
			{Pattern: starComment, Type: chroma.Comment},
			{Pattern: `@[\w-]+`, Type: chroma.Keyword},
			{Pattern: `\{`, Type: chroma.Punctuation, Mutator: chroma.Push("block")},
			{Pattern: `[^\s@{}/]+|.`, Type: chroma.NameTag},
		},
		"block": {
			{Pattern: `\s+`, Type: chroma.Text},
			{Pattern: starComment, Type: chroma.Comment},
			{Pattern: `\}`, Type: chroma.Punctuation, Mutator: chroma.Pop(1)},
			{Pattern: `\{`, Type: chroma.Punctuation, Mutator: chroma.Push("block")},
			{Pattern: `[\w-]+(?=\s*:)`, Type: chroma.NameAttribute},
			{Pattern: doubleQuoted + "|" + singleQuoted, Type: chroma.LiteralString},
			{Pattern: `#[0-9a-fA-F]{3,8}\b|-?(?:\d+\.?\d*|\.\d+)(?:[a-z]+\b|%)?`, Type: chroma.LiteralNumber},
			{Pattern: `[\w-]+(?=\()`, Type: chroma.NameFunction},
			{Pattern: `[\w-]+`, Type: chroma.Text},
			{Pattern: `.`, Type: chroma.Punctuation},
		},
	}
}

func diffRules() chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: `^(?:\+\+\+|---|@@|diff |index )[^\n]*`, Type: chroma.GenericHeading},
		{Pattern: `^\+[^\n]*`, Type: chroma.GenericInserted},
		{Pattern: `^-[^\n]*`, Type: chroma.GenericDeleted},
		{Pattern: `[^\n]+|\n`, Type: chroma.Text},
	}}
}
