package tooth

import (
	"math"
	"strings"
)

// Say fills in a phrase, as fmt.Sprintf does in English.
type Say func(english string, values ...any) string

// Range says what a component is or may be, in the words of its senses: "0.3 to 0.6 N
// intrusive", "at most 0.06 N mesial or distal", "0.1 N extrusive to 0.6 N intrusive". low and
// high are on the global axes; either may be infinite. number writes a size, which is never
// below 0.
func (m Member) Range(c Component, low, high float64, number func(float64) string, unit string, say Say) string {
	toward, against := m.senseWord(c, 1), m.senseWord(c, -1)
	// What is written as nothing has no sense.
	if number(math.Abs(low)) == number(0) {
		low = 0
	}
	if number(math.Abs(high)) == number(0) {
		high = 0
	}
	if high <= 0 && low < 0 || m.ClinicalSign(c) < 0 && low < 0 && high > 0 {
		low, high, toward, against = 0-high, 0-low, against, toward // 0 stays +0
	}
	toward, against = say(toward), say(against)
	size := func(v float64) string { return strings.TrimSpace(number(v) + " " + unit) }
	if low >= 0 {
		switch {
		case math.IsInf(high, 1):
			return say("at least %s %s", size(low), toward)
		case number(low) == number(high):
			return size(low) + " " + toward
		}
		return say("%s to %s %s", number(low), size(high), toward)
	}
	switch {
	case math.IsInf(low, -1) && math.IsInf(high, 1):
		return say("anything")
	case math.IsInf(low, -1):
		return say("at most %s %s or any %s", size(high), toward, against)
	case math.IsInf(high, 1):
		return say("at most %s %s or any %s", size(-low), against, toward)
	case low == -high:
		return say("at most %s %s or %s", size(high), toward, against)
	}
	return say("%s %s to %s %s", size(-low), against, size(high), toward)
}

// LoadNames names a component that may have either sense, such as "mesial or distal force".
func (m Member) LoadNames(c Component, say Say) string {
	toward := m.ClinicalSign(c)
	switch {
	case c == CoupleX:
		return say("%s or %s crown torque", say(m.ForceYWord(toward)), say(m.ForceYWord(-toward)))
	case c.Couple():
		return say("%s or %s couple", say(m.Sense(c, toward)), say(m.Sense(c, -toward)))
	}
	return say("%s or %s force", say(m.Sense(c, toward)), say(m.Sense(c, -toward)))
}

// senseWord is Sense, with the torque of a couple about x named as such.
func (m Member) senseWord(c Component, value float64) string {
	if c == CoupleX {
		return m.CoupleXWord(value)
	}
	return m.Sense(c, value)
}
