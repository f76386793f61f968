package bend

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
)

// ErrCSV says that a bend table could not be read.
var ErrCSV = errors.New("not a bend table")

const degree = math.Pi / 180

// columns are the columns of the CSV file (RFC 4180), in order.
var columns = [...]string{
	"step", "work", "mark_mm", "feed_mm", "turn_deg", "bend_deg", "radius_mm", "arc_mm", "twist_deg", "seen_deg", "note",
	"anchor_end", "line_faces", "free_end", "towards",
}

// firstNumber and firstWord frame the columns of numbers.
const firstNumber, firstWord = 2, 10

// The words of the columns for the hand.
const (
	leftHand, rightHand = "left hand", "right hand"
	bentUp              = "up"
	topToYou, topAway   = "top towards you", "top away from you"
)

// The words of the column work.
const (
	workCutStart = "cut start"
	workBend     = "bend"
	workTwist    = "twist"
	workEnd      = "end"
	workCutEnd   = "cut end"
)

// CSV returns the table as RFC 4180 text: one header row, units in its names, decimal
// points. The first row is the wire's first end and the last row its last end; the row
// "end" before it closes the last straight, its mark the developed length.
func (t Table) CSV() []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	// A buffer takes everything: the only errors a csv.Writer passes on are its own.
	write := func(cells ...string) { _ = w.Write(append(cells, make([]string, len(columns)-len(cells))...)) }
	hand := rightHand
	if t.AnchorLeft {
		hand = leftHand
	}
	write(columns[:]...)
	write("", workCutStart, number(t.CutStartMM()), "", "", "", "", "", "", "",
		fmt.Sprintf("%g mm to hold, %s mm in the anchor slot", float64(HoldMM), number(t.AnchorSlotMM)))
	for _, r := range t.Rows {
		cells := [...]string{
			strconv.Itoa(r.Step), workBend, number(r.MarkMM), number(r.FeedMM), number(r.TurnRad / degree),
			number(r.BendRad / degree), number(r.RadiusMM), number(r.ArcMM), "", "", r.Note(),
			hand, r.Line.String(), bentUp, r.Towards,
		}
		if r.InView {
			cells[9] = number(r.SeenRad / degree)
		}
		if r.Twist {
			cells[1], cells[4], cells[5], cells[6] = workTwist, "", "", ""
			cells[8] = number(r.TwistRad / degree)
			cells[13] = topAway
			if r.TopToYou {
				cells[13] = topToYou
			}
		}
		write(cells[:]...)
	}
	write("", workEnd, number(t.DevelopedMM), number(t.EndFeedMM), "", "", "", "", "", "", "developed length is the mark")
	write("", workCutEnd, number(t.CutEndMM()), "", "", "", "", "", "", "",
		fmt.Sprintf("%s mm in the active slot, %g mm to hold; cut length %.2f mm", number(t.ActiveSlotMM), float64(HoldMM), t.CutMM()))
	w.Flush()
	return b.Bytes()
}

// Note is what a hand should know beside the numbers.
func (r Row) Note() string {
	note := "then runs " + r.Direction
	if r.Shallow() {
		note += "; shallow: set it on the sheet"
	}
	return note
}

// number writes ten decimals and drops trailing zeros: reading it back is right to 1e-10.
func number(v float64) string {
	s := strconv.FormatFloat(v, 'f', 10, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// ReadCSV reads what CSV writes. Notes are not read back: they follow from the rest. The
// error wraps ErrCSV and names the line.
func ReadCSV(from io.Reader) (Table, error) {
	r := csv.NewReader(from)
	r.FieldsPerRecord = len(columns)
	fail := func(format string, args ...any) (Table, error) {
		line, _ := r.FieldPos(0)
		return Table{}, fmt.Errorf("%w: line %d: %s", ErrCSV, line, fmt.Sprintf(format, args...))
	}
	header, err := r.Read()
	if err != nil {
		return Table{}, fmt.Errorf("%w: %w", ErrCSV, err)
	}
	for i, name := range columns {
		if header[i] != name {
			return fail("column %d is %q, must be %q", i+1, header[i], name)
		}
	}
	var t Table
	var ended bool
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return Table{}, fmt.Errorf("%w: %w", ErrCSV, err)
		}
		var values [len(columns)]float64
		for i := firstNumber; i < firstWord; i++ {
			if cells[i] == "" {
				continue
			}
			v, err := strconv.ParseFloat(cells[i], 64)
			if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
				return fail("%s = %q is not a number", columns[i], cells[i])
			}
			values[i] = v
		}
		switch work := cells[1]; work {
		case workCutStart:
			t.AnchorSlotMM = -values[2] - HoldMM
		case workCutEnd:
			t.ActiveSlotMM = values[2] - t.DevelopedMM - HoldMM
		case workEnd:
			t.DevelopedMM, t.EndFeedMM, ended = values[2], values[3], true
		case workBend, workTwist:
			row := Row{
				Step: len(t.Rows) + 1, Twist: work == workTwist, MarkMM: values[2], FeedMM: values[3],
				TurnRad: values[4] * degree, BendRad: values[5] * degree, RadiusMM: values[6], ArcMM: values[7],
				TwistRad: values[8] * degree, SeenRad: values[9] * degree, InView: cells[9] != "",
			}
			if row.FeedMM < 0 || row.BendRad < 0 || row.RadiusMM < 0 || row.ArcMM < 0 {
				return fail("feed, bend, radius and arc must be 0 or more")
			}
			line := slices.Index(facings[:], cells[12])
			ways := []string{bentUp}
			if row.Twist {
				ways = []string{topToYou, topAway}
			}
			if !slices.Contains([]string{leftHand, rightHand}, cells[11]) || line < 0 || !slices.Contains(ways, cells[13]) {
				return fail("anchor_end = %q, line_faces = %q, free_end = %q are not all words of such a row", cells[11], cells[12], cells[13])
			}
			t.AnchorLeft = cells[11] == leftHand
			row.Line, row.TopToYou, row.Towards = Facing(line), cells[13] == topToYou, cells[14]
			if row.Twist && row.ArcMM == 0 || !row.Twist && row.RadiusMM == 0 {
				return fail("a bend needs a radius and a twist a length")
			}
			t.Rows = append(t.Rows, row)
		default:
			return fail("work = %q must be one of %q, %q, %q, %q, %q", work, workCutStart, workBend, workTwist, workEnd, workCutEnd)
		}
	}
	if !ended {
		return Table{}, fmt.Errorf("%w: no row %q", ErrCSV, workEnd)
	}
	return t, nil
}
