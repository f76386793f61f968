package words

import (
	"springwright/design/notice"
)

// Shape says how far a spring is from its kind's own shape, and what that is for.
func (b *Book) Shape(s notice.Shape) string {
	kind := b.Name(s.Family)
	if s.Own() {
		return b.Say("shape: the usual one of this kind (%s)", kind)
	}
	text := b.Say("shape: off the usual one of this kind (%s) by up to %s mm in lengths that are alike there, and by a bend of %s",
		kind, b.Number(s.UnevenMM, 1), b.Degrees(s.LargestBendRad))
	if s.Nearer != nil {
		text += b.Say("; of the nearest to it that was found, about %s in 100 bent by hand would meet the target, of this one %s",
			InHundred(s.Nearer.Share), InHundred(s.Nearer.TakenShare))
	}
	return text
}
