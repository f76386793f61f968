package main

import (
	"testing"

	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestDirectionWords(t *testing.T) {
	// Lower left: the second molar lies distal of the first, so +x is distal; y = z × x
	// with z down and x to the right of a viewer at the cheek points at the viewer.
	lowerLeft, canine := pairWords(tooth.Pair{Anchor: 36, Active: 37}), pairWords(tooth.Pair{Anchor: 36, Active: 33})
	axes := axisWords().active
	for _, c := range []struct {
		name          string
		words         directionWords
		force, couple r3.Vec
		want          string
	}{
		{"none", axes, r3.Vec{}, r3.Vec{}, "–"},
		{"below what counts", axes, r3.Vec{Z: 0.019}, r3.Vec{Y: 0.09}, "–"},
		{"intrusion", axes, r3.Vec{Z: 0.5}, r3.Vec{}, "intrusive"},
		{"small beside large", axes, r3.Vec{X: 0.09, Z: 0.5}, r3.Vec{}, "intrusive"},
		{"not small", axes, r3.Vec{X: -0.11, Z: -0.5}, r3.Vec{}, "towards −x, extrusive"},
		{"couple y", axes, r3.Vec{}, r3.Vec{Y: 2}, "root towards +x"},
		{"teeth", lowerLeft.active, r3.Vec{X: 1, Y: 1, Z: 1}, r3.Vec{}, "distal, buccal, intrusive"},
		{"canine", canine.active, r3.Vec{Y: -1}, r3.Vec{}, "labial"},
		{"its anchor", canine.anchor, r3.Vec{Y: -1}, r3.Vec{}, "buccal"},
		{"anchor of an intrusion", lowerLeft.active, r3.Vec{Z: -0.5}, r3.Vec{Y: 6}, "extrusive, crown-mesial"},
	} {
		if got := c.words.of(tooth.Load{ForceN: c.force, CoupleNMM: c.couple}); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestFixed(t *testing.T) {
	for _, c := range []struct {
		value    float64
		decimals int
		want     string
	}{
		{1.005, 1, "1.0"}, {-0.04, 1, "0.0"}, {-0.05001, 1, "−0.1"}, {-3, 0, "−3"}, {0.4, 0, "0"},
	} {
		if got := fixed(c.value, c.decimals); got != c.want {
			t.Errorf("fixed(%v, %d) = %q, want %q", c.value, c.decimals, got, c.want)
		}
	}
}
