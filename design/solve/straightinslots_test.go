package solve

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"testing"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

func namedWire(t *testing.T, spec string) wire.Wire {
	t.Helper()
	w, err := wire.ParseSpec(spec)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// stepped is a straight wire over a step in slots of these lengths, distances centre to centre.
func stepped(w wire.Wire, apartMM, stepMM, anchorMM, activeMM float64, hold spring.SlotHold) spring.Spring {
	free := apartMM - (anchorMM+activeMM)/2
	return spring.Spring{
		Path: spring.PathOf(spring.StraightStep(free)), Wire: w,
		AnchorSlotLengthMM: anchorMM, ActiveSlotLengthMM: activeMM, AnchorHold: hold, ActiveHold: hold,
		Slide: spring.SlideActive, Positions: 1,
		Start: spring.Seat{AtMM: r3.Vec{X: free, Z: -stepMM}}, End: spring.Seat{AtMM: r3.Vec{X: free}},
	}
}

func continued(t *testing.T, s spring.Spring, next NextSlot) Continued {
	t.Helper()
	c, err := EvaluateStraight(t.Context(), s, &next)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Three supports on knife edges, one of which has settled: by the theorem of three moments (Clapeyron;
// Timoshenko, Strength of Materials, part I, continuous beams; from memory) the moment over the middle
// one is M = 3EI·δ/(l·(l + k)), l the span to the settled support and k the other; the settled one bears M/l, the far
// one M/k, the middle one both.
func TestContinuedWireIsABeamOnThreeSupports(t *testing.T) {
	t.Parallel()
	const l, k, settledMM, slotMM = 40, 25, 0.05, 1e-3 // slots next to no length
	loose := spring.SlotHold{Play: true, HeightMM: 2}
	w := namedWire(t, "stainless steel 0.016in")
	c := continued(t, stepped(w, l, settledMM, slotMM, slotMM, loose), NextSlot{DistanceMM: k, LengthMM: slotMM, Hold: loose})
	moment := 3 * w.Section().EI2 * settledMM / (l * (l + k))
	p := c.Positions[0]
	// Shear takes away 3EI/(GA·l²), here 1e-4, and so much are the slots' lengths off.
	const share = 5e-4
	for _, load := range []struct {
		name      string
		got, want float64
	}{
		{"settled support", p.Active.ForceN.Z, moment / l},
		{"far support", c.Next[0].ForceN.Z, moment / k},
		{"middle support", p.Anchor.ForceN.Z, -moment/l - moment/k},
	} {
		if math.Abs(load.got-load.want) > share*math.Abs(load.want) {
			t.Errorf("%s: %.7f N, want %.7f", load.name, load.got, load.want)
		}
	}
	for i, couple := range []float64{p.Active.CoupleNMM.Y, p.Anchor.CoupleNMM.Y, c.Next[0].CoupleNMM.Y} {
		if math.Abs(couple) > 1e-3*moment {
			t.Errorf("couple %d on a knife edge: %v N·mm", i, couple)
		}
	}
}

// Where the middle slot stops the wire at its play φ, each span is a beam of its own with that slope at one end
// and a knife edge at the other: moment 3EI·(δ/l − φ)/l towards the settled support, 3EI·φ/k beyond; the
// slot bears the difference as a couple.
func TestContinuedWireAtTheWallOfTheMiddleSlot(t *testing.T) {
	t.Parallel()
	const l, k, settledMM, slotMM = 40, 25, 1, 1e-3
	w := namedWire(t, "stainless steel 0.016in")
	loose := spring.SlotHold{Play: true, HeightMM: 2}
	s := stepped(w, l, settledMM, slotMM, slotMM, loose)
	const widthMM = 4
	s.AnchorSlotLengthMM = widthMM
	s.Start.AtMM.X -= widthMM / 2
	s.End.AtMM.X -= widthMM / 2
	s.Path = spring.PathOf(spring.StraightStep(s.End.AtMM.X))
	s.AnchorHold.HeightMM = w.HeightMM() + 0.02
	c := continued(t, s, NextSlot{DistanceMM: k, LengthMM: slotMM, Hold: loose})
	play := 0.02 / widthMM
	// The free spans end where the slot does, half its length from the centre: slope and place are given there.
	near, far := l-widthMM/2., k-widthMM/2.
	ei := w.Section().EI2
	toActive := 3 * ei * ((settledMM-play*widthMM/2)/near - play) / near
	beyond := 3 * ei * (play + play*widthMM/2/far) / far
	p := c.Positions[0]
	// The play is (S − d)/W to the first order, large deflections are of the order of (δ/l)², 6e-4.
	const share = 3e-3
	if want := toActive / near; math.Abs(p.Active.ForceN.Z-want) > share*want {
		t.Errorf("settled support: %.6f N, want %.6f", p.Active.ForceN.Z, want)
	}
	if want := beyond / far; math.Abs(c.Next[0].ForceN.Z-want) > share*want {
		t.Errorf("far support: %.6f N, want %.6f", c.Next[0].ForceN.Z, want)
	}
	// About the slot's centre.
	want := toActive/near*l - beyond/far*k
	if got := p.Anchor.CoupleNMM.Y; math.Abs(math.Abs(got)-want) > share*want {
		t.Errorf("couple on the middle slot: %.5f N·mm, want %.5f", got, want)
	}
	if math.Abs(math.Abs(p.Play.Anchor.TurnRad.Y)-play) > 1e-3*play {
		t.Errorf("the wire turns by %v rad, its play is %v", p.Play.Anchor.TurnRad.Y, play)
	}
}

// rigidInside is what Evaluate finds for a wire that is rigid inside its slots, as EvaluateStraight has it: with
// what bends there the measured forces of TestStraightArchAgainstLoadCells in design/effect are missed.
func rigidInside(t *testing.T, s spring.Spring) (positions []spring.Position) {
	t.Helper()
	solver := beam.NewSolver(s.Rod(), beam.Origin(), solverOptions(s))
	if s.Wire.IsSuperelastic() {
		held, err := newHistoryWire(s)
		if err != nil {
			t.Fatal(err)
		}
		solver = held.solver
	}
	f, err := newSlotFollower(s, solver)
	if err != nil {
		t.Fatal(err)
	}
	f.anchor.Give, f.active.Give = beam.SlotCoordinates{}, beam.SlotCoordinates{}
	if unloaded := solver.Configuration(); !s.Wire.IsSuperelastic() {
		f.unloaded = &unloaded
	}
	before := passiveSeat(s)
	for i := range s.Positions {
		seat := s.SeatAt(i)
		if s.Wire.IsSuperelastic() {
			_, err = moveInSteps(f, before, seat)
		} else {
			_, err = f.follow(seat)
		}
		if err != nil {
			t.Fatal(err)
		}
		before = seat
		positions = append(positions, spring.Position{
			Active: s.ActiveLoad(solver.EndLoad(), solver.End().At, seat.Pose(s.Heading)), Anchor: s.AnchorLoad(solver.BaseLoad()),
		})
	}
	return positions
}

// A third slot far too high to be touched leaves a wire in two slots: the spans coupled in the anchor slot
// must come to what the solver of two slots finds by contacts of its own, elastic and superelastic, turning about the
// centre and shifting as well, put in and let back.
func TestContinuedWireWithoutAThirdSupport(t *testing.T) {
	t.Parallel()
	for _, spec := range []string{"beta-titanium 0.014in", "superelastic nickel-titanium 0.014in"} {
		for _, shifts := range []bool{false, true} {
			w := namedWire(t, spec)
			hold := spring.SlotHold{Play: true, Shifts: shifts, HeightMM: 0.5588}
			s := stepped(w, 11, 1.2, 4, 3.5, hold)
			s.Positions = 4
			got := continued(t, s, NextSlot{DistanceMM: 8, LengthMM: 3, Hold: spring.SlotHold{Play: true, Shifts: true, HeightMM: 6}})
			want := rigidInside(t, s)
			for i, p := range got.Positions {
				// Forces below 1 N come from loads found to 1e-5 N·mm; a superelastic wire's way into its
				// seat is cut alike in both.
				const slackN, slackNMM = 2e-4, 1e-3
				for _, side := range [][2]tooth.Load{{p.Active, want[i].Active}, {p.Anchor, want[i].Anchor}} {
					if off := r3.Norm(r3.Sub(side[0].ForceN, side[1].ForceN)); off > slackN {
						t.Errorf("%s, shifts %v, position %d: %v N, want %v", spec, shifts, i+1, side[0].ForceN, side[1].ForceN)
					}
					if off := r3.Norm(r3.Sub(side[0].CoupleNMM, side[1].CoupleNMM)); off > slackNMM {
						t.Errorf("%s, shifts %v, position %d: %v N·mm, want %v", spec, shifts, i+1, side[0].CoupleNMM, side[1].CoupleNMM)
					}
				}
				if f := r3.Norm(got.Next[i].ForceN); f > 1e-5 { // what is left of 1e-5 N·mm at an arm of 1.5 mm
					t.Errorf("%v N in a slot that is not touched", f)
				}
			}
		}
	}
}

// What bears on the three teeth balances.
func TestContinuedWireBalances(t *testing.T) {
	t.Parallel()
	hold := spring.SlotHold{Play: true, Shifts: true, HeightMM: 0.5588}
	s := stepped(namedWire(t, "superelastic nickel-titanium 0.014in"), 10, 3, 4, 3.5, hold)
	s.Positions = 4
	const beyondMM = 7
	c := continued(t, s, NextSlot{DistanceMM: beyondMM, LengthMM: 3, Hold: hold})
	for i, p := range c.Positions {
		next := c.Next[i]
		force := r3.Add(r3.Add(p.Active.ForceN, p.Anchor.ForceN), next.ForceN)
		anchor := s.AnchorCentre()
		arm := func(at r3.Vec, f r3.Vec) r3.Vec { return r3.Cross(r3.Sub(at, anchor), f) }
		couple := r3.Add(r3.Add(p.Active.CoupleNMM, p.Anchor.CoupleNMM), next.CoupleNMM)
		couple = r3.Add(couple, arm(s.Centre(s.SeatAt(i).Pose(spring.On)), p.Active.ForceN))
		couple = r3.Add(couple, arm(r3.Vec{X: anchor.X - beyondMM}, next.ForceN))
		if r3.Norm(force) > 1e-6 || r3.Norm(couple) > 1e-5 { // both spans balance to the solver's 1e-11
			t.Errorf("position %d: %v N and %v N·mm are left", i+1, force, couple)
		}
	}
	if f := c.Next[0].ForceN.Z; f < 0.05 {
		t.Errorf("the third slot bears %v N and was to be pushed as the active one", f)
	}
}

func TestContinuedWireRefuses(t *testing.T) {
	t.Parallel()
	s := stepped(betaTitanium(), 11, 1, 4, 3.5, spring.SlotHold{})
	next := NextSlot{DistanceMM: 8, LengthMM: 3}
	sideways := s
	sideways.Start.AtMM.Y = 1
	if _, err := EvaluateStraight(t.Context(), sideways, &next); !errors.Is(err, ErrNotInPlane) {
		t.Errorf("out of the plane: %v", err)
	}
	bent := s
	bent.Path = spring.PathOf(spring.StraightStep(4), spring.BendStep(0.1, 1), spring.StraightStep(4))
	if _, err := EvaluateStraight(t.Context(), bent, &next); err == nil {
		t.Error("a bent wire was taken")
	}
	next.DistanceMM = 3.5
	if _, err := EvaluateStraight(t.Context(), s, &next); err == nil {
		t.Error("slots that overlap were taken")
	}
}

// Steps of 0.3 to 3 mm with a wire that plays in all three slots, against shooting on the exact equations
// (testdata/threeslots.py): on a wall of the anchor slot or free in it.
func TestContinuedWireAgainstShooting(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile("testdata/threeslots.json")
	if err != nil {
		t.Fatal(err)
	}
	var reference struct {
		EMPa       float64            `json:"e_mpa"`
		Poisson    float64            `json:"poisson"`
		DiameterMM float64            `json:"diameter_mm"`
		HeightMM   float64            `json:"height_mm"`
		LengthsMM  map[string]float64 `json:"lengths_mm"`
		Cases      []struct {
			ApartMM      float64 `json:"apart_mm"`
			StepMM       float64 `json:"step_mm"`
			BeyondMM     float64 `json:"beyond_mm"`
			TurnRad      float64 `json:"turn_rad"`
			ActiveN      float64 `json:"active_force_z_n"`
			ActiveNMM    float64 `json:"active_couple_nmm"`
			NextN        float64 `json:"next_force_z_n"`
			NextNMM      float64 `json:"next_couple_nmm"`
			AnchorN      float64 `json:"anchor_force_z_n"`
			AnchorCouple float64 `json:"anchor_couple_nmm"`
		} `json:"cases"`
	}
	if err := json.Unmarshal(data, &reference); err != nil {
		t.Fatal(err)
	}
	if len(reference.Cases) < 5 {
		t.Fatal("cases are missing")
	}
	w := wire.Wire{EMPa: reference.EMPa, Poisson: reference.Poisson, YieldMPa: 1e5, DiameterMM: reference.DiameterMM}
	hold := spring.SlotHold{Play: true, HeightMM: reference.HeightMM}
	length := reference.LengthsMM
	for _, want := range reference.Cases {
		s := stepped(w, want.ApartMM, -want.StepMM, length["anchor"], length["active"], hold)
		c := continued(t, s, NextSlot{DistanceMM: want.BeyondMM, LengthMM: length["next"], Hold: hold})
		p := c.Positions[0]
		// Both are exact but for rounding; shear coefficients differ by less than 1e-3 of a term that takes 1e-2.
		const share, slack = 1e-4, 1e-5
		for _, k := range []struct {
			name      string
			got, want float64
		}{
			{"turn in the anchor slot", p.Play.Anchor.TurnRad.Y, want.TurnRad},
			{"active force", p.Active.ForceN.Z, want.ActiveN},
			{"active couple", p.Active.CoupleNMM.Y, want.ActiveNMM},
			{"anchor force", p.Anchor.ForceN.Z, want.AnchorN},
			{"anchor couple", p.Anchor.CoupleNMM.Y, want.AnchorCouple},
			{"next force", c.Next[0].ForceN.Z, want.NextN},
			{"next couple", c.Next[0].CoupleNMM.Y, want.NextNMM},
		} {
			if math.Abs(k.got-k.want) > share*math.Abs(k.want)+slack {
				t.Errorf("%g mm apart, step %g mm: %s %.6f, want %.6f", want.ApartMM, want.StepMM, k.name, k.got, k.want)
			}
		}
	}
}
