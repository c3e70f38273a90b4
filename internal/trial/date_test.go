package trial

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

// TestDateString: a date as ISO 8601-1:2019, 5.2.2.1, has it, and whatever is none as well as
// can be.
func TestDateString(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.OneOf(rapid.IntRange(-5, 32), rapid.IntRange(-20000, 20000))
		d := Date{n.Draw(t, "year"), n.Draw(t, "month"), n.Draw(t, "day")}
		want := fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
		if d.IsZero() {
			want = ""
		}
		if got := d.String(); got != want {
			t.Fatalf("%q, want %q", got, want)
		}
	})
}
