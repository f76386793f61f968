package optimize

import (
	"springwright/design"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// judgement turns loads as the solver gives them into what the target is about, as
// design.Case does, with all that stays over a search worked out once.
type judgement struct {
	spring spring.Spring
	// From the slots' centres to the points about which the target's couples are taken; of
	// the active tooth at each position, as measured: that a slot sits otherwise on it does
	// not move the root.
	active []r3.Vec
	anchor r3.Vec
}

func newJudgement(c design.Case, spring spring.Spring) judgement {
	j := judgement{spring: spring}
	for i := range c.Positions {
		j.active = append(j.active, c.JudgedOffset(spring.SeatAt(i)))
	}
	if c.Target.AtResistance {
		j.anchor = c.AnchorOffset()
	}
	return j
}

// at takes loads about the slots' centres at a position, and that on the active tooth at
// the first one. It is linear: changes of these give the change of its answer.
func (j *judgement) at(position int, active, anchor, first tooth.Load) target.Judged {
	judged := target.Judged{Active: active.AtResistance(j.active[position]), Anchor: anchor.AtResistance(j.anchor)}
	if position == len(j.active)-1 {
		judged.RateNPerMM = j.spring.RateNPerMM(first, active)
	}
	return judged
}
