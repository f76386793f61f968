package casefile

import (
	"fmt"
	"strings"

	"springwright/design/effect"
	"springwright/design/tooth"
	"springwright/design/wire"
)

// WriteComparison writes candidates for a pair of teeth as JSON: each one's record with its name and, at each
// position, the geometry class ("" where no couple is worth naming). A candidate without
// figures has no positions and says why in "withheld". A number that is not finite is an
// error.
func WriteComparison(from Origin, teeth tooth.Pair, candidates []effect.Candidate) ([]byte, error) {
	w := recordWriter{}
	w.header(ComparisonFormat, from)
	w.axes(teeth)
	w.teeth(teeth, "  ")
	w.out.WriteString("  \"candidates\": [")
	for i, c := range candidates {
		if i > 0 {
			w.out.WriteByte(',')
		}
		fmt.Fprintf(&w.out, "\n    {\n      \"name\": %s,\n      \"title\": %s,\n", w.text("name", c.Name), w.text("title", c.Title))
		if c.Withheld != nil {
			fmt.Fprintf(&w.out, "      \"withheld\": %s,\n", w.text("reason", c.Withheld.Error()))
		}
		w.teeth(c.Spring.Teeth, "      ")
		if c.Spring.Wire != (wire.Wire{}) { // none where no spring was found
			w.wire(c.Spring.Wire, "      ")
		}
		w.verdict(c.Spring.Shortfall, "      ")
		w.out.WriteString("      \"positions\": [")
		positions := recordWriter{classes: true}
		for j, p := range c.Positions() {
			if j > 0 {
				positions.out.WriteByte(',')
			}
			positions.place = fmt.Sprintf("position %d of %s", j+1, c.Name)
			positions.position(p)
		}
		if positions.err != nil {
			return nil, positions.err
		}
		// The lines of a record, set in by two more levels.
		w.out.WriteString(strings.ReplaceAll(positions.out.String(), "\n", "\n    "))
		if positions.out.Len() > 0 {
			w.out.WriteString("\n      ")
		}
		w.out.WriteString("]\n    }")
	}
	if len(candidates) > 0 {
		w.out.WriteString("\n  ")
	}
	w.out.WriteString("]\n}\n")
	if w.err != nil {
		return nil, w.err
	}
	return w.out.Bytes(), nil
}
