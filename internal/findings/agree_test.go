package findings

import (
	"testing"

	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/trial"
)

func TestAgrees(t *testing.T) {
	count := Value{Text: "5 of 6", exact: figure{count: 5, n: 6, share: true}}
	seconds := Value{Text: "31.2 s", exact: figure{amount: 31.18, unit: quantity.Second}}
	minute := Value{Text: "1 min 12 s", exact: figure{amount: 72.4, unit: quantity.Second}}
	cooking := Value{Text: "18 min 3 s", exact: figure{amount: 1083, unit: quantity.Second}}
	surface := Value{Text: "374.3 °F", exact: figure{amount: 374.33, unit: quantity.Fahrenheit}}
	width := Value{Text: "63.4 mm", exact: figure{amount: 63.37, unit: quantity.Millimeter}}
	score := Value{Text: "4.5", exact: figure{amount: 4.5, unit: quantity.Each}}
	hydration := Value{Text: "62 %", exact: figure{amount: 61.7, unit: quantity.Each}}
	tests := []struct {
		name  string
		value Value
		words string
		want  bool
	}{
		{"its own words", count, "5 of 6", true},
		{"with no-break spaces", count, "5\u00a0of\u00a06", true},
		{"as a fraction", count, "5/6", true},
		{"out of", count, "5 out of 6", true},
		{"as a percentage", count, "83 %", true},
		{"as a finer percentage", count, "83.3 %", true},
		{"a wrong percentage", count, "84 %", false},
		{"another count", count, "6 of 6", false},
		{"the same share of another number", count, "10 of 12", false},
		{"words", count, "most of them", false},
		{"nothing", count, "", false},
		{"whole seconds", seconds, "31 s", true},
		{"tenths", seconds, "31.2 s", true},
		{"a wrong tenth", seconds, "31.1 s", false},
		{"as a clock", seconds, "0:31", true},
		{"about", seconds, "about 31 s", true},
		{"in words", seconds, "31 seconds", true},
		{"without a unit", seconds, "31", true},
		{"of another kind", seconds, "31 mm", false},
		{"minutes and seconds", minute, "1 min 12 s", true},
		{"a clock", minute, "1:12", true},
		{"in seconds", minute, "72 s", true},
		{"a second off", minute, "1:13", false},
		{"to the minute", cooking, "18 min", true},
		{"a minute off", cooking, "19 min", false},
		{"minutes in decimals", minute, "1.2 min", true},
		{"degrees", surface, "374 °F", true},
		{"in the other scale", surface, "190 °C", true},
		{"in the other scale, wrong", surface, "191 °C", false},
		{"millimetres", width, "63 mm", true},
		{"in centimetres", width, "6.3 cm", true},
		{"a half rounds either way", score, "5", true},
		{"a half rounds either way down", score, "4", true},
		{"a percentage", hydration, "62 %", true},
		{"a range says nothing exact", width, "60–65 mm", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.value.Agrees(tt.words); got != tt.want {
				t.Errorf("%q agrees with %q: %v, want %v", tt.words, tt.value.Text, got, tt.want)
			}
		})
	}
}

func TestMeasured(t *testing.T) {
	seconds := trial.Measure{Kind: trial.Time, In: quantity.Second}
	celsius := trial.Measure{Kind: trial.Temperature, In: quantity.Celsius}
	fahrenheit := trial.Measure{Kind: trial.Temperature, In: quantity.Fahrenheit}
	inches := trial.Measure{Kind: trial.Length, In: quantity.Inch}
	score := trial.Measure{Kind: trial.Score}
	tests := []struct{ name, got, want string }{
		{"seconds", Measured(seconds, 31.24, 1), "31.2 s"},
		{"half away from zero", Measured(seconds, 0.25, 1), "0.3 s"},
		{"just under a minute", Measured(seconds, 59.94, 1), "59.9 s"},
		{"what rounds to a minute is one", Measured(seconds, 59.97, 1), "1 min"},
		{"minutes", Measured(seconds, 72.4, 1), "1 min 12 s"},
		{"hours", Measured(seconds, 3900, 0), "1 h 5 min"},
		{"celsius", Measured(celsius, 97.82, 1), "97.8 °C"},
		{"below zero", Measured(celsius, -17.96, 1), "−18.0 °C"},
		{"no minus nought", Measured(celsius, -0.04, 1), "0.0 °C"},
		{"fahrenheit", Measured(fahrenheit, 100, 0), "212 °F"},
		{"inches", Measured(inches, 25.4, 0), "1.00 in"},
		{"a score has no unit", Measured(score, 4.5, 1), "4.5"},
		{"a range of times", Range(seconds, 75, 91, 0), "1:15–1:31 min"},
		{"a range of temperatures", Range(fahrenheit, 185, 195, 0), "365–383 °F"},
		{"a range below zero", Range(celsius, -18, -16, 0), "−18 to −16 °C"},
		{"a spread has no offset", Spread(fahrenheit, 10, 0), "18"},
		{"mean and spread", WithSpread(celsius, 74.23, 1.26), "74.2 ± 1.3 °C"},
		{"mean and spread of a long time", WithSpread(seconds, 81, 5.66), "1:21 min ± 5.7 s"},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, tt.got, tt.want)
		}
	}
}
