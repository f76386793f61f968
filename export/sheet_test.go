package export

import (
	"bytes"
	"errors"
	"flag"
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"springwright/design/spring"
	"springwright/design/tooth"
)

func TestSameJobSameBytes(t *testing.T) {
	job := testJob()
	want, wantPages, err := Sheets(job)
	if err != nil {
		t.Fatal(err)
	}
	var wait sync.WaitGroup
	for range 3 {
		wait.Go(func() {
			got, pages, err := Sheets(job)
			if err != nil || !bytes.Equal(got, want) {
				t.Errorf("another PDF of %d bytes (%v), want the same %d", len(got), err, len(want))
			}
			if !bytes.Equal(bytes.Join(pages, nil), bytes.Join(wantPages, nil)) {
				t.Error("other SVG pages, want the same")
			}
		})
	}
	wait.Wait()
}

func TestPageSizes(t *testing.T) {
	// ISO 216 and ANSI sizes in points of 1/72 in.
	for paper, want := range map[Paper][2]float64{A4: {210 / 25.4 * 72, 297 / 25.4 * 72}, Letter: {612, 792}} {
		job := testJob()
		job.Paper = paper
		file, _, err := Sheets(job)
		if err != nil {
			t.Fatal(err)
		}
		boxes := regexp.MustCompile(`/MediaBox\[0 0 ([0-9.]+) ([0-9.]+)\]`).FindAllSubmatch(file, -1)
		if len(boxes) < 2 {
			t.Errorf("%v: %d pages, want at least 2", paper, len(boxes))
		}
		for _, box := range boxes {
			for i := range 2 {
				got, err := strconv.ParseFloat(string(box[i+1]), 64)
				if err != nil || math.Abs(got-want[i]) > 0.001 {
					t.Errorf("%v: page is %s points, want %.3f", paper, box[i+1], want[i])
				}
			}
		}
		for _, key := range [...]string{"/PrintScaling/None", "/Lang<FEFF0065006E002D00470042>", "(D:20261124000000+00'00')", "/Outlines "} {
			if !bytes.Contains(file, []byte(key)) {
				t.Errorf("%v: the file lacks %s", paper, key)
			}
		}
	}
}

func TestPagesCarryTheirSize(t *testing.T) {
	_, pages, err := Sheets(testJob())
	if err != nil {
		t.Fatal(err)
	}
	for i, page := range pages {
		for _, part := range [...]string{
			`width="210mm" height="297mm" viewBox="0 0 210 297"`, "@page{size:210mm 297mm;margin:0}",
			"<title>Bending template demo-37: ", "<desc>Bending template at true scale",
		} {
			if !bytes.Contains(page, []byte(part)) {
				t.Errorf("page %d lacks %s", i+1, part)
			}
		}
	}
}

// stretched is a path with another first straight.
func stretched(path spring.Path, lengthMM float64) spring.Path {
	steps := path.Steps()
	steps[0].LengthMM = lengthMM
	return spring.PathOf(steps...)
}

// randomPath is any wire a hand might bend, now and then out of the plane.
func randomPath(random *rand.Rand) spring.Path {
	between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	steps := spring.Steps{spring.StraightStep(between(1, 4))}
	for range 1 + random.IntN(9) {
		switch random.IntN(8) {
		case 0:
			steps = append(steps, spring.Step{Kind: spring.Twist, AngleRad: between(-20, 20) * degree, LengthMM: between(1, 3)})
		case 1:
			steps = append(steps, spring.Step{Kind: spring.Bend, AngleRad: between(-40, 40) * degree, RadiusMM: testRadiusMM, Order: 1})
		default:
			steps = append(steps, spring.BendStep(between(-110, 110)*degree, between(0.7, 2)))
		}
		steps = append(steps, spring.StraightStep(between(1, 9)))
	}
	return spring.PathOf(steps...)
}

var labelSprings = flag.Int("labelsprings", 60, "how many random springs are drawn to see whether their labels touch anything")

func TestLabelsNeverTouch(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 11))
	pairs := [...]tooth.Pair{{Anchor: 36, Active: 37}, {Anchor: 46, Active: 47}, {Anchor: 16, Active: 15}, {Anchor: 26, Active: 23}}
	count := *labelSprings
	if testing.Short() {
		count = 20
	}
	drawn := 0
	for i := range count {
		job := jobFor(randomPath(random), pairs[i%len(pairs)], spring.Heading(i/4%2))
		job.Paper = Paper(i % 2)
		job.Pages = []Page{TemplatePage, StagesPage, StepsPage}
		if i%10 == 0 { // the other pages hardly depend on the spring
			job.Pages, job.Stages, job.Twin = nil, true, true
		}
		doc, err := compose(job)
		if errors.Is(err, ErrJob) && strings.Contains(err.Error(), "has room for") {
			continue // too long for the paper, and said so
		}
		if err != nil {
			t.Errorf("spring %d: %v", i, err)
			continue
		}
		drawn++
		for k, p := range doc.Pages {
			for _, fault := range p.Faults() {
				t.Errorf("spring %d, page %d: %s", i, k+1, fault)
			}
		}
	}
	if drawn < count*9/10 {
		t.Errorf("%d of %d springs were drawn, want nearly all", drawn, count)
	}
}

func TestFaultyJobsAreRefused(t *testing.T) {
	for name, spoil := range map[string]func(*Job){
		"tooth":    func(j *Job) { j.Case.Teeth.Active = 59 },
		"quadrant": func(j *Job) { j.Case.Teeth.Active = 47 },
		"date":     func(j *Job) { j.Date = "24.11.2026" },
		"positions": func(j *Job) {
			j.Evaluation.Record.Positions = nil
		},
		"seated":   func(j *Job) { j.Evaluation.Seated = nil },
		"NaN":      func(j *Job) { j.Evaluation.Record.Positions[2].Active.ForceN.X = math.NaN() },
		"infinite": func(j *Job) { j.Spring.Path = stretched(j.Spring.Path, math.Inf(1)) },
		"wire":     func(j *Job) { j.Spring.Wire.ThicknessMM = 0 },
		"long":     func(j *Job) { j.Spring.Path = stretched(j.Spring.Path, 400) },
	} {
		job := testJob()
		spoil(&job)
		if _, _, err := Sheets(job); !errors.Is(err, ErrJob) {
			t.Errorf("%s: error %v, want ErrJob", name, err)
		}
	}
}

func TestUnknownCharactersAreRefused(t *testing.T) {
	job := testJob()
	job.Case.Title = "歯"
	if _, _, err := Sheets(job); err == nil || !strings.Contains(err.Error(), "U+6B6F") {
		t.Errorf("error %v, want one that names U+6B6F", err)
	}
}

// The title stands on every page and in bold and regular weight.
func TestUnknownCharactersAreNamedOnce(t *testing.T) {
	job := testJob()
	job.Case.Title = "歯 and 歯科"
	_, _, err := Sheets(job)
	if err == nil {
		t.Fatal("no error")
	}
	for _, character := range []string{"U+6B6F", "U+79D1"} {
		if n := strings.Count(err.Error(), character); n != 1 {
			t.Errorf("%s is named %d times: %v", character, n, err)
		}
	}
	for text, want := range map[string]string{"": "", "Zahn µ·° ñç Ω Ж": "", "歯 and 歯科\a": "歯科\a"} {
		if got, err := Lacking(text); err != nil || string(got) != want {
			t.Errorf("the typeface lacks %q of %q, %v; want %q", string(got), text, err, want)
		}
	}
}
