package bend

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
)

const degree = math.Pi / 180

// columns are the columns of the CSV file (RFC 4180), in order.
var columns = [...]string{
	"step", "work", "mark_mm", "feed_mm", "turn_deg", "bend_deg", "radius_mm", "arc_mm", "twist_deg", "seen_deg", "note",
	"anchor_end", "line_faces", "free_end", "towards",
}

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
	note := "then runs " + r.Direction.String()
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
