package trial

import (
	"slices"
	"testing"
)

func TestSheet(t *testing.T) {
	f := File{Name: "pieces.csv", Data: []byte("sample, piece,note\n\nopen,1,'=2\nshort\nopen,2,\"two\nlines\"\n , , \n")}
	heading, rows := f.Sheet()
	if want := []string{"sample", "piece", "note"}; !slices.Equal(heading, want) {
		t.Errorf("heading %q, want %q", heading, want)
	}
	want := [][]string{{"open", "1", "=2"}, {"open", "2", "two\nlines"}}
	if !slices.EqualFunc(rows, want, slices.Equal) {
		t.Errorf("rows %q, want %q", rows, want)
	}
}
