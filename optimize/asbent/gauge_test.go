package asbent

import (
	"math"
	"math/rand/v2"
	"testing"

	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/optimize/hand"
)

// A gauge's reading fits the wire's stiffness anew: of 60 wires of known stiffness, all bends read, what is
// found is off by what it says, and narrower than what is known of wires of that name.
func TestGaugeFitsTheStiffness(t *testing.T) {
	t.Parallel()
	c, s := demoSpring(t)
	m := mustModel(t, Job{Case: c, Spring: s})
	const (
		wires    = 60
		travelMM = -2.5
		gaugeSD  = 0.02 // N: a graduation of 5 gf read to half of it (common practice)
	)
	squares, widest := 0.0, 0.0
	for i := range wires {
		noise := rand.New(rand.NewPCG(3, uint64(i)))
		z := make([]float64, m.hand.Sources())
		for j := range z {
			z[j] = noise.NormFloat64()
		}
		came := m.cameOut(z)
		bent := s
		bent.Path = spring.PathOf(came.Steps...)
		forceN, err := solve.GaugeForceN(bent, tooth.ForceZ, travelMM, hand.Accuracy)
		if err != nil {
			t.Fatal(err)
		}
		read := m.readings(came, 0.2*degree, 0.04, noise)
		read.Gauge = &spring.GaugeReading{Axis: tooth.ForceZ, TravelMM: travelMM, ForceN: came.Stiffness*forceN + gaugeSD*noise.NormFloat64(), SD: gaugeSD}
		fitted := mustModel(t, Job{Case: c, Spring: s, Measured: read})
		e, err := fitted.estimate()
		if err != nil {
			t.Fatal(err)
		}
		sd := e.sds()[hand.StiffnessSource] * fitted.hand.SD(hand.StiffnessSource)
		off := fitted.cameOut(e.mean).Stiffness - came.Stiffness
		squares += off * off / (sd * sd)
		widest = max(widest, sd)
	}
	// Of 60 squares of a standard normal number the mean is 1, with a standard deviation of √(2/60) = 0.18.
	if mean := squares / wires; math.Abs(mean-1) > 3*0.18 {
		t.Errorf("the stiffness is off by √%.2f of its standard deviation", mean)
	}
	if before := m.hand.SD(hand.StiffnessSource); widest > before/2 {
		t.Errorf("the stiffness is known to %.3f, without a gauge to %.3f", widest, before)
	}
	t.Logf("mean square %.2f, known to %.3f at worst", squares/wires, widest)
}
