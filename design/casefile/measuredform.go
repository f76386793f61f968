package casefile

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"

	"springwright/design/quantity"
	"springwright/design/spring"
)

// drawnText is the drawn number of a step as a form shows it: a length, or an angle without a sign.
func drawnText(s spring.Step) string {
	if s.Kind == spring.Straight {
		return strconv.FormatFloat(s.LengthMM, 'f', 2, 64)
	}
	return strconv.FormatFloat(quantity.Degree.Outside(math.Abs(s.AngleRad)), 'f', 1, 64)
}

// MeasuredForm is the blank form of ReadMeasured as TOML: a line for each straight and bend along the wire.
// notes say of each step of the path which one it is and which way it goes, gauge how the bench check pulls;
// "" where there is none.
func MeasuredForm(s spring.Spring, notes []string, gauge string) []byte {
	var b bytes.Buffer
	b.WriteString("# What came out. In front of each line that you have measured take away the #, and write what you\n" +
		"# read in place of the drawn number. Leave the others as they are: nothing need be measured but what you can.\n" +
		"#\n# Straights: mm, from where one bend ends to where the next begins. Bends and twists: by how many degrees\n" +
		"# the wire turns, without a sign; below 0 where it is bent the other way.\n\n")
	for i, key := range StepKeys(s.Path) {
		fmt.Fprintf(&b, "# %s = %s  # %s\n", key, drawnText(s.Path.Steps()[i]), notes[i])
	}
	b.WriteString("\n# The free end, with the anchor end seated: as printed, or how far it lies off from where it is drawn,\n" +
		"# end_apical_mm or end_occlusal_mm, end_mesial_mm or end_distal_mm, end_buccal_mm or end_lingual_mm, and how far\n" +
		"# it is turned, seen from the cheek: end_clockwise_deg or end_anticlockwise_deg (seen otherwise:\n" +
		"# end_clockwise_from_biting_side_deg, end_clockwise_along_arch_deg and their opposites). end_against = \"slot\"\n" +
		"# says that they are counted from the active slot's entry, as on the sheet, and not from the drawing.\n")
	fmt.Fprintf(&b, "# end = %q\n", asPrinted)
	b.WriteString("\n# After a trial activation: as before, or how far the free end has moved from where it lay before,\n" +
		"# after_apical_mm or after_occlusal_mm, after_clockwise_deg or after_anticlockwise_deg, and so on.\n")
	fmt.Fprintf(&b, "# after = %q\n", asBefore)
	if gauge != "" {
		fmt.Fprintf(&b, "\n# The gauge check: %s.\n# gauge_n = 0.00\n# pulled_mm = 0.0  # where it was pulled otherwise\n", gauge)
	}
	fmt.Fprintf(&b, "\n# What the readings are off by, one standard deviation, where it is not this (choices).\n"+
		"# angle_sd_deg = %s\n# length_sd_mm = %s\n# correction_sd_deg = 0.6  # what a correction of a bend will be off by; half of what a bend is\n",
		quantity.Format(UsualAngleSDDeg), quantity.Format(UsualLengthSDMM))
	return b.Bytes()
}

// MeasuredTable is the same form as comma-separated values, for a spreadsheet: the column measured is to be
// filled in.
func MeasuredTable(s spring.Spring, notes []string, gauge string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	// A buffer takes everything: the only errors a csv.Writer passes on are its own.
	write := func(cells ...string) { _ = w.Write(cells) }
	write(nameColumn, "drawn", "unit", measuredColumn, "note")
	for i, key := range StepKeys(s.Path) {
		step := s.Path.Steps()[i]
		unit := "mm"
		if step.Kind != spring.Straight {
			unit = "degrees"
		}
		write(key, drawnText(step), unit, "", notes[i])
	}
	write("end", "", "", "", "\"as printed\", or how far it lies off in the rows below")
	for _, n := range endPlaces {
		write(n.toward[0]+"_mm", "", "mm", "", "the other way: "+n.against[0]+"_mm")
	}
	for _, n := range endTurns {
		write(n.toward[0]+"_deg", "", "degrees", "", "the other way: "+n.against[0]+"_deg")
	}
	write("after", "", "", "", "after a trial activation: \"as before\", or rows such as after_apical_mm, after_clockwise_deg")
	if gauge != "" {
		write("gauge_n", "", "N", "", gauge)
	}
	w.Flush()
	return b.Bytes()
}
