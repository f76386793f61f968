package tooth

import (
	"math"
	"strings"
)

// Range says what a component may be, in the words of its senses: "0.3 N to 0.6 N intrusive",
// "at most 0.06 N mesial or distal", "0.1 N extrusive to 0.6 N intrusive". low and high are on
// the global axes; either may be infinite. number writes a size, which is never below 0, with
// its unit.
func (m Member) Range(c Component, low, high float64, number func(float64) string) string {
	toward, against := m.senseWord(c, 1), m.senseWord(c, -1)
	if high <= 0 && low < 0 || m.ClinicalSign(c) < 0 && low < 0 && high > 0 {
		low, high, toward, against = 0-high, 0-low, against, toward // 0 stays +0
	}
	if low >= 0 {
		switch {
		case math.IsInf(high, 1):
			return strings.TrimSpace("at least " + number(low) + " " + toward)
		case low == high:
			return number(low) + " " + toward
		}
		return number(low) + " to " + number(high) + " " + toward
	}
	switch {
	case math.IsInf(low, -1) && math.IsInf(high, 1):
		return "anything"
	case math.IsInf(low, -1):
		return "at most " + number(high) + " " + toward + " or any " + against
	case math.IsInf(high, 1):
		return "at most " + number(-low) + " " + against + " or any " + toward
	case low == -high:
		return "at most " + number(high) + " " + toward + " or " + against
	}
	return number(-low) + " " + against + " to " + number(high) + " " + toward
}

// senseWord is Sense, with the torque of a couple about x named as such.
func (m Member) senseWord(c Component, value float64) string {
	if c == CoupleX {
		return m.CoupleXWord(value)
	}
	return m.Sense(c, value)
}
