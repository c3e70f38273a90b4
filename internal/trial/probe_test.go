package trial

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
)

// readProbe reads the plain note, with more keys if wanted, and a thermometer log.
func readProbe(note, log string, k kitchen.Kitchen) (*Trial, string) {
	content := fstest.MapFS{
		"rice/trial.md":      {Data: []byte(strings.Replace(plainNote, "measures:", note+"measures:", 1))},
		"rice/probe-pot.csv": {Data: []byte(log)},
	}
	var problems problem.List
	t := Read(Folder{FS: content, Slug: "rice"}, k, &problems)
	var said strings.Builder
	for _, p := range problems.Sorted() {
		fmt.Fprintln(&said, strings.TrimPrefix(p.String(), "rice/"), "["+string(p.Code)+"]")
	}
	return t, said.String()
}

// shownProbes writes down what was read: seconds and temperatures in °C, a gap as a
// dash.
func shownProbes(t *Trial) string {
	var b strings.Builder
	for _, p := range t.Probes {
		b.WriteString(strings.Join(p.Probes, "|") + ":")
		for _, row := range p.Rows {
			b.WriteString(" " + row.Seconds.String())
			for _, r := range row.Temperatures {
				if r.Missing {
					b.WriteString(",-")
				} else {
					b.WriteString("," + r.Value.String())
				}
			}
		}
	}
	return b.String()
}

func TestProbeTimes(t *testing.T) {
	tests := []struct {
		name, log string
		note      string
		want      string // empty where the log is not read
		problems  string // beginnings of what is said, one a line
	}{
		{name: "seconds", log: "time,a\n0,20\n30,21\n", want: "a: 0,20 30,21"},
		{name: "seconds from the first row", log: "time,a\n100,20\n130.5,21\n", want: "a: 0,20 30.5,21"},
		{name: "seconds with a comma", log: "time;a\n0,0;20,5\n0,5;21\n", want: "a: 0,20.5 0.5,21"},
		{name: "seconds in words", log: "time,a\n0 s,20\n1 min 10 s,21\n", want: "a: 0,20 70,21"},
		{name: "minutes by their heading", log: "Time (min),a\n0,20\n1.5,21\n", want: "a: 0,20 90,21"},
		{name: "minutes and seconds", log: "time,a\n0:00,20\n0:30,21\n59:59,22\n1:00:00,23\n", want: "a: 0,20 30,21 3599,22 3600,23"},
		{name: "hours, minutes and seconds", log: "time,a\n0:00:00,20\n1:10:00,21\n", want: "a: 0,20 4200,21"},
		{name: "a time of day", log: "time,a\n18:03:05,20\n18:03:05.25,21\n", want: "a: 0,20 0.25,21"},
		{name: "over midnight", log: "time,a\n23:59:50,20\n0:00:10,21\n0:00:40,22\n", want: "a: 0,20 20,21 50,22"},
		{name: "over two midnights", log: "time,a\n20:00:00,20\n2:00:00,21\n20:00:00,22\n2:00:00,23\n", want: "a: 0,20 21600,21 86400,22 108000,23"},
		{name: "hours and minutes by their heading", log: "time (h:min),a\n23:59,20\n0:01,21\n", want: "a: 0,20 120,21"},
		{name: "minutes and seconds by their heading", log: "time [mm:ss],a\n18:03,20\n18:04,21\n", want: "a: 0,20 1,21"},
		{name: "a clock of twelve hours", log: "time,a\n11:59:30 AM,20\n12:00 pm,21\n1:00:00 p.m.,22\n", want: "a: 0,20 30,21 3630,22"},
		{name: "midnight of twelve hours", log: "time,a\n11:59 PM,20\n12:00 AM,21\n", want: "a: 0,20 60,21"},
		{name: "ISO 8601", log: "time,a\n2026-02-14T18:03:05,20\n2026-02-15T00:00:05,21\n", want: "a: 0,20 21420,21"},
		{name: "ISO 8601 with zones", log: "time,a\n2026-10-25T02:59:30+02:00,20\n2026-10-25T02:00:00+01:00,21\n2026-10-25T01:00:30Z,22\n", want: "a: 0,20 30,21 60,22"},
		{name: "a space between", log: "timestamp,a\n2026-02-14 18:03:05,20\n2026-02-14 18:03:05.5,21\n", want: "a: 0,20 0.5,21"},
		{name: "days with points", log: "Zeit,a\n", problems: "probe-pot.csv: there is no heading line"},
		{name: "days first by a number above 12", log: "time,a\n14.02.2026 18:03,20\n14.02.2026 18:04,21\n", want: "a: 0,20 60,21"},
		{name: "days first with slashes", log: "Date/Time,a\n\"14/02/2026, 18:03\",20\n15/02/2026 18:03,21\n", want: "a: 0,20 86400,21"},
		{name: "months first", log: "time,a\n2/14/2026 6:03 PM,20\n2/14/2026 6:04 PM,21\n", want: "a: 0,20 60,21"},
		{name: "settled by a later row", log: "time,a\n12/02/2026 23:59,20\n13/02/2026 00:01,21\n", want: "a: 0,20 120,21"},
		{name: "day and time in two columns", log: "date,time,a\n2026-02-14,23:59,20\n2026-02-15,0:01,21\n", want: "a: 0,20 120,21"},
		{name: "a leap day", log: "time,a\n2028-02-28 00:00,20\n2028-03-01 00:00,21\n", want: "a: 0,20 172800,21"},
		{name: "no matter which", log: "time,a\n1/2/2026 18:03,20\n1/2/2026 18:04,21\n", want: "a: 0,20 60,21",
			problems: "probe-pot.csv:2:1: question: “1/2/2026 18:03” can be 2026-02-01 (day first) or 2026-01-02 (month first) (say in the note how the logs are written, like logs: {dates: day first}) [unsure-time]"},
		{name: "either", log: "time,a\n1/2/2026 23:59,20\n2/2/2026 00:01,21\n",
			problems: "probe-pot.csv:2:1: “1/2/2026 23:59” can be 2026-02-01 (day first) or 2026-01-02 (month first)"},
		{name: "the note says day first", log: "time,a\n1/2/2026 23:59,20\n2/2/2026 00:01,21\n", note: "logs: {dates: day first}\n", want: "a: 0,20 120,21"},
		{name: "the note says month first", log: "time,a\n1/2/2026 23:59,20\n2/2/2026 00:01,21\n", note: "logs: {dates: month first}\n", want: "a: 0,20 2592120,21"}, // 2 January to 2 February
		{name: "the note says what cannot be", log: "time,a\n2/14/2026 6:03,20\n", note: "logs: {dates: day first}\n",
			problems: "probe-pot.csv:2:1: “2/14/2026 6:03” is not a day (the note says that days are written day first) [bad-date]"},
		{name: "a year of two digits", log: "time,a\n14/02/26 18:03,20\n15/02/26 18:03,21\n",
			problems: "probe-pot.csv:2:1: “14/02/26 18:03” can be 2026-02-14 (day first) or 2014-02-26 (year first)"},
		{name: "a year of two digits, said", log: "time,a\n14/02/26 18:03,20\n15/02/26 18:03,21\n", note: "logs: {dates: day first}\n", want: "a: 0,20 86400,21"},
		{name: "no days at all", log: "time,a\n31/02/2026 18:03,20\n", problems: "probe-pot.csv:2:1: the days of this log are days in no order"},
		{name: "minutes or hours", log: "time,a\n18:03,20\n18:04,21\n",
			problems: "probe-pot.csv:2:1: “18:03” can be 18 min 03 s from the start, or the time of day (name the column time (min:s) or time (h:min)) [unsure-time]"},
		{name: "two ways in one log", log: "time,a\n0:00,20\n30,21\n60,22\n",
			problems: "probe-pot.csv:3:1: “30” is written in another way than the time in line 2, “0:00” (keep to one way in a log) [bad-reading]"},
		{name: "no time", log: "time,a\n0,20\nsoon,21\n60,22\n", want: "a: 0,20 60,22", problems: "probe-pot.csv:3:1: “soon” is not a time"},
		{name: "sixty", log: "time,a\n0:00,20\n0:60,21\n", want: "a: 0,20", problems: "probe-pot.csv:3:1: “0:60” is not a time"},
		{name: "a hand past twelve", log: "time,a\n13:00 PM,21\n", problems: "probe-pot.csv:2:1: “13:00 PM” is not a time"},
		{name: "back in time", log: "time,a\n0:00,20\n0:40,21\n0:30,22\n0:50,23\n", want: "a: 0,20 40,21 50,23",
			problems: "probe-pot.csv:4:1: “0:30” is not after the row before it [bad-reading]"},
		{name: "back on one day", log: "time,a\n18:03:05,20\n17:03:05,21\n", want: "a: 0,20", problems: "probe-pot.csv:3:1: “17:03:05” is not after the row before it"},
		{name: "without seconds", log: "time,a\n2026-02-14 18:03,20\n2026-02-14 18:03,21\n", want: "a: 0,20",
			problems: "probe-pot.csv:3:1: “2026-02-14 18:03” is not after the row before it (let the thermometer write seconds)"},
		{name: "the end of summer time", log: "time,a\n2026-10-25 02:58:00,20\n2026-10-25 02:59:00,21\n2026-10-25 02:00:00,22\n", want: "a: 0,20 60,21",
			problems: "probe-pot.csv:4:1: “2026-10-25 02:00:00” is an hour earlier than it should be: was the clock put back, as at the end of summer time? (add an hour"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			trial, said := readProbe(tt.note, tt.log, kitchen.Default())
			if got := shownProbes(trial); got != tt.want {
				t.Errorf("read %q, want %q", got, tt.want)
			}
			checkSaid(t, said, tt.problems)
			if tt.problems == "" {
				checkPublished(t, trial)
			}
		})
	}
}

// checkSaid holds problems, one a line, against their beginnings.
func checkSaid(t *testing.T, said, want string) {
	t.Helper()
	got, wanted := strings.Split(strings.TrimSuffix(said, "\n"), "\n"), strings.Split(want, "\n")
	for i, line := range wanted {
		if len(got) != len(wanted) || !strings.HasPrefix(got[i], line) || line == "" && got[i] != "" {
			t.Errorf("said:\n%s\nwant:\n%s", said, want)
			return
		}
	}
}

// checkPublished: the log as it is published reads the same, whatever the note says.
func checkPublished(t *testing.T, trial *Trial) {
	t.Helper()
	again, said := readProbe("", string(trial.Files[len(trial.Files)-1].Data), kitchen.Default())
	if shownProbes(again) != shownProbes(trial) || said != "" {
		t.Errorf("published it reads %q\n%s\n%s", shownProbes(again), said, trial.Files[len(trial.Files)-1].Data)
	}
}

func TestProbeColumns(t *testing.T) {
	tests := []struct {
		name, log string
		want      string
		problems  string
	}{
		{name: "no unit", log: "time,a\n0,20\n", want: "a: 0,20"},
		{name: "°F in brackets", log: "time,crumb (°F)\n0,212\n", want: "crumb: 0,100"},
		{name: "C in brackets", log: "time,crumb [C]\n0,20\n", want: "crumb: 0,20"},
		{name: "a unit behind an underscore", log: "time,crumb_F\n0,212\n", want: "crumb: 0,100"},
		{name: "a unit behind a space", log: "time,Temp °C\n0,20\n", want: "Temp: 0,20"},
		{name: "another sign for degrees", log: "time,Temp ºF,Rim ℃\n0,212,20\n", want: "Temp|Rim: 0,100,20"},
		{name: "degrees in letters", log: "time,core deg F\n0,212\n", want: "core: 0,100"},
		{name: "only a unit", log: "time,°F\n0,212\n", want: "°F: 0,100"},
		{name: "letters that are names", log: "time,probe_A,probe_B,probe_C\n0,20,21,22\n", want: "probe_A|probe_B|probe_C: 0,20,21,22"},
		{name: "both units of one probe", log: "time,core (°C),core (°F)\n0,100,212\n", want: "core|core (°F): 0,100,100"},
		{name: "a remark in brackets", log: "time,pan (left)\n0,20\n", want: "pan (left): 0,20"},
		{name: "a unit in the cell", log: "time,crumb (°F)\n0,100 °C\n", want: "crumb: 0,100"},
		{name: "decimal commas", log: "time;a;b (°F)\n0;20,5;212,0\n1;-18,25;\n", want: "a|b: 0,20.5,100 1,-18.25,-"},
		{name: "gaps", log: "time,a,b,c,d\n0,,---,n/a,ERR\n1,OL,NaN,-,20\n2,#N/A,no probe,–,21\n", want: "a|b|c|d: 0,-,-,-,- 1,-,-,-,20 2,-,-,-,21"},
		{name: "lines of the instrument", log: "Model: X-1\nSerial no.,0042\nStarted,2026-02-14 18:03\n\nNo.,Time,crumb (°C)\n1,0:00,20\n2,0:30,21\n", want: "crumb: 0,20 30,21"},
		{name: "a remark", log: "time,a,note\n0,20,in\n", want: "a: 0,20"},
		{name: "no temperature", log: "time,a,rh (%),weight (g)\n0,20,55,100\n", want: "a: 0,20",
			problems: "probe-pot.csv:1:8: question: \"rh (%)\" is no temperature, and is not read\nprobe-pot.csv:1:15: question: \"weight (g)\" is no temperature"},
		{name: "no reading", log: "time,a\n0,warm\n1,20\n", want: "a: 0,- 1,20", problems: "probe-pot.csv:2:3: temperature: “warm” is not a temperature"},
		{name: "hot", log: "time,a\n0,20\n1,425\n2,450\n", want: "a: 0,20 1,425 2,450",
			problems: "probe-pot.csv:3:3: question: 425 °C is hot for a kitchen: is \"a\" in °F? (write a (°F) or a (°C) in the heading)"},
		{name: "hot, but said", log: "time,a (°C)\n0,425\n", want: "a: 0,425"},
		{name: "below nothing", log: "time,a\n0,-300\n", want: "a: 0,-300", problems: "probe-pot.csv:2:3: nothing is colder than −273.15 °C"},
		{name: "no heading", log: "0,20\n1,21\n", problems: "probe-pot.csv: there is no heading line among the first 30 (the heading names the time and at least one more column) [bad-header]"},
		{name: "rows of another length", log: "time,a\n0,20,1\n1,21\n", want: "a: 0,21", problems: "probe-pot.csv:2:1: the row has 3 cells"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			trial, said := readProbe("", tt.log, kitchen.Default())
			if got := shownProbes(trial); got != tt.want {
				t.Errorf("read %q, want %q", got, tt.want)
			}
			checkSaid(t, said, tt.problems)
			if tt.problems == "" {
				checkPublished(t, trial)
			}
		})
	}
}

// TestProbeFahrenheit: in a kitchen whose thermometer reads °F a column without a
// unit is asked about.
func TestProbeFahrenheit(t *testing.T) {
	k := kitchen.Default()
	k.Instruments.Thermometer = quantity.New(quantity.Int(1), quantity.FahrenheitDegree)
	_, said := readProbe("", "time,a,b (°F)\n0,165,165\n", k)
	checkSaid(t, said, "probe-pot.csv:1:6: the readings of \"a\" can be °C, or °F, which the kitchen's thermometer reads (write a (°F) or a (°C) in the heading) [unsure-number]")
	if _, said := readProbe("", "time,a\n0,165 °F\n", k); said != "" {
		t.Errorf("a unit in every cell is enough: %s", said)
	}
}

// FuzzProbe reads any bytes as a thermometer's log: the times of what was read go
// forward from 0, and published it reads the same.
func FuzzProbe(f *testing.F) {
	for _, seed := range []string{
		"time,a\n0:00,20\n0:30,---\n", "Model: X\n\nDate,Time,crumb_F,probe_C\n14.02.2026,18:03,212,20\n", "time;a\n1/2/2026 11:59 PM;20,5\n",
		"time,a\n23:59:50,20\n0:00:10,21\n", "time (min)\tcore °C\n1,5\t20\n", "time,a\n2026-10-25T02:00:00.5+02:00,20\n",
	} {
		f.Add([]byte(seed), uint8(0))
		f.Add([]byte(seed), uint8(1))
	}
	f.Fuzz(func(t *testing.T, log []byte, note uint8) {
		if len(log) > 20_000 {
			return
		}
		more := []string{"", "logs: {dates: day first}\n", "logs: {dates: month first, decimals: point}\n", "logs: {dates: year first, decimals: comma}\n"}[note%4]
		trial, said := readProbe(more, string(log), kitchen.Default())
		for _, p := range trial.Probes {
			for i, row := range p.Rows {
				if i == 0 && row.Seconds.Sign() != 0 || i > 0 && row.Seconds.Cmp(p.Rows[i-1].Seconds) <= 0 || len(row.Temperatures) != len(p.Probes) {
					t.Fatalf("row %d: %v", i, row)
				}
			}
		}
		if said == "" && len(trial.Probes) == 1 && len(trial.Probes[0].Probes) > 0 {
			checkPublished(t, trial)
		}
	})
}
