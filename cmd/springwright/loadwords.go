package main

import (
	"math"
	"strings"

	"springwright/design/tooth"
)

// directionWords names what a load on a tooth does, by component and sign.
type directionWords struct{ positive, negative [tooth.Components]string }

// loadWords names what the loads on both teeth do.
type loadWords struct {
	active, anchor directionWords
	legend         string // what a reader must know about the axes, one line
}

// axisWords are for springs of which no teeth are known.
func axisWords() loadWords {
	words := directionWords{
		positive: [...]string{"towards +x", "towards +y", "intrusive", "crown towards +y", "root towards +x", "+x side towards +y"},
		negative: [...]string{"towards −x", "towards −y", "extrusive", "crown towards −y", "crown towards +x", "+x side towards −y"},
	}
	return loadWords{
		active: words, anchor: words,
		legend: "x from the anchor to the active tooth, z apical, y = z × x; couple +y: root towards +x, crown towards −x",
	}
}

// pairWords are the trade's words.
func pairWords(p tooth.Pair) loadWords {
	return loadWords{
		active: memberWords(p.ActiveMember()), anchor: memberWords(p.AnchorMember()),
		legend: "x points " + pick(p.MesialSign() > 0, "mesially", "distally") +
			", y to the " + pick(p.BuccalSign() > 0, "cheek", "tongue") + ", z apically",
	}
}

func memberWords(m tooth.Member) directionWords {
	var w directionWords
	for _, side := range []struct {
		words *[tooth.Components]string
		sign  float64
	}{{&w.positive, 1}, {&w.negative, -1}} {
		*side.words = [...]string{
			m.ForceXWord(side.sign),
			m.ForceYWord(side.sign),
			m.ForceZWord(side.sign),
			m.CoupleXWord(side.sign),
			m.CoupleYWord(side.sign),
			m.CoupleZWord(side.sign),
		}
	}
	return w
}

const (
	// Loads below these are not put in words: they are below what a tooth or a gauge tells.
	wordedForceN    = 0.02
	wordedCoupleNMM = 0.1
	// A component is put in words when it is at least this share of the largest of its kind.
	wordedShare = 0.2
)

// of names the components of a load that matter, forces first; "–" where there are none.
func (w directionWords) of(l tooth.Load) string {
	var named []string
	for _, kind := range []struct {
		first, last tooth.Component
		least       float64
	}{{tooth.ForceX, tooth.ForceZ, wordedForceN}, {tooth.CoupleX, tooth.CoupleZ, wordedCoupleNMM}} {
		least := kind.least
		for k := kind.first; k <= kind.last; k++ {
			least = max(least, wordedShare*math.Abs(l.Component(k)))
		}
		for k := kind.first; k <= kind.last; k++ {
			switch v := l.Component(k); {
			case v >= least:
				named = append(named, w.positive[k])
			case v <= -least:
				named = append(named, w.negative[k])
			}
		}
	}
	if len(named) == 0 {
		return "–"
	}
	return strings.Join(named, ", ")
}

func pick(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}
