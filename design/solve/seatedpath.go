package solve

import (
	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// SeatedPath solves springs that differ in their paths alone over their travel, held as they really
// are: with play, slid to rest or sliding. It is for a search: coarse, elastic, without warnings or a look
// for other states of rest; Evaluate has the last word. Like a beam.Solver it reuses its room and
// is for one goroutine.
type SeatedPath struct {
	spring   spring.Spring
	section  beam.Section // of its wire: dearer to reckon than a short path
	solver   *beam.Solver
	follower *slotFollower
	unloaded beam.Configuration
	seat     beam.Pose
	hold     beam.Hold
	seats    int // followed to since SetPath
	// Wary tells that the stability is looked at in every seat, not in the first alone, where loads are
	// largest.
	Wary bool
	// slid is what was let out of the slots by each parameter, and by a move of the far slot, where
	// the wire was cinched.
	slid       [][2]float64
	slidBySeat [6][2]float64
}

// NewSeatedPath returns the solver for springs with the slots, the wire and the travel of s. The
// error is that of SlotHold.PlayOf.
func NewSeatedPath(s spring.Spring, o beam.Options) (*SeatedPath, error) {
	rod := s.Rod()
	p := &SeatedPath{spring: s, section: rod.Section, solver: beam.NewSolver(rod, beam.Origin(), o)}
	var err error
	if p.follower, err = newSlotFollower(s, p.solver); err != nil {
		return nil, err
	}
	p.SetPath(s.Path)
	return p, nil
}

// SetPath takes up another wire, unloaded.
func (p *SeatedPath) SetPath(path spring.Path) { p.SetSteps(path.Steps()) }

// SetSteps is SetPath for steps that need not be tidy.
func (p *SeatedPath) SetSteps(steps spring.Steps) {
	p.solver.Reset(beam.Rod{Section: p.section, Pieces: steps.Pieces()}, beam.Origin())
	p.seats = 0
	if p.spring.Plain() {
		return
	}
	p.unloaded = p.solver.Configuration()
	f := p.follower
	f.contacts, f.seated, f.cinched, f.unloaded = contacts{}, false, false, &p.unloaded
}

// DrawTo sets the force along the wire to which it is drawn in its first seat, of a spring that is;
// it is for the time before that seat.
func (p *SeatedPath) DrawTo(forceN float64) { p.follower.spring.DrawnToN = forceN }

// Solver is the solver of the present wire: its nodes, its stress, its motion by a parameter.
func (p *SeatedPath) Solver() *beam.Solver { return p.solver }

// Spring is the spring whose slots, wire and travel these are, whatever the present wire.
func (p *SeatedPath) Spring() spring.Spring { return p.spring }

// Follow brings the wire to a seat. The first seat after SetPath is the one in which it is slid to
// rest. Errors are those of Evaluate, without their place.
func (p *SeatedPath) Follow(seat spring.Seat) error { return p.FollowPose(seat.Pose(p.spring.Heading)) }

// FollowPose is Follow to the pose of the wire's end in a seat.
func (p *SeatedPath) FollowPose(seat beam.Pose) error {
	p.hold, p.seat = p.spring.HoldAtPose(seat), seat
	p.solver.TrustStability(p.seats > 0 && !p.Wary)
	var err error
	if p.spring.Plain() {
		err = p.solver.Follow(p.hold)
	} else {
		err = p.follower.followQuickly(spring.SeatOf(seat, p.spring.Heading))
	}
	if err != nil {
		return err
	}
	p.seats++
	return nil
}

// Loads are those on both teeth.
func (p *SeatedPath) Loads() (active, anchor tooth.Load) {
	return p.spring.ActiveLoad(p.solver.EndLoad(), p.solver.End().At, p.seat), p.spring.AnchorLoad(p.solver.BaseLoad())
}

// Play is how the wire lies in its slots; nil for a plain spring.
func (p *SeatedPath) Play() *spring.PlayState {
	if p.spring.Plain() {
		return nil
	}
	return p.follower.state()
}

// SlidMM is how much wire was let out of the slots since SetPath.
func (p *SeatedPath) SlidMM() float64 {
	anchorMM, activeMM := p.solver.SlidMM()
	return anchorMM + activeMM
}

// Slopes fills in the exact derivatives of the discrete solution by each parameter, contacts
// kept, at the seat last followed to. Where the wire was slid to rest and cinched they have to be
// asked for at the first seat before any other: what was let out there goes with the parameters.
func (p *SeatedPath) Slopes(parameters []beam.Parameter, slopes []beam.Slope) bool {
	if p.spring.Plain() {
		return p.solver.Slopes(p.hold, parameters, slopes)
	}
	if p.cinched() {
		return len(p.slid) == len(parameters) && p.solver.SlotSlopes(parameters, p.slid, slopes)
	}
	if !p.solver.SlotSlopes(parameters, nil, slopes) {
		return false
	}
	p.slid = p.slid[:0]
	for _, slope := range slopes[:len(parameters)] {
		p.slid = append(p.slid, slope.SlidMM)
	}
	return true
}

// cinched tells whether the wire is cinched at a length that it was slid to.
func (p *SeatedPath) cinched() bool { return p.spring.SlidToRest != spring.NoSlide && p.seats > 1 }

// SeatSlopes returns the exact derivatives of the loads on both teeth by a move of the active slot:
// 0 to 2 by a mm along the global axes, 3 to 5 by a rad about global axes through its centre.
// All seats of the travel move alike: as for Slopes, the first one has to be asked first.
func (p *SeatedPath) SeatSlopes() (active, anchor [6]tooth.Load, ok bool) {
	if p.spring.Plain() {
		return p.plainSeatSlopes()
	}
	var slid *[6][2]float64
	if p.cinched() {
		slid = &p.slidBySeat
	}
	slopes, ok := p.solver.SeatSlopes(slid)
	if !ok {
		return active, anchor, false
	}
	for i := range slopes {
		if !p.cinched() {
			p.slidBySeat[i] = slopes[i].SlidMM
		}
		if i < 3 { // seen from the centre, which moves along
			slopes[i].EndShiftMM = r3.Sub(slopes[i].EndShiftMM, [...]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}[i])
		}
		active[i], anchor[i] = p.LoadSlopes(&slopes[i])
	}
	return active, anchor, true
}

// plainSeatSlopes is SeatSlopes for a plain spring.
func (p *SeatedPath) plainSeatSlopes() (active, anchor [6]tooth.Load, ok bool) {
	seat, ok := p.solver.HoldSlopes(p.hold)
	if !ok {
		return active, anchor, false
	}
	arm := r3.Sub(p.seat.At, p.spring.Centre(p.seat))
	force := p.solver.EndLoad().ForceN
	for k, along := range [...]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		moved := seat[k]
		moved.EndShiftMM = r3.Sub(moved.EndShiftMM, along) // against the slot's centre
		active[k], anchor[k] = p.LoadSlopes(&moved)
		// The end swings about the centre, and with it the arm of the force.
		swing := r3.Cross(along, arm)
		turned := seat[3+k]
		for i, mm := range [...]float64{swing.X, swing.Y, swing.Z} {
			turned.End = plus(turned.End, mm, seat[i].End)
			turned.Base = plus(turned.Base, mm, seat[i].Base)
		}
		turned.End.MomentNMM = r3.Add(turned.End.MomentNMM, r3.Cross(swing, force))
		active[3+k], anchor[3+k] = p.LoadSlopes(&turned)
	}
	return active, anchor, true
}

// plus is w with share times another wrench about the same point added.
func plus(w beam.Wrench, share float64, other beam.Wrench) beam.Wrench {
	return beam.Wrench{
		ForceN:    r3.Add(w.ForceN, r3.Scale(share, other.ForceN)),
		MomentNMM: r3.Add(w.MomentNMM, r3.Scale(share, other.MomentNMM)),
	}
}

// LoadSlopes turns a slope by a parameter into the changes of the loads on both teeth.
func (p *SeatedPath) LoadSlopes(slope *beam.Slope) (active, anchor tooth.Load) {
	change := slope.End
	if !p.spring.Plain() || p.spring.HookSlides() { // the force moves with the end
		change.MomentNMM = r3.Add(change.MomentNMM, r3.Cross(slope.EndShiftMM, p.solver.EndLoad().ForceN))
	}
	return p.spring.ActiveLoad(change, p.solver.End().At, p.seat), p.spring.AnchorLoad(slope.Base)
}
