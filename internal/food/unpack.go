package food

import (
	"bytes"
	"compress/gzip"
	"embed"
	"encoding/binary"
	"fmt"
	"io"
	"strings"
)

// packed holds the four tables as they came (UTF-8, RFC 4180, CRLF), each
// compressed on its own so that a question opens only what it needs. The test
// TestPacked says how they are made and proves that they unpack to the recorded
// bytes.
//
//go:embed data/foods.csv.gz data/measures.csv.gz data/everyday-names.csv.gz data/allergens.csv.gz
var packed embed.FS

const (
	foodsFile     = "foods.csv"
	measuresFile  = "measures.csv"
	everydayFile  = "everyday-names.csv"
	allergensFile = "allergens.csv"
)

// largest bounds what a table may unpack to, in bytes.
const largest = 8 << 20

// unpack returns the text of one embedded table.
func unpack(name string) (string, error) {
	squeezed, err := packed.ReadFile("data/" + name + ".gz")
	if err != nil {
		return "", fmt.Errorf("food table %s: %w", name, err)
	}
	r, err := gzip.NewReader(bytes.NewReader(squeezed))
	if err != nil {
		return "", fmt.Errorf("food table %s: %w", name, err)
	}
	// The file ends in the size of what is in it (RFC 1952, 2.3.1, ISIZE).
	size := binary.LittleEndian.Uint32(squeezed[len(squeezed)-4:])
	var text strings.Builder
	text.Grow(int(min(size, largest)))
	if _, err := io.Copy(&text, io.LimitReader(r, largest)); err != nil {
		return "", fmt.Errorf("food table %s: %w", name, err)
	}
	return text.String(), nil
}

// lines cuts a table into its lines after the heading. No field of these tables
// holds a line break, which TestWhole checks against a full CSV reader.
func lines(text string) []string {
	rows := make([]string, 0, strings.Count(text, "\n"))
	for len(text) > 0 {
		line, rest, _ := strings.Cut(text, "\r\n")
		rows = append(rows, line)
		text = rest
	}
	if len(rows) == 0 {
		return nil
	}
	return rows[1:]
}

// field takes the first CSV field off a line; more says whether a comma
// followed it. It allocates only for a field with a doubled quote in it.
func field(line string) (value, rest string, more bool) {
	if !strings.HasPrefix(line, `"`) {
		return strings.Cut(line, ",")
	}
	end := 1
	for end < len(line) {
		if line[end] != '"' {
			end++
			continue
		}
		if end+1 < len(line) && line[end+1] == '"' {
			end += 2
			continue
		}
		break
	}
	value = line[1:min(end, len(line))]
	if strings.Contains(value, `""`) {
		value = strings.ReplaceAll(value, `""`, `"`)
	}
	rest, more = strings.CutPrefix(line[min(end+1, len(line)):], ",")
	return value, rest, more
}

// fields fills into with the fields of a line and says whether there were
// exactly as many.
func fields(line string, into []string) bool {
	more := true
	for i := range into {
		if !more {
			return false
		}
		into[i], line, more = field(line)
	}
	return !more && line == ""
}
