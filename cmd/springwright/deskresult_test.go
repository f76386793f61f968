package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestDeskFirstRun: a folder without a case opens on the example, designed, and says what to do next.
func TestDeskFirstRun(t *testing.T) {
	folder := t.TempDir()
	address, _ := served(t, folder)
	p := deskPage(t, address)
	p.designed()
	if step := value[string](p, `window.desk.step`); step != "result" {
		t.Errorf("opens on %q", step)
	}
	if text := value[string](p, `document.getElementById("first")?.textContent ?? ""`); !strings.Contains(text, "New case") {
		t.Errorf("of what to do next the page says %q", text)
	}
	if text := value[string](p, `document.getElementById("folder").textContent`); !strings.Contains(text, filepath.Base(folder)) {
		t.Errorf("of the folder the page says %q", text)
	}
	if shown := value[bool](p, `window.desk.live.met`); !shown {
		t.Error("the example's spring does not meet its target")
	}
	// Nothing of it is in the folder until somebody saves.
	if entries, _ := os.ReadDir(folder); len(entries) != 0 {
		t.Errorf("written without being asked: %v", entries)
	}
	// With cases of one's own the one that was changed last is opened.
	p.click("save-case")
	p.until(`document.getElementById("saved").textContent === "saved"`)
	again := deskPage(t, address)
	again.until(`document.querySelector(".headline") !== null`)
	if first := value[bool](again, `document.getElementById("first") !== null`); first {
		t.Error("a case that is saved is still called an example")
	}
}

// TestDeskResultHolds: the charts have the hand's band and, where it does not yield, the straight wire;
// another spring that was found is taken and left again; the slider takes the wire along.
func TestDeskResultHolds(t *testing.T) {
	folder := t.TempDir()
	seatedDemo(t, folder, "tied.toml", tied, tied, quicker)
	address, _ := served(t, folder)
	p := deskPage(t, address)
	p.click("go-result")
	p.click("search")
	p.designed()
	p.until(`document.querySelectorAll(".charts .hand:not([hidden])").length >= 4`)
	// Half the way to go, and a straight wire stays elastic.
	p.click("go-measure")
	p.typed("f-now\\.B", "0.5")
	p.click("go-want")
	for _, f := range [][2]string{{"start", ""}, {"start", "-max"}} {
		p.typed("f-target\\."+f[0]+"\\.vertical"+f[1], map[string]string{"": "0.1", "-max": "0.6"}[f[1]])
	}
	p.typed("f-target\\.travel\\.vertical", "0.01")
	p.typed("f-target\\.force_until_mm", "0.25")
	p.click("go-result")
	p.click("search")
	p.designed()
	p.until(`document.querySelectorAll(".charts .straight:not([hidden])").length >= 4`)
	p.until(`document.querySelectorAll(".charts .hand:not([hidden])").length >= 4`)

	// A bend that is changed leaves the straight wire and takes the band away until it is bent again.
	index := p.handle("bend 2")
	own := p.shows(index)
	p.typedNumber(index, own+2)
	p.until(`document.querySelectorAll(".charts .straight:not([hidden])").length >= 4`)
	p.until(`window.desk.report?.spring === window.desk.spring && document.querySelectorAll(".charts .hand:not([hidden])").length >= 4`)
	if note := value[string](p, `window.desk.live.note`); note == "" {
		t.Error("of a spring changed by hand nothing says that the room is not checked")
	}
	p.click("back")
	p.until(fmt.Sprintf(`Number(document.getElementById("n-%d")?.value) === %v`, index, own))
	if note := value[string](p, `window.desk.live.note`); note != "" {
		t.Errorf("of the spring as searched the page says %q", note)
	}

	// Another one that meets the target.
	if n := value[int](p, `window.desk.found.alternatives.length`); n > 1 {
		p.click("other-1")
		p.until(`window.desk.spring === window.desk.found.alternatives[1].spring && window.desk.live?.met === true`)
		p.click("undo")
		p.until(`window.desk.spring === window.desk.design && window.desk.live !== null`)
	}

	// The slider takes tooth and wire to their goal.
	before := value[string](p, `JSON.stringify(window.desk.live.seated.at(-1))`)
	value[bool](p, `(() => { const s = document.getElementById("travel"); s.value = s.max; return s.dispatchEvent(new Event("input")); })()`)
	p.until(`window.desk.live.left === 0`)
	if after := value[string](p, `JSON.stringify(window.desk.live.seated.at(-1))`); after == before {
		t.Errorf("at the end of the travel the wire ends at %s as at its start", after)
	}
}

// typedNumber types a number of a bend or leg.
func (p page) typedNumber(index int, v float64) {
	p.t.Helper()
	value[bool](p, fmt.Sprintf(`(() => { const e = document.getElementById("n-%d"); e.value = %q; return e.dispatchEvent(new Event("change")); })()`, index, fmt.Sprint(v)))
	p.until(fmt.Sprintf(`window.desk.live.handles.find(h => h.index === %d).value === %v`, index, v))
}

// TestDeskStopKeepsTheBest: a long search is drawn while it runs, and stopped it leaves its best.
func TestDeskStopKeepsTheBest(t *testing.T) {
	folder := t.TempDir()
	text, err := os.ReadFile(filepath.Join("..", "..", "presets", "demo.toml"))
	if err != nil {
		t.Fatal(err)
	}
	long := regexp.MustCompile(`(?m)^starts = 0`).ReplaceAll(text, []byte("starts = 3000"))
	if string(long) == string(text) {
		t.Fatal("the demo's search is not what this test makes longer")
	}
	if err := os.WriteFile(filepath.Join(folder, "long.toml"), long, 0o600); err != nil {
		t.Fatal(err)
	}
	address, _ := served(t, folder)
	p := deskPage(t, address)
	p.click("go-result")
	p.click("search")
	p.until(`document.getElementById("best") !== null && document.getElementById("search-progress").value > 0 && document.getElementById("search-text").textContent !== ""`)
	if text := value[string](p, `document.getElementById("best").textContent`); !strings.Contains(text, "best so far") {
		t.Errorf("below the best so far stands %q", text)
	}
	p.click("stop")
	p.designed()
	if kept := value[string](p, `window.desk.spring`); !strings.Contains(kept, "straight_mm") {
		t.Errorf("kept is\n%s", kept)
	}
	// The server is free for another one.
	if status := value[int](p, `(async () => { const c = new AbortController(); const r = await fetch("api/v1/search", { method: "POST", body: JSON.stringify({ text: window.desk.text, lang: "en" }), signal: c.signal }); c.abort(); return r.status; })()`); status != 200 {
		t.Errorf("another search after one that was stopped: status %d", status)
	}
}

// TestDeskWaysOut: a case that cannot be met shows changes that were tried, and a click fills them in:
// searched again with one, it is met. What only measuring can tell is not filled in.
func TestDeskWaysOut(t *testing.T) {
	folder := t.TempDir()
	seatedDemo(t, folder, "tied.toml", tied, tied, quicker)
	address, _ := served(t, folder)
	p := deskPage(t, address)
	p.click("go-kind")
	value[bool](p, `[...document.querySelectorAll("details")].every(d => (d.open = true))`)
	p.typed("f-limits\\.largest_pre_bend_deg", "0.1")
	p.click("go-result")
	p.click("search")
	p.until(`window.desk.search === null && window.desk.ways !== null`)
	ways := value[[]struct {
		Text string
		Set  []struct{ Key, Value string }
	}](p, `window.desk.ways`)
	// The spring is the search's own, and what it misses is known.
	p.until(`window.desk.live !== null`)
	if own := value[bool](p, `window.desk.spring === window.desk.design && window.desk.live.note === "" && window.desk.live.met === false`); !own {
		t.Error("a spring that misses the target is not taken for the search's own")
	}
	// Its sheet is that of "design --anyway", for a printer that draws too large.
	p.click("save-case")
	p.until(`document.getElementById("saved").textContent === "saved"`)
	if !bytes.Equal(p.sheetBytes("99,2", "99.6"), designed(t, filepath.Join(folder, "tied.toml"), exitUnmet, "--anyway", "--scale-x", "99.2", "--scale-y", "99.6")) {
		t.Error("the sheet of a spring that misses its target, corrected for a printer, is not the command's")
	}
	at := -1
	for i, w := range ways {
		for _, e := range w.Set {
			if strings.HasPrefix(e.Key, "limits.fold") || strings.HasPrefix(e.Key, "limits.room") {
				t.Errorf("a click would widen the mouth: %v", w)
			}
		}
		if at < 0 && len(w.Set) > 0 {
			at = i
		}
	}
	if at < 0 {
		t.Fatal("nothing can be filled in")
	}
	p.click(fmt.Sprintf("way-%d", at))
	for _, e := range ways[at].Set {
		p.until(fmt.Sprintf(`(window.desk.form.values[%q] ?? "") === %q`, e.Key, e.Value))
	}
	p.until(`document.querySelector("#filled") !== null`)
	p.click("search")
	p.until(`window.desk.search === null && window.desk.found?.met === true`)
}

// TestDeskLeavesASearch: a case that is left while its search runs is left; the next one is searched at
// once, and nothing of the first appears in it.
func TestDeskLeavesASearch(t *testing.T) {
	address, _ := served(t, t.TempDir())
	p := deskPage(t, address)
	p.until(`window.desk.search !== null`)
	p.click("new-case")
	p.until(`window.desk.file === "case-1.toml" && window.desk.search === null`)
	value[bool](p, `(() => { const e = document.getElementById("cases"); e.value = "demo.toml"; return e.dispatchEvent(new Event("change")); })()`)
	p.until(`!document.getElementById("message").hidden`) // the new case is not saved
	p.do("leaving it", chromedp.Evaluate[chromedp.Void](`(document.querySelectorAll("#message button")[1].click(), undefined)`))
	p.designed()
	if file, message := value[string](p, `window.desk.file`), value[string](p, `document.getElementById("message").hidden ? "" : document.getElementById("message").innerText`); file != "demo.toml" || message != "" {
		t.Errorf("open is %s, and the page says %q", file, message)
	}
}
