package target_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/notice"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"github.com/google/go-cmp/cmp"
)

func randomMiss(random *rand.Rand) target.Miss {
	q := target.Quantity(random.IntN(int(target.Quantities)))
	m := target.Miss{Quantity: q, Value: random.NormFloat64(), AtStart: random.IntN(2) == 0, AtResistance: q.Couple() && random.IntN(2) == 0}
	m.Window.Min = random.NormFloat64()
	m.Window.Max = m.Window.Min + random.Float64()
	switch random.IntN(4) {
	case 0:
		m.Window.Min = math.Inf(-1)
	case 1:
		m.Window.Max = math.Inf(1)
	}
	return m
}

// The twin for the other side misses the same by the same words.
func TestTwinsMissTheSame(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(5, 6))
	pairs := [...]tooth.Pair{{Anchor: 36, Active: 37}, {Anchor: 46, Active: 43}, {Anchor: 16, Active: 15}, {Anchor: 26, Active: 27}}
	for i := range 400 {
		pair := pairs[i%len(pairs)]
		s := target.Shortfall{Misses: []target.Miss{randomMiss(random)}}
		twin := spring.Spring{Shortfall: &s}.Mirrored().Shortfall
		m, of := s.Misses[0], twin.Misses[0]
		asked, got := m.Sense()
		askedOf, gotOf := of.Sense()
		other := strings.NewReplacer(strconv.Itoa(int(pair.Anchor)), strconv.Itoa(int(pair.Mirrored().Anchor)))
		if a, b := other.Replace(named(m, pair, got)), named(of, pair.Mirrored(), gotOf); a != b {
			t.Errorf("%d: %q becomes %q", i, a, b)
		}
		if a, b := other.Replace(named(m, pair, asked)), named(of, pair.Mirrored(), askedOf); a != b {
			t.Errorf("%d: asked %q becomes %q", i, a, b)
		}
		if math.Abs(m.Value) != math.Abs(of.Value) || m.Window.Misses(m.Value) != of.Window.Misses(of.Value) {
			t.Errorf("%d: %+v becomes %+v", i, m, of)
		}
		if diff := cmp.Diff(s, twin.Mirrored()); diff != "" {
			t.Errorf("%d: mirrored twice (-want +got):\n%s", i, diff)
		}
	}
}

// A sense is that which is asked for; where both are allowed, that of the value.
func TestSensesOfMisses(t *testing.T) {
	t.Parallel()
	inf := math.Inf(1)
	for _, test := range []struct{ value, low, high, asked, got float64 }{
		{0.2, 0.3, 0.6, 1, 1},
		{-0.2, 0.3, 0.6, 1, -1},
		{-0.2, 0, 0.6, 1, -1},
		{-0.2, -0.6, -0.3, -1, -1},
		{0.2, -0.6, -0.3, -1, 1},
		{0.2, -0.6, 0, -1, 1},
		{0.2, -inf, -0.3, -1, 1},
		{0.2, 0.3, inf, 1, 1},
		{0.2, -0.06, 0.06, 1, 1},
		{-0.2, -0.06, 0.06, -1, -1},
		{-0.2, -0.06, inf, -1, -1},
	} {
		asked, got := target.Miss{Value: test.value, Window: target.Window{Min: test.low, Max: test.high}}.Sense()
		if asked != test.asked || got != test.got {
			t.Errorf("%v in %v to %v: asked %v, got %v, want %v and %v", test.value, test.low, test.high, asked, got, test.asked, test.got)
		}
	}
}

func TestLimitsAreKnownByTheirNames(t *testing.T) {
	t.Parallel()
	for l := target.OtherLimit; l <= target.StressLimit; l++ {
		if got, known := notice.ParseLimit(strings.ToUpper(l.String())); !known || got != l {
			t.Errorf("%v is read as %v", l, got)
		}
	}
	if l, known := notice.ParseLimit("length of the crown"); known || l != target.OtherLimit {
		t.Errorf("an unknown limit is read as %v", l)
	}
}

// named is the name of what is missed on teeth.
func named(m target.Miss, teeth tooth.Pair, sign float64) string {
	return design.Case{Teeth: teeth}.QuantityName(m.Quantity, sign, fmt.Sprintf)
}
