package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"sidebatch.example/sidebatch/internal/problem"
)

// fakeTerminal is written to like a terminal.
type fakeTerminal struct{ bytes.Buffer }

func (*fakeTerminal) IsTerminal() bool { return true }

var escape = regexp.MustCompile("\x1b\\[[0-9;]*m")

func environment(t *testing.T, term, noColour, session string) {
	t.Helper()
	t.Setenv("TERM", term)
	t.Setenv("NO_COLOR", noColour)
	t.Setenv("WT_SESSION", session)
}

// TestInk: colour in a terminal only, and not where somebody does not want it. The
// rules of NO_COLOR are those of https://no-color.org.
func TestInk(t *testing.T) {
	for _, tt := range []struct {
		name, term, noColour, session string
		terminal, want                bool
	}{
		{"a terminal", "xterm-256color", "", "", true, true},
		{"a pipe", "xterm-256color", "", "", false, false},
		{"NO_COLOR", "xterm", "1", "", true, false},
		{"NO_COLOR with any text", "xterm", "0", "", true, false},
		{"dumb", "dumb", "", "", true, false},
		{"no kind", "", "", "", true, false},
		{"a newer console of Windows", "", "", "some-id", true, true},
		{"dumb there too", "dumb", "", "some-id", true, false},
	} {
		environment(t, tt.term, tt.noColour, tt.session)
		got := inkFor(&bytes.Buffer{})
		if tt.terminal {
			got = inkFor(&fakeTerminal{})
		}
		if bool(got) != tt.want {
			t.Errorf("%s: %v", tt.name, got)
		}
	}
	environment(t, "xterm", "", "")
	file, err := os.Create(filepath.Join(t.TempDir(), "out"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if inkFor(file) {
		t.Error("a file is no terminal")
	}
}

// TestProblemInColour: the parts have their looks, and without them the text is the
// one line that a pipe gets.
func TestProblemInColour(t *testing.T) {
	at := problem.Pos{File: "a/trial.md", Line: 3, Column: 4}
	for _, tt := range []struct {
		name string
		in   problem.Problem
		want string
	}{
		{"error", problem.Problem{Pos: at, What: "no", Hint: "did you mean yes?"},
			"\x1b[1ma/trial.md:3:4:\x1b[0m\x1b[1;31m no\x1b[0m\x1b[36m (did you mean yes?)\x1b[0m"},
		{"question", problem.Problem{Pos: at, Weight: problem.Question, What: "which"},
			"\x1b[1ma/trial.md:3:4:\x1b[0m\x1b[1;33m question:\x1b[0m which"},
		{"error that reads like a question", problem.Problem{Pos: problem.Pos{File: "a"}, What: "question: x"},
			"\x1b[1ma:\x1b[0m\x1b[1;31m question: x\x1b[0m"},
	} {
		got := ink(true).problem(tt.in)
		if got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
		if plain := escape.ReplaceAllString(got, ""); plain != tt.in.String() || ink(false).problem(tt.in) != tt.in.String() {
			t.Errorf("%s: %q, want %q", tt.name, plain, tt.in)
		}
	}
}

// TestAuditInColour runs the command on a terminal and in a pipe.
func TestAuditInColour(t *testing.T) {
	environment(t, "xterm", "", "")
	folder := t.TempDir()
	note := "---\ntitel: T\nquestion: Q?\nrecipe: {name: R, ingredients: {rice: 200 g white rice}}\nsamples: {a: {control: true}}\n---\n"
	if err := os.Mkdir(filepath.Join(folder, "rice"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, "rice", "trial.md"), []byte(note), 0o644); err != nil {
		t.Fatal(err)
	}
	var coloured fakeTerminal
	var plain, ignored bytes.Buffer
	args := []string{"audit", "--content", folder}
	if code := Run(args, &coloured, &ignored); code != WrongNotes {
		t.Errorf("exit code %d", code)
	}
	Run(args, &plain, &ignored)
	if strings.Contains(plain.String(), "\x1b") || !strings.Contains(plain.String(), "did you mean title?") {
		t.Errorf("in a pipe: %q", plain.String())
	}
	text := coloured.String()
	if strings.Count(text, "\x1b[1;31m") < 1 || strings.Count(text, "\x1b[1;33m") < 1 || escape.ReplaceAllString(text, "") != plain.String() {
		t.Errorf("on a terminal: %q", text)
	}
	var asJSON fakeTerminal
	Run(append(args, "--json"), &asJSON, &ignored)
	if strings.Contains(asJSON.String(), "\x1b") {
		t.Errorf("JSON in colour: %q", asJSON.String())
	}
}

// TestProgress: nothing for a second, then one line that is gone at the end.
func TestProgress(t *testing.T) {
	environment(t, "xterm", "1", "") // NO_COLOR is about colour
	var screen fakeTerminal
	p := startProgress(&screen)
	clock := p.started
	p.now = func() time.Time { return clock }
	after := func(d time.Duration, what string, done int) string {
		clock = p.started.Add(d)
		screen.Reset()
		p.tell(what, done, 40)
		return screen.String()
	}
	for _, step := range []struct {
		name string
		at   time.Duration
		what string
		done int
		want string
	}{
		{"too soon", 999 * time.Millisecond, "trials read", 3, ""},
		{"after a second", time.Second, "trials read", 4, "\rtrials read: 4 of 40\x1b[K"},
		{"again at once", 1050 * time.Millisecond, "trials read", 5, ""},
		{"told late", 1200 * time.Millisecond, "trials read", 2, "\rtrials read: 5 of 40\x1b[K"},
		{"the next work", 1300 * time.Millisecond, "files made", 1, "\rfiles made: 1 of 40\x1b[K"},
	} {
		if got := after(step.at, step.what, step.done); got != step.want {
			t.Errorf("%s: %q, want %q", step.name, got, step.want)
		}
	}
	screen.Reset()
	p.end()
	if got := screen.String(); got != "\r\x1b[K" {
		t.Errorf("at the end: %q", got)
	}
	if got := after(2*time.Second, "files made", 40); got != "" {
		t.Errorf("after the end: %q", got)
	}
	p.end()
	if screen.Len() > 0 {
		t.Errorf("a second end: %q", screen.String())
	}
}

// TestProgressElsewhere: a pipe gets nothing, nor does a terminal without escapes, nor
// one whose work was done within the second.
func TestProgressElsewhere(t *testing.T) {
	for _, tt := range []struct {
		name, term string
		terminal   bool
		took       time.Duration
	}{
		{"a pipe", "xterm", false, time.Minute},
		{"dumb", "dumb", true, time.Minute},
		{"quick work", "xterm", true, time.Second / 2},
	} {
		environment(t, tt.term, "", "")
		var pipe bytes.Buffer
		var screen fakeTerminal
		p := startProgress(&pipe)
		if tt.terminal {
			p = startProgress(&screen)
		}
		p.now = func() time.Time { return p.started.Add(tt.took) }
		p.telling("files made")(1, 2)
		p.end()
		if pipe.Len()+screen.Len() > 0 {
			t.Errorf("%s: %q %q", tt.name, pipe.String(), screen.String())
		}
	}
}
