package photo_test

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"springwright/design/photo"
	"springwright/design/photo/phototest"
	"springwright/design/spring"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r2"
)

// laid is a picture of a spring that lies in the middle of the card.
type laid struct {
	steps       string // as drawn
	bent        string // where it is bent otherwise
	at          r2.Vec // of the anchor's end
	heading     float64
	legs        [2]float64
	over        bool
	glareMM     float64 // width of a glare along the wire, as bright as paper
	view        phototest.View
	shadow      r2.Vec // by which the wire's shadow lies beside it, which takes shadowShare of the light
	shadowShare float64
	wireTone    float64                                               // 0: dark
	change      func(l *laid, wire *phototest.Layer, middle []r2.Vec) // of what lies there
	spoil       func(l *laid, picture *image.Gray)
	expect      func(e *photo.Expect)
}

// plainLaid is one that is read.
func plainLaid() laid {
	return laid{
		steps: "4 60 8 -110 6 75 3", at: r2.Vec{X: 25, Y: 22}, legs: [2]float64{4, 3},
		view: phototest.View{Width: 1800, Height: 1250, Fill: 0.85, DistanceMM: 200, Paper: 225, Ink: 40, NoiseSD: 2, BlurPx: 1, Seed: 1},
	}
}

var refusalCard = sync.OnceValue(func() phototest.Layer { return phototest.Card(cardPxPerMM) })

func (l *laid) read() (photo.Outline, error) {
	drawn := phototest.Steps(l.steps)
	bent := phototest.Bent{Steps: drawn, LegsMM: l.legs}
	if l.bent != "" {
		bent.Steps = phototest.Steps(l.bent)
	}
	middle := bent.Middle(l.at, l.heading, l.over)
	wire := refusalCard().Like()
	if l.change != nil {
		l.change(l, &wire, middle)
	} else {
		wire.Line(middle, phototest.WireMM)
	}
	thing := phototest.Thing{Wire: wire, WireTone: cmp.Or(l.wireTone, 70), Glare: refusalCard().Like(), GlareTone: l.view.Paper}
	thing.ShadowMM, thing.ShadowShare, thing.ShadowSoft = l.shadow, l.shadowShare, 0.1
	if l.glareMM > 0 {
		thing.Glare.Line(middle, l.glareMM)
	}
	picture := phototest.Picture(refusalCard(), thing, l.view)
	if l.spoil != nil {
		l.spoil(l, picture)
	}
	e := photo.Expect{Steps: drawn, WireMM: phototest.WireMM, LegsMM: [2]float64{4, 3}}
	if l.expect != nil {
		l.expect(&e)
	}
	return photo.Read(bytes.NewReader(l.view.Encode(picture)), e)
}

// patch covers a rectangle of the card with a tone.
func patch(tone uint8, low, high r2.Vec) func(l *laid, picture *image.Gray) {
	return func(l *laid, picture *image.Gray) {
		to := l.view.ToCard()
		for y := range l.view.Height {
			for x := range l.view.Width {
				if q := to(float64(x)+0.5, float64(y)+0.5); q.X > low.X && q.X < high.X && q.Y > low.Y && q.Y < high.Y {
					picture.SetGray(x, y, color.Gray{Y: tone})
				}
			}
		}
	}
}

// bowedStraight is a wire whose longest inner straight is a bow.
func bowedStraight(_ *laid, wire *phototest.Layer, middle []r2.Vec) {
	var bowed []r2.Vec
	for i, q := range middle {
		if i > 0 {
			a := middle[i-1]
			length := r2.Norm(r2.Sub(q, a))
			for k := 1; k < 20; k++ {
				s := float64(k) / 20
				bow := 0.0
				if length > 6.5 && length < 9 { // the longest inner straight
					bow = 0.4 * 4 * s * (1 - s)
				}
				side := r2.Unit(r2.Vec{X: a.Y - q.Y, Y: q.X - a.X})
				bowed = append(bowed, r2.Add(r2.Add(a, r2.Scale(s, r2.Sub(q, a))), r2.Scale(bow, side)))
			}
		}
		bowed = append(bowed, q)
	}
	wire.Line(bowed, phototest.WireMM)
}

// What cannot be read rightly is refused, each with its reason.
func TestPicturesAreRefused(t *testing.T) {
	for name, test := range map[string]struct {
		change func(l *laid)
		want   photo.Reason
		says   string
	}{
		"mark covered":    {func(l *laid) { l.spoil = patch(225, r2.Vec{X: 77, Y: -1}, r2.Vec{X: 87, Y: 8}) }, photo.MarkMissing, "3 dots"},
		"thumb on a mark": {func(l *laid) { l.spoil = patch(150, r2.Vec{X: 79, Y: 49}, r2.Vec{X: 87, Y: 56}) }, photo.MarkMissing, "2 dots"},
		"mark not whole":  {func(l *laid) { l.view.ShiftPx = r2.Vec{X: 180} }, photo.MarkMissing, "dots"},
		"two marks alike": {func(l *laid) {
			l.view.Fill = 0.6
			l.spoil = func(l *laid, picture *image.Gray) { // a part of another card beside this one
				draw.Draw(picture, image.Rect(10, 10, 300, 300), picture, image.Pt(1350, 280), draw.Src)
			}
		}, photo.TwoCards, "2 dots"},
		"mirrored":     {func(l *laid) { l.view.Mirror = true }, photo.Mirrored, ""},
		"from too far": {func(l *laid) { l.view.Fill = 0.4 }, photo.TooFar, "at least 9 and 770 needed"},
		"too oblique":  {func(l *laid) { l.view.TiltRad, l.view.Width, l.view.Height, l.view.Fill = 65*degree, 2400, 1700, 0.75 }, photo.TooOblique, ""},
		"blurred":      {func(l *laid) { l.view.BlurPx = 4.5 }, photo.Blurred, "blurred by 0.2"},
		"paper bent": {func(l *laid) {
			l.view.BowMM, l.view.TiltRad, l.view.TowardsRad, l.view.Fill = 1.5, 25*degree, 1.57, 0.8
		}, photo.PaperBent, ""},
		"paper a little bent": {func(l *laid) {
			l.view.BowMM, l.view.TiltRad, l.view.TowardsRad, l.view.Fill = 0.6, 25*degree, 1.57, 0.8
		}, photo.PaperBent, "off by up to"},
		"paper bent much": {func(l *laid) { l.view.BowMM, l.view.TiltRad, l.view.TowardsRad, l.view.Fill = 4, 25*degree, 1.57, 0.8 }, photo.PaperBent, "covered"},
		"empty":           {func(l *laid) { l.change = func(*laid, *phototest.Layer, []r2.Vec) {} }, photo.NoWire, ""},
		"two wires": {func(l *laid) {
			l.change = func(_ *laid, wire *phototest.Layer, middle []r2.Vec) {
				wire.Line(middle, phototest.WireMM)
				wire.Line([]r2.Vec{{X: 60, Y: 15}, {X: 70, Y: 20}}, phototest.WireMM)
			}
		}, photo.SeveralWires, "11.4 mm"},
		"a hair across it": {func(l *laid) {
			l.change = func(_ *laid, wire *phototest.Layer, middle []r2.Vec) {
				wire.Line(middle, phototest.WireMM)
				wire.Line([]r2.Vec{{X: 28, Y: 15}, {X: 31, Y: 30}}, 0.25)
			}
		}, photo.Tangled, ""},
		"over the line":  {func(l *laid) { l.at.X = -2 }, photo.LeavesField, ""},
		"crosses itself": {func(l *laid) { l.steps, l.bent, l.at.Y = "4 90 12 -170 12 60 3", "4 90 12 -198 12 60 3", 22 }, photo.CrossesItself, "straight"},
		"another spring": {func(l *laid) { l.bent, l.at.Y = "4 -60 8 -110 6 75 3", 35 }, photo.OtherSpring, ""},
		"a bend missing": {func(l *laid) { l.bent = "4 60 8 -110 9" }, photo.OtherSpring, ""},
		"a bend too far": {func(l *laid) { l.bent = "4 60 8 -70 6 75 3" }, photo.OtherSpring, "bend 2 would be"},
		"half the wire":  {func(l *laid) { l.expect = func(e *photo.Expect) { e.WireMM = 0.25 } }, photo.OtherWire, "instead of 0.25 mm"},
		"a bowed straight": {func(l *laid) {
			l.change = bowedStraight
		}, photo.NotFlat, ""},
		"a bowed straight beside its shadow": {func(l *laid) {
			l.change, l.shadow, l.shadowShare = bowedStraight, r2.Vec{X: 0.25, Y: -0.2}, 0.5
		}, photo.Shaded, "of the wire one edge or both"},
		"brighter than the paper":      {func(l *laid) { l.wireTone = 252 }, photo.Bright, "mm or more"},
		"brighter than its own shadow": {func(l *laid) { l.wireTone, l.shadow, l.shadowShare = 250, r2.Vec{X: 0.25, Y: -0.2}, 0.5 }, photo.Bright, "mm or more"},
		"either end first": {func(l *laid) {
			l.steps, l.bent, l.legs = "3 95 7 -180 7 95 3", "3 96 7.2 -180 6.8 94 3", [2]float64{4, 4}
			l.expect = func(e *photo.Expect) { e.LegsMM = [2]float64{4, 4} }
		}, photo.BothWays, ""},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			l := plainLaid()
			test.change(&l)
			o, err := l.read()
			var refused *photo.PictureError
			if !errors.As(err, &refused) {
				t.Fatalf("error %v and %+v, want %q", err, o.Bends, test.want)
			}
			if refused.Reason != test.want || !strings.Contains(err.Error(), test.says) {
				t.Errorf("refused: %v, want %q with %q", err, test.want, test.says)
			}
			if refused.Fault("a.jpg").Hint == "" {
				t.Error("nothing is said of what to do")
			}
		})
	}
}

// The same picture, unspoilt, is read; else the refusals above would prove nothing.
func TestPlainPictureIsRead(t *testing.T) {
	for _, over := range [...]bool{false, true} {
		l := plainLaid()
		l.over = over
		if over {
			l.at.Y = 35
		}
		o, err := l.read()
		if err != nil {
			t.Fatal(err)
		}
		if o.TurnedOver != over || len(o.Notes) != 0 {
			t.Errorf("turned over %t, want %t; notes %v, want none", o.TurnedOver, over, o.Notes)
		}
		for i, want := range [...]float64{60, -110, 75} {
			if got := o.Bends[i].AngleRad / degree; math.Abs(got-want) > 0.2 || o.Bends[i].Number != i+1 {
				t.Errorf("bend %d is %.2f°, want %g ± 0.2", o.Bends[i].Number, got, want)
			}
		}
		for i, want := range [...]float64{8, 8, 6, 6} { // legs with what lies in the slots
			if got := o.Straights[i].LengthMM; math.Abs(got-want) > 0.06 || o.Straights[i].Leg != (i == 0 || i == 3) {
				t.Errorf("straight %d is %.3f mm, want %g ± 0.06", i+1, got, want)
			}
		}
		if d := r2.Norm(r2.Sub(o.AnchorEnd, l.at)); d > 0.1 {
			t.Errorf("the anchor's end is %.2f mm from where it was laid", d)
		}
		if math.Abs(o.WireMM-phototest.WireMM) > 0.03 {
			t.Errorf("the wire is %.3f mm wide, want %.3f ± 0.03", o.WireMM, phototest.WireMM)
		}
		var overlay bytes.Buffer
		if err := o.WriteOverlay(&overlay); err != nil {
			t.Fatal(err)
		}
		if picture, _, err := image.Decode(&overlay); err != nil || picture.Bounds().Dx() < 1200 {
			t.Errorf("overlay: %v", err)
		}
	}
}

// Either end first fits a spring that is its own mirror; what the user says decides, and is said.
func TestAnchorLeftDecides(t *testing.T) {
	for _, left := range [...]bool{true, false} {
		l := plainLaid()
		// Not quite its own mirror, so that it is seen which end was taken.
		l.steps, l.bent, l.legs = "3 95 7 -180 7 95 3", "3 96 7.2 -180 6.8 94 3", [2]float64{4, 4}
		if !left {
			l.at, l.heading = r2.Vec{X: 60, Y: 30}, math.Pi
		}
		l.expect = func(e *photo.Expect) { e.LegsMM, e.AnchorLeft = [2]float64{4, 4}, true }
		o, err := l.read()
		if err != nil {
			t.Fatal(err)
		}
		want := [2]float64{7.2, 6.8}
		if !left {
			want = [2]float64{6.8, 7.2} // the other end was taken for the anchor's, as was said
		}
		if math.Abs(o.Straights[1].LengthMM-want[0]) > 0.05 || math.Abs(o.Straights[2].LengthMM-want[1]) > 0.05 {
			t.Errorf("anchor left %t: uprights of %.2f and %.2f mm, want %v", left, o.Straights[1].LengthMM, o.Straights[2].LengthMM, want)
		}
		if !slices.ContainsFunc(o.Notes, func(n photo.Note) bool { return n.Kind == photo.TakenByAnchorLeft }) {
			t.Errorf("notes %v, want that it was decided by what the user said", o.Notes)
		}
	}
}

// A page that was printed too small is measured rightly once its bars are measured, and even
// where nobody did, the wire is seen to be too wide for it.
func TestPrintedAtAnotherSize(t *testing.T) {
	l := plainLaid()
	const size = 0.88
	// On a card printed smaller by that the same spring seems larger.
	l.change = func(_ *laid, wire *phototest.Layer, middle []r2.Vec) {
		for i, q := range middle {
			middle[i] = r2.Add(l.at, r2.Scale(1/size, r2.Sub(q, l.at)))
		}
		wire.Line(middle, phototest.WireMM/size)
	}
	o, err := l.read()
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(o.Notes, func(n photo.Note) bool { return n.Kind == photo.WidthAtOdds && n.Values[0] > n.Values[1] }) {
		t.Errorf("notes %v, want that the wire is too wide for the card", o.Notes)
	}
	l.expect = func(e *photo.Expect) { e.LevelBarMM, e.UprightBarMM = 100*size, 100*size }
	if o, err = l.read(); err != nil {
		t.Fatal(err)
	}
	if got := o.Straights[1].LengthMM; math.Abs(got-8) > 0.04 {
		t.Errorf("the first upright is %.3f mm, want 8 ± 0.04", got)
	}
	if len(o.Notes) != 1 || o.Notes[0].Kind != photo.PrintedOffScale {
		t.Errorf("notes %v, want that the size was taken out", o.Notes)
	}
}

// Legs that were left long cross, as no spring of that kind does in the mouth; they are cut.
func TestLongLegsMayCross(t *testing.T) {
	for name, legs := range map[string][2]float64{"apart": {1, 1}, "side by side": {10, 2}, "crossing": {14, 14}} {
		l := plainLaid()
		// The last leg comes back beside the first and, longer, across it.
		l.steps, l.legs, l.at = "3 90 7 -90 8 -90 6.1 -98 6", legs, r2.Vec{X: 15, Y: 22}
		l.expect = func(e *photo.Expect) { e.LegsMM = [2]float64{1, 1} }
		o, err := l.read()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for i, want := range [...]float64{90, -90, -90, -98} {
			if got := o.Bends[i].AngleRad / degree; math.Abs(got-want) > 0.4 {
				t.Errorf("%s: bend %d is %.2f°, want %g ± 0.4", name, i+1, got, want)
			}
		}
	}
}

// A wire may look like a tube, of which the middle line is no line of dark; it is read to its ends.
func TestGlareAsBrightAsPaper(t *testing.T) {
	l := plainLaid()
	l.glareMM, l.legs, l.at.X, l.view.BlurPx = 0.2, [2]float64{14, 9}, 12, 2
	l.view.Width, l.view.Height = 2700, 1900
	o, err := l.read()
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range [...]float64{60, -110, 75} {
		if got := o.Bends[i].AngleRad / degree; math.Abs(got-want) > 0.3 {
			t.Errorf("bend %d is %.2f°, want %g ± 0.3", i+1, got, want)
		}
	}
	for i, want := range [...]float64{18, 8, 6, 12} {
		if got := o.Straights[i].LengthMM; math.Abs(got-want) > 0.08 {
			t.Errorf("straight %d is %.3f mm, want %g ± 0.08", i+1, got, want)
		}
	}
	if o.WireMM != 0 {
		t.Errorf("the wire is %.3f mm wide, want that a glare does not tell", o.WireMM)
	}
}

// pngHead is the beginning of a PNG file, with its size, bits and colour type.
func pngHead(width, height uint32, bits, colours byte) []byte {
	body := binary.BigEndian.AppendUint32([]byte("IHDR"), width)
	body = append(binary.BigEndian.AppendUint32(body, height), bits, colours, 0, 0, 0)
	file := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d"), body...)
	return binary.BigEndian.AppendUint32(file, crc32.ChecksumIEEE(body))
}

func TestNoPictures(t *testing.T) {
	e := photo.Expect{Steps: phototest.Steps("3 90 7"), WireMM: 0.4}
	for name, test := range map[string]struct {
		data []byte
		want photo.Reason
	}{
		"nothing":          {nil, photo.NoPicture},
		"text":             {[]byte("no picture at all"), photo.NoPicture},
		"cut short":        {pngHead(1000, 1000, 8, 0), photo.NoPicture},
		"a billion pixels": {pngHead(40000, 40000, 8, 0), photo.TooLarge}, // refused before room for them is taken
		"a stamp":          {pngHead(300, 2000, 8, 0), photo.TooSmall},
	} {
		_, err := photo.Read(bytes.NewReader(test.data), e)
		var refused *photo.PictureError
		if !errors.As(err, &refused) || refused.Reason != test.want {
			t.Errorf("%s: %v, want %q", name, err, test.want)
		}
	}
}

func TestSpringsThatDoNotLieFlat(t *testing.T) {
	flat := spring.Spring{
		Path: spring.PathOf(spring.StraightStep(3), spring.BendStep(1, 1), spring.StraightStep(5), spring.BendStep(-1, 1), spring.StraightStep(2)),
		Wire: wire.Wire{ThicknessMM: 0.4318, WidthMM: 0.635}, AnchorSlotLengthMM: 4,
	}
	e, err := photo.ExpectOf(flat)
	if err != nil || e.WireMM != 0.4318 || e.LegsMM != [2]float64{4, 0} {
		t.Errorf("%+v, %v for a flat spring", e, err)
	}
	steps := flat.Path.Steps()
	steps[3].Order = 1
	steps = append(steps, spring.Step{Kind: spring.Twist, AngleRad: 0.2, LengthMM: 2}, spring.BendStep(1, 1))
	flat.Path = spring.PathOf(steps...)
	_, err = photo.ExpectOf(flat)
	var refused *photo.PictureError
	if !errors.As(err, &refused) || refused.Reason != photo.OutOfPlane || !slices.Equal(refused.Bends, []int{2, 3}) {
		t.Errorf("%v, want that bends 2 and 3 are out of the plane", err)
	}
	if hint := refused.Reason.Hint(); !strings.Contains(hint, "bends and straights by hand") {
		t.Errorf("hint %q, want that all of it is measured by hand", hint)
	}
}
