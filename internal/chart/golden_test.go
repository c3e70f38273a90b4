package chart

import (
	"testing"

	"sidebatch.example/sidebatch/internal/testkit"
)

// TestGolden compares every figure with the one that was looked at last.
func TestGolden(t *testing.T) {
	for _, tc := range cases() {
		t.Run(tc.name, func(t *testing.T) {
			got, err := tc.fig.Draw()
			if err != nil {
				t.Fatalf("%s: %v", tc.why, err)
			}
			testkit.Golden(t, "testdata/"+tc.name+".svg", got)
		})
	}
}
