package main

import (
	"bytes"
	"compress/gzip"
	"flag"
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

var latencyMoves = flag.Int("moves", 0, "of a handle in TestDeskLatency; 0: it is skipped, for it measures a machine that has nothing else to do")

// TestDeskLatency drags a bend and prints how long it takes from a move of the pointer until the new
// numbers are on the page, in a real browser: go test ./cmd/springwright -run DeskLatency -v -args -moves 300
func TestDeskLatency(t *testing.T) {
	if *latencyMoves == 0 {
		t.Skip("measured on request: -args -moves 300")
	}
	folder := t.TempDir()
	seatedDemo(t, folder, "tied.toml", tied, tied)
	seatedDemo(t, folder, "seated.toml", "kind = \"tube\"\ntie = \"cinched\"", "kind = \"tube\"\ntie = \"cinched\"\nbefore_tying = \"slid to rest\"")
	address, _ := served(t, folder)
	p := deskPage(t, address)
	for _, name := range []string{"tied.toml", "seated.toml"} {
		value[bool](p, fmt.Sprintf(`(() => { const e = document.getElementById("cases"); e.value = %q; return e.dispatchEvent(new Event("change")); })()`, name))
		p.until(fmt.Sprintf(`window.desk.file === %q`, name))
		p.click("go-result")
		p.click("search")
		p.designed()
		p.do("the search's file", chromedp.Click("#save-case"))
		p.until(`document.getElementById("saved").textContent === "saved"`)
		index := p.handle("bend 3")
		x, y := p.spotOf(index)
		value[bool](p, `(performance.clearResourceTimings(), performance.setResourceTimingBufferSize(5000), window.desk.measured = [], true)`)
		steps := []chromedp.Action[chromedp.Void]{chromedp.MouseEvent(chromedp.MouseMoved, x, y), chromedp.MouseEvent(chromedp.MousePressed, x, y, chromedp.ButtonLeft, chromedp.ClickCount(1))}
		for i := range *latencyMoves {
			away := float64(i % 40)
			if away > 20 {
				away = 40 - away
			}
			steps = append(steps, chromedp.MouseEvent(chromedp.MouseMoved, x+away, y+0.7*away, chromedp.ButtonLeft), chromedp.Sleep(12*time.Millisecond))
		}
		steps = append(steps, chromedp.MouseEvent(chromedp.MouseReleased, x, y, chromedp.ButtonLeft))
		p.do("dragging", steps...)
		p.until(`window.desk.measured.length > 10`)
		p.click("back") // or leaving the case would be asked about
		measured := value[[]float64](p, `window.desk.measured`)
		asked := value[[]float64](p, `performance.getEntriesByType("resource").filter(e => e.name.endsWith("/live")).map(e => e.duration)`)
		slices.Sort(measured)
		slices.Sort(asked)
		at := func(list []float64, share float64) float64 { return list[int(share*float64(len(list)-1))] }
		t.Logf("%s: %d updates, median %.1f ms, 95 of 100 within %.1f ms, 99 within %.1f ms; of that the request %.1f ms in the median", name,
			len(measured), at(measured, 0.5), at(measured, 0.95), at(measured, 0.99), at(asked, 0.5))
	}
}

// mostPageBytes is what the page may weigh, packed: a slow machine's browser has it in a moment
// (choice).
const mostPageBytes = 300_000

// TestDeskWeighsLittle weighs all that the page loads before it can be used, packed.
func TestDeskWeighsLittle(t *testing.T) {
	address, _ := served(t, t.TempDir())
	p := deskPage(t, address) // loading
	loaded := value[[]string](p, `(async () => {
		const names = ["./", ...performance.getEntriesByType("resource").map(e => e.name).filter(n => !/api\/v1\/(events|search|live|report|form)/.test(n))];
		return Promise.all(names.map(async n => (await fetch(n)).text()));
	})()`)
	if len(loaded) < 8 {
		t.Errorf("only %d files", len(loaded))
	}
	var packed bytes.Buffer
	w := gzip.NewWriter(&packed)
	for _, text := range loaded {
		if _, err := w.Write([]byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	t.Logf("%d files, %d bytes packed; first paint %.0f ms after it was asked for", len(loaded), packed.Len(), value[float64](p, `performance.getEntriesByName("first-contentful-paint")[0].startTime`))
	if packed.Len() > mostPageBytes {
		t.Errorf("the page weighs %d bytes packed, more than %d", packed.Len(), mostPageBytes)
	}
}
