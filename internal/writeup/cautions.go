package writeup

import (
	"regexp"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
)

func cautions(f *findings.Findings, found []findings.Caution) []page.Caution {
	keep := phrasesOf(f.Trial).unbroken()
	var all []page.Caution
	for _, c := range found {
		caution := page.Caution{About: c.About, Words: keep(c.Words)}
		for _, source := range c.Sources {
			caution.Sources = append(caution.Sources, page.Link{Text: keep(source)})
		}
		all = append(all, caution)
	}
	return all
}

// unbroken keeps the language's units with their numbers: a no-break space between
// the two.
func (say phrases) unbroken() func(words string) string {
	var units []string
	for _, unit := range strings.Split(say.Say("units that stay with numbers"), ", ") {
		units = append(units, regexp.QuoteMeta(unit))
	}
	beforeUnit := regexp.MustCompile(`(\d) (` + strings.Join(units, "|") + `)\b`)
	return func(words string) string { return beforeUnit.ReplaceAllString(words, "$1\u00a0$2") }
}

// careOf adds what can hurt: the cautions and allergens of the version that readers
// cook, or of all of them where there is no one version.
func careOf(f *findings.Findings, follows *findings.Sample, v *page.Recipe) {
	v.Allergens = allergens(f, follows)
	v.Cautions = cautions(f, f.Cautions)
	if follows != nil {
		v.Cautions = cautions(f, f.CautionsOf(follows.Sample))
	}
}
