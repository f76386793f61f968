package words

import (
	"encoding/json"
	"errors"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/effect"
	"springwright/design/notice"
	"springwright/design/photo"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// samples are notices of every kind, and of every form that a kind is said in.
func samples() notice.List {
	teeth := tooth.Pair{Anchor: 36, Active: 37}
	list := notice.List{
		notice.NearYield{StressRatio: 0.93, TravelLeftMM: 2},
		notice.ElasticYield{StressRatio: 1.2, TravelLeftMM: 2},
		notice.PermanentSet{ShiftMM: 0.31, TurnRad: 0.02},
		notice.PermanentSet{Unknown: true},
		notice.PhaseStrain{StrainRatio: 1.1},
		notice.HookOff{OffMM: 1.4, AllowedMM: 1, TravelLeftMM: 2},
		notice.OpposedBends{Bends: []int{2}, Worst: 2, StressRatio: 0.6, LimitRatio: 0.5},
		notice.OpposedBends{Bends: []int{2, 3, 5}, Worst: 3, Twist: true, StressRatio: 0.6, LimitRatio: 0.5},
		notice.OtherRest{At: 3, Positions: 7, ForceN: 0.1, CoupleNMM: 2},
		notice.Play{Teeth: teeth, Component: tooth.ForceZ, Tied: 0.5, Played: 0.37, ActiveCoupleNMM: 0.1, AnchorCoupleNMM: 1.6},
		notice.Play{Teeth: teeth, Hook: true, Component: tooth.CoupleX, Tied: 0.5, Played: 0.37, AnchorCoupleNMM: 1.6},
		notice.Play{Teeth: teeth, Seated: true, Component: tooth.ForceZ, Tied: 0.5, Played: 0.37, ActiveCoupleNMM: 0.1, AnchorCoupleNMM: 1.6},
		notice.Play{Teeth: teeth, Seated: true, Hook: true, Component: tooth.CoupleX, Tied: 0.5, Played: 0.37, AnchorCoupleNMM: 1.6},
		notice.SlidToRest{Tooth: 37},
		notice.FewMeet{Share: 0.04},
		notice.SlidToRest{Tooth: 37, DrawnN: 1.2},
		notice.Friction{Teeth: teeth, Tooth: 37, CoefficientMin: 0.2, CoefficientMax: 0.5, Component: tooth.ForceZ, Start: [2]float64{0.3, 0.5}, End: [2]float64{0.1, 0.2}, AlongN: 0.2, AnchorCoupleNMM: 1},
		notice.Friction{CoefficientMin: 0.2, CoefficientMax: 0.5, AlongN: 0.2},
		notice.SlidToRest{Tooth: 37, OutMM: 0.2},
		notice.SlidToRest{Tooth: 37, OutMM: -0.2},
		notice.TravelNotMade{Tooth: 37},
		notice.UnplannedTurn{Teeth: teeth, Component: tooth.CoupleZ, TurnRad: 0.4},
		notice.UnaskedForce{Teeth: teeth, Component: tooth.ForceX, ForceN: -0.5, AskedN: 0.4},
		notice.TeethUnnamed{File: "a.toml", Teeth: teeth},
		notice.PreBendInWay{LargestRad: 0.5},
		notice.StraightInWay{ShortestMM: 1},
		notice.NumberInWay{Name: "leg", LengthMM: 3},
		notice.NumberInWay{Name: "tip", Angle: true, AngleRad: 0.1},
		notice.StressInWay{},
		notice.HeightRelief{FromMM: 8, ToMM: 9},
		notice.PreBendRelief{FromRad: 0.5, ToRad: 0.8},
		notice.WireRelief{Size: wire.Sizes()[0]},
		notice.WireRelief{Size: wire.Sizes()[6], Alloy: "beta-titanium", Drive: notice.Drive{Start: 0.6, End: 0.15}},
		notice.FamilyRelief{Family: "T-loop", Drive: notice.Drive{Couple: true, Start: 5, End: 2}},
		notice.EntryRelief{FromBehind: true},
		notice.EntryRelief{},
		notice.WireChosen{Wire: notice.NamedWire{Alloy: "beta-titanium", ThicknessMM: 0.4064, WidthMM: 0.5588}, Among: 3},
		notice.TwoSpringsRelief{ReactivateMM: 1},
		notice.TwoSpringsRelief{ReactivateMM: 1, Wire: &notice.NamedWire{Alloy: "stainless steel", DiameterMM: 0.4}},
		notice.NoRelief{},
		notice.Shape{Family: "T-loop", LargestBendRad: 0.1},
		notice.Shape{Family: "T-loop", UnevenMM: 1, LargestBendRad: 0.3},
		notice.Shape{Family: "T-loop", UnevenMM: 2, LargestBendRad: 0.3, Nearer: &notice.NearerShape{Share: 0.4, TakenShare: 0.6}},
	}
	for task := range notice.Tasks {
		list = append(list, notice.KindChosen{Family: "T-loop", Task: task})
	}
	for l := range notice.Limits {
		list = append(list, notice.LimitInWay{Limit: l}, notice.LimitRelief{Limit: l, From: 3, To: 4})
	}
	return list
}

// In English every notice says something of its own; in JSON it has its name.
func TestEveryNoticeIsSaid(t *testing.T) {
	seen := map[notice.Kind]bool{}
	for _, n := range samples() {
		seen[n.Kind()] = true
		if text, _ := NewBook(English).Notice(n); text == "" || text == n.Kind().String() || strings.Contains(text, "%!") {
			t.Errorf("%#v says %q", n, text)
		}
		data, err := json.Marshal(notice.List{n})
		var back []map[string]any
		if err != nil || json.Unmarshal(data, &back) != nil || back[0]["kind"] != n.Kind().String() {
			t.Errorf("%#v is %s, %v", n, data, err)
		}
	}
	for k := range notice.Kinds {
		if !seen[k] {
			t.Errorf("no sample of %v", k)
		}
	}
}

// sayEverything says all that the words have renderers for: with the notices, every window, quantity,
// limit, movement, turn, drift and reason, on teeth of both jaws and sides.
func sayEverything(b *Book, told func(what ...any)) {
	for _, n := range samples() {
		told(b.Notice(n))
	}
	sayAnchors(b, told)
	sayBent(b, told)
	none := photo.Reason(-1)
	told(b.PictureRefusal(&photo.PictureError{Reason: none}))
	for reason := photo.Reason(0); reason.String() != none.String(); reason++ {
		told(b.PictureRefusal(&photo.PictureError{Reason: reason}))
	}
	for _, n := range []photo.Note{
		{Kind: photo.PrintedOffScale, Values: []float64{0.984, 1.012}},
		{Kind: photo.WidthAtOdds, Values: []float64{0.51, 0.4318}},
		{Kind: photo.BendsByHand, Values: []float64{2, 3}},
		{Kind: photo.StraightsByHand, Values: []float64{4}},
		{Kind: -1},
	} {
		told(b.PictureNote(n))
	}
	for l := range notice.Limits {
		for _, beyond := range []float64{0.4, 0.004, 3} {
			told(b.Excess(target.Excess{Limit: l, Beyond: beyond}))
		}
	}
	told(b.Excess(target.Excess{Limit: -1, Beyond: 0.4}))
	told(b.Excess(target.Excess{Limit: notice.Limits, Beyond: 0.4}))
	for _, byMM := range []float64{-0.4, 0, 0.004, 0.4} {
		told(b.Seat(byMM))
	}
	lacks := []error{effect.ErrNoDrift, &solve.PositionError{Cause: beam.ErrUnstable}, errors.New("anything")}
	for _, cause := range []error{solve.ErrTooShort, beam.ErrNoStraight, solve.ErrNoContact, solve.ErrTooMuchWork, beam.ErrUnstable, beam.ErrNoConvergence, &solve.YieldError{}} {
		lacks = append(lacks, &effect.WithheldError{Cause: cause})
	}
	for _, err := range lacks {
		told(b.DriftFault(err))
		told(b.Reason(err))
	}
	known := func(name string) { // of a name that may be the user's own, and then stays
		if _, found := tables[b.Language()][name]; !found {
			b.lacks(name)
		}
	}
	for _, a := range wire.Alloys() {
		w := wire.Wire{Alloy: a.Name, DiameterMM: 0.4}
		told(b.Wire(w))
		told(b.shortWire(w))
		known(a.Name)
		first, _, _ := strings.Cut(a.Name, " ")
		known(first)
	}
	told(b.Alloy(wire.Wire{EMPa: 70000}))
	for _, f := range design.Families() {
		told(b.Candidate(effect.Candidate{Family: f.Name}))
		known(f.Name)
	}
	told(b.CandidateTitle(effect.Candidate{Straight: true}))
	told(b.CandidateTitle(effect.Candidate{}))
	told(b.CandidateTitle(effect.Candidate{Spring: spring.Spring{Path: spring.PathOf(spring.StraightStep(1))}}))
	for quadrant := 1; quadrant <= 4; quadrant++ {
		for place := 1; place <= 8; place++ {
			told(b.Tooth(tooth.Number(10*quadrant + place)))
		}
	}
	inf := math.Inf(1)
	for _, teeth := range []tooth.Pair{{Anchor: 16, Active: 13}, {Anchor: 26, Active: 24}, {Anchor: 36, Active: 37}, {Anchor: 46, Active: 41}, {}} {
		for _, n := range []tooth.Number{teeth.Active, teeth.Anchor} {
			if n != 0 {
				told(b.Tooth(n))
				told(b.Quadrant(n))
				known(tooth.ResistanceOf(n).Source)
			}
			told(b.Outward(n))
			told(b.Inward(n))
			told(b.Edge(n))
			of := tooth.Member{Pair: teeth, Number: n}
			for k := range tooth.Components {
				for _, sign := range []float64{1, -1} {
					told(b.Towards(of, k, sign))
					told(b.Side(of.Sense(k, sign)))
					told(b.Way(of, k, sign))
				}
				for _, w := range [][2]float64{{-inf, inf}, {-inf, 1}, {-1, inf}, {1, inf}, {-inf, -1}, {-1, 1}, {-1, 2}, {1, 2}} {
					told(b.Range(of, k, w[0], w[1], 1, "N"))
				}
			}
			for _, f := range []r3.Vec{{X: 1}, {X: -1, Z: 1}, {Y: 1, Z: -1}, {Y: -1, X: 1}, {}} {
				for _, m := range []r3.Vec{{}, {X: 0.5, Y: 0.5, Z: 0.5}, {X: -20, Y: -20, Z: -20}, {X: 0.11, Y: 0.11, Z: 0.11}} {
					load := tooth.Load{ForceN: f, CoupleNMM: m}
					report := effect.ToothReport{Number: n, AtResistance: load, Movements: effect.Movements(load, 8)}
					for _, movement := range report.Movements {
						told(b.Plane(movement.Plane))
						told(b.Movement(of, report, movement))
						told(b.MovementKind(movement.Kind))
						told(b.TurningPoint(of, movement, ""))
					}
					told(b.Remedy(of, report))
					told(b.Turn(of, m))
					at := func(l tooth.Load) spring.Position { return spring.Position{Active: load, Anchor: l} }
					for _, anchor := range []tooth.Load{{}, load, {CoupleNMM: r3.Scale(-1, m)}, {ForceN: f}} {
						c := effect.Candidate{Family: "T-loop", Evaluation: solve.Evaluation{Record: spring.Record{Positions: []spring.Position{at(anchor), at(load)}}}}
						told(b.AnchorEffect(teeth, c, effect.Candidate{Straight: true, Evaluation: c.Evaluation}))
						c.Evaluation.Record.Positions[1].Anchor = tooth.Load{}
						told(b.AnchorEffect(teeth, c, c))
					}
				}
			}
			told(b.ArgumentRemark(effect.Argument{}))
			for saying := effect.WireForceLarger; saying <= effect.LargeTravelLoop; saying++ {
				for holds := range 3 {
					for only := effect.NoCondition; only <= effect.IsLetBack; only++ {
						told(b.Heard(teeth, effect.Heard{Saying: saying, FromMM: 2, ToMM: 3, Holds: holds, Of: 2, Only: only, Least: 0.5, Most: 1.5}))
					}
				}
			}
			argument := sampleArgument()
			argument.Unsolved, argument.Wires[0].StressRatio = 2, 1.1
			told(b.ArgumentRemark(argument))
			told(b.ArgumentFigures(teeth, argument))
			for end := effect.DriftArrived; end <= effect.DriftAgainst; end++ {
				for _, reached := range []float64{-1, 0, 1, 2} {
					d := effect.Drift{PlannedMM: 2, ReachedMM: reached, SlackMM: 2 - reached, End: end, SlotMM: r3.Vec{Z: -1}, Planned: r3.Vec{Y: 0.2}, ReachedRad: reached / 10, Steps: make([]effect.DriftStep, 1+int(math.Abs(reached)))}
					for _, turns := range []bool{true, false} {
						d.Turns = turns
						told(b.Drift(of, d))
						told(b.DriftInShort(of, d))
					}
				}
			}
		}
		c := design.Case{Teeth: teeth}
		for q := range target.Quantities {
			for _, w := range []target.Window{{Min: 0.1, Max: 0.2}, {Min: -0.2, Max: -0.1}, {Min: -1, Max: 1, Usual: true}, {Min: 0.1, Max: inf}, {Min: -inf, Max: 0.1}, {Min: -0.2, Max: 1}, {Min: -inf, Max: inf}} {
				for _, value := range []float64{-0.4, 0.15, 5} {
					for _, at := range []bool{true, false} {
						c.Target.AtResistance = at
						v := target.Verdict{Quantity: q, AtStart: at, Window: w, Low: value, High: value + 0.1}
						if teeth != (tooth.Pair{}) {
							told(b.Verdict(c, v))
							told(b.Quantities(c, q))
						}
						short := target.Shortfall{Misses: []target.Miss{{Quantity: q, Value: value, Window: w, AtStart: at}}, Untold: at}
						told(b.Shortfall(teeth, spring.Spring{Shortfall: &short, End: spring.Seat{AtMM: r3.Vec{Z: 1}}}))
						told(b.Shortfall(teeth, spring.Spring{Shortfall: &short}))
					}
				}
			}
		}
	}
}

// everyWord are all that the renderers say: what a language without any words lacks.
func everyWord() []string {
	own := tables[Spanish]
	tables[Spanish] = nil
	defer func() { tables[Spanish] = own }()
	words := map[string]bool{}
	sayEverything(&Book{language: Spanish, lacks: func(english string) { words[english] = true }}, func(...any) {})
	return slices.Sorted(maps.Keys(words))
}

// Words that come from elsewhere, by way of a renderer, are known in every language.
func TestEveryWordIsKnownInEveryLanguage(t *testing.T) {
	words := everyWord()
	if least := 200; len(words) < least {
		t.Errorf("no more than %d words are said, want %d and more", len(words), least)
	}
	for l := Portuguese; l.Valid(); l++ {
		for _, word := range words {
			if _, found := tables[l][word]; !found {
				t.Errorf("%v lacks %q", l, word)
			}
		}
	}
}

// sampleArgument has all that is told of a straight wire beside a spring.
func sampleArgument() effect.Argument {
	ends := effect.ArguedLoads{ForceN: 0.9, AnchorForceN: 0.9, AnchorCoupleNMM: 5}
	on := effect.ArguedLoads{ForceN: 0.9, AnchorForceN: 1.06, AnchorCoupleNMM: 3.8, NextForceN: 0.16}
	low, high := effect.StraightState{Data: effect.LowEnd}, effect.StraightState{Data: effect.HighEnd}
	next := low
	next.Next = 35
	return effect.Argument{
		Next: 35, Loop: []effect.PlacedLoads{{TravelLeftMM: 2, Loads: effect.ArguedLoads{ForceN: 0.45, AnchorForceN: 0.45, AnchorCoupleNMM: 4.5}}},
		Wires:        []effect.StraightFigure{{State: low, TravelLeftMM: 2, Loads: ends}, {State: next, TravelLeftMM: 2, Loads: on}},
		AtEqualForce: []effect.StraightFigure{{State: low, TravelLeftMM: 1.2, Loads: ends}, {State: high, TravelLeftMM: 0.4, Loads: on}},
	}
}
