package solve

import (
	"errors"
	"flag"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// Random springs against their mirror images. A long run:
//
//	go test ./design -run TestMirrorImages -v -timeout 3h -args -images 2000
var (
	imageSprings = flag.Int("images", 0, "random springs that are mirrored; 0: a few")
	imageFrom    = flag.Int("imagesfrom", 0, "number of the first")
	imageWire    = flag.String("imagewire", "", "this kind of wire only")
)

// imageSeats are the ways in which slots may hold a wire.
var imageSeats = []struct {
	name string
	seat func(*rand.Rand, *spring.Spring)
}{
	{"tied", func(*rand.Rand, *spring.Spring) {}},
	{"slides through the active slot", func(_ *rand.Rand, s *spring.Spring) { s.Slide = spring.SlideActive }},
	{"slides through the anchor slot", func(_ *rand.Rand, s *spring.Spring) { s.Slide = spring.SlideAnchor }},
	{"plays at the anchor", func(r *rand.Rand, s *spring.Spring) { s.AnchorHold = looseSlot(r, s.Wire) }},
	{"plays at the active end", func(r *rand.Rand, s *spring.Spring) { s.ActiveHold = looseSlot(r, s.Wire) }},
	{"plays at both", func(r *rand.Rand, s *spring.Spring) {
		s.AnchorHold, s.ActiveHold = looseSlot(r, s.Wire), looseSlot(r, s.Wire)
	}},
	{"plays at both and slides", func(r *rand.Rand, s *spring.Spring) {
		s.AnchorHold, s.ActiveHold = looseSlot(r, s.Wire), looseSlot(r, s.Wire)
		s.Slide = spring.Slide(1 + r.IntN(2))
	}},
	{"hooked", func(_ *rand.Rand, s *spring.Spring) { hookIt(s, spring.NoSlide) }},
	{"hooked, sliding", func(_ *rand.Rand, s *spring.Spring) { hookIt(s, spring.SlideActive) }},
	{"hooked, plays at the anchor", func(r *rand.Rand, s *spring.Spring) {
		hookIt(s, spring.NoSlide)
		s.AnchorHold = looseSlot(r, s.Wire)
	}},
	{"hooked, sliding, plays at the anchor", func(r *rand.Rand, s *spring.Spring) {
		hookIt(s, spring.SlideActive)
		s.AnchorHold = looseSlot(r, s.Wire)
	}},
}

func hookIt(s *spring.Spring, slide spring.Slide) {
	s.ActiveHold, s.ActiveSlotLengthMM, s.Slide = spring.SlotHold{Hook: true}, 0, slide
}

// imageWires draw springs that are seated afterwards.
var imageWires = []struct {
	name string
	draw func(number int) (spring.Spring, bool)
}{
	{"elastic", func(n int) (spring.Spring, bool) { return randomSpringOf(randomKind{draw: randomElastic}, n), true }},
	{"elastic in one plane", func(n int) (spring.Spring, bool) { return randomSpringOf(randomKind{draw: randomPlane}, n), true }},
	{"yielding", func(n int) (spring.Spring, bool) { return newMemoryDraw(n).yieldingSpring() }},
	{"superelastic", func(n int) (spring.Spring, bool) {
		// A straight wire that cannot slide would be too short.
		s, ok := newMemoryDraw(n).yieldingSpring()
		s.Wire = newMemoryDraw(n).wireOf("superelastic nickel-titanium", wire.Size{DiameterMil: 16}, wire.Size{ThicknessMil: 16, WidthMil: 22})
		return s, ok
	}},
}

// randomPlane is a loop in the plane of x and z, moved and turned in that plane: its own image.
func randomPlane(r *rand.Rand) spring.Spring {
	d := memoryDraw{r}
	s := spring.Spring{Wire: randomWire(r), AnchorSlotLengthMM: uniform(r, 2, 5), ActiveSlotLengthMM: uniform(r, 2, 5), Positions: 2}
	for plane := false; !plane; {
		s.Path, s.Heading = d.loop()
		plane = !slices.ContainsFunc(s.Path.Steps(), func(p spring.Step) bool { return p.Kind == spring.Twist || p.Order == 1 })
	}
	passive := passiveSeat(s)
	seat := func(shift r3.Vec, turnRad float64) spring.Seat {
		return spring.Seat{AtMM: r3.Add(passive.AtMM, shift), Rotation: r3.Add(passive.Rotation, r3.Vec{Y: turnRad})}
	}
	shift, turnRad := r3.Vec{X: either(r, uniform(r, 0.2, 2.5)), Z: either(r, uniform(r, 0.2, 2.5))}, either(r, uniform(r, 0.02, 0.3))
	s.Start, s.End = seat(shift, turnRad), seat(r3.Scale(1.0/3, shift), turnRad/3)
	return s
}

// rest is how a wire lies at a position: the loads on the active and on the anchor tooth.
type rest [2]tooth.Load

func restsAt(p spring.Position) []rest {
	var all []rest
	for _, loads := range restsOf(p) {
		all = append(all, rest(loads))
	}
	return all
}

// behind is the rest behind a mirror with the given signs of its axes.
func (r rest) behind(mirror r3.Vec) rest {
	image := func(v r3.Vec) r3.Vec { return r3.Vec{X: mirror.X * v.X, Y: mirror.Y * v.Y, Z: mirror.Z * v.Z} }
	turned := mirror.X * mirror.Y * mirror.Z // a couple is seen the other way round in a mirror
	for i, l := range r {
		r[i] = tooth.Load{ForceN: image(l.ForceN), CoupleNMM: r3.Scale(turned, image(l.CoupleNMM))}
	}
	return r
}

// off is how far a rest lies from another, as a share of forces and couples of the given size.
func (r rest) off(other rest, forceN, coupleNMM float64) (most float64) {
	for i := range r {
		most = max(most, r3.Norm(r3.Sub(r[i].ForceN, other[i].ForceN))/forceN, r3.Norm(r3.Sub(r[i].CoupleNMM, other[i].CoupleNMM))/coupleNMM)
	}
	return most
}

// imageOff is how far the rests of the image lie from the images of the rests, as a share of
// the largest loads: the worst of both sets against the nearest of the other. A spring that is
// its own image rests in the images of its rests, also where they differ by less than is told.
func imageOff(a, b spring.Record, mirror r3.Vec, own bool) (worst float64) {
	force, couple := 1e-3, 1e-2 // below these no gauge shows any
	for _, p := range a.Positions {
		for _, r := range restsAt(p) {
			for _, l := range r {
				force, couple = max(force, r3.Norm(l.ForceN)), max(couple, r3.Norm(l.CoupleNMM))
			}
		}
	}
	for i := range a.Positions {
		var sets [2][]rest
		for _, r := range restsAt(a.Positions[i]) {
			sets[0] = append(sets[0], r.behind(mirror))
		}
		sets[1] = restsAt(b.Positions[i])
		for k := range sets {
			for _, r := range sets[k] {
				image := r.behind(r3.Vec{X: 1, Y: -1, Z: 1})
				if own && !loadsDiffer(r[0], image[0]) && !loadsDiffer(r[1], image[1]) {
					sets[k] = append(sets[k], image)
				}
			}
		}
		for k := range sets {
			for _, r := range sets[k] {
				nearest := math.Inf(1)
				for _, other := range sets[1-k] {
					nearest = min(nearest, r.off(other, force, couple))
				}
				worst = max(worst, nearest)
			}
		}
	}
	return worst
}

const (
	// imagesAgree is how far the loads of images may lie apart, as a share of the largest.
	// Every sum of the solver is symmetric: without play images agree to the last digit on a
	// processor that does not fuse multiplying and adding.
	imagesAgree = 1e-9
	// imagesAgreeInPlay is the same where contacts are looked for from one side and from the
	// other: walls are told to coupleSlackNMM and loads to playTolerance.
	imagesAgreeInPlay = 1e-6
	// imagesAgreeOnHook is the same where a hook slides until no more than hookSlackN is left
	// along its axis; the largest loads of random springs come to some hundredths of a N.
	imagesAgreeOnHook = 1e-4
)

// A spring and its mirror images, across y and across z, have mirrored loads, whatever holds
// the wire and whatever it is made of; what cannot be solved cannot be solved there either.
// Where a wire rests in two ways, the two of the image are the images of the two.
//
// A long run of 1,005 elastic springs leaves two, both of hooks that slide while the wire plays
// at the anchor: 1990 is 0.03 % off, and 1121 is solved on one side alone.
func TestMirrorImages(t *testing.T) {
	t.Parallel()
	wanted := *imageSprings
	if wanted == 0 {
		wanted = len(imageSeats) * len(imageWires)
	}
	count := map[string]int{}
	worst := [2]float64{}
	for n := *imageFrom; n < *imageFrom+wanted; n++ {
		seats := imageSeats[n%len(imageSeats)]
		wires := imageWires[n/len(imageSeats)%len(imageWires)]
		if *imageWire != "" && *imageWire != wires.name {
			continue
		}
		s, ok := wires.draw(n)
		if !ok {
			count["not drawn"]++
			continue
		}
		s.Slide = spring.NoSlide
		seats.seat(rand.New(rand.NewPCG(uint64(n), 0x1a6e)), &s)
		looks := s.AnchorHold.Play || s.ActiveHold.Play // for contacts
		if remembers := s.Wire.IsSuperelastic() || s.Wire.TangentMPa > 0; remembers && looks && *imageSprings == 0 {
			continue // seconds each
		}
		name := fmt.Sprintf("%d, %s, %s", n, wires.name, seats.name)
		e, err := Evaluate(t.Context(), s, Options{AllowYield: true})
		switch {
		case err != nil:
			count["not solved"]++
		case slices.ContainsFunc(e.Record.Positions, func(p spring.Position) bool { return p.OtherRest != nil }):
			count["solved, two rests"]++
		default:
			count["solved"]++
		}
		for _, image := range [...]struct {
			spring spring.Spring
			mirror r3.Vec
		}{{s.Mirrored(), r3.Vec{X: 1, Y: -1, Z: 1}}, {turnedOver(s), r3.Vec{X: 1, Y: 1, Z: -1}}} {
			twin, twinErr := Evaluate(t.Context(), image.spring, Options{AllowYield: true})
			if (err == nil) != (twinErr == nil) || errors.Is(err, beam.ErrNoStraight) != errors.Is(twinErr, beam.ErrNoStraight) ||
				errors.Is(err, beam.ErrUnstable) != errors.Is(twinErr, beam.ErrUnstable) {
				t.Errorf("%s: %v; mirrored across %v: %v", name, err, image.mirror, twinErr)
				continue
			}
			if err != nil {
				continue
			}
			plays, limit := 0, imagesAgree
			switch {
			case looks && s.HookSlides():
				plays, limit = 1, imagesAgreeOnHook
			case looks:
				plays, limit = 1, imagesAgreeInPlay
			}
			off := imageOff(e.Record, twin.Record, image.mirror, !s.OneSided() && looks)
			worst[plays] = max(worst[plays], off)
			if !(off <= limit) {
				t.Errorf("%s: mirrored across %v the loads are off by %.2g of the largest", name, image.mirror, off)
			}
		}
	}
	for _, what := range slices.Sorted(maps.Keys(count)) {
		t.Logf("%s: %d of %d", what, count[what], wanted)
	}
	t.Logf("the worst image is off by %.2g of the largest load without play, by %.2g with play", worst[0], worst[1])
}
