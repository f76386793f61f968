package export

import (
	"strings"

	"springwright/design/notice"
	"springwright/export/sheet"
	"springwright/export/words"
)

// trialNote is what became of springs bent in trial.
type trialNote struct{ *subject }

// trialText says what becomes of the spring in the hand: whether the drawing meets the target,
// of how many springs bent in trial the same is true, and what they most often miss. Empty
// where nobody has held it against a target.
func (t trialNote) trialText() (text string) {
	record := t.job.Evaluation.Record
	say := func(sentence string) {
		if text != "" {
			text += " "
		}
		text += sentence
	}
	if v := record.Verdict; v != nil {
		if v.None() {
			say(t.say("Met as drawn."))
		} else {
			say(t.say("Not met, not even as drawn."))
		}
	}
	for _, n := range record.Chosen {
		switch shape, ok := n.(notice.Shape); {
		case !ok || shape.Own():
		case shape.UnevenMM < words.LeastUnevenMM:
			say(t.say("This kind's usual shape but for bends of up to %s.", t.words.Degrees(shape.LargestBendRad)))
		default:
			say(t.say("Not this kind's usual shape: lengths alike there differ by %s mm, largest pre-activation bend %s.",
				t.words.Number(shape.UnevenMM, 1), t.words.Degrees(shape.LargestBendRad)))
		}
	}
	if shares := t.words.Shares(record.Shares); shares != "" {
		defer func() { text = strings.TrimSpace(text + " " + shares) }()
	}
	s := record.Spread
	if s == nil || s.Springs == 0 {
		return text
	}
	bender := t.job.Case.Bender
	// Two standard deviations: 19 of 20 are within.
	angles, lengths := t.words.Degrees(2*bender.AngleSDRad), t.words.Number(2*bender.LengthSDMM, 1)
	if bender.Checks {
		say(t.say("Of %d springs bent in trial by a hand that keeps bends to ±%s and straights to ±%s mm, and put right on the template, %s in 100 meet the target.",
			s.Springs, angles, lengths, words.InHundred(s.Share())))
	} else {
		say(t.say("Of %d springs bent in trial by a hand that keeps bends to ±%s and straights to ±%s mm, %s in 100 meet the target.",
			s.Springs, angles, lengths, words.InHundred(s.Share())))
	}
	if s.MostMissed != "" {
		say(t.say("Most often missed: %s (in %s of 100).", t.words.Quantities(t.job.Case, s.Missed), words.InHundred(s.MissedShare)))
	}
	if s.Unseated > 0 {
		say(t.say("Not to be seated at all: %s in 100.", words.InHundred(float64(s.Unseated)/float64(s.Springs))))
	}
	return text
}

// draw writes the text over the whole width.
func (t trialNote) draw(f *flow, style sheet.Style) {
	if text := t.trialText(); text != "" {
		f.paragraph(text, style, afterCheckMM)
	}
	t.told.trial = true
}

// heightMM is what the note takes.
func (t trialNote) heightMM(f *flow, style sheet.Style) float64 {
	text := t.trialText()
	if text == "" {
		return 0
	}
	return f.doc.HeightOf(text, f.area.Width(), style) + afterCheckMM
}
