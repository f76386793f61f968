package desk

import (
	"springwright/design"
	"springwright/design/family"
	"springwright/export/words"
)

// pageWords are the texts of the page that do not depend on a case, by the names that the page
// knows them by.
func pageWords(b *words.Book) map[string]string {
	said := map[string]string{}
	for _, texts := range [...]map[string]words.Phrase{pageTexts, manyTexts} {
		for name, english := range texts {
			said[name] = b.Say(english)
		}
	}
	return said
}

var pageTexts = map[string]words.Phrase{
	"case":                               "Case",
	"new case":                           "New case",
	"save":                               "Save",
	"saved":                              "saved",
	"not saved yet":                      "not saved yet",
	"go on without saving":               "Go on without saving",
	"close":                              "Close",
	"language":                           "Language",
	"step measure":                       "Measure",
	"step want":                          "What is wanted",
	"step kind":                          "Wire and kind",
	"step result":                        "Spring",
	"step sheet":                         "Sheet",
	"step visits":                        "Visits",
	"step bent":                          "As bent",
	"measure what came out":              "The wire that came out, measured over its drawing or in a picture. Leave empty what was not measured.",
	"what was measured":                  "What was measured",
	"a picture":                          "A picture",
	"on the card":                        "Lay the spring on the card of the check page and take a picture from straight above, all four marks in it; its anchor end is the left one.",
	"choose a picture":                   "Choose a picture",
	"reading the picture":                "Reading the picture",
	"forget the picture":                 "Forget the picture",
	"or drop it here":                    "or drop it here (PNG or JPEG)",
	"bends and straights":                "Bends and straights",
	"angles and lengths":                 "By how many degrees the wire turns, below 0 where it is bent the other way; a straight from where one bend ends to where the next begins. Grey: as drawn.",
	"the free end":                       "The free end",
	"anchor end seated":                  "With the anchor end seated: how far the other end lies off from where it is drawn.",
	"it lies as printed":                 "It lies as printed",
	"the gauge":                          "The gauge",
	"it reads":                           "it reads",
	"readings are off by":                "What your readings are off by",
	"bent only so far":                   "The wire is bent only as far as the last thing measured",
	"what will it do":                    "What will it do?",
	"how to go on":                       "How to go on?",
	"reckoning":                          "Reckoning with springs that it may be",
	"take these numbers":                 "Take these numbers",
	"write the files":                    "Write the sheet and the springs into the folder",
	"what came out":                      "What most likely came out",
	"loads in numbers":                   "Loads in numbers",
	"nine of ten it may be":              "nine of ten springs that it may be",
	"which way":                          "which way",
	"at least":                           "at least",
	"at most":                            "at most",
	"active tooth":                       "active tooth",
	"anchor tooth":                       "anchor tooth",
	"kind of spring":                     "Kind of spring",
	"search a spring":                    "Search a spring",
	"search again":                       "Search again",
	"searching":                          "searching",
	"stop":                               "Stop",
	"undo":                               "Undo",
	"redo":                               "Redo",
	"next":                               "Next",
	"steps":                              "Steps",
	"drawing":                            "Drawing",
	"message":                            "Message",
	"the example":                        "An invented case that comes with the program, designed as you opened it. Drag a bend and see the loads on both teeth follow; for a case of your own click New case, at the top.",
	"to the field":                       "Go to the field",
	"show theirs":                        "Show theirs",
	"keep mine as a new case":            "Keep mine as a new case",
	"keep what is not saved as a file":   "Keep the case that is not saved as a file",
	"straight wire":                      "straight wire",
	"this spring":                        "this spring",
	"wanted":                             "wanted",
	"nine of ten bent springs":           "nine of ten springs of a skilled hand",
	"drag or type":                       "Drag a spot of the drawing, move it by the arrow keys, or type here.",
	"true size":                          "True size",
	"bar on the screen":                  "The bar measures",
	"the screen is off":                  "The bar is not 10 mm long on this screen?",
	"in the way":                         "In the way of a better one",
	"what would do":                      "What would do",
	"each was tried":                     "Each of these was tried. The prescriber decides.",
	"fill this in":                       "Fill this in",
	"measure again":                      "Measure again",
	"filled in":                          "Filled in. Search again.",
	"loses per mm":                       "loses per mm",
	"bends":                              "bends",
	"met by hand":                        "met by hand",
	"the sheet says what is missed":      "This spring does not meet its target. Every page of the sheet says so.",
	"back to the design":                 "Back to the design",
	"mend the marked fields first":       "Fill in or mend the marked fields first.",
	"bends and legs":                     "Bends and legs",
	"other springs that meet the target": "Other springs that meet the target",
	"search a spring first":              "Search a spring first.",
	"print at 100 %":                     "The sheet opens in the browser's viewer. Print it at 100 %% (actual size), then measure both bars.",
	"paper":                              "Paper",
	"the printer is off":                 "The printer does not print at true size?",
	"type in both bars":                  "Type in what both bars of 100 mm measure on paper: the next sheet is corrected.",
	"bar across":                         "bar across the page",
	"bar up":                             "bar up the page",
	"open the sheet":                     "Open the sheet",
	"open the measuring sheet":           "Open the blank measuring sheet",
	"print the sheet instead":            "Print the sheet, not this page: only the sheet is true to scale.",
	"the server does not answer":         "springwright does not answer: start it again.",
}

// kindJSON is a kind of spring to choose.
type kindJSON struct {
	Name    string   `json:"name"`
	Label   string   `json:"label"`
	For     string   `json:"for"`
	Picture *drawing `json:"picture"`
}

func kindsOf(b *words.Book) []kindJSON {
	list := []kindJSON{{Name: "choose", Label: b.Say("Choose for me"), For: b.Say("a kind that suits the planned movement; the result says which, and why")}}
	for _, f := range design.Families() {
		k := kindJSON{Name: f.Name, Label: b.Name(f.Name), For: b.KindFor(f)}
		if poses, err := family.Sketch(f); err == nil {
			d := drawing{Label: k.Label, Letters: []lettered{}, Teeth: []lettered{}}
			line := make([][2]float64, len(poses))
			for i, p := range poses {
				line[i] = [2]float64{p.At.X, p.At.Z}
			}
			d.Shapes = []shape{{"wire", line, false}}
			d.Box = boxOf(d, 1)
			k.Picture = &d
		}
		list = append(list, k)
	}
	return list
}
