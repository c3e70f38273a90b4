package cli

import (
	"fmt"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"
)

func version() *cobra.Command {
	asJSON := false
	c := &cobra.Command{
		Use:   "version",
		Short: "Say which sidebatch this is",
		Long: `version prints the version of this sidebatch, the revision it was built from and
whether the files had been changed since, as far as the Go command wrote them into the
program, then the version of Go, the operating system and the architecture. A program
that was built outside a repository is called development. Nothing of this stands in
the site.`,
		Example: `  sidebatch version
  sidebatch version --json`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			info, _ := debug.ReadBuildInfo() // nil in a program that was built without modules
			said := buildOf(info)
			said.System, said.Architecture = runtime.GOOS, runtime.GOARCH
			if asJSON {
				return writeJSON(c.OutOrStdout(), said)
			}
			_, err := fmt.Fprint(c.OutOrStdout(), said)
			return err
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON, under names that stay")
	return c
}

// saidBuild is what version --json prints.
type saidBuild struct {
	Version      string  `json:"version"`
	Revision     *string `json:"revision"` // null: not known
	Changed      *bool   `json:"changed"`  // whether files differed from the revision; null: not known
	Go           string  `json:"go"`
	System       string  `json:"system"`
	Architecture string  `json:"architecture"`
}

// buildOf reads what the Go command wrote into the program.
func buildOf(info *debug.BuildInfo) saidBuild {
	said := saidBuild{Version: "development", Go: runtime.Version()}
	if info == nil {
		return said
	}
	if v := info.Main.Version; v != "" && v != "(devel)" {
		said.Version = v
	}
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			said.Revision = &s.Value
		case "vcs.modified":
			changed := s.Value == "true"
			said.Changed = &changed
		}
	}
	return said
}

// String is three lines at most.
func (b saidBuild) String() string {
	text := fmt.Sprintf("sidebatch %s\n", b.Version)
	if b.Revision != nil {
		text += "revision " + *b.Revision
		if b.Changed != nil && *b.Changed {
			text += ", and files changed since"
		}
		text += "\n"
	}
	return text + fmt.Sprintf("%s, %s/%s\n", b.Go, b.System, b.Architecture)
}
