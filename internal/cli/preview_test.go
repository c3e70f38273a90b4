package cli

import (
	"bufio"
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// preview prints its address, serves, writes nothing, and ends when it is told to.
func TestPreview(t *testing.T) {
	content := t.TempDir()
	if err := os.CopyFS(content, os.DirFS("../../testdata/kitchens/tiny")); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	read, write := io.Pipe()
	var wrong strings.Builder
	done := make(chan error, 1)
	go func() { done <- watching{content: content}.run(ctx, write, &wrong) }()
	line, err := bufio.NewReader(read).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	if !regexp.MustCompile(`^http://127\.0\.0\.1:\d+/two-teas/\n$`).MatchString(line) {
		t.Errorf("printed %q", line)
	}
	r, err := http.Get(strings.TrimSpace(line))
	if err != nil {
		t.Fatal(err)
	}
	page, err := io.ReadAll(r.Body)
	if err != nil || !strings.Contains(string(page), "Lid on the pot?") {
		t.Errorf("the page: %v, %.200s", err, page)
	}
	r.Body.Close()
	stop()
	select {
	case err := <-done:
		if err != nil || wrong.Len() > 0 {
			t.Errorf("ended with %v, said %q", err, wrong.String())
		}
	case <-time.After(20 * time.Second):
		t.Fatal("does not end")
	}
	if files, err := filepath.Glob(filepath.Join(content, "*")); err != nil || len(files) != 2 {
		t.Errorf("files beside kitchen and trial: %q %v", files, err)
	}
}
