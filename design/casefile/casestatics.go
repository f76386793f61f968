package casefile

import (
	"strings"

	"springwright/design"
)

// checkTarget refuses what no spring should be searched for: windows that leave nothing, loads
// that push the tooth back from where it is to go, and loads that statics forbids. The latter
// two need a case without a fault.
func (c *caseReader) checkTarget(of design.Case) {
	t := c.table("target")
	faults := of.OverlapFaults()
	for _, f := range of.SlidingFaults() {
		if in, key, within := strings.Cut(f.Key, "."); within {
			c.table(in).blame(key, f.Text, f.Hint)
		} else {
			c.blame(f.Key, f.Text, f.Hint)
		}
	}
	if len(c.faults) == 0 && len(faults) == 0 {
		faults = of.SenseFaults()
	}
	for _, f := range faults {
		t.report(t.at, t.path, f.Text, f.Hint)
	}
}
