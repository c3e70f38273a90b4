package writeup

import (
	"regexp"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
)

func cautions(found []findings.Caution) []page.Caution {
	var all []page.Caution
	for _, c := range found {
		caution := page.Caution{About: c.About, Words: unbroken(c.Words)}
		for _, source := range c.Sources {
			caution.Sources = append(caution.Sources, page.Link{Text: unbroken(source)})
		}
		all = append(all, caution)
	}
	return all
}

var beforeUnit = regexp.MustCompile(`(\d) (°[CF]|hours?|minutes?|seconds?|days?|months?|m|ft)\b`)

// unbroken keeps units with their numbers: a no-break space between the two.
func unbroken(words string) string {
	return beforeUnit.ReplaceAllString(words, "$1\u00a0$2")
}

// careOf adds what can hurt: the cautions and allergens of the version that readers
// cook, or of all of them where there is no one version.
func careOf(f *findings.Findings, follows *findings.Sample, v *page.Recipe) {
	v.Allergens = allergens(f, follows)
	v.Cautions = cautions(f.Cautions)
	if follows != nil {
		v.Cautions = cautions(f.CautionsOf(follows.Sample))
	}
}
