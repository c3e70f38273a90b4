package quantity

import "testing"

func TestWords(t *testing.T) {
	tests := []struct{ name, in, want string }{
		{"cups in fractions", "2.25 cups", "2¼ cups"},
		{"one spoon", "0.375 tsp", "⅜ tsp"},
		{"a range of spoons", "1/2-1 tsp", "½–1 tsp"},
		{"grams in decimals", "2.5 g", "2.5 g"},
		{"millilitres in decimals", "2.5 mL", "2.5 mL"},
		{"a count", "2 1/2", "2½"},
		{"to taste", "to taste", "to taste"},
		{"below zero", "-5 to -2 °C", "−5 to −2 °C"},
		{"a temperature", "98.5 °C", "98.5 °C"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a, err := Parse(tt.in, USCustomary)
			if err != nil {
				t.Fatal(err)
			}
			if got := a.Words(USCustomary); got != tt.want {
				t.Errorf("Words of %s is %q, want %q", tt.in, got, tt.want)
			}
		})
	}
	degrees, _ := New(Ratio(3, 2), Celsius).AsDifference()
	if got := degrees.Words(USCustomary); got != "1.5 °C" {
		t.Errorf("a difference is %q", got)
	}
}
