package words

import "springwright/design"

// KindFor says what a kind of spring is for (common practice).
func (b *Book) KindFor(f design.Family) string { return b.Say(kindsFor[f.Name]) }

var kindsFor = map[string]Phrase{
	design.RectangularLoopName:     "moving a tooth up or down without tipping it; taken for what none of the others is for",
	design.TLoopName:               "closing a space, bodily at the start",
	design.LLoopName:               "bringing a high tooth into line between its neighbours",
	design.OpenVerticalLoopName:    "closing a small space with controlled tipping",
	design.ClosedVerticalLoopName:  "closing a small space with controlled tipping; its legs cross, so that the pull winds it tighter",
	design.CantileverName:          "a single force on a tooth, by a hook, without a couple on it",
	design.CantileverWithHelixName: "a single light force on a tooth, by a hook, that hardly fades",
	design.UprightingSpringName:    "setting a tipped molar upright; the molar holds it, so it is the anchor here",
	design.RootSpringName:          "carrying a root across the arch, by a couple with hardly any force",
	design.IntrusionArchName:       "intruding incisors tied together, one side of the arch",
}
