package cli

import (
	"runtime"
	"runtime/debug"
	"testing"
)

// TestBuild: what is said of each kind of program (the keys are those of package
// runtime/debug).
func TestBuild(t *testing.T) {
	const last = " linux/arm64\n"
	settings := func(pairs ...string) []debug.BuildSetting {
		var all []debug.BuildSetting
		for i := 0; i < len(pairs); i += 2 {
			all = append(all, debug.BuildSetting{Key: pairs[i], Value: pairs[i+1]})
		}
		return all
	}
	for _, c := range []struct {
		name string
		in   *debug.BuildInfo
		want string
	}{
		{"nothing known", nil, "sidebatch development\n"},
		{"outside a repository", &debug.BuildInfo{Main: debug.Module{Version: "(devel)"}, Settings: settings("CGO_ENABLED", "0")}, "sidebatch development\n"},
		{"a test", &debug.BuildInfo{}, "sidebatch development\n"},
		{"a release", &debug.BuildInfo{Main: debug.Module{Version: "v1.4.0"}}, "sidebatch v1.4.0\n"},
		{"as committed", &debug.BuildInfo{Main: debug.Module{Version: "(devel)"}, Settings: settings("vcs.revision", "3f2a", "vcs.modified", "false")},
			"sidebatch development\nrevision 3f2a\n"},
		{"changed", &debug.BuildInfo{Main: debug.Module{Version: "v1.4.1-0.20261101120000-3f2a+dirty"}, Settings: settings("vcs.revision", "3f2a", "vcs.modified", "true")},
			"sidebatch v1.4.1-0.20261101120000-3f2a+dirty\nrevision 3f2a, and files changed since\n"},
		{"a revision alone", &debug.BuildInfo{Settings: settings("vcs.revision", "3f2a")}, "sidebatch development\nrevision 3f2a\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			said := buildOf(c.in)
			said.System, said.Architecture = "linux", "arm64"
			if got, want := said.String(), c.want+runtime.Version()+","+last; got != want {
				t.Errorf("got  %q\nwant %q", got, want)
			}
		})
	}
}
