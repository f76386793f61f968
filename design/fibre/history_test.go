package fibre_test

import (
	"math/rand/v2"
	"testing"

	"springwright/design/beam"
	"springwright/design/fibre"
)

// laws are the two materials, each with the bending moment at which a round section of
// 0.4 mm has left its elastic range by far.
func laws() map[string]fibre.Law {
	return map[string]fibre.Law{
		"kinematic": fibre.Kinematic{EMPa: 65000, GMPa: 25000, YieldMPa: 900, TangentMPa: 2000},
		"superelastic": fibre.Superelastic{
			EMPa: 50000, GMPa: 18800, LoadStartMPa: 300, LoadEndMPa: 340, UnloadStartMPa: 130, UnloadEndMPa: 90, TransformationStrain: 0.06,
		},
	}
}

// wander is a way through loads that turns back again and again.
func wander(random *rand.Rand, largest beam.Stretch, steps int) []beam.Stretch {
	var way []beam.Stretch
	var load beam.Stretch
	for range steps {
		var to beam.Stretch
		for i := range to {
			to[i] = largest[i] * (2*random.Float64() - 1)
		}
		share := random.Float64()
		if random.IntN(2) == 0 {
			share *= 1e-3 // just behind a corner
		}
		for i := range load {
			load[i] += share * (to[i] - load[i])
		}
		way = append(way, load)
	}
	return way
}

// A section finds its stretch wherever its load goes, also where it turns back at a corner
// of its law.
func TestSectionFollowsAnyWay(t *testing.T) {
	t.Parallel()
	for name, law := range laws() {
		largest := beam.Stretch{10, 1, 4, 4}
		if name == "superelastic" {
			largest = beam.Stretch{6, 0.6, 2.04, 2.04}
		}
		section := fibre.Round(law, 0.3048, 4, 32)
		for seed := range uint64(30) {
			p := section.NewPoint()
			for i, load := range wander(rand.New(rand.NewPCG(seed, 5)), largest, 60) {
				if _, _, ok := p.Respond(load); !ok {
					t.Fatalf("%s, way %d: no stretch at step %d, load %v", name, seed, i, load)
				}
				p.Keep()
			}
		}
	}
}

// Behind a mirror a section answers with the image of its stretch, to the last digit but for
// processors that fuse multiplying and adding.
func TestSectionImages(t *testing.T) {
	t.Parallel()
	for name, law := range laws() {
		largest := beam.Stretch{10, 1, 3.4, 3.4}
		for kind, section := range map[string]*fibre.Section{
			"round": fibre.Round(law, 0.4, 4, 16), "odd": fibre.Round(law, 0.4, 3, 9), "rectangle": fibre.Rectangle(law, 0.56, 0.4, 0.003, 6, 8),
			"rounded": fibre.RoundedRectangle(law, 0.56, 0.4, 0.05, fibre.Moments{AreaMM2: 0.22, About2MM4: 0.0029, About3MM4: 0.0057, TorsionMM4: 0.006}, 4, 16),
		} {
			for _, mirror := range [...]beam.Stretch{{1, -1, -1, 1}, {1, -1, 1, -1}, {1, 1, -1, -1}} {
				p, twin := section.NewPoint(), section.NewPoint()
				for i, load := range wander(rand.New(rand.NewPCG(3, 9)), largest, 40) {
					image := load
					for k := range image {
						image[k] *= mirror[k]
					}
					e, _, ok := p.Respond(load)
					f, _, twinOK := twin.Respond(image)
					if ok != twinOK {
						t.Fatalf("%s %s, step %d: answers %v, its image %v", kind, name, i, ok, twinOK)
					}
					for k := range e {
						near(t, name+" "+kind, f[k]*mirror[k], e[k], 1e-12)
					}
					p.Keep()
					twin.Keep()
				}
			}
		}
	}
}

// A clone goes its own way.
func TestCloneOfAPoint(t *testing.T) {
	t.Parallel()
	p := fibre.Round(laws()["kinematic"], 0.4, 4, 16).NewPoint()
	respond := func(p beam.Point, load beam.Stretch) beam.Stretch {
		t.Helper()
		e, _, ok := p.Respond(load)
		if !ok {
			t.Fatalf("no stretch for %v", load)
		}
		p.Keep()
		return e
	}
	respond(p, beam.Stretch{2: 8})
	twin := p.Clone()
	left := respond(twin, beam.Stretch{})
	if left[2] < 0.01 {
		t.Errorf("nothing is left of yielding: %v", left)
	}
	respond(p, beam.Stretch{2: 9})
	if further := respond(p, beam.Stretch{}); !(further[2] > left[2]+0.005) {
		t.Errorf("left after more load %v, before %v", further[2], left[2])
	}
	if again := respond(twin, beam.Stretch{}); again != left {
		t.Errorf("the clone went along: %v, before %v", again, left)
	}
}
