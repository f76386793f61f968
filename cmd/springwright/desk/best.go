package desk

import (
	"context"
	"slices"
	"sync"

	"springwright/design"
	"springwright/design/notice"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/export/bend"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// bestSoFar keeps the best spring of each variant of a case that a search has told of.
type bestSoFar struct {
	mu    sync.Mutex
	cases []design.Case
	of    []spring.Spring // of each case
	last  int             // which of them was told of last
	told  bool            // and not drawn yet
}

func (k *bestSoFar) keep(c design.Case, s spring.Spring) {
	k.mu.Lock()
	defer k.mu.Unlock()
	same := func(o design.Case) bool {
		return o.Family == c.Family && o.Heading == c.Heading && notice.NameOf(o.Wire) == notice.NameOf(c.Wire)
	}
	i := slices.IndexFunc(k.cases, same)
	if i < 0 {
		i = len(k.cases)
		k.cases, k.of = append(k.cases, c), append(k.of, spring.Spring{})
	}
	k.of[i], k.last, k.told = s, i, true
}

// ofAll is the best of all variants: the one that misses fewest windows, as it is evaluated.
func (k *bestSoFar) ofAll(ctx context.Context) (c design.Case, s spring.Spring, found bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	fewest := 0
	for i, of := range k.of {
		e, err := solve.Evaluate(ctx, of, solve.Options{})
		if err != nil {
			continue
		}
		if missed := len(k.cases[i].Misses(e.Record)); !found || missed < fewest {
			c, s, found, fewest = k.cases[i], of, true, missed
		}
	}
	return c, s, found
}

// picture is a spring in the mouth.
type picture struct {
	Mouth   drawing      `json:"mouth"`
	Passive [][2]float64 `json:"passive"`
	Seated  [][2]float64 `json:"seated"`
	Text    string       `json:"text"`
}

// picture draws the spring told of last; nil where it is drawn already or cannot be seated.
func (k *bestSoFar) picture(ctx context.Context, b *words.Book) *picture {
	k.mu.Lock()
	told := k.told
	k.told = false
	if !told {
		k.mu.Unlock()
		return nil
	}
	c, s := k.cases[k.last], k.of[k.last]
	k.mu.Unlock()
	e, err := solve.Evaluate(ctx, s, solve.Options{})
	if err != nil {
		return nil
	}
	see := seen{bend.ViewOf(c.Teeth)}
	out := picture{Mouth: planOf(c).draw(b, placementAt(c, s, e.Record.Positions[0]), false), Passive: see.wire(e.Passive), Seated: see.wire(e.Seated)}
	out.Mouth.cover(out.Passive, out.Seated)
	all := c.Verdicts(e.Record)
	missed := 0
	for _, v := range all {
		if !v.Met {
			missed++
		}
	}
	out.Text = b.Say("The best so far misses %d of %d windows of the target.", missed, len(all))
	return &out
}

// placementAt is where the active tooth stands at a position of a spring's travel.
func placementAt(c design.Case, s spring.Spring, p spring.Position) design.Placement {
	return design.Placement{CentreMM: r3.Add(s.Centre(p.Seat.Pose(c.Heading)), r3.Vec{X: c.AnchorSlot.LengthMM / 2}), Rotation: p.Seat.Rotation}
}
