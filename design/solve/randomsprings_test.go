//go:build quality

package solve

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"springwright/design/spring"
)

var (
	randomSprings = flag.Int("springs", 1000, "how many random springs of each kind are solved")
	randomOnly    = flag.String("kind", "", "the kinds that are solved, by commas; empty: all")
	randomFrom    = flag.Int("from", 0, "the number of the first spring")
	randomChecked = flag.Int("check", 10, "of how many solved springs one is solved again with finer steps")
)

// randomCount is what became of the springs of a kind.
type randomCount struct {
	kind                        string
	solved, failed, wrong       int
	tooShort, snaps, noStraight int // cannot be reached
	checked, severalRests       int
	took                        []time.Duration
}

const randomHead = "| kind | springs | too short | snap on the way | no straight left | can be reached | solved | share | wrong of checked | several rests | median, 99 of 100, longest |\n|---|---|---|---|---|---|---|---|---|---|---|"

// row is the kind's line of the table.
func (c *randomCount) row() string {
	slices.Sort(c.took)
	n := len(c.took)
	reachable := c.solved + c.failed
	return fmt.Sprintf("| %s | %d | %d | %d | %d | %d | %d | %.2f %% | %d of %d | %d | %.3f s, %.2f s, %.2f s |",
		c.kind, n, c.tooShort, c.snaps, c.noStraight, reachable, c.solved, 100*float64(c.solved)/float64(max(1, reachable)),
		c.wrong, c.checked, c.severalRests, c.took[n/2].Seconds(), c.took[n*99/100].Seconds(), c.took[n-1].Seconds())
}

// Random springs of all kinds are solved and counted. A spring that is not solved counts as
// one that cannot be reached where checkUnreachable agrees, else as failed. All that are
// solved must balance; some are solved again with finer steps.
func TestRandomSprings(t *testing.T) {
	rows := []string{randomHead}
	for _, k := range randomKinds() {
		if *randomOnly != "" && !slices.Contains(strings.Split(*randomOnly, ","), k.name) {
			continue
		}
		c := randomCount{kind: k.name}
		for n := *randomFrom; n < *randomFrom+*randomSprings; n++ {
			s := randomSpringOf(k, n)
			began := cpuTime(t)
			e, err := Evaluate(context.Background(), s, Options{AllowYield: true})
			c.took = append(c.took, cpuTime(t)-began)
			if took := c.took[len(c.took)-1]; took > 300*time.Millisecond {
				t.Logf("%s %d took %v: %v", k.name, n, took, err)
			}
			if err != nil {
				why := checkUnreachable(s, err)
				switch {
				case why != nil:
					c.failed++
					t.Logf("%s %d failed: %v; %v", k.name, n, err, why)
				case errors.Is(err, ErrTooShort):
					c.tooShort++
				case isNoStraight(err):
					c.noStraight++
				default:
					c.snaps++
				}
				continue
			}
			c.solved++
			if slices.ContainsFunc(e.Record.Positions, func(p spring.Position) bool { return p.OtherRest != nil }) {
				c.severalRests++
			}
			err = outOfBalance(s, e)
			if err == nil && n%*randomChecked == 0 {
				if err = againFiner(s, e); errors.Is(err, errUnchecked) {
					t.Logf("%s %d: %v", k.name, n, err)
					continue
				}
				c.checked++
			}
			if err != nil {
				c.wrong++
				t.Errorf("%s %d is wrong: %v", k.name, n, err)
			}
		}
		rows = append(rows, c.row())
	}
	t.Logf("seconds of the processor a spring of two positions\n%s", strings.Join(rows, "\n"))
}
