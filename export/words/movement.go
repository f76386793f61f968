package words

import (
	"math"

	"springwright/design/effect"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Plane is where a plane of movement is seen from, such as "seen from the cheek".
func (b *Book) Plane(p effect.Plane) string {
	return b.Say([...]Phrase{"seen from the cheek", "seen along the arch", "seen from the biting side"}[p])
}

// MovementKind is a movement in a word or two, for tables.
func (b *Book) MovementKind(k effect.MovementKind) string {
	if k == effect.Rest {
		return "–"
	}
	return b.Say([...]Phrase{"", "bodily", "nearly bodily", "tipping", "turning on the spot"}[k])
}

// Movement says how a tooth starts to move in a plane.
func (b *Book) Movement(of tooth.Member, t effect.ToothReport, m effect.Movement) string {
	switch m.Kind {
	case effect.Rest:
		return b.Say("no load worth naming")
	case effect.Translation:
		return b.Say("bodily movement, %s", b.push(of, t.AtResistance.ForceN, m.Plane))
	case effect.PureRotation:
		return b.Say("turns, %s, about its centre of resistance", b.TurnWord(of, m))
	}
	text := b.Say("tips, %s, about a point %s of its centre of resistance", b.TurnWord(of, m), b.TurningPoint(of, m, b.Say("towards the crown")))
	if m.Kind == effect.SmallTipping {
		return b.Say("nearly bodily, %s", b.push(of, t.AtResistance.ForceN, m.Plane)) + "; " + text
	}
	return text
}

// TurnWord is which way the tooth turns in a plane, such as "crown-mesial" or "crown-buccal".
func (b *Book) TurnWord(of tooth.Member, m effect.Movement) string {
	return b.Sense(of, [...]tooth.Component{tooth.CoupleY, tooth.CoupleX, tooth.CoupleZ}[m.Plane], m.MomentNMM)
}

// push names the force in a plane, the larger part first.
func (b *Book) push(of tooth.Member, forceN r3.Vec, plane effect.Plane) string {
	type part struct {
		k    tooth.Component
		size float64
	}
	x, y, z := part{tooth.ForceX, forceN.X}, part{tooth.ForceY, forceN.Y}, part{tooth.ForceZ, forceN.Z}
	pair := [...][2]part{{z, x}, {z, y}, {x, y}}[plane]
	if math.Abs(pair[1].size) > math.Abs(pair[0].size) {
		pair[0], pair[1] = pair[1], pair[0]
	}
	const share = 5 // a part that is less is not named
	if math.Abs(pair[1].size)*share < math.Abs(pair[0].size) {
		return b.Sense(of, pair[0].k, pair[0].size)
	}
	return b.and([]string{b.Sense(of, pair[0].k, pair[0].size), b.Sense(of, pair[1].k, pair[1].size)}, "")
}

// TurningPoint is the place of the point that a tooth turns about, from its centre of
// resistance: "3.2 mm distal and 1.1 mm apical". coronal is the word for towards the crown.
func (b *Book) TurningPoint(of tooth.Member, m effect.Movement, coronal string) string {
	v := m.RotationAboutMM
	const leastMM = 0.1
	var parts []string
	add := func(mm float64, word string) {
		if math.Abs(mm) >= leastMM {
			parts = append(parts, b.Say("%s mm %s", b.Number(math.Abs(mm), 1), word))
		}
	}
	add(v.X, b.Sense(of, tooth.ForceX, v.X))
	add(v.Y, b.Sense(of, tooth.ForceY, v.Y))
	if v.Z >= 0 {
		coronal = b.Say("apical")
	}
	add(v.Z, coronal)
	return b.and(parts, b.Number(0, 1)+" mm")
}

// Remedy says what would cancel the tipping about x that the load leaves on a tooth.
func (b *Book) Remedy(of tooth.Member, t effect.ToothReport) string {
	m := t.AtResistance.CoupleNMM.X
	if math.Abs(m) < effect.LeastCoupleNMM {
		return b.Say("nothing tips its crown across the arch")
	}
	// About +x the crown goes towards +y.
	return b.Say("%s N·mm tip its crown %s; at the slot a couple of %s N·mm (%s) or a %s force of %s N would cancel that",
		b.Number(math.Abs(m), 1), b.Towards(of, tooth.ForceY, m), b.Number(math.Abs(t.Remedy.CoupleNMM), 1),
		b.Torque(of, t.Remedy.CoupleNMM), b.Sense(of, tooth.ForceY, t.Remedy.ForceN), b.Number(math.Abs(t.Remedy.ForceN), 2))
}

// and lists parts by commas and "and"; none is said where there are no parts.
func (b *Book) and(parts []string, none string) string {
	switch n := len(parts); n {
	case 0:
		return none
	case 1:
		return parts[0]
	default:
		text := parts[0]
		for _, part := range parts[1 : n-1] {
			text += ", " + part
		}
		return text + b.Say(" and ") + parts[n-1]
	}
}
