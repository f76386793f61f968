package desk

import (
	"math"
	"slices"
	"strings"

	"springwright/design/quantity"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/design/wire"
	"springwright/export/bend"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// archTeeth are all teeth as they are seen by somebody who faces the patient: each jaw half an
// ellipse, the midline at the top or the bottom, the teeth at equal distances along it.
func archTeeth(b *words.Book) []archTooth {
	const across, high, apart, pieces = 92.0, 78.0, 10.0, 2000
	at := func(angle float64) (x, y float64) { return across * math.Sin(angle), high*math.Cos(angle) + apart }
	var angles [8]float64
	for place := range angles {
		angles[place] = angleAt((float64(place)+0.5)/8, pieces, at)
	}
	var list []archTooth
	for quadrant := 1; quadrant <= 4; quadrant++ {
		for place := 1; place <= 8; place++ {
			n := tooth.Number(10*quadrant + place)
			x, y := at(angles[place-1])
			if n.PatientRight() {
				x = -x
			}
			if n.Upper() {
				y = -y
			}
			list = append(list, archTooth{int(n), b.Tooth(n), rounded(x, 2), rounded(y, 2)})
		}
	}
	return list
}

// angleAt is where a share of the length of a quarter of a curve lies.
func angleAt(share float64, pieces int, at func(float64) (x, y float64)) float64 {
	lengths := make([]float64, pieces+1)
	x, y := at(0)
	for i := 1; i <= pieces; i++ {
		toX, toY := at(float64(i) / float64(pieces) * math.Pi / 2)
		lengths[i] = lengths[i-1] + math.Hypot(toX-x, toY-y)
		x, y = toX, toY
	}
	i, _ := slices.BinarySearch(lengths, share*lengths[pieces])
	return float64(i) / float64(pieces) * math.Pi / 2
}

// way is one sense of a field: its part of the key, and what it says.
type way struct {
	key   string
	words words.Phrase
}

func measureGroups(b *words.Book, p tooth.Pair) []group {
	out, in := p.Active.OutwardWord(), p.Active.InwardWord()
	senses := func(table, letter string, what words.Phrase, unit, ending string, ways ...way) field {
		f := field{Key: table + "." + letter, Letter: letter, Label: b.Say(what), Unit: unit, Kind: "senses"}
		for _, w := range ways {
			f.Keys = append(f.Keys, table+"."+w.key+ending)
			f.Choices = append(f.Choices, choice{table + "." + w.key + ending, b.Say(w.words)})
		}
		return f
	}
	place := func(table string) []field {
		return []field{
			{Key: table + ".along_mm", Letter: "A", Label: b.Say("slot to slot along the arch, centre to centre"), Unit: "mm", Kind: "number"},
			senses(table, "B", "height step of the active slot", "mm", "_mm", way{"apical", "towards the root tip"}, way{"occlusal", "towards the biting edge"}),
			senses(table, "C", "in/out offset of the active slot", "mm", "_mm", way{out, "towards cheek or lip"}, way{in, "towards tongue or palate"}),
			senses(table, "D", "tip of the active tooth against the anchor", "°", "_deg", way{"crown_mesial_tip", "crown mesial"}, way{"crown_distal_tip", "crown distal"}),
			senses(table, "E", "torque of the active tooth against the anchor", "°", "_deg", way{out + "_crown_torque", "crown to cheek or lip"}, way{in + "_crown_torque", "crown inwards"}),
			senses(table, "F", "rotation of the active tooth against the anchor", "°", "_deg", way{"mesial_in_rotation", "mesial side inwards"}, way{"mesial_out_rotation", "mesial side outwards"}),
		}
	}
	slot := func(table, label string, active bool) group {
		g := group{Label: label, Fields: []field{
			{Key: table + ".height_mm", Letter: "G", Label: b.Say("clear height, across the thickness of the wire"), Unit: "mm", Kind: "number"},
			{Key: table + ".length_mm", Letter: "H", Label: b.Say("length, along the wire"), Unit: "mm", Kind: "number"},
		}}
		g.Fields = append(g.Fields,
			field{Key: table + ".kind", Label: b.Say("tube or bracket"), Kind: "choice", Choices: []choice{
				{"", b.Say("as usual")}, {spring.Tube.String(), b.Say("tube")}, {spring.Bracket.String(), b.Say("bracket")},
			}},
			field{Key: table + ".tie", Label: b.Say("how the wire is held in it"), Kind: "choice", Choices: []choice{
				{"", b.Say("as usual")}, {spring.Cinched.String(), b.Say("cinched")}, {spring.Ligature.String(), b.Say("tied in by a ligature")}, {spring.LeftToSlide.String(), b.Say("left to slide")},
			}})
		if active {
			g.Fields = append(g.Fields,
				field{Key: table + ".before_tying", Label: b.Say("before it is tied, the wire is"), Kind: "choice", Choices: []choice{
					{"", b.Say("as usual")}, {spring.ToRest.String(), b.Say("slid to rest")}, {spring.AsMeasured.String(), b.Say("left as measured")},
				}},
				field{Key: table + ".enter", Label: b.Say("Wire enters the active slot"), Kind: "choice", Choices: []choice{
					{"", b.Say("either way, whichever is better")}, {"from the anchor", b.Say("from the anchor")}, {"from behind", b.Say("from behind")},
				}})
		}
		return g
	}
	return []group{
		{Label: b.Say("The two teeth"), Note: b.Say("Pick the tooth to move, then its anchor."), Teeth: archTeeth(b)},
		{Label: b.Say("Case"), Fields: []field{
			{Key: "case", Label: b.Say("Case code"), Kind: "text", Note: b.Say("a code, never a patient's name")},
			{Key: "title", Label: b.Say("Title"), Kind: "text"},
		}},
		{Label: b.Say("Where the tooth stands now"), Fields: place("now")},
		{Label: b.Say("Where it should go"), Note: b.Say("Left empty, it stays as it is now."), Fields: place("goal")},
		slot("anchor_slot", b.Say("slot or tube")+", "+b.Say("anchor"), false),
		slot("active_slot", b.Say("slot or tube")+", "+b.Say("active"), true),
		{Label: b.Say("room for the spring"), Fields: []field{
			{Key: "limits.fold_depth_mm", Letter: "I", Label: b.Say("from the active slot's goal level to the fold of the cheek"), Unit: "mm", Kind: "number"},
			{Key: "limits.room_mesial_mm", Letter: "J", Label: b.Say("from the centre of the active slot mesially to what is in the way"), Unit: "mm", Kind: "number"},
			{Key: "limits.room_distal_mm", Letter: "K", Label: b.Say("the same distally, whichever side the anchor stands on"), Unit: "mm", Kind: "number"},
		}},
	}
}

func wantGroups(b *words.Book, p tooth.Pair) []group {
	windows := func(table string, n tooth.Number) []field {
		out, in := n.OutwardWord(), n.InwardWord()
		one := func(name string, what words.Phrase, unit, ending string, ways ...way) field {
			f := field{Key: table + "." + name, Label: b.Say(what), Unit: unit, Kind: "window"}
			if table == "target.travel" {
				usual := target.UsualLimit(n, windowComponents[name])
				f.Note = b.Say("left empty: at most %s %s either way", b.Number(usual.Max, 2), unit)
			}
			for _, w := range ways {
				f.Keys = append(f.Keys, table+"."+w.key+ending)
				f.Choices = append(f.Choices, choice{table + "." + w.key + ending, b.Say(w.words)})
			}
			return f
		}
		return []field{
			one("vertical", "push up or down", "N", "_n", way{"intrusive", "into the bone: intrusive"}, way{"extrusive", "out of the bone: extrusive"}),
			one("along", "push along the arch", "N", "_n", way{"mesial", "towards the midline: mesial"}, way{"distal", "away from the midline: distal"}),
			one("across", "push in or out", "N", "_n", way{out, "towards cheek or lip"}, way{in, "towards tongue or palate"}),
			one("tip", "tip", "N·mm", "_nmm", way{"crown_mesial", "crown mesial"}, way{"crown_distal", "crown distal"}),
			one("torque", "torque", "N·mm", "_nmm", way{out + "_crown_torque", "crown to cheek or lip"}, way{in + "_crown_torque", "crown inwards"}),
			one("turn", "turn", "N·mm", "_nmm", way{"mesial_in", "mesial side inwards"}, way{"mesial_out", "mesial side outwards"}),
		}
	}
	return []group{
		{Label: b.Say("On the tooth, at the start"), Note: b.Say("In N, or in gf such as 40gf. Usual: 0.35 N for the smallest teeth to 0.60 N for the largest tip a tooth (textbook table, from memory); incisors are intruded by 0.10 to 0.25 N each (van Steenbergen et al., Angle Orthod 2005;75:723)."), Fields: windows("target.start", p.Active)},
		{Label: b.Say("On the tooth, over the whole travel"), Fields: append(windows("target.travel", p.Active),
			field{Key: "target.force_until_mm", Label: b.Say("the force is asked for until this much travel is left"), Unit: "mm", Kind: "number"})},
		{Label: b.Say("What the anchor can bear"), Folded: true, Fields: windows("target.anchor", p.Anchor)},
	}
}

// windowComponents are the loads of the windows, by the part of their keys.
var windowComponents = map[string]tooth.Component{
	"vertical": tooth.ForceZ, "along": tooth.ForceX, "across": tooth.ForceY,
	"tip": tooth.CoupleY, "torque": tooth.CoupleX, "turn": tooth.CoupleZ,
}

// wanted are the loads on the active tooth that are asked for at the start, each at the middle of its
// window.
func (f formAnswer) wanted(b *words.Book, p plan) []arrow {
	var load tooth.Load
	for _, of := range f.Want[0].Fields {
		_, name, _ := strings.Cut(strings.TrimPrefix(of.Key, "target."), ".")
		k, sense := windowComponents[name], slices.Index(of.Keys, f.Senses[of.Key])
		unit := quantity.Newton
		if k.Couple() {
			unit = quantity.NewtonMillimetre
		}
		low := f.quantityOf(f.Senses[of.Key]+".min", unit, 0)
		v := (low + f.quantityOf(f.Senses[of.Key]+".max", unit, low)) / 2 * p.teeth.ClinicalSign(k)
		if sense == 1 { // against
			v = -v
		}
		switch k {
		case tooth.ForceX:
			load.ForceN.X = v
		case tooth.ForceZ:
			load.ForceN.Z = v
		case tooth.CoupleY:
			load.CoupleNMM.Y = v
		}
	}
	centre := r3.Add(r3.Vec{X: -p.anchorLengthMM / 2}, p.now.CentreMM)
	return append([]arrow{}, loadArrows(b, load, centre, seen{bend.ViewOf(p.teeth)})...)
}

// cautions are what is to be thought of at once, whatever the spring: forces beyond what is usual.
func (f formAnswer) cautions(b *words.Book, p tooth.Pair) []string {
	list := []string{}
	for _, g := range f.Want {
		for _, of := range g.Fields {
			table, name := of.Key[:max(0, strings.LastIndex(of.Key, "."))], of.Key[strings.LastIndex(of.Key, ".")+1:]
			n := p.Active
			if table == "target.anchor" {
				n = p.Anchor
			}
			k, found := windowComponents[name]
			if !found || k.Couple() {
				continue
			}
			way := f.Senses[of.Key]
			asked, usual := f.quantityOf(way+".max", quantity.Newton, 0), target.UsualForceN(n, k)
			if asked > usual {
				list = append(list, b.Say("%s: %s N is more than the %s N that are usual for tooth %d. The lightest force that works is best.", of.Label, b.Number(asked, 2), b.Number(usual, 2), int(n)))
			}
		}
	}
	return slices.Compact(list)
}

func kindGroups(b *words.Book) []group {
	alloys := []choice{{"", "–"}}
	for _, a := range wire.Alloys() {
		alloys = append(alloys, choice{a.Name, b.Name(a.Name)})
	}
	return []group{
		{Label: b.Say("Wire, alloy and size"), Fields: []field{
			{Key: "wire.choose", Label: b.Say("which wire"), Kind: "choice", Choices: []choice{
				{"", b.Say("the one below")}, {"usual", b.Say("choose for me, of those that most drawers hold")},
			}},
			{Key: "wire.alloy", Label: b.Say("alloy"), Kind: "choice", Choices: alloys},
			{Key: "wire.thickness_mm", Label: b.Say("thickness"), Unit: "mm", Kind: "number", Note: b.Say("also in inches, such as 0.017in")},
			{Key: "wire.width_mm", Label: b.Say("width"), Unit: "mm", Kind: "number"},
			{Key: "wire.diameter_mm", Label: b.Say("diameter, of a round wire"), Unit: "mm", Kind: "number"},
		}},
		{Label: b.Say("What a hand can bend"), Folded: true, Fields: []field{
			{Key: "limits.pliers_radius_mm", Label: b.Say("radius of the pliers"), Unit: "mm", Kind: "number", Usual: "0.75"},
			{Key: "limits.shortest_straight_mm", Label: b.Say("shortest straight between two bends"), Unit: "mm", Kind: "number", Usual: "1.0"},
			{Key: "limits.largest_pre_bend_deg", Label: b.Say("largest pre-activation"), Unit: "°", Kind: "number", Usual: "30"},
			{Key: "limits.loop_width_mm", Label: b.Say("widest loop"), Unit: "mm", Kind: "number", Usual: "12"},
			{Key: "search.length_step_mm", Label: b.Say("lengths end on multiples of"), Unit: "mm", Kind: "number", Usual: "0.5"},
			{Key: "search.angle_step_deg", Label: b.Say("angles end on multiples of"), Unit: "°", Kind: "number", Usual: "1"},
		}},
	}
}
