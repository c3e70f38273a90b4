package press

import (
	"os"
	"path/filepath"
	"testing"
)

// The cache lies beside the site folder, wherever a link leads.
func TestCacheOf(t *testing.T) {
	top, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(top, "www", "kitchen"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(filepath.Join(top, "www", "kitchen"), filepath.Join(top, "public")); err != nil {
		t.Skip(err)
	}
	for out, want := range map[string]string{
		"public": "www/.kitchen.sidebatch-cache", "www/kitchen/": "www/.kitchen.sidebatch-cache", "none": ".none.sidebatch-cache",
		"none/site": "none/.site.sidebatch-cache", "public/site": "www/kitchen/.site.sidebatch-cache",
	} {
		if got := CacheOf(filepath.Join(top, out)); got != filepath.Join(top, filepath.FromSlash(want)) {
			t.Errorf("%s: %s", out, got)
		}
	}
}
