package food

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"os"
	"testing"
)

// texts are the tables by name, with their SHA-256 as recorded in data/SOURCES.md.
func texts() map[string]struct{ text, sum string } {
	return map[string]struct{ text, sum string }{
		foodsFile:     {foodsText, "3fa9abfbc574e58152ae0de676878e6135c1b637edc902bfb4939193ce6f4cd0"},
		measuresFile:  {measuresText, "885527ce686a06401f5fc45291271c5b2acb86cd6fc4ef316dcbb8e065fdb2a2"},
		everydayFile:  {everydayText, "cfbaa05132d37fab88feac20b8575eb39319e2a8948729c062226c72b244c96c"},
		allergensFile: {allergensText, "af713c7e0ab0f39c1db85ac592056d22ce58151ba7cc88b57d2d61f7d15452a8"},
	}
}

// TestTables: what is in the program is what was recorded, whatever a checkout makes of line
// ends.
func TestTables(t *testing.T) {
	record, err := os.ReadFile("data/SOURCES.md")
	if err != nil {
		t.Fatal(err)
	}
	for name, table := range texts() {
		sum := sha256.Sum256([]byte(table.text))
		if got := hex.EncodeToString(sum[:]); got != table.sum {
			t.Errorf("%s has the sum %s, want %s", name, got, table.sum)
		}
		if !bytes.Contains(record, []byte(table.sum)) {
			t.Errorf("data/SOURCES.md does not record the sum of %s", name)
		}
	}
}
