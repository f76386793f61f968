package main

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/photo/phototest"
	"springwright/design/spring"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// bentStep opens the step in which a spring is measured, once it is saved.
func bentStep(p page) page {
	p.t.Helper()
	p.click("save-case")
	p.until(`document.getElementById("saved").textContent === "saved"`)
	p.click("go-bent")
	p.until(`document.getElementById("adjust") !== null`)
	return p
}

// told waits for the report, and returns it.
func (p page) told() (answer struct {
	Told struct {
		Usable, After  string
		Misses         []string
		Chances, Notes []string
		Ways           []struct {
			Title, Text string
			Lines       []string
		}
	}
	Views []struct {
		Charts []struct {
			Key    string
			Sign   float64
			Values []float64
		}
		Bands map[string]struct{ Low, High []float64 }
		Marks []struct{ Letter string }
	}
},
) {
	p.t.Helper()
	p.until(`window.desk.bent.answer !== null || window.desk.bent.error !== null`)
	if text := value[string](p, `window.desk.bent.error ? document.getElementById("bent").innerText : ""`); text != "" {
		p.t.Fatalf("nothing is told:\n%s", text)
	}
	if err := json.Unmarshal([]byte(value[string](p, `JSON.stringify(window.desk.bent.answer)`)), &answer); err != nil {
		p.t.Fatal(err)
	}
	return answer
}

// command runs the program.
func command(t *testing.T, args ...string) string {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if code := run(t.Context(), args, console{stdout: &stdout, stderr: &stderr}); code != exitDone && code != exitUnmet {
		t.Fatalf("%s: %d\n%s", args, code, &stderr)
	}
	return stdout.String()
}

// TestDeskTellsAsTheCommand types readings, and holds what the page tells, its sheet and its files against
// "adjust" of the same readings.
func TestDeskTellsAsTheCommand(t *testing.T) {
	folder := t.TempDir()
	p := bentStep(quickPage(t, folder))
	made, err := os.ReadFile(filepath.Join(folder, "demo-spring.toml"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := casefile.ReadSpring("demo-spring.toml", made)
	if err != nil {
		t.Fatal(err)
	}
	off := []float64{2, 0.5, 0, -3, 0, 1}
	bends := 0
	for i, key := range casefile.StepKeys(s.Path) {
		step := s.Path.Steps()[i]
		if step.Kind == spring.Straight {
			continue
		}
		text := fmt.Sprintf("%.1f", math.Abs(step.AngleRad)*180/math.Pi+off[bends%len(off)])
		if bends == 0 {
			text = strings.Replace(text, ".", ",", 1) // a decimal comma is understood
		}
		bends++
		p.do("typing "+key, chromedp.SendKeys("#b-"+key, text+kb.Tab))
	}
	p.do("the free end", chromedp.SendKeys("#b-free-0", "0.2"+kb.Tab))
	p.click("adjust")
	answer := p.told()
	p.click("write-files")
	p.until(`document.getElementById("written").textContent !== ""`)
	dir := filepath.Join(folder, "demo-as-bent")
	same := []string{"adjust", filepath.Join(folder, "demo-spring.toml"), "--case", filepath.Join(folder, "demo.toml"), "--measured", filepath.Join(dir, "measured.csv")}

	// The same words.
	out := t.TempDir()
	printed := command(t, append(same, "--out", out)...)
	lines := slices.Concat([]string{answer.Told.Usable, answer.Told.After}, answer.Told.Misses, answer.Told.Chances, answer.Told.Notes)
	for _, way := range answer.Told.Ways {
		lines = append(append(lines, way.Title+": "+way.Text), way.Lines...)
	}
	shown := value[string](p, `document.getElementById("told").textContent.toLowerCase()`)
	for _, line := range lines {
		if !strings.Contains(printed, line) {
			t.Errorf("the page tells what the command does not: %q", line)
		}
		_, own, _ := strings.Cut(line, ": ")
		if !strings.Contains(shown, strings.ToLower(line)) && !strings.Contains(shown, strings.ToLower(own)) {
			t.Errorf("the page does not show %q", line)
		}
	}
	// The same numbers.
	var told struct {
		AsBent struct {
			Positions []map[string]json.RawMessage
		} `json:"as_bent"`
	}
	if err := json.Unmarshal([]byte(command(t, append(same, "--json")...)), &told); err != nil {
		t.Fatal(err)
	}
	type load struct {
		ForceN    []float64 `json:"force_n"`
		CoupleNMM []float64 `json:"couple_nmm"`
	}
	charts := answer.Views[0].Charts
	if len(charts) < 4 || len(told.AsBent.Positions) < 2 {
		t.Fatalf("%d charts, %d positions", len(charts), len(told.AsBent.Positions))
	}
	for _, c := range charts {
		side, component, _ := strings.Cut(c.Key, ".")
		k := int(component[0] - '0')
		of := func(raw json.RawMessage) float64 {
			var l load
			if err := json.Unmarshal(raw, &l); err != nil {
				t.Fatal(err)
			}
			return append(append([]float64{}, l.ForceN...), l.CoupleNMM...)[k]
		}
		for i, position := range told.AsBent.Positions {
			var bands map[string]json.RawMessage
			if err := json.Unmarshal(position["from_5_to_95_percent"], &bands); err != nil {
				t.Fatal(err)
			}
			for what, pair := range map[string][2]float64{
				"load": {c.Sign * c.Values[i], of(position[side])},
				"low":  {answer.Views[0].Bands[c.Key].Low[i], of(bands[side+"_low"])},
				"high": {answer.Views[0].Bands[c.Key].High[i], of(bands[side+"_high"])},
			} {
				if math.Abs(pair[0]-pair[1]) > 1e-4 { // rounded to the fourth decimal
					t.Errorf("%s of %s at position %d: the page has %v, the command %v", what, c.Key, i, pair[0], pair[1])
				}
			}
		}
	}
	if len(answer.Told.Ways) > 0 && len(answer.Views[0].Marks) == 0 {
		t.Error("what to correct is not marked")
	}
	// The same files, byte for byte.
	for _, name := range []string{"as-bent.pdf", "as-bent-1.svg", "corrected-1.toml"} {
		of, err := os.ReadFile(filepath.Join(dir, name))
		want, err2 := os.ReadFile(filepath.Join(out, name))
		if err != nil || err2 != nil || !bytes.Equal(of, want) {
			t.Errorf("%s: the page writes %d bytes, the command %d; %v, %v", name, len(of), len(want), err, err2)
		}
	}
	// Written again, nothing is written over.
	p.click("write-files")
	p.until(`document.getElementById("written").textContent.includes("demo-as-bent-2")`)
	p.click("open-adjusted")
	p.until(`(document.body.dataset.adjusted ?? "").startsWith("blob:")`)
	p.viewerShows("As bent")
	// A number that nobody bends is marked at its field, with its hint.
	p.do("a wrong number", chromedp.Clear("#b-bend_2_deg"), chromedp.SendKeys("#b-bend_2_deg", "8 mm"+kb.Enter))
	p.until(`document.getElementById("b-bend_2_deg").getAttribute("aria-invalid") === "true"`)
	if hint := value[string](p, `document.getElementById("b-bend_2_deg-fault").textContent`); !strings.Contains(hint, "no unit of angle") || p.focused() != "b-bend_2_deg" {
		t.Errorf("at the field stands %q, the focus is at %q", hint, p.focused())
	}
}

// TestDeskGoesOnByKeys measures the first bends by keys alone, takes the new numbers for the rest, and has
// them on the sheet.
func TestDeskGoesOnByKeys(t *testing.T) {
	address, _ := served(t, t.TempDir())
	p := deskPage(t, address)
	p.designed()
	bentStep(p)
	drawn := value[string](p, `window.desk.spring`)
	p.tabTo("b-bend_1_deg")
	p.press("12" + kb.Tab + kb.Tab + "88" + kb.Tab)
	p.tabTo("b-sofar")
	p.press(" ")
	p.until(`window.desk.bent.soFar`)
	p.tabTo("adjust")
	p.press(kb.Enter)
	p.until(`window.desk.bent.answer !== null`)
	if at := p.focused(); at != "verdict" {
		t.Errorf("the focus is at %q, not at what is told", at)
	}
	if rows := value[int](p, `document.querySelectorAll("#so-far-rows tbody tr").length`); rows < 4 {
		t.Errorf("%d things are still to be bent", rows)
	}
	p.tabTo("take-numbers")
	p.press(kb.Enter)
	p.until(`window.desk.step === "sheet" && window.desk.live !== null`)
	if now := value[string](p, `window.desk.spring`); now == drawn {
		t.Error("the spring is as it was")
	}
	// It can be taken back.
	p.click("go-result")
	p.click("undo")
	p.until(fmt.Sprintf(`window.desk.spring === %q`, drawn))

	// Nothing measured is said in the language of the page, at once.
	p.chosen("language", "es")
	p.click("go-bent")
	p.until(`document.getElementById("adjust") !== null`)
	p.click("adjust")
	p.until(`document.getElementById("adjust-error") !== null`)
	if text := value[string](p, `document.getElementById("adjust-error").textContent`); !strings.Contains(text, "Todavía no se midió nada") {
		t.Errorf("it says %q", text)
	}
}

// dropped drops a file onto the page.
func (p page) dropped(name, kind string, data []byte) {
	p.t.Helper()
	value[bool](p, fmt.Sprintf(`(() => {
		const bytes = Uint8Array.from(atob(%q), c => c.charCodeAt(0)), all = new DataTransfer();
		all.items.add(new File([bytes], %q, { type: %q }));
		document.getElementById("drop").dispatchEvent(new DragEvent("drop", { dataTransfer: all, bubbles: true, cancelable: true }));
		return true;
	})()`, base64.StdEncoding.EncodeToString(data), name, kind))
	p.until(`window.desk.bent.busy === null`)
}

// TestDeskReadsAPicture drops a picture of a bent spring on the card, has it read, and is told what it will do;
// what is no such picture is refused in the language of the page.
func TestDeskReadsAPicture(t *testing.T) {
	folder := t.TempDir()
	p := bentStep(quickPage(t, folder))
	p.chosen("language", "pt")
	p.until(`document.getElementById("drop") !== null && window.desk.bent.form !== null`)
	p.dropped("no.png", "image/png", []byte("no picture"))
	if text := value[string](p, `document.getElementById("picture-refused").textContent`); !strings.Contains(text, "não é uma imagem que se possa ler") || !strings.Contains(text, "JPEG ou PNG") {
		t.Errorf("it says %q", text)
	}
	p.chosen("language", "en")
	p.until(`document.getElementById("drop") !== null && window.desk.bent.form !== null`)

	data, err := os.ReadFile(filepath.Join(folder, "demo-spring.toml"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := casefile.ReadSpring("demo-spring.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	bent := phototest.Bent{Steps: s.Path.Steps(), LegsMM: [2]float64{6, 5}}
	for i := range bent.Steps {
		if bent.Steps[i].Kind != spring.Straight {
			bent.Steps[i].AngleRad *= 1.02
		}
	}
	middle, ok := bent.Laid(rand.New(rand.NewPCG(1, 1)), false, 1.2)
	if !ok {
		t.Fatal("the spring does not fit the card")
	}
	card := phototest.Card(28)
	wire := card.Like()
	wire.Line(middle, s.Wire.HeightMM())
	view := phototest.Random(0, 2000).View
	p.dropped("bent.jpg", "image/jpeg", view.Encode(phototest.Picture(card, phototest.Thing{Wire: wire, WireTone: 60}, view)))
	if text := value[string](p, `document.getElementById("picture-refused")?.textContent ?? ""`); text != "" {
		t.Fatalf("the picture is refused: %s", text)
	}
	if size := value[[]float64](p, `(async () => { const i = document.querySelector(".overlay"); await i.decode(); return [i.naturalWidth, i.naturalHeight]; })()`); size[0] < 500 || size[1] < 300 {
		t.Errorf("the overlay has %v pixels", size)
	}
	seen := value[map[string]string](p, `window.desk.bent.seen.texts`)
	for i, key := range casefile.StepKeys(s.Path) {
		var got float64
		if _, err := fmt.Sscanf(seen[key], "in the picture %g", &got); err != nil {
			if i > 0 && i < len(bent.Steps)-1 {
				t.Errorf("of %s nothing was read: %q", key, seen[key])
			}
			continue
		}
		want, limit := bent.Steps[i].LengthMM, 0.12
		if bent.Steps[i].Kind != spring.Straight {
			want, limit = math.Abs(bent.Steps[i].AngleRad)*180/math.Pi, 0.6 // as in TestAdjustReadsAPicture
		}
		if math.Abs(got-want) > limit {
			t.Errorf("%s is read as %v, it is %v", key, got, want)
		}
	}
	p.click("adjust")
	if answer := p.told(); answer.Told.Usable == "" || len(answer.Views) == 0 {
		t.Errorf("told: %+v", answer)
	}
}
