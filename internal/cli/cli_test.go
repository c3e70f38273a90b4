package cli

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// The test binary is the command itself, so that coverage and the race detector
// see what the scripts do.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"sidebatch": func() { os.Exit(Run(os.Args[1:], os.Stdout, os.Stderr)) },
	})
}

// TestScripts runs every script under testdata/scripts. $KITCHENS is the folder of
// small kitchens, $DEMO the demo kitchen.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/scripts",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"previewed": previewed},
		Condition: func(name string) (bool, error) {
			if name != "raced" {
				return false, fmt.Errorf("unknown condition %q", name)
			}
			return raced, nil
		},
		Setup: func(e *testscript.Env) error {
			for name, folder := range map[string]string{
				"KITCHENS": "../../testdata/kitchens",
				"DEMO":     "../../content",
			} {
				path, err := filepath.Abs(folder)
				if err != nil {
					return err
				}
				e.Setenv(name, path)
			}
			return nil
		},
	})
}

// previewed starts the preview of the script's content folder, asks it for a page, and
// looks there for texts: previewed PATH TEXT...
func previewed(ts *testscript.TestScript, not bool, args []string) {
	if len(args) < 2 || not {
		ts.Fatalf("usage: previewed PATH TEXT...")
	}
	ctx, stop := context.WithCancel(context.Background())
	read, write := io.Pipe()
	done := make(chan error, 1)
	go func() { done <- watching{content: ts.MkAbs("content")}.run(ctx, write, io.Discard) }()
	defer func() {
		stop()
		ts.Check(<-done)
	}()
	line, err := bufio.NewReader(read).ReadString('\n')
	ts.Check(err)
	address, err := url.Parse(strings.TrimSpace(line))
	ts.Check(err)
	address.Path = args[0]
	answer, err := http.Get(address.String())
	ts.Check(err)
	defer answer.Body.Close()
	page, err := io.ReadAll(answer.Body)
	ts.Check(err)
	for _, text := range args[1:] {
		if !regexp.MustCompile(text).Match(page) {
			ts.Fatalf("%s: no %q in\n%.2000s", args[0], text, page)
		}
	}
}
