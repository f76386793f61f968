package casefile

import (
	"fmt"
	"strconv"
	"strings"

	"springwright/design/effect"
	"springwright/design/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// drift writes what becomes of both teeth with one way of holding the anchor: how far the active
// slot comes, what ends its way, and how far the anchor has moved by then, on the axes of the
// spring as it stands at the start.
func (w *recordWriter) drift(o effect.AnchorOutcome) string {
	list := make([]string, len(o.Anchorage.Joined))
	for i, n := range o.Anchorage.Joined {
		list[i] = strconv.Itoa(int(n))
	}
	text := fmt.Sprintf(`{ "joined": [%s], "held": %q, "hold_ratio": %s`, strings.Join(list, ", "), o.Anchorage.Held, w.number("hold_ratio", o.HoldRatio))
	if o.Fault != nil {
		reason, err := jsonText(o.Fault.Error())
		if err != nil && w.err == nil {
			w.err = fmt.Errorf("reason of the record: %w", err)
		}
		return text + fmt.Sprintf(`, "withheld": %s }`, reason)
	}
	d, lost := o.Drift, o.Drift.AnchorLost()
	degrees := func(v r3.Vec) r3.Vec { return r3.Scale(quantity.Degree.Outside(1), v) }
	text += fmt.Sprintf(`, "planned_mm": %s, "reached_mm": %s`, w.number("planned_mm", d.PlannedMM), w.number("reached_mm", d.ReachedMM))
	text += fmt.Sprintf(`, "planned_deg": %s, "reached_deg": %s, "end": %q`,
		w.number("planned_deg", quantity.Degree.Outside(r3.Norm(d.Planned))), w.number("reached_deg", quantity.Degree.Outside(d.ReachedRad)), d.End)
	text += fmt.Sprintf(`, "anchor_slot_mm": %s, "anchor_rotation_vector_deg": %s`,
		w.vector("anchor_slot_mm", lost.SlotMM), w.vector("anchor_rotation_vector_deg", degrees(lost.Rotation)))
	if n := len(d.Steps); n > 0 {
		text += fmt.Sprintf(`, "geometry_class": [%q, %q]`, d.Steps[0].Class(), d.Steps[n-1].Class())
	}
	return text + " }"
}
