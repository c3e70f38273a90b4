package food

import (
	_ "embed"
	"strings"
)

// The four tables as they came (UTF-8, RFC 4180, CRLF). They lie in the program as they are:
// a table that has to be unpacked takes longer and more memory than a trial whose foods are
// looked up in it. TestTables holds them against the recorded sums.
var (
	//go:embed data/foods.csv
	foodsText string
	//go:embed data/measures.csv
	measuresText string
	//go:embed data/everyday-names.csv
	everydayText string
	//go:embed data/allergens.csv
	allergensText string
)

// The names of the tables, for those who mend them.
const (
	foodsFile     = "foods.csv"
	measuresFile  = "measures.csv"
	everydayFile  = "everyday-names.csv"
	allergensFile = "allergens.csv"
)

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
