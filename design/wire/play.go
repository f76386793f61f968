package wire

import (
	"errors"
	"fmt"
	"math"
)

var (
	// ErrTooThick means that the wire does not go into the slot.
	ErrTooThick = errors.New("the wire is thicker than the slot")
	// ErrTurnsFreely means that the slot's walls never stop the wire from turning.
	ErrTurnsFreely = errors.New("the wire turns freely in the slot")
)

// TorsionalPlayRad is how far a rectangular wire turns about its axis, one way from the
// middle, until the walls of a slot slotMM high stop it (third-order play). The thickness
// lies along the slot's height. It is the smallest f with
//
//	(w − 2r) sin f + (h − 2r) cos f + 2r = S
//
// for thickness h, width w, edge radius r (Meling et al., Am J Orthod Dentofacial
// Orthop 1997;111:310 and 1998;113:387). The error wraps ErrTooThick or ErrTurnsFreely; a
// round wire always turns freely.
func (w Wire) TorsionalPlayRad(slotMM float64) (float64, error) {
	if err := w.fits(slotMM); err != nil {
		return 0, err
	}
	if w.Round() {
		return 0, fmt.Errorf("round wire, %g mm: %w", w.DiameterMM, ErrTurnsFreely)
	}
	o := w.outline()
	flatWidth, flatHeight, gap := o.widthMM-2*o.radiusMM, o.thicknessMM-2*o.radiusMM, slotMM-2*o.radiusMM
	diagonal := math.Hypot(flatWidth, flatHeight)
	if !(gap <= diagonal) {
		return 0, fmt.Errorf("wire %g × %g mm in a slot of %g mm: %w", w.ThicknessMM, w.WidthMM, slotMM, ErrTurnsFreely)
	}
	if diagonal == 0 {
		return 0, nil // rounded to a circle as high as the slot: it touches at once
	}
	return math.Max(0, math.Asin(gap/diagonal)-math.Atan2(flatHeight, flatWidth)), nil
}

// SecondOrderPlayRad is how far a wire tips in a slot slotMM high and slotLengthMM long,
// one way from the middle, until opposite edges of the slot stop it (second-order play,
// critical contact angle): the t with
//
//	S cos t = d + W sin t
//
// for wire thickness d and slot length W (Kusy and Whitley, Eur J Orthod 1999;21:199).
// The error wraps ErrTooThick.
func (w Wire) SecondOrderPlayRad(slotMM, slotLengthMM float64) (float64, error) {
	if err := w.fits(slotMM); err != nil {
		return 0, err
	}
	if !(slotLengthMM >= 0) || math.IsInf(slotLengthMM, 0) {
		return 0, fmt.Errorf("slot length %g mm: allowed is 0 or more", slotLengthMM)
	}
	share := w.HeightMM() / math.Hypot(slotMM, slotLengthMM)
	return math.Max(0, math.Acos(math.Min(1, share))-math.Atan2(slotLengthMM, slotMM)), nil
}

// fits checks that the wire goes into a slot.
func (w Wire) fits(slotMM float64) error {
	if !(slotMM > 0) || math.IsInf(slotMM, 0) {
		return fmt.Errorf("slot height %g mm: must be above 0", slotMM)
	}
	if !(w.HeightMM() > 0) || !(w.DepthMM() > 0) || math.IsInf(w.DepthMM(), 0) {
		return fmt.Errorf("wire %g × %g mm: both sides must be above 0", w.HeightMM(), w.DepthMM())
	}
	if w.HeightMM() > slotMM {
		return fmt.Errorf("wire %g mm thick in a slot of %g mm: %w", w.HeightMM(), slotMM, ErrTooThick)
	}
	return nil
}
