package course

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"springwright/design/spring"
)

const degree = math.Pi / 180

// Band is what a grade allows: no bend off by more, and no straight.
type Band struct {
	Grade    string
	AngleRad float64
	LengthMM float64
	// Met tells that the spring as bent has to meet its target, too.
	Met bool
}

// Bands are the grades that pass, the best first, and the one below all of them.
type Bands struct {
	List  []Band
	Below string
}

// UsualBands are those of a teacher who sets none: what a skilled hand keeps to, what a student does, and half as
// much again (choice; skilled ±2–3° and ±0.25–0.5 mm, student ±5° and ±1 mm, common practice).
func UsualBands() Bands {
	return Bands{List: []Band{{"A", 2.5 * degree, 0.5, false}, {"B", 5 * degree, 1, false}, {"C", 7.5 * degree, 1.5, false}}, Below: "F"}
}

// A reading has tenths of a degree and hundredths of a millimetre: one that is written as the limit is within it, for
// all the dust of binary fractions.
const (
	angleSlackRad = 0.001 * degree
	lengthSlackMM = 1e-4
)

// mostBands is how many grades there may be.
const mostBands = 12

// Limits of bands: what can still be told from the drawing, and what nobody would call the same spring.
const (
	LeastBandRad, LargestBandRad = 0.5 * degree, 30 * degree
	LeastBandMM, LargestBandMM   = 0.1, 4.0
)

// Check tells what is wrong with bands.
func (b Bands) Check() error {
	if len(b.List) == 0 || len(b.List) > mostBands {
		return fmt.Errorf("%d grades (allowed: 1 to %d)", len(b.List), mostBands)
	}
	if b.Below == "" {
		return errors.New("the grade below all bands has no name")
	}
	seen := map[string]bool{b.Below: true}
	for i, g := range b.List {
		switch {
		case g.Grade == "":
			return fmt.Errorf("grade %d has no name", i+1)
		case seen[g.Grade]:
			return fmt.Errorf("grade %q comes twice", g.Grade)
		case !(g.AngleRad >= LeastBandRad-1e-12 && g.AngleRad <= LargestBandRad+1e-12):
			return fmt.Errorf("grade %q: %.1f° (allowed: %.1f° to %.0f°)", g.Grade, g.AngleRad/degree, LeastBandRad/degree, LargestBandRad/degree)
		case !(g.LengthMM >= LeastBandMM && g.LengthMM <= LargestBandMM):
			return fmt.Errorf("grade %q: %.2f mm (allowed: %.1f to %.0f mm)", g.Grade, g.LengthMM, LeastBandMM, LargestBandMM)
		case i > 0 && (g.AngleRad < b.List[i-1].AngleRad || g.LengthMM < b.List[i-1].LengthMM):
			return fmt.Errorf("grade %q is narrower than %q before it", g.Grade, b.List[i-1].Grade)
		}
		seen[g.Grade] = true
	}
	return nil
}

// Widest is the band that still passes.
func (b Bands) Widest() Band { return b.List[len(b.List)-1] }

// Grade is the grade of a spring whose worst bend and worst straight are off by so much; met tells whether it
// meets its target.
func (b Bands) Grade(worstRad, worstMM float64, met bool) string {
	for _, g := range b.List {
		if worstRad <= g.AngleRad+angleSlackRad && worstMM <= g.LengthMM+lengthSlackMM && (met || !g.Met) {
			return g.Grade
		}
	}
	return b.Below
}

// Readings are off by this, one standard deviation, where nobody says otherwise (as casefile takes them): three of
// them have to lie between a copied spring and the last grade that passes.
const (
	readingRad = 0.5 * degree
	readingMM  = 0.1
	readings   = 3
)

// Apart is how far two sheets lie apart, bend by bend and straight by straight, those that run into the slots left
// out: a picture does not show them.
type Apart struct {
	AngleRad, LengthMM float64 // the largest differences
	// Beyond is the larger of both as a share of what a copied spring would need to be told and fail: 1 and more is enough.
	Beyond float64
}

// Enough tells whether a student who bends the other sheet fails.
func (a Apart) Enough() bool { return a.Beyond >= 1 }

// Closer is the smaller of two distances; the zero one is none.
func (a Apart) Closer(b Apart) Apart {
	if a == (Apart{}) || b.Beyond < a.Beyond {
		return b
	}
	return a
}

// ApartOf holds two paths of the same kinds of steps against each other.
func ApartOf(a, b spring.Path, bands Bands) Apart {
	var out Apart
	x, y := a.Steps(), b.Steps()
	for i := range x {
		switch {
		case x[i].Kind != spring.Straight:
			out.AngleRad = max(out.AngleRad, math.Abs(x[i].AngleRad-y[i].AngleRad))
		case i > 0 && i < len(x)-1:
			out.LengthMM = max(out.LengthMM, math.Abs(x[i].LengthMM-y[i].LengthMM))
		}
	}
	widest := bands.Widest()
	out.Beyond = max(out.AngleRad/(widest.AngleRad+readings*readingRad), out.LengthMM/(widest.LengthMM+readings*readingMM))
	return out
}

// ParseBands reads bands as they are written on a command line, such as "A:2.5/0.5,B:5/1": the best grade first,
// degrees of a bend and mm of a straight. The error says what is wrong.
func ParseBands(text string) (Bands, error) {
	b := Bands{Below: UsualBands().Below}
	for part := range strings.SplitSeq(text, ",") {
		grade, limits, found := strings.Cut(strings.TrimSpace(part), ":")
		angle, length, both := strings.Cut(limits, "/")
		deg, err := strconv.ParseFloat(strings.TrimSpace(angle), 64)
		mm, err2 := strconv.ParseFloat(strings.TrimSpace(length), 64)
		if !found || !both || err != nil || err2 != nil {
			return Bands{}, fmt.Errorf("%q is not GRADE:DEGREES/MM, such as A:2.5/0.5", strings.TrimSpace(part))
		}
		b.List = append(b.List, Band{Grade: strings.TrimSpace(grade), AngleRad: deg * degree, LengthMM: mm})
	}
	return b, b.Check()
}
