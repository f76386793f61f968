package photo

import "springwright/design/spring"

// Readings are what a picture tells of the spring's steps: every bend, and every straight between two of
// them, with the standard error of each; those that it does not show well enough are left to the hand.
func (o Outline) Readings() []spring.StepReading {
	var all []spring.StepReading
	for _, s := range o.Straights {
		if !s.Leg && s.Step >= 0 && !s.ByHand {
			all = append(all, spring.StepReading{Step: s.Step, Value: s.LengthMM, SD: s.SEMM})
		}
	}
	for _, b := range o.Bends {
		if !b.ByHand {
			all = append(all, spring.StepReading{Step: b.Step, Value: b.AngleRad, SD: b.SERad})
		}
	}
	return all
}
