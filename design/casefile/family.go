package casefile

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"springwright/design"
	"springwright/design/spelling"
	"springwright/design/spring"
)

// longestFileName is that of common file systems.
const longestFileName = 255

// readFamily reads which kind of spring is asked for: a family, or the free path of a
// spring file.
func (c *caseReader) readFamily(to *design.Case) {
	if c.has("spring_file") {
		c.entryNeeded = true
		to.SpringFile = c.text("spring_file", longestFileName)
		if e := c.peek("spring_file"); e != nil && e.value.kind == text && !filepath.IsLocal(to.SpringFile) {
			c.blame("spring_file", fmt.Sprintf("%q does not lie beside the case file", shorten(to.SpringFile)),
				"write the name of a file in the folder of the case file or below it")
		}
		if c.has("spring") {
			c.blame("spring_file", "is given beside spring", "keep one: a family of springs or a free path")
		}
		return
	}
	if !c.has("spring") {
		c.kindOpen, c.entryOpen = true, true
		return
	}
	to.Family = c.text("spring", longestTitle)
	e := c.peek("spring")
	switch {
	case e.value.kind != text:
		return
	case to.Family == chooseKind:
		to.Family, c.kindOpen, c.entryOpen = "", true, true
		return
	}
	family, err := design.FamilyOf(to.Family)
	c.entryOpen = err == nil && family.FromBehind
	if errors.Is(err, design.ErrFamily) || to.Family == "" {
		names := design.FamilyNames()
		hint := "known are " + strings.Join(names, ", ")
		if near := spelling.Nearest(to.Family, names); near != "" {
			hint = fmt.Sprintf("did you mean %q? ", near) + hint
		}
		c.blame("spring", fmt.Sprintf("%q is no kind of spring", shorten(to.Family)), hint)
	}
}

// fitFamily checks the active slot against the kind of spring, and hooks the wire of one
// that ends in a hook.
func (c *caseReader) fitFamily(to *design.Case) {
	slot := c.table("active_slot")
	if c.kindOpen {
		if to.ActiveSlot.Hook && to.Heading == spring.Back {
			slot.blame("enter", fmt.Sprintf("%q does not suit a hook", fromBehind), "leave enter out: a hook enters no slot")
		}
	} else if to.SpringFile == "" {
		family, err := design.FamilyOf(to.Family)
		if err != nil {
			return
		}
		switch {
		case family.Hooked && !slot.has("hold"):
			to.ActiveSlot.Hook = true
		case family.Hooked && !to.ActiveSlot.Hook:
			slot.blame("hold", fmt.Sprintf("does not suit a %s, which ends in a hook", family.Name), "leave hold out")
		case !family.Hooked && to.ActiveSlot.Hook:
			slot.blame("hold", fmt.Sprintf("does not suit a %s, which enters the slot", family.Name), `leave hold out, or choose a spring that ends in a hook, such as "cantilever"`)
		}
		if to.Heading == spring.Back && !family.FromBehind {
			slot.blame("enter", fmt.Sprintf("%q does not suit a %s", fromBehind, family.Name), "leave enter out: it goes "+fromAnchor)
		}
	}
	if to.ActiveSlot.Hook && to.ActiveSlot.LengthMM > 0 {
		slot.blame("length_mm", hookedLength(to.ActiveSlot.LengthMM), hookedHint)
	}
}
