package casefile

import (
	"bytes"
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strings"
	"time"

	"springwright/design"
	"springwright/design/quantity"
	"springwright/design/spring"
	"springwright/design/tooth"
)

// VisitsOf is what a history of visits is read for.
type VisitsOf struct {
	Case  design.Case
	Check string // FingerprintOf the case file
	// Spring reads a spring file of the case folder, with its check value.
	Spring func(name string) (s spring.Spring, check string, err error)
	// Gauge is how the bench check of a spring pulls; nil where it has none. It may be nil itself.
	Gauge func(s spring.Spring) *GaugeWay
}

const (
	mostVisits = 200
	longestRun = 240 // characters of a note or a file's name
	// What is measured in a mouth, one standard deviation: the places of two slots by a calliper or on a
	// model, each read to some tenths, and the turn of a slot as a wire laid into it shows it (choices).
	usualVisitMM  = 0.2
	usualVisitDeg = 2
	// The anchor slot against what has not moved: on two models or scans laid over each other (choices).
	usualAnchorSeenMM  = 0.3
	usualAnchorSeenDeg = 2
	// Beyond these a slot has been measured wrongly: teeth under springs go some 1 to 2 mm and 3 to 5° a
	// month (from memory), both of them at most twice that, and a measurement is off by some more (choice).
	fastestMM, fastestDeg   = 4.0, 15.0
	measuredMM, measuredDeg = 1.0, 10.0
	daysOfMonth             = 30.4
	// longestUnseenYears is far above the weeks between visits (six to eight, common practice): the teeth are followed
	// week by week, and a mistyped year would take minutes, to no use (choice).
	longestUnseenYears  = 2
	firstYear, lastYear = 2000, 2100
)

// anchorSenses name where the anchor slot has gone.
var anchorSenses = [...]sense{
	{tooth.ForceX, []string{"mesial"}, []string{"distal"}},
	placeSenses[0], placeSenses[1], placeSenses[2], placeSenses[3], placeSenses[4],
}

// visitReader reads visits one after another.
type visitReader struct {
	*reader
	of    VisitsOf
	lines [][]byte
	done  []design.Visit
	// corrected are the numbers of visits that do not stand.
	corrected map[int]bool
}

// ReadHistory reads the history of a case: every visit in the order of the file, and of those which stand,
// as no later one corrects them, their indices. The error is a fault.List with everything that is wrong.
func ReadHistory(name string, data []byte, of VisitsOf) (all []design.Visit, stand []int, err error) {
	r, root := open(name, data)
	in := newVisitReader(r, data, of)
	if code := root.text("case", longestCode); root.node != nil {
		switch check := root.text("case_check", longestCode); {
		case !root.has("case") || !root.has("case_check"):
			root.report(place{1, 1}, "", "does not say of which case it is", "it is written by \"springwright visit --add\": put back a copy of it")
		case code != of.Case.Code:
			root.blame("case", fmt.Sprintf("%q is not the case of this folder, %q", shorten(code), of.Case.Code), "give the folder that this history belongs to")
		case check != of.Check:
			root.blame("case_check", fmt.Sprintf("%s is not the check value of the case file, %s: the case was changed after the first visit", shorten(check), of.Check),
				"put back the case file as it was; what has changed since belongs into a new case, as for a spring that is remade")
		}
	}
	e := root.ask("visit")
	switch {
	case e == nil:
		if root.node != nil {
			root.report(place{1, 1}, "", "holds no visit", "it is written by \"springwright visit --add\"")
		}
	case e.value.kind != array:
		root.wrongKind(e.value, "visit", "an array of tables", "each visit begins with [[visit]]")
	case len(e.value.items) > mostVisits:
		root.blame("visit", fmt.Sprintf("there are %d, more than the allowed %d", len(e.value.items), mostVisits), "")
	default:
		for i, item := range e.value.items {
			path := fmt.Sprintf("visit[%d]", i+1)
			if item.kind != table {
				r.wrongKind(item, path, "a table", "each visit begins with [[visit]]")
				continue
			}
			in.read(&section{reader: r, path: path, at: item.at, node: item}, true)
		}
	}
	root.close()
	if err := r.faults.Err(); err != nil {
		return nil, nil, err
	}
	return in.done, in.standing(), nil
}

// ReadVisit reads a filled-in form of a visit that follows a history.
func ReadVisit(name string, data []byte, of VisitsOf, history []design.Visit, stand []int) (v design.Visit, corrects int, err error) {
	r, root := open(name, data)
	in := newVisitReader(r, nil, of)
	in.done = slices.Clone(history)
	for i := range history {
		in.corrected[i+1] = !slices.Contains(stand, i)
	}
	if len(history) >= mostVisits {
		r.report(place{1, 1}, "", fmt.Sprintf("the history has %d visits already", len(history)), "")
	}
	if root.node != nil {
		corrects = in.read(root, false)
	}
	if err := r.faults.Err(); err != nil {
		return design.Visit{}, 0, err
	}
	return in.done[len(in.done)-1], corrects, nil
}

func newVisitReader(r *reader, data []byte, of VisitsOf) *visitReader {
	in := &visitReader{reader: r, of: of, corrected: map[int]bool{}}
	in.lines = slices.Collect(bytes.Lines(plainLines(data)))
	return in
}

// plainLines is a text as every editor leaves it: without a byte-order mark and returns.
func plainLines(data []byte) []byte {
	return bytes.ReplaceAll(bytes.TrimPrefix(data, []byte("\ufeff")), []byte("\r\n"), []byte("\n"))
}

// standing are the indices of the visits that stand.
func (r *visitReader) standing() []int {
	var list []int
	for i := range r.done {
		if !r.corrected[i+1] {
			list = append(list, i)
		}
	}
	return list
}

// last is the last visit that stands; nil before the first.
func (r *visitReader) last() *design.Visit {
	if stand := r.standing(); len(stand) > 0 {
		return &r.done[stand[len(stand)-1]]
	}
	return nil
}

// read reads one visit and appends it; kept tells that it stands in a history.
func (r *visitReader) read(t *section, kept bool) (corrects int) {
	v := design.Visit{Number: len(r.done) + 1, Now: r.of.Case.Now}
	if t.has("corrects") {
		corrects = t.whole("corrects", 1, mostVisits, 0)
		if last := r.last(); corrects != 0 && (last == nil || last.Number != corrects) {
			t.blame("corrects", fmt.Sprintf("%d is not the number of the last visit that stands", corrects), "only the last visit can be corrected; of an earlier one say so in a note")
			corrects = 0
		}
		r.corrected[corrects] = true
	}
	before := r.last()
	v.Date = t.day("date")
	if before != nil && !v.Date.IsZero() && !v.Date.After(before.Date) {
		hint := "visits follow each other in time"
		if v.Date.Equal(before.Date) {
			hint = fmt.Sprintf("to put right what was written of that day give all of it anew with corrects = %d", before.Number)
		}
		t.blame("date", fmt.Sprintf("%s is not after the last visit, %s", day(v.Date), day(before.Date)), hint)
	}
	if before != nil && !kept && v.Date.After(before.Date.AddDate(longestUnseenYears, 0, 0)) { // one that was written stays readable, to be corrected
		t.blame("date", fmt.Sprintf("%s is more than %d years after the last visit, %s", day(v.Date), longestUnseenYears, day(before.Date)),
			"check the year; what a spring did in years that nobody saw it in cannot be told: take it off, and plan anew")
	}
	v.Done, v.SpringFile = t.deed(before == nil)
	r.spring(t, &v, before, kept)
	v.Note = t.text("note", longestRun)
	r.placed(t, &v, before)
	r.anchorSeen(t, &v)
	r.gauge(t, &v, before)
	if kept {
		r.checked(t)
	}
	t.close()
	r.done = append(r.done, v)
	return corrects
}

// day reads a date.
func (s *section) day(key string) time.Time {
	e := s.ask(key)
	if e == nil {
		s.missing(key, "write the day of the visit, such as date = 2026-03-02")
		return time.Time{}
	}
	at, err := time.Parse(time.DateOnly, e.value.text)
	switch {
	case e.value.kind != date && e.value.kind != text || err != nil:
		s.blame(key, "is no day of the calendar", "write year, month and day, such as date = 2026-03-02")
	case at.Year() < firstYear || at.Year() > lastYear:
		s.blame(key, fmt.Sprintf("%s is not from %d to %d", day(at), firstYear, lastYear), "check the year")
	default:
		return at
	}
	return time.Time{}
}

func day(at time.Time) string { return at.Format(time.DateOnly) }

// deed reads what was done, and with which spring.
func (s *section) deed(first bool) (done design.Deed, file string) {
	words := design.DeedWords()
	if first {
		words = words[design.SeatedFirst : design.SeatedFirst+1]
	} else {
		words = slices.Delete(slices.Clone(words), int(design.SeatedFirst), int(design.SeatedFirst)+1)
	}
	if first {
		done = design.SeatedFirst
	}
	if s.has("done") {
		if word, ok := s.word("done", words...); ok {
			done = design.Deed(slices.Index(design.DeedWords(), word))
		}
	} else if !first {
		s.missing("done", `write what was done: "left as it is", "re-activated", "remade" or "removed"`)
	}
	file = s.text("spring", longestRun)
	switch {
	case file == "" && done == design.SeatedFirst && !s.has("spring"):
		file = "spring.toml"
	case file == "" && done.NewSpring():
		s.missing("spring", "name the file of the spring as it was seated, which lies in the case folder")
	case s.has("spring") && !done.NewSpring():
		s.blame("spring", fmt.Sprintf("stands beside done = %q", done), "leave it out, or say that the spring was re-activated or remade")
	case file != "" && !fs.ValidPath(file):
		s.blame("spring", fmt.Sprintf("%q is no file inside the case folder", shorten(file)), "copy the file into the folder and give its name, with / between folders")
		file = ""
	}
	return done, file
}

// spring reads the spring that is in the mouth after a visit.
func (r *visitReader) spring(t *section, v *design.Visit, before *design.Visit, kept bool) {
	given := ""
	if kept {
		given = t.text("spring_check", longestCode)
	}
	switch {
	case v.Done == design.LeftAsIs && before != nil:
		v.Spring, v.SpringFile = before.Spring, before.SpringFile
		return
	case !v.Done.NewSpring() || v.SpringFile == "" || r.of.Spring == nil:
		return
	}
	s, check, err := r.of.Spring(v.SpringFile)
	switch {
	case err != nil:
		t.blame("spring", fmt.Sprintf("%s: %v", v.SpringFile, err), "the files of the springs stay in the case folder")
		return
	case kept && given != check:
		t.blame("spring_check", fmt.Sprintf("%q is not the check value of %s, %s: it is not the file that was there at this visit", shorten(given), v.SpringFile, check),
			"put that file back; a spring that was changed since has a file, and a visit, of its own")
		return
	}
	c := r.of.Case
	if s.Teeth == (tooth.Pair{}) {
		s.Teeth = c.Teeth
	}
	slack := 0.01 // mm, as a spring file fits a case
	switch {
	case s.Teeth != c.Teeth:
		t.blame("spring", fmt.Sprintf("%s is made for %v, the case is about %v", v.SpringFile, s.Teeth, c.Teeth), "give the spring of this case")
	case math.Abs(s.AnchorSlotLengthMM-c.AnchorSlot.LengthMM) > slack || math.Abs(s.ActiveSlotLengthMM-c.ActiveSlot.LengthMM) > slack:
		t.blame("spring", v.SpringFile+" is made for slots of other lengths", "give the spring of this case")
	case before == nil:
		if found := c.Misfits(s); len(found) > 0 {
			t.blame("spring", fmt.Sprintf("%s is no spring for this case: its %s", v.SpringFile, strings.Join(found, "; ")), "give the spring that was designed for it")
		}
	}
	v.Spring = s
}

// placed reads where both slots are.
func (r *visitReader) placed(t *section, v *design.Visit, before *design.Visit) {
	v.PlaceSDMM = t.optional("place_sd_mm", span{unit: quantity.Millimetre, low: smallestReadingSD, high: 2}, usualVisitMM)
	v.TurnSDRad = t.optional("turn_sd_deg", span{unit: quantity.Degree, low: 0.1, high: 10}, usualVisitDeg)
	c := r.of.Case
	first := before == nil
	if !t.has("now") {
		if !first {
			t.missing("now", "add [now] with along_mm and what else was measured")
		}
		return
	}
	now := t.table("now")
	defer now.close()
	if now.node == nil {
		return
	}
	in := &caseReader{section: now, teeth: c.Teeth, teethKnown: true}
	from := clinical{along: c.Now.CentreMM.X}
	for k := range tooth.Components {
		from.beside[k] = c.Teeth.ClinicalSign(k) * c.Now.At(k)
	}
	if now.has("along_mm") {
		from.along = now.needed("along_mm", alongSpan, "")
		v.Known[tooth.ForceX] = true
	} else if !first {
		now.missing("along_mm", "write A, the distance of the slots' centres along the arch")
	}
	read := in.placement(now, from)
	for _, n := range placeSenses {
		unit := "_mm"
		if n.component.Couple() {
			unit = "_deg"
		}
		given := slices.ContainsFunc(n.keys(unit), func(key string) bool { return now.peek(key) != nil })
		v.Known[n.component] = given
		turned := n.component.Couple() && math.Abs(c.Goal.At(n.component)-c.Now.At(n.component)) >= design.LeastTurnRad
		if !given && !first && (!n.component.Couple() || turned) {
			now.missing(n.toward[0]+unit, fmt.Sprintf("write %s or %s; 0 where it is level", n.toward[0]+unit, n.against[0]+unit))
		}
	}
	v.Now = read.onAxes(c.Teeth)
	for k := range tooth.Components {
		if !v.Known[k] {
			v.Now.Set(k, c.Now.At(k)) // to the last bit
		}
	}
	r.possible(now, *v, before)
}

// possible refuses places where no tooth can have come to since the visit before.
func (r *visitReader) possible(now *section, v design.Visit, before *design.Visit) {
	was, days, whence := r.of.Case.Now, 0.0, "the case"
	known := [tooth.Components]bool{true, true, true, true, true, true}
	if before != nil {
		was, known, whence = before.Now, before.Known, "where it was on "+day(before.Date)
		if before.Done == design.SeatedFirst {
			known = [tooth.Components]bool{true, true, true, true, true, true}
		}
		days = v.Date.Sub(before.Date).Hours() / 24
	}
	if days < 0 || v.Date.IsZero() {
		return
	}
	for k := range tooth.Components {
		if !v.Known[k] || !known[k] {
			continue
		}
		unit, most, change, name := " mm", measuredMM+fastestMM*days/daysOfMonth, v.Now.At(k)-was.At(k), "along_mm"
		if k.Couple() {
			unit, most, change = "°", measuredDeg+fastestDeg*days/daysOfMonth, quantity.Degree.Outside(change)
		}
		opposite := was.At(k) + v.Now.At(k)
		for _, n := range placeSenses {
			for _, key := range n.keys(map[bool]string{false: "_mm", true: "_deg"}[k.Couple()]) {
				if n.component == k && now.peek(key) != nil {
					name = key
				}
			}
		}
		if !(math.Abs(change) > most) { // a faulty number is NaN
			continue
		}
		hint := "measure it again from the centre of one slot to the centre of the other"
		if k != tooth.ForceX && math.Abs(opposite) < math.Abs(change)/2 {
			hint = "is it the other way? either sense has a key of its own"
		}
		now.blame(name, fmt.Sprintf("is %.1f%s off from %s: no tooth comes farther than %.1f%s in %.0f days", math.Abs(change), unit, whence, most, unit, days), hint)
	}
}
