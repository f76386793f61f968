package main

import (
	"testing"

	"springwright/design"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestDirectionWords(t *testing.T) {
	// Lower left: the second molar lies distal of the first, so +x is distal; y = z × x
	// with z down and x to the right of a viewer at the cheek points at the viewer.
	lowerLeft := pairWords(tooth.Pair{Anchor: 36, Active: 37})
	for _, c := range []struct {
		name          string
		words         directionWords
		force, couple r3.Vec
		want          string
	}{
		{"none", axisWords(), r3.Vec{}, r3.Vec{}, "–"},
		{"below what counts", axisWords(), r3.Vec{Z: 0.019}, r3.Vec{Y: 0.09}, "–"},
		{"intrusion", axisWords(), r3.Vec{Z: 0.5}, r3.Vec{}, "intrusive"},
		{"small beside large", axisWords(), r3.Vec{X: 0.09, Z: 0.5}, r3.Vec{}, "intrusive"},
		{"not small", axisWords(), r3.Vec{X: -0.11, Z: -0.5}, r3.Vec{}, "towards −x, extrusive"},
		{"couple y", axisWords(), r3.Vec{}, r3.Vec{Y: 2}, "root towards +x"},
		{"teeth", lowerLeft, r3.Vec{X: 1, Y: 1, Z: 1}, r3.Vec{}, "distal, buccal, intrusive"},
		{"anchor of an intrusion", lowerLeft, r3.Vec{Z: -0.5}, r3.Vec{Y: 6}, "extrusive, crown-mesial"},
	} {
		if got := c.words.of(design.Load{ForceN: c.force, CoupleNMM: c.couple}); got != c.want {
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
