package casefile

import (
	"fmt"

	"springwright/design/effect"
	"springwright/design/tooth"
	"springwright/design/wire"
)

// candidateJSON is a candidate, in the order of its keys.
type candidateJSON struct {
	Name     string     `json:"name"`
	Title    string     `json:"title"`
	Withheld *string    `json:"withheld,omitempty"`
	Teeth    *teethJSON `json:"teeth,omitempty"`
	Wire     pairsJSON  `json:"wire,omitempty"` // none where no spring was found
	verdictJSON
	Drift     *driftJSON     `json:"drift,omitempty"`
	Argument  *argumentJSON  `json:"argument,omitempty"`
	Positions []positionJSON `json:"positions"`
}

// WriteComparison writes candidates for a pair of teeth as JSON: each one's record with its name and, at each
// position, the geometry class ("" where no couple is worth naming). A candidate without
// figures has no positions and says why in "withheld". One with an Anchor has "drift", one with an Argument "argument", too. A number that is not finite is an
// error.
func WriteComparison(from Origin, teeth tooth.Pair, candidates []effect.Candidate) ([]byte, error) {
	var w recordWriter
	all := []candidateJSON{}
	for _, c := range candidates {
		out := candidateJSON{Name: c.Name, Title: c.Title, Teeth: teethOf(c.Spring.Teeth), verdictJSON: w.verdict(c.Spring.Shortfall), Positions: []positionJSON{}}
		if c.Spring.Wire != (wire.Wire{}) {
			out.Wire = w.wire(c.Spring.Wire)
		}
		if c.Withheld != nil {
			reason := c.Withheld.Error()
			out.Withheld = &reason
		}
		if c.Anchor != nil {
			w.place = "drift of " + c.Name
			drift := w.drift(*c.Anchor)
			out.Drift = &drift
		}
		w.place = "argument of " + c.Name
		out.Argument = w.argument(c.Argument)
		for i, p := range c.Positions() {
			w.place = fmt.Sprintf("position %d of %s", i+1, c.Name)
			position, class := w.position(p), effect.ClassOf(p).String()
			position.GeometryClass = &class
			out.Positions = append(out.Positions, position)
		}
		all = append(all, out)
	}
	return w.written(struct {
		headJSON
		Teeth      *teethJSON      `json:"teeth,omitempty"`
		Candidates []candidateJSON `json:"candidates"`
	}{headOfLoads(ComparisonFormat, from, teeth), teethOf(teeth), all})
}
