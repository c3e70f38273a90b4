//go:build unix

package cli

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"
)

// patience is how long a test waits for what ought to take a moment.
const patience = 60 * time.Second

// program is sidebatch as a process of its own: the test binary, by that name.
func program(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(self)
	c.Args = append([]string{"sidebatch"}, args...)
	c.WaitDelay = patience
	t.Cleanup(func() {
		if c.ProcessState == nil && c.Process != nil {
			_ = c.Process.Kill()
			_ = c.Wait()
		}
	})
	return c
}

// ends waits for a program, and fails should it not end.
func ends(t *testing.T, c *exec.Cmd) {
	t.Helper()
	late := time.AfterFunc(patience, func() { _ = c.Process.Kill() })
	_ = c.Wait() // its exit code is looked at
	if !late.Stop() {
		t.Fatal("it does not end")
	}
}

func signals() map[string]os.Signal {
	return map[string]os.Signal{"Ctrl-C": os.Interrupt, "asked by the system": syscall.SIGTERM}
}

// A preview ends well while pages wait for news, a connection is kept, and somebody
// never finishes a request. Its port is free at once.
func TestPreviewStops(t *testing.T) {
	for name, signal := range signals() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			c := program(t, "preview", "--content", "../../testdata/kitchens/tiny")
			var stderr bytes.Buffer
			c.Stderr = &stderr
			stdout, err := c.StdoutPipe()
			if err != nil {
				t.Fatal(err)
			}
			if err := c.Start(); err != nil {
				t.Fatal(err)
			}
			line, err := bufio.NewReader(stdout).ReadString('\n')
			if err != nil {
				t.Fatal(err)
			}
			at, err := url.Parse(strings.TrimSpace(line))
			if err != nil {
				t.Fatal(err)
			}
			holdOpen(t, at)
			if err := c.Process.Signal(signal); err != nil {
				t.Fatal(err)
			}
			ends(t, c)
			if code := c.ProcessState.ExitCode(); code != Done || stderr.Len() > 0 {
				t.Errorf("exit code %d, says %q", code, stderr.String())
			}
			again, err := net.Listen("tcp4", at.Host)
			if err != nil {
				t.Fatalf("the port is not free: %v", err)
			}
			again.Close()
		})
	}
}

// holdOpen opens three connections to a preview that do not end by themselves.
func holdOpen(t *testing.T, at *url.URL) {
	t.Helper()
	r, err := http.Get(at.String())
	if err != nil {
		t.Fatal(err)
	}
	page, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	r.Body.Close() // and the connection is kept
	version := regexp.MustCompile(`\?at=(\d+)`).FindSubmatch(page)
	if version == nil {
		t.Fatalf("the page does not say its version: %.500s", page)
	}
	events, err := http.Get(fmt.Sprintf("http://%s/.preview/events?at=%s&page=%s", at.Host, version[1], at.Path))
	if err != nil || events.StatusCode != http.StatusOK {
		t.Fatal(events, err)
	}
	t.Cleanup(func() { events.Body.Close() })
	half, err := net.Dial("tcp", at.Host)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { half.Close() })
	if _, err := io.WriteString(half, "GET / HTTP/1.1\r\nHost: "); err != nil {
		t.Fatal(err)
	}
}

// many is a kitchen of as many trials as it takes to be stopped in the middle.
func many(t *testing.T, trials int) string {
	t.Helper()
	kitchen := filepath.Join(t.TempDir(), "kitchen")
	for i := range trials {
		if err := os.CopyFS(filepath.Join(kitchen, fmt.Sprintf("tea-%d", i)), os.DirFS("../../testdata/kitchens/tiny/two-teas")); err != nil {
			t.Fatal(err)
		}
	}
	return kitchen
}

// A publish that is stopped while it makes files says so, and the old site stands.
func TestPublishStops(t *testing.T) {
	kitchen := many(t, 200)
	for name, signal := range signals() {
		t.Run(name, func(t *testing.T) {
			place := t.TempDir()
			out := filepath.Join(place, "site")
			if code := Run([]string{"publish", "--content", "../../testdata/kitchens/tiny", "--out", out}, io.Discard, io.Discard); code != Done {
				t.Fatalf("exit code %d", code)
			}
			before, there := treeOf(t, out), namesIn(t, place)
			c := program(t, "publish", "--content", kitchen, "--out", out)
			var stdout, stderr bytes.Buffer
			c.Stdout, c.Stderr = &stdout, &stderr
			if err := c.Start(); err != nil {
				t.Fatal(err)
			}
			// What is not there yet is put together beside the site.
			for start := time.Now(); namesIn(t, place) == there; time.Sleep(time.Millisecond) {
				if time.Since(start) > patience {
					t.Fatal("it does not begin")
				}
			}
			if err := c.Process.Signal(signal); err != nil {
				t.Fatal(err)
			}
			ends(t, c)
			if code := c.ProcessState.ExitCode(); code != CouldNotRun {
				t.Errorf("exit code %d", code)
			}
			said := regexp.MustCompile(`^sidebatch: nothing was changed in .*: publishing was stopped: .*signal received\n$`)
			if stdout.Len() > 0 || !said.Match(stderr.Bytes()) {
				t.Errorf("says %q %q", stdout.String(), stderr.String())
			}
			if after := treeOf(t, out); after != before {
				t.Errorf("the site has changed:\n%s\nbefore:\n%s", after, before)
			}
			if now := namesIn(t, place); now != there {
				t.Errorf("beside the site lie %s, before %s", now, there)
			}
		})
	}
}

// A program that cannot end at the first signal, for nobody reads what it says, ends at
// the next.
func TestSecondSignalEnds(t *testing.T) {
	kitchen := t.TempDir()
	wrong := "---\n"
	for i := range 2000 { // what is said of it is more than a pipe holds
		wrong += fmt.Sprintf("surely-no-key-of-a-note-%d: 1\n", i)
	}
	if err := os.Mkdir(filepath.Join(kitchen, "wrong"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(kitchen, "wrong", "trial.md"), []byte(wrong+"---\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	c := program(t, "publish", "--content", kitchen, "--out", filepath.Join(t.TempDir(), "site"))
	stderr, err := c.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := io.ReadFull(stderr, make([]byte, 100)); err != nil { // it has begun to tell, and is stuck
		t.Fatal(err)
	}
	// Two signals that follow closely may be taken for one.
	nagging, done := time.NewTicker(50*time.Millisecond), make(chan struct{})
	defer nagging.Stop()
	go func() {
		defer close(done)
		for range nagging.C {
			if c.Process.Signal(os.Interrupt) != nil {
				return // it has ended
			}
		}
	}()
	ends(t, c)
	<-done
	if status, ok := c.ProcessState.Sys().(syscall.WaitStatus); !ok || !status.Signaled() || status.Signal() != syscall.SIGINT {
		t.Errorf("ended by %v", c.ProcessState)
	}
}

// treeOf lists all files below a folder, with their sizes and times.
func treeOf(t *testing.T, folder string) string {
	t.Helper()
	var list strings.Builder
	err := filepath.WalkDir(folder, func(name string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		info, err := d.Info()
		if err == nil {
			fmt.Fprintln(&list, name, info.Size(), info.ModTime())
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return list.String()
}

// namesIn lists what lies in a folder.
func namesIn(t *testing.T, folder string) string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return strings.Join(names, " ")
}
