package browser

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// asked skips the test unless the environment asks for it. Then nothing that it
// needs may be missing.
func asked(t *testing.T) {
	t.Helper()
	switch value := os.Getenv("SIDEBATCH_BROWSER"); value {
	case "required":
	case "":
		t.Skip("finished pages are looked at only where SIDEBATCH_BROWSER=required is set; .ci/run sets it")
	default:
		t.Fatalf("SIDEBATCH_BROWSER is %q (leave it unset, or set it to required)", value)
	}
}

// program returns the first of the programs that is installed.
func program(t *testing.T, names ...string) string {
	t.Helper()
	for _, name := range names {
		if found, err := exec.LookPath(name); err == nil {
			return found
		}
	}
	t.Fatalf("none of %q is installed (.ci/run needs installs it)", names)
	return ""
}

func browserProgram(t *testing.T) string {
	t.Helper()
	return program(t, "chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
}

// checker returns the path of a file of an outside checker, which lies in the
// folder that SIDEBATCH_TOOLS names, or in the user's cache.
func checker(t *testing.T, file string) string {
	t.Helper()
	tools := os.Getenv("SIDEBATCH_TOOLS")
	if tools == "" {
		cache, err := os.UserCacheDir()
		if err != nil {
			t.Fatal(err)
		}
		tools = filepath.Join(cache, "sidebatch-checks")
	}
	found, err := filepath.Abs(filepath.Join(tools, "node_modules", filepath.FromSlash(file)))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(found); err != nil {
		t.Fatalf("there is no %s in the checkers' folder (.ci/run needs installs it; SIDEBATCH_TOOLS names another folder)", file)
	}
	return found
}

// axeSource is the source of axe-core.
func axeSource(t *testing.T) string {
	t.Helper()
	source, err := os.ReadFile(checker(t, "axe-core/axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	return string(source)
}
