package wire_test

import (
	"math"
	"testing"

	"springwright/design/beam"
	"springwright/design/wire"
)

// Below yield the fibres must carry exactly what the elastic section does.
func TestFibresAreAsStiffAsTheSection(t *testing.T) {
	t.Parallel()
	for name, change := range map[string]func(*wire.Wire){
		"sharp":   func(w *wire.Wire) { w.ThicknessMM, w.WidthMM = 0.4318, 0.635 },
		"on edge": func(w *wire.Wire) { w.ThicknessMM, w.WidthMM = 0.635, 0.4318 },
		"rounded": func(w *wire.Wire) { w.ThicknessMM, w.WidthMM, w.CornerRadiusMM = 0.4318, 0.635, 0.0762 },
		"stadium": func(w *wire.Wire) { w.ThicknessMM, w.WidthMM, w.CornerRadiusMM = 0.4318, 0.635, 0.2159 },
		"round":   func(w *wire.Wire) { w.DiameterMM = 0.4064 },
	} {
		for _, alloy := range []string{"beta-titanium", "superelastic nickel-titanium"} {
			a, err := wire.LookUp(alloy)
			if err != nil {
				t.Fatal(err)
			}
			w := a.Material()
			change(&w)
			want := w.Section()
			load := beam.Stretch{0.3, 0.2, -0.4, 0.5}
			for kind, section := range map[string]interface{ NewPoint() beam.Point }{"own law": w.Fibres(), "elastic": w.ElasticFibres()} {
				e, _, ok := section.NewPoint().Respond(load)
				if !ok {
					t.Fatalf("%s %s, %s: no response", name, alloy, kind)
				}
				for i, stiffness := range [4]float64{want.EA, want.GJ, want.EI2, want.EI3} {
					if math.Abs(e[i]*stiffness/load[i]-1) > 1e-9 {
						t.Errorf("%s %s, %s: component %d is off by %g", name, alloy, kind, i, e[i]*stiffness/load[i]-1)
					}
				}
			}
		}
	}
}
