package main

import (
	"testing"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/optimize"

	"github.com/google/go-cmp/cmp"
)

func TestBentSprings(t *testing.T) {
	wanted := design.Case{Teeth: tooth.Pair{Anchor: 36, Active: 37}}
	wanted.Target.AtResistance = true
	band := spring.Band{Low: -0.3, Median: -0.1, High: 0.05}
	r := optimize.Robustness{
		Spread: spring.Spread{
			Springs: 1000, Met: 870, Unseated: 3, Low: 0.848, High: 0.889,
			Influence: "angle at bend 3", InfluenceShare: 0.41, MostMissed: "mesial force", MissedShare: 0.1,
			Positions: make([]spring.PositionSpread, 2),
		},
		Judged: []optimize.JudgedBand{
			{Quantity: target.OfActive(tooth.ForceX), Band: band}, // +x is distal here, so that the sign turns
			{Quantity: target.OfActive(tooth.ForceZ), Band: band},
			{Quantity: target.OfActive(tooth.ForceZ), Band: band}, // judged by two windows, told once
			{Quantity: target.OfActive(tooth.CoupleZ), Band: band},
			{Position: 1, Quantity: target.OfActive(tooth.CoupleY), Band: band},
		},
	}
	var got tableText
	got.bentSprings(wanted, r)
	const want = `
of 1000 bent springs 87 % (85–89) meet the target; largest influence: angle at bend 3 (41 %)
3 of them cannot be seated
most often missed: mesial force (10 %)

  bent springs at the start                                                     5 %           median             95 %
  mesial or distal force, N                                            0.050 distal     0.100 mesial     0.300 mesial
  intrusive or extrusive force, N                                   0.300 extrusive  0.100 extrusive  0.050 intrusive
  mesial-in or mesial-out couple at the centre of resistance, N·mm  0.30 mesial-out  0.10 mesial-out   0.05 mesial-in
`
	if diff := cmp.Diff(want, got.String()); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	var nothing tableText
	nothing.bentSprings(wanted, optimize.Robustness{})
	if nothing.String() != "" {
		t.Errorf("no springs: %q", nothing.String())
	}
}
