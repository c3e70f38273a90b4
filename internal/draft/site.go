package draft

import _ "embed"

// ExampleSlug is the folder of the example in a new site.
const ExampleSlug = "soaked-potato-wedges"

var (
	//go:embed site/kitchen.yaml
	siteKitchen string
	//go:embed site/wedges/trial.md
	siteNote string
	//go:embed site/wedges/pieces.csv
	siteLog string
)

// Site is what a new site begins with: a kitchen file in which every key is explained,
// an example that says that it is invented, and what git is to leave alone.
func Site() []File {
	return []File{
		{"content/kitchen.yaml", []byte(siteKitchen)},
		{"content/" + ExampleSlug + "/trial.md", []byte(siteNote)},
		{"content/" + ExampleSlug + "/pieces.csv", []byte(siteLog)},
		{".gitignore", []byte("# Written by sidebatch publish, from content.\n/public/\n/.public.sidebatch-*\n")},
	}
}
