package house

// ban keeps names of a package to the rooms that need them.
type ban struct {
	what  string   // for the message
	pkg   string   // import path
	names []string // "*" for all but those in save
	save  []string
	rooms []string // where it is allowed; tools stands for all of them
	tests bool     // whether it holds in tests too
}

func bans() []ban {
	return []ban{
		{what: "reads the clock", pkg: "time",
			names: []string{"Now", "Since", "Until", "After", "AfterFunc", "Tick", "NewTimer", "NewTicker", "Sleep"},
			rooms: []string{"cli", "preview", toolsRow}},
		{what: "draws global random numbers", pkg: "math/rand", names: []string{"*"}, save: seeded(), tests: true},
		{what: "draws global random numbers", pkg: "math/rand/v2", names: []string{"*"}, save: seeded(), tests: true},
		{what: "draws random numbers", pkg: "math/rand", names: []string{"*"}, rooms: []string{"stats", "design", "testkit", toolsRow}},
		{what: "draws random numbers", pkg: "math/rand/v2", names: []string{"*"}, rooms: []string{"stats", "design", "testkit", toolsRow}},
		{what: "draws random numbers that no seed repeats", pkg: "crypto/rand", names: []string{"*"}, tests: true},
		{what: "writes files", pkg: "os", rooms: []string{"press", "cache", toolsRow},
			names: []string{"WriteFile", "Create", "CreateTemp", "OpenFile", "OpenRoot", "Rename", "Remove", "RemoveAll", "Mkdir", "MkdirAll", "MkdirTemp",
				"Truncate", "Symlink", "Link", "Chmod", "Chown", "Lchown", "Chtimes", "CopyFS", "Chdir"}},
		{what: "writes files", pkg: "io/ioutil", names: []string{"*"}, tests: true},
		{what: "prints past its writer", pkg: "fmt", names: []string{"Print", "Printf", "Println"}},
		{what: "prints past its writer", pkg: "os", names: []string{"Stdin", "Stdout", "Stderr"}, rooms: []string{"cmd/sidebatch", "cli", toolsRow}},
		{what: "prints past its writer", pkg: "log", names: []string{"*"}},
		{what: "ends the program", pkg: "os", names: []string{"Exit"}, rooms: []string{"cmd/sidebatch", toolsRow}},
		{what: "lets the machine show in what it makes", pkg: "os",
			names: []string{"Executable", "Getwd", "Hostname", "TempDir", "UserHomeDir", "UserCacheDir", "UserConfigDir", "Getenv", "LookupEnv", "Environ", "ExpandEnv"},
			rooms: []string{"cli"}},
		{what: "lets the machine show in what it makes", pkg: "os/user", names: []string{"*"}, tests: true},
		{what: "lets the machine show in what it makes", pkg: "runtime", names: []string{"Caller", "Callers", "Stack", "GOROOT", "GOOS", "GOARCH"}},
		{what: "lets the machine show in what it makes", pkg: "runtime/debug", names: []string{"Stack", "PrintStack"}},
		{what: "goes around the types", pkg: "unsafe", names: []string{"*"}, tests: true},
	}
}

// seeded are the names of package rand that start from a seed.
func seeded() []string {
	return []string{"New", "NewPCG", "NewChaCha8", "NewSource", "NewZipf", "Rand", "Source", "PCG", "ChaCha8", "Zipf"}
}

// exception lets one place break one rule.
type exception struct {
	rule  string // the first words of the failure after the place
	place string // a file, or a file and a function: press/make.go:panicPlace
	why   string
}

// exceptions are all there are. One that is no longer needed fails the test.
func exceptions() []exception {
	return []exception{
		{"lets the machine show in what it makes: runtime.Callers", "internal/press/make.go:panicPlace",
			"names the function that panicked, and of its file the last part of the path only"},
		{"lets the machine show in what it makes: runtime.GOOS", "internal/cli/version.go:version", "says which program this is, in the terminal and nowhere else"},
		{"lets the machine show in what it makes: runtime.GOARCH", "internal/cli/version.go:version", "the same, for the architecture"},
		{"writes files: os", "internal/testkit/testkit.go:golden", "golden files are written by tests, with -update"},
		{"writes files: os.OpenRoot", "internal/cli/content.go:open", "a root that is only read, so that no link leads out of the kitchen"},
		{"writes files: os.OpenRoot", "internal/cli/themefolder.go:themeFolder.Open", "a root that is only read, so that no link leads out of the theme"},
		{"writes files: os.OpenRoot", "internal/cli/gather.go:gathering.staysInside", "a root that is only asked whether a link leads out of the kitchen"},
		{"writes files: os.MkdirAll", "internal/cli/files.go:writeOne", "a file that a command was asked for, beside the notes; the site is written by press"},
		{"writes files: os.OpenFile", "internal/cli/files.go:writeOne", "the same; it never opens a file that is there already"},
		{"writes files: os.Remove", "internal/cli/files.go:removeOwn", "takes back what the same run has just written, when the rest could not be"},
		{"writes files: os.Rename", "internal/cli/files.go:swapFiles", "puts a whole log in the place of a blank one, or of another where --replace says so"},
		{"function List.Hinted with", "internal/problem/problem.go:List.Hinted", "a format and its values count as one"},
		{"function List.Ask with", "internal/problem/problem.go:List.Ask", "a format and its values count as one"},
		{"function openWhisker with", "internal/chart/differences.go:openWhisker", "a pen, a line from left to right, and its height"},
		{"function arrow with", "internal/chart/marks.go:arrow", "a pen, a place, a direction and a look"},
		{"function outline with", "internal/chart/pen.go:outline", "two corners of a rectangle are four numbers"},
		{"function pen.area with", "internal/chart/pen.go:pen.area", "two corners of a rectangle are four numbers"},
		{"function pen.segment with", "internal/chart/pen.go:pen.segment", "two ends of a line are four numbers"},
		{"function pen.box with", "internal/chart/pen.go:pen.box", "two corners of a rectangle are four numbers"},
		{"function pen.text with", "internal/chart/pen.go:pen.text", "a place is two numbers, and words have a look and a side"},
		{"function newScale with", "internal/chart/scale.go:newScale", "two ranges of two numbers each"},
		{"function newUpright with", "internal/chart/scale.go:newUpright", "two ranges of two numbers each"},
		{"function whisker with", "internal/chart/shares.go:whisker", "a pen, a line from left to right, and its height"},
		{"function AssessorsNeeded with", "internal/stats/discrimination.go:AssessorsNeeded", "the five numbers that fix a panel's size, as the standards name them"},
		{"function PiecesNeeded with", "internal/stats/power.go:PiecesNeeded", "the five numbers that fix a sample's size, as the formula is written"},
		{"file of", "internal/prose/prose_test.go", "the table of places, which reads best in one piece"},
		{"function Newcombe with", "internal/stats/proportion.go:Newcombe", "two counts out of two totals, as the formula is written"},
		{"lets the machine show in what it makes: os.Getenv", "internal/testkit/testkit.go:asked", "asks whether it runs in CI"},
	}
}

// ceiling is a soft limit, which an exception can lift, under a hard one, which
// nothing lifts.
type ceiling struct{ soft, hard int }

type ceilings struct {
	fileLines, funcLines, nesting, parameters ceiling
}

func limits() ceilings {
	return ceilings{
		fileLines:  ceiling{400, 600},
		funcLines:  ceiling{60, 80},
		nesting:    ceiling{4, 6},
		parameters: ceiling{4, 5},
	}
}

// topLevel names everything that may lie at the top.
func topLevel() []string {
	return []string{
		".ci", ".git", ".gitattributes", ".gitignore", "DEVELOPERS.md", "README.md",
		"cmd", "content", "go.mod", "go.sum", "internal", "public", "testdata", "themes",
	}
}
