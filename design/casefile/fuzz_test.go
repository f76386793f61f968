package casefile_test

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/fault"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// checkFaults holds for every error of a reader: a fault.List with a place and a text of
// one line in each fault.
func checkFaults(t *testing.T, err error) {
	t.Helper()
	var list fault.List
	if !errors.As(err, &list) || len(list) == 0 {
		t.Fatalf("error is no list of faults: %v", err)
	}
	for _, f := range list {
		if f.Line < 1 || f.Column < 1 || f.Text == "" || strings.ContainsAny(f.Key+f.Text+f.Hint, "\n\r") {
			t.Errorf("fault %+v", f)
		}
	}
}

func checkFinite(t *testing.T, values ...float64) {
	t.Helper()
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Errorf("value %v was accepted", v)
		}
	}
}

func components(v r3.Vec) []float64 { return []float64{v.X, v.Y, v.Z} }

func FuzzReadSpring(f *testing.F) {
	f.Add([]byte(stepSpring))
	for _, seed := range []string{
		"path = [{straight_mm = 1e308}]", "path = [{bend_deg = nan}]", "[[path]]\nstraight_mm = 1", "[wire", "a.b.c = 1", "\"\\n\" = 1",
		"met = false\nmisses = [{quantity = \"anchor couple x\", value_nmm = 2, max_nmm = 1}]\nexceeded = [{limit = \"stress\", beyond_share = 0.1}]\n" + stepSpring,
		"[wire]\nalloy = \"\xff\"", "path = [[[[[]]]]]", "wire = {}\nWire = {}", "", "[path.x]\n", "title = 1979-05-27",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := casefile.ReadSpring("f", data)
		if err != nil {
			checkFaults(t, err)
			return
		}
		checkSpring(t, s)
		written := casefile.WriteSpring(s)
		again, err := casefile.ReadSpring("f", written)
		if err != nil {
			t.Fatalf("what was written is refused: %v\n%s", err, written)
		}
		if twice := casefile.WriteSpring(again); !bytes.Equal(written, twice) {
			t.Errorf("written again it differs:\n%s\n%s", written, twice)
		}
	})
}

func checkSpring(t *testing.T, s spring.Spring) {
	t.Helper()
	w := s.Wire
	checkFinite(t, w.EMPa, w.Poisson, w.YieldMPa, w.TangentMPa, w.ThicknessMM, w.WidthMM, w.DiameterMM, w.CornerRadiusMM)
	checkFinite(t, s.AnchorSlotLengthMM, s.ActiveSlotLengthMM, s.Path.WireLengthMM())
	for _, seat := range []spring.Seat{s.Start, s.End} {
		checkFinite(t, append(components(seat.AtMM), components(seat.Rotation)...)...)
	}
	for _, p := range s.Path.Pieces() {
		checkFinite(t, append(components(p.Curvature), p.LengthMM)...)
	}
}

func FuzzReadCase(f *testing.F) {
	f.Add([]byte(molarCase))
	for _, seed := range []string{
		"teeth.active = 59", "target.start.intrusive_n = {min = 1, max = inf}", "[now]\nalong_mm = \"1e308in\"", "[limits]\nfold_depth_mm = -0.0",
		"anchor = {joined = [35, 99, nan], held = \"bar\", hold_ratio = inf}", "anchor.joined = [[35]]", "[target]\nanchor_loss_mm = -0.0\nanchor_tip_deg = 1e9",
		"target = 3", "[target.start]\nmesial_n = {}", "search.seed = 99999999999", "case = \"..\"",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := casefile.ReadCase("f", data)
		if err != nil {
			checkFaults(t, err)
			return
		}
		checkSpring(t, c.SpringFor(spring.Path{}))
		l := c.Limits
		checkFinite(t, l.LoopHeightMM, l.LoopWidthMM, l.RoomMesialMM, l.RoomDistalMM, l.BendRadiusMM, l.ShortestStraightMM, l.LargestPreBendRad)
		checkFinite(t, c.AnchorSlot.HeightMM, c.ActiveSlot.HeightMM, c.Search.LengthStepMM, c.Search.AngleStepRad, c.Target.ForceUntilMM)
		checkFinite(t, c.Anchorage.HoldRatio, c.HoldRatio(), c.Target.AnchorLossMM, c.Target.AnchorTipRad)
		if faults := c.Anchorage.Faults(c.Teeth); faults != nil {
			t.Errorf("anchorage %+v was accepted: %v", c.Anchorage, faults)
		}
		for _, load := range []target.LoadWindow{c.Target.Start, c.Target.Travel} {
			for i := range 3 {
				for _, w := range []target.Window{load.ForceN[i], load.CoupleNMM[i]} {
					// A free end is infinite; NaN would fail both comparisons. What is left out at
					// the start is the zero window.
					if !(w.Min < w.Max) && (w != target.Window{} || load == c.Target.Travel) {
						t.Errorf("window %+v was accepted", w)
					}
				}
			}
		}
	})
}

func FuzzReadMeasured(f *testing.F) {
	made, err := casefile.ReadSpring("s", []byte(stepSpring))
	if err != nil {
		f.Fatal(err)
	}
	way := &casefile.GaugeWay{Axis: tooth.ForceZ, TravelMM: -2}
	for _, seed := range []string{
		"bend_1_deg = 30\nstraight_1_mm = 2\nend = \"as printed\"", "end_apical_mm = 1\nend_occlusal_mm = nan", "gauge_n = 0.4\npulled_mm = 1e308",
		"end_against = \"slot\"\nend_clockwise_deg = 4\nend_mesial_mm = 0.2", "angle_sd_deg = 0", "bend_1_deg = \"30 rad\"", "straight_1_mm = -0.0", "twist_1_deg = [1]",
		"name,measured\nbend_1_deg,30\n", "name;drawn;measured\r\nbend_1_deg;30;30,5\r\nstraight_1_mm;;\"2\"", "name,measured\n\"bend_1_deg,30", "\ufeffname,measured\nend,as printed",
		"name,measured\nbend_1_deg,0x1p4\nBEND_1_DEG,3\n", "measured,name\n1e400,gauge_n",
	} {
		f.Add([]byte(seed), strings.HasPrefix(seed, "name"))
	}
	f.Fuzz(func(t *testing.T, data []byte, table bool) {
		name := "f.toml"
		if table {
			name = "f.csv"
		}
		m, err := casefile.ReadMeasured(name, data, made, design.SkilledBender(), way)
		if err != nil {
			checkFaults(t, err)
			return
		}
		if m.None() {
			t.Error("no reading was accepted")
		}
		steps := made.Path.Steps()
		for _, r := range m.Steps {
			checkFinite(t, r.Value, r.SD)
			if r.Step < 0 || r.Step >= len(steps) || !(r.SD > 0) || steps[r.Step].Kind == spring.Straight && r.Value < 0 {
				t.Errorf("reading %+v", r)
			}
		}
		for _, r := range m.End {
			checkFinite(t, r.Off, r.SD)
			if !(r.SD > 0) {
				t.Errorf("reading %+v", r)
			}
		}
		if g := m.Gauge; g != nil {
			checkFinite(t, g.ForceN, g.SD, g.TravelMM)
			if !(g.SD > 0) || g.ForceN < 0 || g.TravelMM == 0 {
				t.Errorf("gauge %+v", g)
			}
		}
	})
}
