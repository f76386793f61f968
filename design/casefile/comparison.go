package casefile

import (
	"fmt"
	"strings"

	"springwright/design/effect"
)

// WriteComparison writes candidates as JSON: each one's record with its name and, at each
// position, the geometry class ("" where no couple is worth naming). A candidate without
// figures has no positions and says why in "withheld". One with an Anchor has "drift", too. A number that is not finite is an
// error.
func WriteComparison(candidates []effect.Candidate) ([]byte, error) {
	w := recordWriter{}
	w.out.WriteString("{\n  \"candidates\": [")
	for i, c := range candidates {
		if i > 0 {
			w.out.WriteByte(',')
		}
		name, err := jsonText(c.Name)
		if err != nil {
			return nil, fmt.Errorf("name of a candidate: %w", err)
		}
		title, err := jsonText(c.Title)
		if err != nil {
			return nil, fmt.Errorf("title of %s: %w", c.Name, err)
		}
		fmt.Fprintf(&w.out, "\n    {\n      \"name\": %s,\n      \"title\": %s,\n", name, title)
		if c.Withheld != nil {
			reason, err := jsonText(c.Withheld.Error())
			if err != nil {
				return nil, fmt.Errorf("reason of %s: %w", c.Name, err)
			}
			fmt.Fprintf(&w.out, "      \"withheld\": %s,\n", reason)
		}
		w.teeth(c.Spring.Teeth, "      ")
		w.verdict(c.Spring.Shortfall, "      ")
		if c.Anchor != nil {
			w.place = "drift of " + c.Name
			fmt.Fprintf(&w.out, "      \"drift\": %s,\n", w.drift(*c.Anchor))
		}
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
