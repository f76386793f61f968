package main

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// fillInMeasured fills in the measurements of a molar to be intruded.
func (p page) fillInMeasured() {
	p.t.Helper()
	p.typed("f-now\\.along_mm", "12,5") // a decimal comma is understood
	p.chosen("f-now.B-way", "now.occlusal_mm")
	p.typed("f-now\\.B", "2")
	p.typed("f-goal\\.B", "0")
	for _, f := range [][2]string{
		{"f-anchor_slot\\.height_mm", "0.022in"},
		{"f-anchor_slot\\.length_mm", "4"},
		{"f-active_slot\\.height_mm", "0.022in"},
		{"f-active_slot\\.length_mm", "3.5"},
		{"f-limits\\.fold_depth_mm", "10"},
		{"f-limits\\.room_mesial_mm", "7"},
		{"f-limits\\.room_distal_mm", "6"},
	} {
		p.typed(f[0], f[1])
	}
	p.chosen("f-active_slot.enter", "from behind")
}

// sheetBytes are what the page gets for its spring.
func (p page) sheetBytes(across, up string) []byte {
	p.t.Helper()
	sheet, err := base64.StdEncoding.DecodeString(value[string](p, fmt.Sprintf(`(async () => {
		const d = window.desk;
		const r = await fetch("api/v1/sheet", { method: "POST", headers: { "Content-Type": "application/json" },
			body: JSON.stringify({ text: d.text, spring: d.spring, lang: "en", paper: "a4", across: %q, up: %q }) });
		const b = new Uint8Array(await r.arrayBuffer());
		let s = "";
		for (const x of b) s += String.fromCharCode(x);
		return btoa(s);
	})()`, across, up)))
	if err != nil {
		p.t.Fatal(err)
	}
	return sheet
}

// TestDeskFromNothing fills in a case from nothing, searches, changes a bend, saves, and holds
// what the page shows against "evaluate" and the sheet against that of "design".
func TestDeskFromNothing(t *testing.T) {
	folder := t.TempDir()
	address, _ := served(t, folder)
	p := deskPage(t, address)
	if at := value[string](p, "location.href"); strings.Contains(at, "token") {
		t.Errorf("the token stays in the address: %s", at)
	}
	p.click("new-case")
	p.until(`document.querySelector("#f-case")?.value === "case-1"`)
	p.click("tooth-37")
	p.until(`document.querySelector("#tooth-37").getAttribute("aria-pressed") === "true"`)
	p.click("tooth-36")
	p.until(`document.querySelector("#tooth-36").getAttribute("aria-pressed") === "true"`)
	// Left out on purpose: what is missing is said at its place.
	if n := value[int](p, `document.querySelectorAll("#measure .fault").length`); n < 5 {
		t.Errorf("an empty case is marked at %d places, want each part that is missing", n)
	}
	p.typed("f-title", "test of the page")
	p.fillInMeasured()
	p.click("next-measure")
	p.typed("f-target\\.start\\.vertical", "0.3")
	p.typed("f-target\\.start\\.vertical-max", "0.6")
	p.typed("f-target\\.travel\\.vertical", "0.05")
	p.typed("f-target\\.travel\\.vertical-max", "0.6")
	p.click("next-want")
	p.chosen("f-wire.alloy", "beta-titanium")
	p.typed("f-wire\\.thickness_mm", "0.017in")
	p.typed("f-wire\\.width_mm", "0.025in")
	p.click("kind-rectangular-loop")
	p.until(`document.querySelectorAll("nav small:not(:empty)").length === 0`)
	p.click("next-kind")
	p.do("the search", chromedp.Focus("#search"), chromedp.KeyEvent(kb.Enter))
	p.designed()
	if at := value[string](p, `document.activeElement.id`); at != "search" {
		t.Errorf("after a search by keys the focus is at %q", at)
	}

	sheet := p.sheetBytes("", "")

	// A bend is changed by its handle: first by keys, then by dragging.
	index := p.handle("bend 3")
	before := p.shows(index)
	p.do("turning a bend by keys", chromedp.Focus(fmt.Sprintf("#handle-%d", index)), chromedp.KeyEvent(kb.ArrowUp))
	p.until(fmt.Sprintf(`Number(document.getElementById("n-%d").value) === %v`, index, before+1))
	p.click("undo")
	p.until(fmt.Sprintf(`Number(document.getElementById("n-%d")?.value) === %v`, index, before))
	p.click("redo")
	p.until(fmt.Sprintf(`Number(document.getElementById("n-%d")?.value) === %v`, index, before+1))
	p.click("back")
	p.until(fmt.Sprintf(`Number(document.getElementById("n-%d")?.value) === %v`, index, before))
	x, y := p.spotOf(index)
	p.do("dragging a bend", chromedp.DragAndDropXY(x, y, x+14, y+14, 8))
	p.until(fmt.Sprintf(`Number(document.getElementById("n-%d").value) !== %v`, index, before))
	p.click("save-case")
	p.until(`document.getElementById("saved").textContent === "saved"`)
	p.showsWhatEvaluatePrints(filepath.Join(folder, "case-1-spring.toml"))

	// The sheet of a searched spring is the command's, byte for byte.
	if want := designed(t, filepath.Join(folder, "case-1.toml"), exitDone); !bytes.Equal(sheet, want) {
		t.Errorf("the page's sheet has %d bytes, the command's %d, and they differ", len(sheet), len(want))
	}
}

// designed is the sheet that "design" makes of a case.
func designed(t *testing.T, file string, want int, more ...string) []byte {
	t.Helper()
	out := filepath.Join(t.TempDir(), "o")
	var stdout, stderr bytes.Buffer
	if code := run(t.Context(), append([]string{"design", file, "--out", out, "--quiet"}, more...), console{stdout: &stdout, stderr: &stderr}); code != want {
		t.Fatalf("design: %d\n%s", code, &stderr)
	}
	sheet, err := os.ReadFile(filepath.Join(out, "template.pdf"))
	if err != nil {
		t.Fatal(err)
	}
	return sheet
}

// showsWhatEvaluatePrints holds the charts of the page against what "evaluate --json" says of a
// spring file.
func (p page) showsWhatEvaluatePrints(file string) {
	p.t.Helper()
	var stdout, stderr bytes.Buffer
	if code := run(p.t.Context(), []string{"evaluate", file, "--json"}, console{stdout: &stdout, stderr: &stderr}); code != exitDone {
		p.t.Fatalf("evaluate: %d\n%s", code, &stderr)
	}
	type load struct {
		ForceN    []float64 `json:"force_n"`
		CoupleNMM []float64 `json:"couple_nmm"`
	}
	var record struct {
		Positions []struct {
			Active load `json:"active"`
			Anchor load `json:"anchor"`
		} `json:"positions"`
	}
	var whole map[string]json.RawMessage
	if err := json.Unmarshal(stdout.Bytes(), &whole); err != nil {
		p.t.Fatal(err)
	}
	text := stdout.Bytes()
	if inner, found := whole["record"]; found {
		text = inner
	}
	if err := json.Unmarshal(text, &record); err != nil || len(record.Positions) < 2 {
		p.t.Fatalf("%v: %d positions in\n%s", err, len(record.Positions), text)
	}
	charts := value[[]struct {
		Key    string    `json:"key"`
		Sign   float64   `json:"sign"`
		Values []float64 `json:"values"`
	}](p, `window.desk.live.charts`)
	if len(charts) < 4 {
		p.t.Fatalf("%d charts", len(charts))
	}
	for _, c := range charts {
		anchor := strings.HasPrefix(c.Key, "anchor.")
		k := int(c.Key[len(c.Key)-1] - '0')
		if len(c.Values) != len(record.Positions) {
			p.t.Fatalf("%s has %d values for %d positions", c.Key, len(c.Values), len(record.Positions))
		}
		for i, position := range record.Positions {
			l := position.Active
			if anchor {
				l = position.Anchor
			}
			want := append(append([]float64{}, l.ForceN...), l.CoupleNMM...)[k]
			// Both are rounded to the fourth digit; the file has fewer digits of the wire than the page.
			if got := c.Sign * c.Values[i]; math.Abs(got-want) > 2e-4 {
				p.t.Errorf("%s at position %d: the page has %v, evaluate %v", c.Key, i, got, want)
			}
		}
	}
}
