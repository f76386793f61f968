// Package notice enumerates what a user has to be told of a spring: warnings, what stands in the
// way of a better one, and what would do. A notice is a kind and its values, and no sentence:
// whoever shows it says it in a language (export/words), whoever stores it writes it as JSON.
//
// Values are in mm, N, N·mm and radian on the axes of package design.
package notice

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// Notice is something that the user must be told.
type Notice interface{ Kind() Kind }

// Work is what somebody is doing who can follow an advice.
type Work int

// The kinds of work. A warning that is for anybody is above all work.
const (
	Anybody Work = iota
	Bending
	Tying // into the slots
)

// WorkOf is at which work the advice of a notice is followed.
func WorkOf(n Notice) Work {
	switch n := n.(type) {
	case OpposedBends:
		if n.StressRatio <= n.LimitRatio { // else it is no mere rule of bending: the loads are in doubt
			return Bending
		}
	case Play, SlidToRest:
		return Tying
	}
	return Anybody
}

// Kind names a notice.
type Kind int

// The kinds of notices, each with the type of its values.
const (
	NearYieldKind Kind = iota
	ElasticYieldKind
	PermanentSetKind
	PhaseStrainKind
	HookOffKind
	OpposedBendsKind
	OtherRestKind
	PlayKind
	TravelNotMadeKind
	UnplannedTurnKind
	UnaskedForceKind
	TeethUnnamedKind
	LimitInWayKind
	PreBendInWayKind
	StraightInWayKind
	NumberInWayKind
	StressInWayKind
	LimitReliefKind
	HeightReliefKind
	PreBendReliefKind
	WireReliefKind
	TwoSpringsReliefKind
	NoReliefKind
	SlidToRestKind
	KindChosenKind
	WireChosenKind
	FamilyReliefKind
	EntryReliefKind
	ShapeKind
	Kinds // how many there are
)

// kindNames are the names in JSON, in the order of the kinds. They are a promise to readers of
// files: add to them, never change one.
var kindNames = [Kinds]string{
	"near yield", "yield of an elastic model", "permanent set", "strain of the change of phase", "hook off its tooth",
	"opposed bends", "another rest", "play", "travel not made", "unplanned turn", "force not asked for", "teeth not named",
	"limit in the way", "pre-activation bend in the way", "straight in the way", "number in the way", "stress in the way",
	"more of a limit would do", "more height would do", "more pre-activation bend would do", "another wire would do",
	"two springs would do", "nothing found that would do", "slid to rest",
	"kind of spring chosen", "wire chosen", "another kind of spring would do", "another entry would do",
	"shape",
}

// String is the kind's name in JSON.
func (k Kind) String() string {
	if k < 0 || k >= Kinds {
		return fmt.Sprintf("notice %d", int(k))
	}
	return kindNames[k]
}

// List is notices in the order in which they are told.
type List []Notice

// MarshalJSON writes an array of objects, the kind of each before its values.
func (l List) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('[')
	for i, n := range l {
		if i > 0 {
			b.WriteByte(',')
		}
		values, err := json.Marshal(n)
		if err != nil {
			return nil, fmt.Errorf("notice of %v: %w", n.Kind(), err)
		}
		fmt.Fprintf(&b, `{"kind":%q`, n.Kind())
		if len(values) > len("{}") {
			b.WriteByte(',')
		}
		b.Write(values[1:])
	}
	b.WriteByte(']')
	return b.Bytes(), nil
}
