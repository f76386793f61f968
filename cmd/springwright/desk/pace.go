package desk

import (
	"math"
	"sync"
	"time"
)

// pace tells how far a search is, and how long it still takes, from the steps that it counts. Its
// last part, on numbers that a hand can bend, it does not count, and a case of several variants
// counts hardly at all: between the steps time goes on as it went so far, ever slower, so that the
// share grows all the time and never reaches the end before the search does.
type pace struct {
	mu    sync.Mutex
	begun time.Time
	at    time.Duration // when the last step was counted
	known float64       // share that it came to
}

// countedShare is how much of its time the demo's search has taken when its steps are all done,
// measured on two cores: 1.3 of 2.4 s, held tightly or really seated.
const countedShare = 0.55

// mostShare is what a search that is not at its end is shown as.
const mostShare = 0.98

// early is the share of the steps that are done while the first part of countedShare goes by: of
// the demo's 26 steps the first 18 take a fifth of the time of all.
const early, earlyShare = 18.0 / 26, 0.2

func newPace(now time.Time) *pace { return &pace{begun: now} }

// count notes that so many steps of all that are known of are done.
func (p *pace) count(done, total int, now time.Time) {
	if total <= 0 {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	share := float64(done) / float64(total)
	if share < early {
		share *= earlyShare / early
	} else {
		share = earlyShare + (1-earlyShare)*(share-early)/(1-early)
	}
	if share *= countedShare; share > p.known {
		p.known, p.at = share, now.Sub(p.begun)
	}
}

// now is the share of the search that is done, and the time that is left.
func (p *pace) now(at time.Time) (share float64, left time.Duration) {
	p.mu.Lock()
	defer p.mu.Unlock()
	since := at.Sub(p.begun)
	if p.known == 0 || p.at <= 0 {
		return 0, 0
	}
	rest := mostShare - p.known
	gone := p.known / p.at.Seconds() * (since - p.at).Seconds() // at the speed of so far
	share = p.known + rest*(1-math.Exp(-gone/rest))
	return share, time.Duration(float64(since) * (1 - share) / share)
}
