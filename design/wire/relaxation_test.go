package wire

import (
	"strings"
	"testing"
)

func TestRelaxationOfTheFirstDay(t *testing.T) {
	t.Parallel()
	for _, a := range Alloys() {
		r := a.FirstDayLoss
		if r.Known() == a.IsSuperelastic() {
			t.Errorf("%s: %+v", a.Name, r)
		}
		if r.Known() && (!(r.Low >= 0 && r.Low < r.High && r.High < 0.5) || r.Source == "") {
			t.Errorf("%s: %+v", a.Name, r)
		}
		if got := a.Material().FirstDayLoss(); got != r {
			t.Errorf("wire of %s: %+v, want %+v", a.Name, got, r)
		}
	}
	alloy, err := LookUp("beta-titanium")
	r := alloy.FirstDayLoss
	if err != nil || r.Low != 0.05 || r.High != 0.10 || !strings.Contains(r.Source, "from memory") {
		t.Errorf("beta-titanium: %+v", r)
	}
	if got := (Wire{EMPa: 65000}).FirstDayLoss(); got.Known() {
		t.Errorf("wire without a name: %+v", got)
	}
}
