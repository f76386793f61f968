package photo

import "springwright/design/fault"

// Reason is why a picture is not read.
type Reason int

// The reasons.
const (
	NoPicture     Reason = iota // no PNG or JPEG, or a broken one
	TooLarge                    // more pixels or bytes than are read
	TooSmall                    // fewer pixels than show a wire
	MarkMissing                 // one of the card's marks is not seen
	TwoCards                    // a mark is seen twice
	Mirrored                    // the card is seen in a mirror, or printed so
	TooFar                      // the card takes too little of the picture
	TooOblique                  // the card is seen from too far aside
	Blurred                     // edges are wider than the wire allows
	PaperBent                   // the card's lines are not straight
	NoWire                      // nothing lies in the field
	SeveralWires                // more than one thing lies in the field
	Tangled                     // the wire cannot be followed from end to end
	LeavesField                 // the wire lies on the card's lines or marks
	CrossesItself               // where the spring as designed does not
	NotFlat                     // a straight is not straight in the picture
	OtherSpring                 // what is seen is not the spring expected
	OtherWire                   // the wire is wider or narrower than expected
	BothWays                    // the spring fits with either end first
	OutOfPlane                  // the spring cannot lie flat
	Unclear                     // the wire's edges are not found well enough
	Shaded                      // shadows beside the wire hide where it is
	Bright                      // the wire is brighter than the paper
)

// reasonTexts are what is wrong, and what to do.
var reasonTexts = [...][2]string{
	NoPicture:     {"this is no picture that can be read (PNG or JPEG)", "save or send the picture as JPEG or PNG"},
	TooLarge:      {"the picture is larger than is read (at most 64 million pixels, 96 MB)", "save it smaller: the card needs no more than 40 pixels to the millimetre"},
	TooSmall:      {"the picture is too small (at least 400 pixels either way)", enoughPixels},
	MarkMissing:   {"a mark of the card is not seen", "take the picture again with all four black squares whole in it, sharp, and without a shadow's edge or a glare across them"},
	TwoCards:      {"a mark is seen more than once", "have one card in the picture"},
	Mirrored:      {"the card is seen in a mirror, or printed mirrored", "print the page as it is, and take the picture with the camera that does not mirror; a mirrored picture would show every bend the wrong way"},
	TooFar:        {"the card takes too little of the picture", enoughPixels},
	TooOblique:    {"the card is seen from too far aside", "take the picture from straight above"},
	Blurred:       {"the picture is not sharp enough", "hold the camera still, let it focus on the card, give more light"},
	PaperBent:     {"the card's lines are not straight: the paper is bent or the lens distorts too much", "lay the page flat on a firm table, hold its edges down, and take the picture from a little farther away"},
	NoWire:        {"no wire is seen in the field", "lay the spring into the field, with even light and no glare on the paper"},
	SeveralWires:  {"more than one thing lies in the field", "have nothing in the field but the one spring, and no writing"},
	Tangled:       {"the wire cannot be followed from one end to the other", "part legs that lie on each other or cross near a bend, and have nothing else in the field"},
	LeavesField:   {"the spring does not lie wholly inside the lines", "lay it into the field so that it touches neither lines nor marks; shorten legs that are longer than needed"},
	CrossesItself: {"the wire crosses itself where the spring as designed does not", "look whether a bend goes the wrong way; part legs that lie across each other"},
	NotFlat:       {"the spring does not lie as straights and bends in one plane", "press it flat on the paper, take away glare along the wire and shadows beside it; measure by hand what does not lie flat"},
	OtherSpring:   {"what is seen is not the spring expected", "look whether it is the right spring file and whether a bend is missing or goes the wrong way"},
	OtherWire:     {"the wire in the picture has not the expected width", "look whether it is the right wire, whether it lies on the right side, and whether the page was printed at 100 %; measure its bars"},
	BothWays:      {"the spring fits alike with either end first", "lay it so that its anchor end is clearly the left one as the card is read"},
	OutOfPlane:    {"this spring does not lie flat", "a picture does not show all of it: measure its bends and straights by hand, and write them into the blank form"},
	Unclear:       {"the wire's edges are not seen well enough", "take the picture again in even light, without glare on the wire and without a shadow beside it"},
	Shaded:        {"a shadow beside the wire, or light on its side, hides its edges", "press the spring flat on the paper, take the picture from straight above, in light from all sides or from above: not with one low lamp"},
	Bright:        {"the wire is as bright as the paper or brighter: it mirrors a light", "turn the page or move the lamp until the whole wire looks dark on the paper; do without flash"},
}

// enoughPixels says how many pixels are good: 20 to the millimetre, which 2000 across a picture give that the
// card fills, and 500 dots to the inch of a scanner.
const enoughPixels = "go nearer until the card fills the picture, so that it is 1700 pixels long or more; scan with 400 to 600 dots to the inch"

// String is the reason in words.
func (r Reason) String() string {
	if r < 0 || int(r) >= len(reasonTexts) {
		return "the picture is not read"
	}
	return reasonTexts[r][0]
}

// Hint is what to do about it.
func (r Reason) Hint() string {
	if r < 0 || int(r) >= len(reasonTexts) {
		return ""
	}
	return reasonTexts[r][1]
}

// PictureError says why a picture is not read. errors.As finds it.
type PictureError struct {
	Reason Reason
	Detail string // the numbers of it; may be empty
	// Marks are the numbers of the marks that are missing or seen twice.
	Marks []int
	// Bends are the numbers, as of Path.BendNumbers, of the bends and twists that it is about.
	Bends []int
}

// Error is what is wrong, without the hint.
func (e *PictureError) Error() string {
	if e.Detail == "" {
		return e.Reason.String()
	}
	return e.Reason.String() + ": " + e.Detail
}

// Fault is the error with its hint, about a file.
func (e *PictureError) Fault(file string) fault.Fault {
	return fault.Fault{File: file, Text: e.Error(), Hint: e.Reason.Hint()}
}
