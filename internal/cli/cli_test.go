package cli

import (
	"os"
	"path/filepath"
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
