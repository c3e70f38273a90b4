package cli

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/testkit"
)

const (
	readme      = "../../README.md"
	openMark    = "<!-- commands: made of what the commands say of themselves -->\n"
	closingMark = "<!-- /commands -->\n"
)

// TestReadme holds the sections of README.md about commands against the commands: what
// each says, its flags with their defaults, examples, and exit codes. With -update it
// rewrites them.
func TestReadme(t *testing.T) {
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, opened := strings.Cut(string(data), openMark)
	got, after, closed := strings.Cut(rest, closingMark)
	if !opened || !closed {
		t.Fatalf("%s has no part between %q and %q", readme, openMark, closingMark)
	}
	want := manual(command())
	if got == want {
		return
	}
	if testkit.Updating(t) {
		if err := os.WriteFile(readme, []byte(before+openMark+want+closingMark+after), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	t.Errorf("README.md does not say what the commands do (-update rewrites it):\n%s", testkit.Diff([]byte(got), []byte(want)))
}

// manual is one section for each command, in markdown.
func manual(root *cobra.Command) string {
	var b strings.Builder
	for _, c := range root.Commands() {
		fmt.Fprintf(&b, "\n### %s\n\n%s.\n\n    %s\n\n%s\n", c.Name(), c.Short, c.UseLine(), unfolded(c.Long))
		flags := flagTable(c)
		if flags != "" {
			fmt.Fprintf(&b, "\n| flag | default | is |\n|---|---|---|\n%s", flags)
		}
		if c.Example != "" {
			var lines []string
			for line := range strings.Lines(c.Example) {
				lines = append(lines, "  "+strings.TrimRight(line, "\n"))
			}
			fmt.Fprintf(&b, "\nExamples:\n\n%s\n", strings.Join(lines, "\n"))
		}
	}
	return b.String() + "\n"
}

// unfolded is a help text as markdown: paragraphs, and lines that stand in from the
// edge as they are.
func unfolded(long string) string {
	var out []string
	indented := false
	for line := range strings.Lines(long) {
		line = strings.TrimRight(line, "\n")
		in := strings.HasPrefix(line, "  ")
		if in != indented && line != "" && len(out) > 0 && out[len(out)-1] != "" {
			out = append(out, "")
		}
		if in {
			line = "  " + line
		}
		indented = in
		out = append(out, line)
	}
	return strings.Join(out, "\n")
}

// flagName finds the flags in a help text: each begins a line.
var flagName = regexp.MustCompile(`(?m)^ +(?:-[a-z], )?--([a-z-]+)`)

func flagTable(c *cobra.Command) string {
	var b strings.Builder
	for _, name := range flagName.FindAllStringSubmatch(c.LocalFlags().FlagUsages(), -1) {
		f := c.Flags().Lookup(name[1])
		standard := f.DefValue
		if standard == "false" || standard == "[]" {
			standard = ""
		}
		if standard != "" {
			standard = "`" + standard + "`"
		}
		fmt.Fprintf(&b, "| `--%s` | %s | %s |\n", f.Name, standard, strings.ReplaceAll(f.Usage, "|", `\|`))
	}
	return b.String()
}

// TestManual: what the sections are made of is there, and a change of a command changes
// them.
func TestManual(t *testing.T) {
	c := &cobra.Command{Use: "stir POT", Short: "Stir", Long: "stir stirs:\n  well\n\nThat is all.", Example: "  stir big\n  stir small",
		Run: func(*cobra.Command, []string) {}}
	root := &cobra.Command{Use: "cook"}
	root.AddCommand(c)
	c.Flags().Int("times", 3, "how often | or not")
	c.Flags().Bool("fast", false, "quickly")
	want := "\n### stir\n\nStir.\n\n    cook stir POT [flags]\n\nstir stirs:\n\n    well\n\nThat is all.\n" +
		"\n| flag | default | is |\n|---|---|---|\n| `--fast` |  | quickly |\n| `--times` | `3` | how often \\| or not |\n" +
		"\nExamples:\n\n    stir big\n    stir small\n\n"
	if got := manual(root); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	for _, real := range command().Commands() {
		if real.Short == "" || real.Example == "" || !strings.Contains(real.Long, "Exit codes:\n  0  ") {
			t.Errorf("%s has no words, example or exit codes", real.Name())
		}
		for line := range strings.Lines(real.Long) {
			if n := len([]rune(strings.TrimRight(line, "\n"))); n > 88 {
				t.Errorf("%s: a line of %d letters: %s", real.Name(), n, line)
			}
		}
	}
}
