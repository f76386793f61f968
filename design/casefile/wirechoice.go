package casefile

import (
	"errors"
	"fmt"
	"math"

	"springwright/design"
	"springwright/design/wire"
)

// chooseUsual stands for the wires of wire.Drawer, chooseKind for a kind of spring that suits the task.
const (
	chooseUsual = "usual"
	chooseKind  = "choose"
)

const chooseHint = `write "usual", or a list such as ["beta-titanium 0.016x0.022in", "beta-titanium 0.017x0.025in"]`

// readWires reads the table [wire] of a case: one wire, or several to choose from, of which the first
// is the case's own.
func (c *caseReader) readWires() (first wire.Wire, others []wire.Wire) {
	t := c.required("wire", "add [wire] with alloy, thickness_mm and width_mm, or with choose")
	defer t.close()
	if !t.has("choose") {
		return t.oneWire(), nil
	}
	for _, key := range [...]string{"alloy", "thickness_mm", "width_mm", "diameter_mm", "corner_radius_mm", "e_gpa", "poisson", "yield_mpa", "tangent_mpa"} {
		if t.has(key) {
			t.blame(key, "is given beside choose", "keep one: a wire, or wires to choose from")
		}
	}
	var list []wire.Wire
	switch e := t.ask("choose"); {
	case e.value.kind == text && e.value.text == chooseUsual:
		c.usualWires = true
		for _, s := range wire.Drawer() {
			list = append(list, s.Wire())
		}
	case e.value.kind == text:
		t.blame("choose", fmt.Sprintf("%q is not a known word here", shorten(e.value.text)), chooseHint)
	case e.value.kind != array:
		t.wrongKind(e.value, "wire.choose", "an array", chooseHint)
	case len(e.value.items) == 0:
		t.blame("choose", "lists no wire", chooseHint)
	default:
		list = c.listedWires(e.value.items)
	}
	real := c.named && !t.has("size") || t.realSize("choose") // their sizes are names
	relieved := false
	if t.has("bends") {
		word, _ := t.word("bends", bendsAsBent, bendsRelieved)
		relieved = word == bendsRelieved
	}
	for i := range list {
		list[i].StressRelieved = relieved
		if real {
			list[i] = list[i].RealSize()
		}
	}
	if len(list) == 0 {
		return unreadWire(), nil
	}
	return list[0], list[1:]
}

// listedWires reads the wires of a list; a faulty one is one that no check says more of.
func (c *caseReader) listedWires(items []*node) []wire.Wire {
	c.wirePlaces = map[string]place{}
	var list []wire.Wire
	for i, item := range items {
		key := fmt.Sprintf("wire.choose[%d]", i+1)
		c.wirePlaces[key] = item.at
		if item.kind != text {
			c.wrongKind(item, key, "a text", chooseHint)
			list = append(list, unreadWire())
			continue
		}
		w, err := wire.ParseSpec(item.text)
		var spec *wire.SpecError
		switch {
		case errors.As(err, &spec):
			c.report(item.at, key, fmt.Sprintf("%q %s", shorten(spec.Text), spec.Problem), spec.Advice)
			w = unreadWire()
		case w.IsSuperelastic():
			c.report(item.at, key, "is superelastic", design.SuperelasticChoiceHint)
			w = unreadWire()
		}
		list = append(list, w)
	}
	return list
}

// unreadWire is one that no check says anything of: it has been blamed already.
func unreadWire() wire.Wire {
	bad := math.NaN()
	return wire.Wire{EMPa: bad, Poisson: bad, YieldMPa: bad, ThicknessMM: bad, WidthMM: bad}
}

// checkWires checks the wires to choose from against slots and pliers; of the usual ones those that
// do not go are left out.
func (c *caseReader) checkWires(to *design.Case) {
	if c.usualWires {
		var fit []wire.Wire
		for _, w := range to.Choice.OtherWires {
			trial := *to
			trial.Choice.OtherWires = []wire.Wire{w}
			if len(trial.OtherWireFaults()) == 0 {
				fit = append(fit, w)
			}
		}
		to.Choice.OtherWires = fit
		return
	}
	for _, f := range to.OtherWireFaults() {
		at, known := c.wirePlaces[f.Key]
		if !known {
			at = c.table("wire").at
		}
		c.report(at, f.Key, f.Text, f.Hint)
	}
}
