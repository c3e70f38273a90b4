// Package cli is the command line: commands, flags, messages and exit codes.
//
// Run returns the exit code and writes where it is told to, so that a test can
// call it like any function. What a command finds out goes to standard output,
// what went wrong to standard error.
package cli

import (
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"
)

// Exit codes, the same for every command.
const (
	Done        = 0 // everything went well; questions about the notes may be open
	WrongNotes  = 1 // the notes have errors
	WrongUsage  = 2 // the command was not called as it can be
	CouldNotRun = 3 // a file or folder could not be read or written
)

// exit carries an exit code out of a command. What had to be said has been said
// when the error inside is nil.
type exit struct {
	code int
	err  error
}

func (e exit) Error() string {
	if e.err == nil {
		return fmt.Sprintf("exit code %d", e.code)
	}
	return e.err.Error()
}

func (e exit) Unwrap() error { return e.err }

// Run runs a command line without the program's name and returns the exit code.
func Run(args []string, stdout, stderr io.Writer) int {
	root := command()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.Execute()
	if err == nil {
		return Done
	}
	var stop exit
	if !errors.As(err, &stop) {
		fmt.Fprintf(stderr, "sidebatch: %v\nsidebatch --help lists the commands\n", err)
		return WrongUsage
	}
	if stop.err != nil {
		fmt.Fprintf(stderr, "sidebatch: %v\n", stop.err)
	}
	return stop.code
}

func command() *cobra.Command {
	root := &cobra.Command{
		Use:   "sidebatch",
		Short: "From the notes of a side-by-side kitchen trial to a published write-up",
		Long: `sidebatch turns the notes of a side-by-side kitchen trial into a published
write-up: the full-size recipe, the experiment, what it showed and how far to
trust it.

Exit codes, in general:
  0  done; there may be questions
  1  the notes have errors
  2  wrong usage
  3  a file or folder could not be read or written

Output is coloured in a terminal, but not where NO_COLOR is set or TERM is dumb.`,
		Example: `  sidebatch audit
  sidebatch publish
  sidebatch publish --content kitchen --out site`,
		SilenceErrors: true,
		SilenceUsage:  true,
	}
	root.AddCommand(publish(), previews(), audit(), setup(), begin(), scale(), foods(), sheet(), tasting(), gather(), blurbs(), version())
	for _, c := range root.Commands() {
		c.Long += "\n\n" + exitsOf(c.Name())
	}
	complete(root)
	return root
}
