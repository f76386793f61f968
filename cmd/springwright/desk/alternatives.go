package desk

import (
	"fmt"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/target"
	"springwright/export/words"
	"springwright/optimize"
)

// alternative is a spring that meets the target, and what it is held against others by.
type alternative struct {
	Label  string `json:"label"`
	Spring string `json:"spring"`
	Rate   string `json:"rate"`
	Bends  string `json:"bends"`
	Share  string `json:"share"`
}

// alternative is another spring of a search, which keeps what the search knows of it.
func (a *api) alternative(b *words.Book, text string, c design.Case, other optimize.Alternative) alternative {
	out := traitsOf(b, other.Traits)
	out.Label, out.Spring = b.Say(meritNames[other.Merit]), string(casefile.WriteSpring(other.Spring))
	e := other.Evaluation
	e.Record.Verdict = &target.Shortfall{} // an alternative meets the whole target within the limits
	a.found.keep(text, out.Spring, c, &e)
	return out
}

func traitsOf(b *words.Book, t optimize.Traits) alternative {
	return alternative{Rate: b.Number(t.RateNPerMM, 2), Bends: fmt.Sprint(t.Bends), Share: words.InHundred(t.Share)}
}

// meritNames say what an alternative is better at.
var meritNames = map[optimize.Merit]words.Phrase{
	optimize.Softest:      "the softest",
	optimize.FewestBends:  "the fewest bends",
	optimize.MostTolerant: "the most tolerant of the hand",
}
