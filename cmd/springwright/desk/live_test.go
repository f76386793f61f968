package desk

import (
	"encoding/json"
	"net/http/httptest"
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/spring"
	"springwright/presets"
)

// demoSpring is about the one that a search finds for the demo.
func demoSpring() spring.Path {
	const radiusMM, degree = 0.9659, 3.141592653589793 / 180
	var steps []spring.Step
	angles := []float64{-27, -73, 103, 83, 130, -36}
	for i, lengthMM := range []float64{1.5, 4, 4.5, 8.5, 7.5, 1, 1} {
		steps = append(steps, spring.StraightStep(lengthMM))
		if i < len(angles) {
			steps = append(steps, spring.BendStep(-angles[i]*degree, radiusMM))
		}
	}
	return spring.PathOf(steps...)
}

// BenchmarkLive is what the server takes for one position of a drag, tied and really seated.
func BenchmarkLive(b *testing.B) {
	text, _, err := presets.Case(presets.Demo)
	if err != nil {
		b.Fatal(err)
	}
	for name, seating := range map[string][2]string{
		"tied":   {"hold = \"tied\"\n", "hold = \"tied\"\n"},
		"seated": {"kind = \"tube\"\n", "kind = \"tube\"\nbefore_tying = \"slid to rest\"\n"},
	} {
		b.Run(name, func(b *testing.B) {
			own := strings.Replace(string(text), "[anchor_slot]\n", "[anchor_slot]\n"+seating[0], 1)
			own = strings.Replace(own, "[active_slot]\n", "[active_slot]\n"+seating[1], 1)
			a := &api{}
			c, err := a.cases.get(own)
			if err != nil {
				b.Fatal(err)
			}
			file := string(casefile.WriteSpring(c.SeatedSpring(demoSpring())))
			body, err := json.Marshal(liveRequest{Text: own, Spring: file, Lang: "en"})
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			size := 0
			for b.Loop() {
				w := httptest.NewRecorder()
				a.live(w, httptest.NewRequest("POST", "/", strings.NewReader(string(body))))
				if w.Code != 200 {
					b.Fatal(w.Body.String())
				}
				size = w.Body.Len()
			}
			b.ReportMetric(float64(size), "B/answer")
			b.ReportMetric(float64(len(body)), "B/question")
		})
	}
}
