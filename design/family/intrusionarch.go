package family

import (
	"math"

	"springwright/design"
	"springwright/design/spring"
)

// IntrusionArch is the pattern of one side of an intrusion arch: held in the tube of a
// molar, up into the vestibule, forward past the teeth between, down again and tied to the
// front tooth as a point. The tip-back bend in front of the tube is what activates it (tied
// at 10 to 25 gf for each tooth: van Steenbergen et al., Angle Orthod 2005;75:723). Usual
// steps are 3 to 5 mm high (common practice).
func IntrusionArch(c design.Case) spring.Pattern {
	b := newPatternBuilder(c, "intrusion arch")
	const half = math.Pi / 2
	b.straight("molar leg", c.Limits.ShortestStraightMM, max(c.Limits.ShortestStraightMM, stepWithinMM))
	b.bend("tip-back bend and step up", half)
	b.height("step up")
	b.usual(3, 5)
	b.corner(-half)
	b.straight("arm", c.Limits.ShortestStraightMM, b.reachMM)
	if b.spatial {
		b.firstOrder("arm first-order bend")
	}
	b.corner(-half)
	b.height("step down")
	b.usual(3, 5)
	b.alike("step up", 0)
	b.bend("end of the step down", half)
	b.straight("front leg", c.Limits.ShortestStraightMM, b.reachMM)
	b.noLoop()
	return b.pattern
}

// stepWithinMM is how far from the tube the step up stands at most: farther on it would run
// into the next bracket, whose middle lies some 8 mm from the tube's (common practice).
const stepWithinMM = 4
