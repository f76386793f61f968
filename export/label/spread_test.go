package label

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

func TestSpreadMovesOnlyWhatIsCrowded(t *testing.T) {
	got := Spread([]float64{5, 20, 21, 50}, []float64{4, 4, 4, 4}, 0, 60)
	want := []float64{5, 18.5, 22.5, 50}
	for i := range want {
		if math.Abs(got[i]-want[i]) > 1e-12 {
			t.Errorf("label %d at %v, want %v", i, got[i], want[i])
		}
	}
}

func TestSpreadNeverOverlaps(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		n := 1 + random.IntN(12)
		wanted, sizes := make([]float64, n), make([]float64, n)
		for i := range n {
			wanted[i], sizes[i] = 100*random.Float64(), 1+5*random.Float64()
		}
		slices.Sort(wanted)
		got := Spread(wanted, sizes, 0, 100)
		for i := range n {
			if low, high := got[i]-sizes[i]/2, got[i]+sizes[i]/2; low < -1e-9 || high > 100+1e-9 {
				t.Fatalf("label %d of %v runs from %v to %v, outside 0 to 100", i, wanted, low, high)
			}
			if i > 0 && got[i]-got[i-1] < (sizes[i]+sizes[i-1])/2-1e-9 {
				t.Fatalf("labels %d and %d of %v overlap: %v", i-1, i, wanted, got)
			}
		}
	}
}
