package words

import "springwright/design/spring"

// Shares says how many springs bent in trial are right as bent and after what is done to them; "" where nobody has
// looked.
func (b *Book) Shares(s *spring.Shares) string {
	if s == nil || s.Springs == 0 {
		return ""
	}
	of := func(met int) string { return InHundred(float64(met) / float64(s.Springs)) }
	return b.Say("Of 100 springs %s are right as bent, %s with the free end put right as printed, %s after all bends are read and one is corrected; bent exactly as drawn it would be %s (%d springs bent in trial).",
		of(s.AsBent), of(s.Checked), of(s.Corrected), of(s.AsDrawn), s.Springs)
}
