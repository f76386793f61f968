package beam

import "gonum.org/v1/gonum/spatial/r3"

// Hold is what keeps the far end of a rod. The zero masks clamp it in Pose. A component
// that is free takes the given Load instead; its axes are those of Pose and stay fixed in
// space as the end moves.
type Hold struct {
	Pose     Pose
	FreeMove [3]bool // along Pose.D1, D2, D3
	FreeTurn [3]bool // about Pose.D1, D2, D3
	Load     Wrench  // on the rod's end, about that end, on Pose's axes; free components only
}

// Clamp holds the end in a pose.
func Clamp(pose Pose) Hold { return Hold{Pose: pose} }

// Hang lets the end go free under a dead load on global axes.
func Hang(load Wrench) Hold {
	all := [3]bool{true, true, true}
	return Hold{Pose: Origin(), FreeMove: all, FreeTurn: all, Load: load}
}

// free tells whether component i is free: 0 to 2 are moves, 3 to 5 are turns.
func (h *Hold) free(i int) bool {
	if i < 3 {
		return h.FreeMove[i]
	}
	return h.FreeTurn[i-3]
}

// release frees component i.
func (h *Hold) release(i int) {
	if i < 3 {
		h.FreeMove[i] = true
	} else {
		h.FreeTurn[i-3] = true
	}
}

// target is a Hold on the way: where its fixed components are to be and what its free
// components carry at one share of the way.
type target struct {
	hold Hold
	at   Pose   // relative to the base
	load Wrench // on hold.Pose's axes
}

// scales make every residual a pure number of order 1.
type scales struct{ place, force, moment float64 }

func (s *Solver) scales() scales {
	l := s.lengthMM
	return scales{place: 1 / l, force: l * l / s.bendEI, moment: l / s.bendEI}
}

// endMoment is the internal moment about the far end, global axes.
func (s *Solver) endMoment(end *Pose) r3.Vec {
	moment := s.moment
	subCross(&moment, &end.At, &s.force)
	return moment
}

// residual returns how far the end is from its target.
func (s *Solver) residual(t *target) (res vec6) {
	scale := s.scales()
	end := s.end()
	axes := [3]r3.Vec{t.hold.Pose.D1, t.hold.Pose.D2, t.hold.Pose.D3}
	gap := r3.Sub(end.At, t.at.At)
	turn := RotationBetween(t.at, end)
	moment := s.endMoment(&end)
	load := [6]float64{
		t.load.ForceN.X, t.load.ForceN.Y, t.load.ForceN.Z,
		t.load.MomentNMM.X, t.load.MomentNMM.Y, t.load.MomentNMM.Z,
	}
	for i, axis := range axes {
		if t.hold.FreeMove[i] {
			res[i] = scale.force * (r3.Dot(axis, s.force) - load[i])
		} else {
			res[i] = scale.place * r3.Dot(axis, gap)
		}
		if t.hold.FreeTurn[i] {
			res[3+i] = scale.moment * (r3.Dot(axis, moment) - load[3+i])
		} else {
			res[3+i] = r3.Dot(axis, turn)
		}
	}
	return res
}

// jacobian returns the change of the residual by a change of the load, from the motion of
// the end by the load.
func (s *Solver) jacobian(t *target, end *Pose, flexibility *mat6) (out mat6) {
	for j := range 6 {
		var motion, load vec6
		for i := range 6 {
			motion[i] = flexibility[i][j]
		}
		load[j] = 1
		out.setColumn(j, s.residualSlope(t, end, &motion, &load))
	}
	return out
}

// residualSlope returns the change of the residual by a motion of the end and a change of
// the load.
func (s *Solver) residualSlope(t *target, end *Pose, motion, load *vec6) (res vec6) {
	scale := s.scales()
	axes := [3]r3.Vec{t.hold.Pose.D1, t.hold.Pose.D2, t.hold.Pose.D3}
	turn := r3.Vec{X: motion[0], Y: motion[1], Z: motion[2]}
	shift := r3.Vec{X: motion[3], Y: motion[4], Z: motion[5]}
	force := r3.Vec{X: load[0], Y: load[1], Z: load[2]}
	moment := r3.Vec{X: load[3], Y: load[4], Z: load[5]}

	moved := r3.Add(shift, r3.Cross(turn, end.At))
	error := rotationLogSlope(RotationBetween(t.at, *end), turn)
	subCross(&moment, &moved, &s.force)
	subCross(&moment, &end.At, &force)
	for i, axis := range axes {
		if t.hold.FreeMove[i] {
			res[i] = scale.force * r3.Dot(axis, force)
		} else {
			res[i] = scale.place * r3.Dot(axis, moved)
		}
		if t.hold.FreeTurn[i] {
			res[3+i] = scale.moment * r3.Dot(axis, moment)
		} else {
			res[3+i] = r3.Dot(axis, error)
		}
	}
	return res
}
