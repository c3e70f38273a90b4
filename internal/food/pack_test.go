package food

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"flag"
	"os"
	"path/filepath"
	"testing"
)

// The tables are packed by this test and nothing else:
//
//	go test ./internal/food -run TestPacked -pack FOLDER
//
// takes the four CSV files from FOLDER, checks them against the sums below, and
// writes data/*.csv.gz. Without the flag it proves that what is embedded unpacks
// to those sums. A gzip header without a name and a time makes the same bytes
// every time; a newer Go may compress otherwise, to the same content.
var packFrom = flag.String("pack", "", "folder with the four CSV files to pack into data/")

// sums are the SHA-256 of the four files as recorded in data/SOURCES.md.
func sums() map[string]string {
	return map[string]string{
		foodsFile:     "3fa9abfbc574e58152ae0de676878e6135c1b637edc902bfb4939193ce6f4cd0",
		measuresFile:  "885527ce686a06401f5fc45291271c5b2acb86cd6fc4ef316dcbb8e065fdb2a2",
		everydayFile:  "cfbaa05132d37fab88feac20b8575eb39319e2a8948729c062226c72b244c96c",
		allergensFile: "af713c7e0ab0f39c1db85ac592056d22ce58151ba7cc88b57d2d61f7d15452a8",
	}
}

func TestPacked(t *testing.T) {
	record, err := os.ReadFile("data/SOURCES.md")
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range sums() {
		t.Run(name, func(t *testing.T) {
			if *packFrom != "" {
				plain, err := os.ReadFile(filepath.Join(*packFrom, name))
				if err != nil {
					t.Fatal(err)
				}
				if got := sum(plain); got != want {
					t.Fatalf("%s has the sum %s, want %s", name, got, want)
				}
				if err := os.WriteFile(filepath.Join("data", name+".gz"), pack(t, plain), 0o644); err != nil {
					t.Fatal(err)
				}
				t.Skip("packed; run again without -pack to check what is embedded")
			}
			text, err := unpack(name)
			if err != nil {
				t.Fatal(err)
			}
			if got := sum([]byte(text)); got != want {
				t.Errorf("embedded %s unpacks to the sum %s, want %s", name, got, want)
			}
			if a, b := pack(t, []byte(text)), pack(t, []byte(text)); !bytes.Equal(a, b) {
				t.Errorf("packing %s twice gives different bytes", name)
			}
			if !bytes.Contains(record, []byte(want)) {
				t.Errorf("data/SOURCES.md does not record the sum of %s", name)
			}
		})
	}
}

func pack(t *testing.T, plain []byte) []byte {
	t.Helper()
	var out bytes.Buffer
	w, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write(plain); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func sum(b []byte) string {
	s := sha256.Sum256(b)
	return hex.EncodeToString(s[:])
}
