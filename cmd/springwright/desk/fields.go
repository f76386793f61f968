package desk

import (
	"math"

	"springwright/design/tooth"
	"springwright/design/wire"
	"springwright/export/words"
)

// archTeeth are all teeth as they are seen by somebody who faces the patient.
func archTeeth(b *words.Book) []archTooth {
	var list []archTooth
	for quadrant := 1; quadrant <= 4; quadrant++ {
		for place := 1; place <= 8; place++ {
			n := tooth.Number(10*quadrant + place)
			// On a half ellipse, the midline at the top or the bottom.
			angle := (float64(place) - 0.5) / 8 * 80 * math.Pi / 180
			x, y := 95*math.Sin(angle), 70*math.Cos(angle)+8
			if n.PatientRight() {
				x = -x
			}
			if n.Upper() {
				y = -y
			}
			list = append(list, archTooth{int(n), b.Tooth(n), x, y})
		}
	}
	return list
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
		if active {
			g.Fields = append(g.Fields,
				field{Key: table + ".enter", Label: b.Say("Wire enters the active slot"), Kind: "choice", Choices: []choice{
					{"", "–"}, {"from the anchor", b.Say("from the anchor")}, {"from behind", b.Say("from behind")},
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
		{Label: b.Say("On the tooth, at the start"), Note: b.Say("Left empty, a load is kept to what is usual for the tooth."), Fields: windows("target.start", p.Active)},
		{Label: b.Say("On the tooth, over the whole travel"), Fields: append(windows("target.travel", p.Active),
			field{Key: "target.force_until_mm", Label: b.Say("the force is asked for until this much travel is left"), Unit: "mm", Kind: "number"})},
		{Label: b.Say("What the anchor can bear"), Fields: windows("target.anchor", p.Anchor)},
	}
}

func kindGroups(b *words.Book) []group {
	alloys := []choice{{"", "–"}}
	for _, a := range wire.Alloys() {
		alloys = append(alloys, choice{a.Name, b.Name(a.Name)})
	}
	return []group{
		{Label: b.Say("Wire, alloy and size"), Fields: []field{
			{Key: "wire.alloy", Label: b.Say("alloy"), Kind: "choice", Choices: alloys},
			{Key: "wire.thickness_mm", Label: b.Say("thickness"), Unit: "mm", Kind: "number", Note: b.Say("also in inches, such as 0.017in")},
			{Key: "wire.width_mm", Label: b.Say("width"), Unit: "mm", Kind: "number"},
		}},
		{Label: b.Say("What a hand can bend"), Fields: []field{
			{Key: "limits.pliers_radius_mm", Label: b.Say("radius of the pliers"), Unit: "mm", Kind: "number", Usual: "0.75"},
			{Key: "limits.shortest_straight_mm", Label: b.Say("shortest straight between two bends"), Unit: "mm", Kind: "number", Usual: "1.0"},
			{Key: "limits.largest_pre_bend_deg", Label: b.Say("largest pre-activation"), Unit: "°", Kind: "number", Usual: "30"},
			{Key: "limits.loop_width_mm", Label: b.Say("widest loop"), Unit: "mm", Kind: "number", Usual: "12"},
			{Key: "search.length_step_mm", Label: b.Say("lengths end on multiples of"), Unit: "mm", Kind: "number", Usual: "0.5"},
			{Key: "search.angle_step_deg", Label: b.Say("angles end on multiples of"), Unit: "°", Kind: "number", Usual: "1"},
		}},
	}
}
