package casefile

import (
	"fmt"
	"slices"
	"strings"

	"springwright/design/tooth"
)

// sense is a component that a case names by the way it goes. Each of the two ways has its own
// words: a number under the wrong one would move a tooth backwards.
type sense struct {
	component tooth.Component
	// The words of either way; toward is that which tooth.Pair.ClinicalSign counts as above
	// 0. The first of each is good for any tooth.
	toward, against []string
}

// What a load does to a tooth, in the order in which messages list the keys.
var loadSenses = [tooth.Components]sense{
	{tooth.ForceX, []string{"mesial"}, []string{"distal"}},
	{tooth.ForceY, []string{"buccal", "labial"}, []string{"lingual", "palatal"}},
	{tooth.ForceZ, []string{"intrusive"}, []string{"extrusive"}},
	{tooth.CoupleX, []string{"buccal_crown_torque", "labial_crown_torque"}, []string{"lingual_crown_torque", "palatal_crown_torque"}},
	{tooth.CoupleY, []string{"crown_mesial"}, []string{"crown_distal"}},
	{tooth.CoupleZ, []string{"mesial_in"}, []string{"mesial_out"}},
}

// Where a slot lies or how it is turned against the anchor slot: a place has the sense of the
// force that pushes there, a turn that of the couple of its name.
var placeSenses = [...]sense{
	{tooth.ForceZ, []string{"apical"}, []string{"occlusal"}},
	{tooth.ForceY, []string{"buccal", "labial"}, []string{"lingual", "palatal"}},
	{tooth.CoupleY, []string{"crown_mesial_tip"}, []string{"crown_distal_tip"}},
	{tooth.CoupleX, []string{"buccal_crown_torque", "labial_crown_torque"}, []string{"lingual_crown_torque", "palatal_crown_torque"}},
	{tooth.CoupleZ, []string{"mesial_in_rotation"}, []string{"mesial_out_rotation"}},
}

// Where a centre of resistance lies from its slot's centre. One that lies occlusally of the
// slot would lie outside the root.
var (
	inwardSense = sense{toward: []string{"inward"}, against: []string{"outward"}}
	distalSense = sense{toward: []string{"distal"}, against: []string{"mesial"}}
	apicalSense = sense{toward: []string{"apical"}}
)

// keys are all keys of the sense with the unit's ending, those toward first.
func (n sense) keys(unit string) []string {
	var keys []string
	for _, word := range slices.Concat(n.toward, n.against) {
		keys = append(keys, word+unit)
	}
	return keys
}

// sensed finds the key that the table has of a sense; way is +1 toward and −1 against. More
// than one is a fault, and so is a word that the tooth has no side for. key is "" where the
// table has none that can be read.
func (s *section) sensed(n sense, unit string, of tooth.Number) (key string, way float64) {
	var given []string
	for _, k := range n.keys(unit) {
		if s.has(k) {
			given = append(given, k)
		}
	}
	s.oppose(n, unit)
	if len(given) > 1 {
		s.blame(given[1], "stands beside "+given[0]+", and both are of one "+n.noun(unit),
			"keep the one whose sense is wanted, or one window that holds both ways")
		for _, k := range given {
			s.fits(k, of)
		}
		return "", 0
	}
	if len(given) == 0 {
		return "", 0
	}
	key, way = given[0], 1
	if slices.Contains(n.against, strings.TrimSuffix(key, unit)) {
		way = -1
	}
	s.fits(key, of)
	return key, way
}

func (n sense) noun(unit string) string {
	return map[string]string{"_n": "force", "_nmm": "couple", "_mm": "place", "_deg": "turn"}[unit]
}

// fits checks that the tooth has the side that the key is named by.
func (s *section) fits(key string, of tooth.Number) {
	side := func(wrong, right, why string) {
		if strings.HasPrefix(key, wrong+"_") {
			s.blame(key, fmt.Sprintf("does not suit tooth %d: %s", of, why), "the same sense is "+right+strings.TrimPrefix(key, wrong))
		}
	}
	if !of.Valid() {
		return
	}
	if !of.Upper() {
		side("palatal", "lingual", "the palate is beside upper teeth")
	}
	if of.OutwardWord() != "labial" {
		side("labial", "buccal", "its outer side is buccal")
	}
}

// oppose remembers which keys mean the opposite of each other, so that no hint proposes the
// one for the other.
func (s *section) oppose(n sense, unit string) {
	if s.opposite == nil {
		s.opposite = map[string][]string{}
	}
	for _, sides := range [...][2][]string{{n.toward, n.against}, {n.against, n.toward}} {
		for _, word := range sides[0] {
			for _, other := range sides[1] {
				s.opposite[word+unit] = append(s.opposite[word+unit], other+unit)
			}
		}
	}
}
