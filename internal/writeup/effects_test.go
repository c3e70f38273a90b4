package writeup

import (
	"testing"

	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/trial"
)

func TestChange(t *testing.T) {
	share := trial.Measure{Kind: trial.PassOrFail}
	seconds := trial.Measure{Kind: trial.Time, In: quantity.Second}
	fahrenheit := trial.Measure{Kind: trial.Temperature, In: quantity.Fahrenheit}
	score := trial.Measure{Kind: trial.Score}
	tests := []struct{ name, got, want string }{
		{"more passed", Change(share, 1.0/3), "+33 points"},
		{"fewer passed", Change(share, -0.5), "−50 points"},
		{"as many passed", Change(share, 0.001), "0 points"},
		{"slower", Change(seconds, 4.24), "+4.2 s"},
		{"quicker", Change(seconds, -4.25), "−4.3 s"},
		{"the same", Change(seconds, -0.04), "0.0 s"},
		{"a difference of temperatures has no offset", Change(fahrenheit, 10), "+18.0 °F"},
		{"scores have no unit", Change(score, -1.5), "−1.5"},
		{"p", Probability(nil, 0.4545), "0.45"},
		{"a small p", Probability(nil, 0.0312), "0.031"},
		{"never nothing", Probability(nil, 0), "under 0.001"},
		{"just under a tenth", Probability(nil, 0.0996), "0.10"},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, tt.got, tt.want)
		}
	}
}
