package wire_test

import (
	"testing"

	"springwright/design/wire"
)

// Both ends enclose the law in use, stay within the range that the table tells, and are laws that turn back.
func TestSuperelasticEndsEncloseTheLaw(t *testing.T) {
	t.Parallel()
	tested := 0
	for _, a := range wire.Alloys() {
		w := a.Material()
		low, high, ok := w.SuperelasticEnds()
		if ok != a.IsSuperelastic() {
			t.Errorf("%s: ends %v", a.Name, ok)
		}
		if !ok {
			continue
		}
		tested++
		if l, u := low.Superelastic, w.Superelastic; l.LoadStartMPa != a.YieldMPa.Min || l.LoadEndMPa > u.LoadEndMPa || l.UnloadEndMPa > u.UnloadEndMPa || l.TransformationStrain < u.TransformationStrain || low.EMPa > w.EMPa {
			t.Errorf("%s: low end %+v of %+v", a.Name, l, u)
		}
		if h, u := high.Superelastic, w.Superelastic; h.LoadEndMPa != a.YieldMPa.Max || h.LoadStartMPa < u.LoadStartMPa || h.UnloadEndMPa < u.UnloadEndMPa || h.TransformationStrain > u.TransformationStrain || high.EMPa < w.EMPa {
			t.Errorf("%s: high end %+v of %+v", a.Name, h, u)
		}
		for _, end := range []wire.Wire{low, high} {
			l := end.Superelastic
			if end.YieldMPa != l.LoadStartMPa || !(l.UnloadEndMPa > 0 && l.UnloadEndMPa < l.UnloadStartMPa && l.UnloadStartMPa < l.LoadStartMPa && l.LoadStartMPa < l.LoadEndMPa) {
				t.Errorf("%s: no law: %+v", a.Name, l)
			}
		}
	}
	if tested < 2 {
		t.Error("no superelastic alloy was tested")
	}
	own := wire.Wire{EMPa: 50000, DiameterMM: 0.3556, Superelastic: wire.Superelastic{LoadStartMPa: 400}}
	if _, _, ok := own.SuperelasticEnds(); ok {
		t.Error("a wire of no alloy has ends")
	}
}
