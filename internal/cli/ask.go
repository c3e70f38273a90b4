package cli

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"golang.org/x/term"
)

// errStopped says that the answers ended before the questions did.
var errStopped = errors.New("stopped before the last question: nothing was written")

// isTerminal reports whether somebody can be asked.
func isTerminal(in io.Reader) bool {
	file, ok := in.(*os.File)
	return ok && term.IsTerminal(int(file.Fd()))
}

// asker asks questions, one line each.
type asker struct {
	in  *bufio.Reader
	out io.Writer
}

func (a asker) tell(format string, args ...any) { fmt.Fprintf(a.out, format+"\n", args...) }

// line asks for a line; an empty one is the answer that stands in brackets. The end of
// the input, as Ctrl-D makes it, stops everything.
func (a asker) line(question, otherwise string) (string, error) {
	if otherwise != "" {
		question += " [" + otherwise + "]"
	}
	fmt.Fprint(a.out, question+": ")
	text, err := a.in.ReadString('\n')
	text = strings.TrimSpace(text)
	if err != nil && text == "" {
		fmt.Fprintln(a.out)
		return "", errStopped
	}
	if text == "" {
		text = otherwise
	}
	return text, nil
}

// checked asks until an answer is right; wrong says what is not.
func (a asker) checked(question, otherwise string, wrong func(string) string) (string, error) {
	for {
		text, err := a.line(question, otherwise)
		if err != nil {
			return "", err
		}
		what := wrong(text)
		if what == "" {
			return text, nil
		}
		a.tell("  %s", what)
	}
}

// number asks for a whole number.
func (a asker) number(question string, otherwise, most int) (int, error) {
	n := 0
	_, err := a.checked(question, strconv.Itoa(otherwise), func(text string) string {
		var err error
		if n, err = strconv.Atoi(text); err != nil || n < 1 || n > most {
			return fmt.Sprintf("a whole number from 1 to %d is needed", most)
		}
		return ""
	})
	return n, err
}

// yes asks a question that yes or no answers.
func (a asker) yes(question string) (bool, error) {
	text, err := a.checked(question, "yes", func(text string) string {
		switch strings.ToLower(text) {
		case "y", "yes", "n", "no":
			return ""
		}
		return "yes or no is needed"
	})
	return strings.HasPrefix(strings.ToLower(text), "y"), err
}
