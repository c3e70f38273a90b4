package draft

import (
	"bytes"
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/problem"
)

func TestNamed(t *testing.T) {
	for _, tt := range []struct{ standing, name, want string }{
		{"", "Ada Fenn", "household-2: Ada Fenn\n"},
		{"# agreed by letter\nhousehold-1: Ada Fenn", "Bo: the baker", "# agreed by letter\nhousehold-1: Ada Fenn\nhousehold-2: \"Bo: the baker\"\n"},
		{"household-1: Ada\n\n", "no", "household-1: Ada\n\nhousehold-2: \"no\"\n"},
		{"# nobody yet\n", "Ada", "# nobody yet\nhousehold-2: Ada\n"},
		{"household-2: Ada\n", "Bo", ""}, // stands there already
		{"[household-1]\n", "Bo", ""},
		{"{household-1: Ada}\n", "Bo", ""},
		{"household-1: |\n  Ada\n  Fenn\n", "Bo", "household-1: |\n  Ada\n  Fenn\nhousehold-2: Bo\n"},
		{"household-1: |\n  Ada\n  Fenn", "Bo", ""}, // an end of line there would be part of the name
	} {
		got, err := Named([]byte(tt.standing), "household-2", tt.name)
		if (err != nil) != (tt.want == "") || string(got) != tt.want {
			t.Errorf("%q and %s: %q, %v, want %q", tt.standing, tt.name, got, err, tt.want)
		}
	}
}

// FuzzNamed adds a name to any file: what stood there is kept to the byte, and what is
// there afterwards has every name of before and the new one, or nothing is added.
func FuzzNamed(f *testing.F) {
	f.Add([]byte("household-1: Ada Fenn\n"), "Bo")
	f.Add([]byte("household-1: |\n  Ada"), "x: #y")
	f.Add([]byte("# nobody"), "\u202e")
	f.Fuzz(func(t *testing.T, standing []byte, name string) {
		if len(standing)+len(name) > 20_000 {
			return
		}
		got, err := Named(standing, "household-2", name)
		if err != nil {
			if got != nil {
				t.Fatalf("refused, and yet %q", got)
			}
			return
		}
		if !bytes.HasPrefix(got, bytes.TrimSuffix(standing, []byte("\n"))) {
			t.Fatalf("%q became %q", standing, got)
		}
		var problems problem.List
		names := namesIn(got, &problems)
		if before := namesIn(standing, nil); problems.Len() > 0 || len(names) != len(before)+1 || names[len(before)] != [2]string{"household-2", name} {
			t.Fatalf("%q reads as %q: %v", got, names, problems.Sorted())
		}
		if strings.ContainsFunc(name, problem.Acts) && !strings.ContainsAny(name, "\n\t") {
			t.Fatalf("%q was taken", name)
		}
	})
}
