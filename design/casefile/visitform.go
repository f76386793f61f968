package casefile

import (
	"bytes"
	"fmt"
	"math"
	"strconv"

	"springwright/design"
	"springwright/design/quantity"
	"springwright/design/tooth"
)

// VisitForm is the blank form of ReadVisit for the visit that follows those of a history that stand.
func VisitForm(c design.Case, stand []design.Visit) []byte {
	var b bytes.Buffer
	if len(stand) == 0 {
		fmt.Fprintf(&b, "# The first visit of case %s: the spring is seated.\n\n"+
			"# date = 2026-03-02        # the day, year-month-day\n"+
			"done = \"seated\"\n"+
			"spring = \"spring.toml\"    # the file of the spring as it was seated, in the case folder: as designed, or as adjust has it\n"+
			"# gauge_n = 0.00           # where it was pulled by its free end with a gauge, as the sheet says\n"+
			"# pulled_mm = 0.0          # where it was pulled otherwise\n"+
			"# note = \"\"                # never a patient's name\n\n"+
			"# Both slots stand as in the case. Where they were measured again today take away the #.\n", c.Code)
	} else {
		last := stand[len(stand)-1]
		fmt.Fprintf(&b, "# A visit of case %s, after that of %s. Take away the # in front of what you fill in.\n\n"+
			"# date = 2026-03-02        # the day, year-month-day\n"+
			"done = \"left as it is\"     # or \"re-activated\", \"remade\", \"removed\"\n"+
			"# spring = \"corrected-1.toml\"  # re-activated or remade: the file of the spring as it was seated, in the case folder\n"+
			"# gauge_n = 0.00           # of the spring that was worn, taken out and pulled by its free end, as the sheet says\n"+
			"# pulled_mm = 0.0          # where it was pulled otherwise\n"+
			"# note = \"\"                # never a patient's name\n"+
			"# corrects = %d             # only where this visit puts right what was written of the last one\n\n"+
			"# Where the centre of the active slot is today, seen from the centre of the anchor slot: A to F of the\n"+
			"# measuring sheet. A, B and C are needed; a turn that you did not measure leave as it is.\n", c.Code, day(last.Date), last.Number)
	}
	b.WriteString("[now]\n")
	b.WriteString("# along_mm = " + strconv.FormatFloat(c.Now.CentreMM.X, 'f', -1, 64) + "  # A; as in the case, where the spring began\n")
	for i, n := range placeSenses {
		unit, value := "_mm", c.Teeth.ClinicalSign(n.component)*c.Now.At(n.component)
		if n.component.Couple() {
			unit, value = "_deg", quantity.Degree.Outside(value)
		}
		key, other := n.toward[0], n.against[0]
		if value < 0 {
			key, other = other, key
		}
		fmt.Fprintf(&b, "# %s%s = %s  # %c; or %s%s\n", key, unit, quantity.Format(math.Round(1e6*math.Abs(value))/1e6), "BCDEF"[i], other, unit)
	}
	if len(stand) > 0 {
		b.WriteString("\n# Where it is known how far the anchor slot has moved since the first visit, against what has not moved (two\n" +
			"# models or scans laid over each other on the palate or on teeth that nothing pulls at): some or all.\n# [anchor_moved]\n")
		for _, n := range anchorSenses {
			unit := "_mm"
			if n.component.Couple() {
				unit = "_deg"
			}
			fmt.Fprintf(&b, "# %s%s = 0  # or %s%s\n", n.toward[0], unit, n.against[0], unit)
		}
	}
	return b.Bytes()
}

// The words of a case file for where a slot is, on the axes of a case: RemadeCase writes them.
func placementEntries(teeth tooth.Pair, p design.Placement) []Entry {
	number := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	list := []Entry{{"now.along_mm", number(math.Round(100*p.CentreMM.X) / 100)}}
	for _, n := range placeSenses {
		unit, value := "_mm", teeth.ClinicalSign(n.component)*p.At(n.component)
		if n.component.Couple() {
			unit, value = "_deg", quantity.Degree.Outside(value)
		}
		for _, key := range n.keys(unit) {
			list = append(list, Entry{"now." + key, ""})
		}
		key := n.toward[0]
		if value < 0 {
			key = n.against[0]
		}
		if rounded := math.Round(100*math.Abs(value)) / 100; rounded > 0 {
			list = append(list, Entry{"now." + key + unit, number(rounded)})
		}
	}
	return list
}

// RemadeCase is a case file for a spring that is made anew: all as it was, but for the code, which gets a
// number, and for where the active slot is now. What the goal takes over from [now] is written out. The
// error is that of Edit, or a fault.List where the new case is none.
func RemadeCase(data []byte, c design.Case, now design.Placement, number int) ([]byte, error) {
	code := fmt.Sprintf("-%d", number)
	code = c.Code[:min(len(c.Code), longestCode-len(code))] + code
	entries := append([]Entry{{"case", Quoted(code)}}, placementEntries(c.Teeth, now)...)
	for _, e := range placementEntries(c.Teeth, c.Goal) {
		e.Key = "goal" + e.Key[len("now"):]
		entries = append(entries, e)
	}
	for _, n := range placeSenses { // a zero that the goal would else take over
		unit := "_mm"
		if n.component.Couple() {
			unit = "_deg"
		}
		if math.Abs(c.Goal.At(n.component)) < 1e-6 && math.Abs(now.At(n.component)) > 1e-6 {
			entries = append(entries, Entry{"goal." + n.toward[0] + unit, "0"})
		}
	}
	data, err := Edit(data, entries...)
	if err != nil {
		return nil, err
	}
	_, err = ReadCase("", data)
	return data, err
}
