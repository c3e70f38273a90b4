package kitchen

import (
	"net/url"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/problem"
)

// FuzzRead reads any bytes as a kitchen file: no panic, every problem at a place in the
// file, the same kitchen on a second reading, and only numbers and addresses that pages
// can be made with, whatever was wrong.
func FuzzRead(f *testing.F) {
	files, _ := filepath.Glob("../../testdata/kitchens/*/" + File)
	for _, file := range append(files, "../../content/"+File) {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte("altitude: 99999999 m\nsizes: [1e99, 0, -1/2]\naddress: javascript:x\npeople: {a: [b]}\n"))
	f.Add([]byte("instruments: {scale: {step: 0 g}}\nunits: [us, us]\nallergens: none\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		if len(src) > 20_000 {
			return
		}
		var problems, again problem.List
		k := Read("k.yaml", src, &problems)
		lines := strings.Count(strings.ReplaceAll(string(src), "\r", "\n"), "\n") + 1
		for _, p := range problems.Sorted() {
			if p.Pos.File != "k.yaml" || p.Pos.Line < 0 || p.Pos.Line > lines || p.What == "" || p.Code == "" {
				t.Fatalf("%#v in a file of %d lines", p, lines)
			}
		}
		if other := Read("k.yaml", src, &again); !reflect.DeepEqual(k, other) || !reflect.DeepEqual(problems.Sorted(), again.Sorted()) {
			t.Fatal("two readings differ")
		}
		if k.Altitude < lowest || k.Altitude > highest {
			t.Fatalf("%g m", k.Altitude)
		}
		if len(k.Sizes) == 0 || len(k.Sizes) > mostSizes || len(k.People) > mostPeople {
			t.Fatalf("%d sizes, %d people", len(k.Sizes), len(k.People))
		}
		for _, s := range k.Sizes {
			if s.Of.Sign() <= 0 {
				t.Fatalf("a size of %s", s.Of)
			}
		}
		for _, address := range []string{k.Address, k.Licence.Address} {
			if u, err := url.Parse(address); address != "" && (err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Host == "") {
				t.Fatalf("the address %q", address)
			}
		}
	})
}
