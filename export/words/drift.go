package words

import (
	"errors"
	"math"

	"springwright/design/effect"
	"springwright/design/solve"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	leastDriftMM     = 0.01 // below it a travel is none
	leastDriftRad    = 0.05 * degree
	wholeDegreesFrom = 5 * degree // parts of larger turns are told in whole degrees
)

// DriftFault says why no drift is predicted.
func (b *Book) DriftFault(fault error) string {
	if errors.Is(fault, effect.ErrNoDrift) {
		return b.Say("the tooth is to stay where it stands")
	}
	if _, found := errors.AsType[*solve.PositionError](fault); found {
		return b.Say("no equilibrium was found on the way")
	}
	return b.Reason(fault)
}

// Turn names the three parts of a turn of a tooth in degrees, such as "1.2° crown-mesial", "0.3°
// buccal crown torque", "0.0°".
func (b *Book) Turn(of tooth.Member, rotation r3.Vec) (tip, torque, turn string) {
	text := func(k tooth.Component, rad float64) string {
		if math.Abs(rad) < leastDriftRad {
			return b.Number(0, 1) + "°"
		}
		word := b.Sense(of, k, rad)
		if k == tooth.CoupleX {
			word = b.Torque(of, rad)
		}
		return b.Say("%s° %s", b.Number(math.Abs(rad)/degree, 1), word)
	}
	return text(tooth.CoupleY, rotation.Y), text(tooth.CoupleX, rotation.X), text(tooth.CoupleZ, rotation.Z)
}

// turnSense names the largest part of a turn of a tooth, such as "crown-mesial" or "buccal
// crown torque".
func (b *Book) turnSense(of tooth.Member, rotation r3.Vec) string {
	tip, torque, turn := math.Abs(rotation.Y), math.Abs(rotation.X), math.Abs(rotation.Z)
	switch {
	case torque > max(tip, turn):
		return b.Torque(of, rotation.X)
	case turn > tip:
		return b.Sense(of, tooth.CoupleZ, rotation.Z)
	}
	return b.Sense(of, tooth.CoupleY, rotation.Y)
}

// turned are how much of its planned turn the tooth makes, and its plan, in degrees.
func (b *Book) turned(d effect.Drift) (made, planned string) {
	decimals := 0
	if r3.Norm(d.Planned) < wholeDegreesFrom {
		decimals = 1
	}
	return b.Number(math.Abs(d.ReachedRad)/degree, decimals), b.Number(r3.Norm(d.Planned)/degree, decimals)
}

// DriftInShort says how far a drift brings the tooth, for a line of a terminal: of a shift in per
// cent, of a turn in degrees.
func (b *Book) DriftInShort(of tooth.Member, d effect.Drift) string {
	if d.Turns {
		return b.turnedInShort(of, d)
	}
	text := b.Say("the slot comes %s %% of its travel", b.Number(math.Abs(100*d.ReachedShare()), 0))
	if d.ReachedMM < -leastDriftMM {
		text = b.Say("the slot goes %s mm against its travel of %s mm", b.Number(-d.ReachedMM, 2), b.Number(d.PlannedMM, 2))
	}
	if d.End == effect.DriftAgainst {
		text = b.Say("%s, where its force works the other way", text)
	}
	if d.End == effect.DriftCentreGone {
		text = b.Say("%s while the centre of resistance goes all of it", text)
	}
	if r3.Norm(d.Planned) >= leastDriftRad {
		text += "; " + b.turnedInShort(of, d)
	}
	return text
}

// turnedInShort is such as "it turns 11 of the planned 15°, crown-distal".
func (b *Book) turnedInShort(of tooth.Member, d effect.Drift) string {
	made, planned := b.turned(d)
	if d.ReachedRad < -leastDriftRad {
		return b.Say("it turns %s° the other way, away from the planned %s°, %s", made, planned, b.turnSense(of, d.Planned))
	}
	return b.Say("it turns %s of the planned %s°, %s", made, planned, b.turnSense(of, d.Planned))
}

// Drift says in sentences how far a drift brings the tooth, and why it ends early where it does.
func (b *Book) Drift(of tooth.Member, d effect.Drift) string {
	if !d.Turns {
		text := b.shifted(d)
		if r3.Norm(d.Planned) >= leastDriftRad {
			text += " " + b.turnedFully(of, d)
		}
		return text
	}
	text := b.turnedFully(of, d)
	switch d.End {
	case effect.DriftAgainst:
		text += " " + b.Say("Its couple works away from the goal.")
	case effect.DriftDied:
		text += " " + b.Say("There its couple has died out.")
	case effect.DriftCentreGone:
		text += " " + b.Say("There the centre of resistance has gone as far as planned.")
	case effect.DriftAside:
		text += " " + b.Say("It is followed no farther, as it hardly comes nearer.")
	}
	if aside := d.SlotMM; r3.Norm(aside) >= 0.05 { // else it prints as zero
		text += " " + b.Say("The slot meanwhile goes %s mm %s.", b.Number(r3.Norm(aside), 1), b.largestWay(of, aside))
	}
	return text
}

// shifted says how much of its planned shift the slot makes.
func (b *Book) shifted(d effect.Drift) string {
	reached := 100 * (1 - d.SlackMM/d.PlannedMM)
	percent, left := b.Number(math.Abs(reached), 0), b.Number(d.SlackMM, 2)
	switch {
	case d.SlackMM < leastDriftMM:
		return b.Say("The spring brings the tooth %s %% of its planned travel.", b.Number(reached, 0))
	case d.End == effect.DriftAgainst && len(d.Steps) < 2:
		return b.Say("The force works against the planned travel of %s mm: the tooth is pushed the other way.", b.Number(d.PlannedMM, 2))
	case d.End == effect.DriftAgainst:
		return b.Say("The spring brings the tooth %s %% of its planned travel; %s mm are left undone, where its force works the other way.", percent, left)
	case d.ReachedMM < -leastDriftMM:
		return b.Say("The slot goes %s mm against its planned travel of %s mm.", b.Number(-d.ReachedMM, 2), b.Number(d.PlannedMM, 2))
	case d.End == effect.DriftCentreGone:
		return b.Say("When the centre of resistance has gone as far as planned, the slot has come %s %% of its travel: %s mm are left undone, because the tooth turns.", percent, left)
	case d.End == effect.DriftAside:
		return b.Say("The spring brings the tooth %s %% of its planned travel; %s mm are left undone, as it hardly comes nearer.", percent, left)
	}
	return b.Say("The spring brings the tooth %s %% of its planned travel; %s mm are left undone, where its force has died out.", percent, left)
}

// turnedFully says how much of its planned turn the tooth makes.
func (b *Book) turnedFully(of tooth.Member, d effect.Drift) string {
	made, planned := b.turned(d)
	if d.ReachedRad < -leastDriftRad {
		return b.Say("The tooth turns by %s° the other way, away from its planned %s°, %s.", made, planned, b.turnSense(of, d.Planned))
	}
	return b.Say("The spring turns the tooth by %s of the planned %s°, %s.", made, planned, b.turnSense(of, d.Planned))
}

// largestWay is the word for the largest part of a move of a tooth.
func (b *Book) largestWay(of tooth.Member, mm r3.Vec) string {
	x, y, z := math.Abs(mm.X), math.Abs(mm.Y), math.Abs(mm.Z)
	switch {
	case x >= max(y, z):
		return b.Way(of, tooth.ForceX, mm.X)
	case y >= z:
		return b.Way(of, tooth.ForceY, mm.Y)
	}
	return b.Way(of, tooth.ForceZ, mm.Z)
}
