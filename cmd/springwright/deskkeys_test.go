package main

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// press sends keys to whatever has the focus.
func (p page) press(keys string) {
	p.t.Helper()
	p.do("keys", chromedp.KeyEvent(keys))
}

// focused is the id of what has the focus.
func (p page) focused() string {
	p.t.Helper()
	return value[string](p, `document.activeElement.id`)
}

// tabTo goes by Tab to what an id names; it has to come within so many stops as any step has.
func (p page) tabTo(id string) {
	p.t.Helper()
	const most = 90
	for range most {
		if p.focused() == id {
			return
		}
		p.press(kb.Tab)
	}
	p.t.Fatalf("Tab does not come to %s: at %s", id, p.focused())
}

// entered goes to a field by Tab, types, and leaves it.
func (p page) entered(id, text string) {
	p.t.Helper()
	p.tabTo(id)
	before := value[string](p, `document.body.dataset.forms ?? "0"`)
	p.press(text + kb.Tab)
	p.until(fmt.Sprintf(`document.body.dataset.forms !== %q`, before))
}

// TestDeskByKeysAlone goes from nothing to the sheet without a pointer: every click is a key.
func TestDeskByKeysAlone(t *testing.T) {
	address, _ := served(t, t.TempDir())
	p := deskPage(t, address)
	p.tabTo("new-case")
	p.press(kb.Enter)
	p.until(`window.desk.file === "case-1.toml" && window.desk.form.values.case === "case-1"`)

	// The arch: from its first tooth by arrow keys to 37 and 36.
	first := value[string](p, `document.querySelector('.arch [tabindex="0"]').id`)
	p.tabTo(first)
	pick := func(id string) {
		t.Helper()
		for range 40 {
			if p.focused() == id {
				break
			}
			p.press(kb.ArrowRight)
		}
		p.press(kb.Enter)
		p.until(fmt.Sprintf(`document.getElementById(%q)?.getAttribute("aria-pressed") === "true"`, id))
	}
	pick("tooth-37")
	pick("tooth-36")
	p.entered("f-now.along_mm", "12.5")
	// Which way: the second of two.
	p.tabTo("f-now.B-way")
	p.press(kb.ArrowDown)
	p.until(`window.desk.senses["now.B"] === "now.occlusal_mm"`)
	p.press(kb.Shift) // a key alone does nothing
	value[bool](p, `(document.getElementById("f-now.B").focus(), true)`)
	for _, f := range [][2]string{
		{"f-now.B", "2"},
		{"f-goal.B", "0"},
		{"f-anchor_slot.height_mm", "0.022in"},
		{"f-anchor_slot.length_mm", "4"},
		{"f-active_slot.height_mm", "0.022in"},
		{"f-active_slot.length_mm", "3.5"},
		{"f-limits.fold_depth_mm", "10"},
		{"f-limits.room_mesial_mm", "7"},
		{"f-limits.room_distal_mm", "6"},
	} {
		p.entered(f[0], f[1])
	}
	p.tabTo("next-measure")
	p.press(kb.Enter)
	for _, f := range [][2]string{
		{"f-target.start.vertical", "0.3"},
		{"f-target.start.vertical-max", "0.6"},
		{"f-target.travel.vertical", "0.05"},
		{"f-target.travel.vertical-max", "0.6"},
	} {
		p.entered(f[0], f[1])
	}
	p.tabTo("next-want")
	p.press(kb.Enter)
	// The kind: one stop, in which an arrow key chooses the next.
	p.tabTo("kind-choose")
	p.press(kb.ArrowDown)
	p.until(`window.desk.form.values.spring === "rectangular loop"`)
	// The wire is left to the program.
	p.tabTo("f-wire.choose")
	p.press(kb.ArrowDown)
	p.until(`window.desk.form.values["wire.choose"] === "usual"`)
	if text := value[string](p, `document.getElementById("steps").innerText`); strings.Contains(text, "fill in") {
		t.Fatalf("not all is filled in: %s", text)
	}
	p.tabTo("next-kind")
	p.press(kb.Enter)
	p.tabTo("search")
	p.press(kb.Enter)
	p.designed()
	if chosen := value[string](p, `document.getElementById("ways").innerText`); !strings.Contains(chosen, "wires to choose from") {
		t.Errorf("of the wire that was chosen the page says %q", chosen)
	}
	index := p.handle("bend 2")
	before := p.shows(index)
	p.tabTo(fmt.Sprintf("handle-%d", index))
	p.press(kb.ArrowUp + kb.ArrowUp)
	p.until(fmt.Sprintf(`Number(document.getElementById("n-%d")?.value) === %v`, index, before+2))
	if at := p.focused(); at != fmt.Sprintf("handle-%d", index) {
		t.Errorf("after an arrow key the focus is at %q", at)
	}
	p.do("taking it back", chromedp.KeyEvent("z", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
	p.until(fmt.Sprintf(`Number(document.getElementById("n-%d")?.value) === %v`, index, before))
	if at := p.focused(); at != fmt.Sprintf("handle-%d", index) {
		t.Errorf("taken back, the focus is at %q", at)
	}
	p.do("again", chromedp.KeyEvent("y", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
	p.until(fmt.Sprintf(`Number(document.getElementById("n-%d")?.value) === %v`, index, before+2))
	p.do("saving", chromedp.KeyEvent("s", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
	p.until(`document.getElementById("saved").textContent === "saved"`)
	p.tabTo("next-result")
	p.press(kb.Enter)
	p.tabTo("open-sheet")
	p.press(kb.Enter)
	p.until(`(document.body.dataset.sheet ?? "").startsWith("blob:")`)

	p.viewerShows("Bending template")

	// A bar that cannot be is marked at its field, and the focus is there.
	p.tabTo("scale-across")
	p.press("70" + kb.Tab)
	p.tabTo("open-sheet")
	p.press(kb.Enter)
	p.until(`document.getElementById("scale-across").getAttribute("aria-invalid") === "true" && document.getElementById("scale-across-fault").textContent.includes("100 %")`)
	if at := p.focused(); at != "scale-across" {
		t.Errorf("the focus is at %q", at)
	}
}

// viewerShows waits until the browser's viewer has a document of a title.
func (p page) viewerShows(title string) {
	p.t.Helper()
	p.viewed(title, func(at *target.Info) bool {
		return strings.HasPrefix(at.URL, "blob:") && strings.HasPrefix(at.Title, title)
	})
}

// TestDeskByFinger drags a bend on a tablet, beside its spot as fingers do, and finds every control large
// enough for one.
func TestDeskByFinger(t *testing.T) {
	p := quickPage(t, t.TempDir())
	p.click("save-case")
	p.until(`document.getElementById("saved").textContent === "saved"`)
	p.do("a tablet", chromedp.EmulateViewport(820, 1180, chromedp.EmulateTouch, chromedp.EmulateMobile))
	p.do("again", chromedp.Reload())
	p.designed()
	index := p.handle("bend 3")
	before := p.shows(index)
	x, y := p.spotOf(index)
	p.do("a finger", chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		touch := func(kind input.DispatchTouchEventType, points ...*input.TouchPoint) error {
			_, err := cdp.Call(ctx, target, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: points})
			return err
		}
		if err := touch(input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: x + 6, Y: y + 6}); err != nil {
			return err
		}
		for i := range 10 {
			if err := touch(input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: x + 6 + 3*float64(i), Y: y + 6 + 3*float64(i)}); err != nil {
				return err
			}
		}
		return touch(input.DispatchTouchEventTypeTouchEnd)
	}))
	p.until(fmt.Sprintf(`Number(document.getElementById("n-%d")?.value) !== %v`, index, before))
	p.until(`document.querySelector(".handle.on") === null`)

	for _, step := range deskSteps {
		p.opened(step)
		small := value[string](p, `[...document.querySelectorAll("button, select, input:not([type=radio]), summary, .kinds label")].filter(e => e.checkVisibility()).map(e => [e.id || e.textContent, e.getBoundingClientRect()]).filter(([, r]) => r.height < 44 || r.width < 44).map(([n, r]) => n + " " + Math.round(r.width) + "×" + Math.round(r.height)).join("; ")`)
		if small != "" {
			t.Errorf("%s: smaller than a fingertip: %s", step, small)
		}
	}
	// Spots and teeth are smaller than that, and the nearest within a fingertip is taken.
	if reach := value[float64](p, `(document.getElementById("go-result").click(), document.querySelector(".hit").getBoundingClientRect().width)`); reach < 43 || reach > 60 {
		t.Errorf("a spot is taken hold of within %v px", reach)
	}
}
