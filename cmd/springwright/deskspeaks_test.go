package main

import (
	"context"
	"encoding/json"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

var deskSteps = []string{"measure", "want", "kind", "result", "sheet", "bent"}

// opened goes to a step, and waits for what it asks the server for.
func (p page) opened(step string) {
	p.t.Helper()
	p.do(step, chromedp.Click("#go-"+step))
	if step != "bent" {
		return
	}
	p.until(`document.getElementById("adjust") !== null`)
	// What is told of a bent spring is there, too, once a bend was measured.
	value[bool](p, `(() => { const s = window.desk.bent; s.values.bend_1_deg ||= String(Number(s.form.steps[1].drawn.replace(",", ".")) + 2); if (!s.answer) document.getElementById("adjust").click(); return true; })()`)
	p.until(`document.getElementById("verdict") !== null`)
}

// TestDeskSpeaks shows every step in every language: no text of the page may be missing, and none
// may run wider than the window.
func TestDeskSpeaks(t *testing.T) {
	p := quickPage(t, t.TempDir())
	for _, lang := range []string{"en", "pt", "es"} {
		p.do("result", chromedp.Click("#go-result"))
		p.chosen("language", lang)
		p.designed()
		for _, step := range deskSteps {
			p.opened(step)
			if missing := value[string](p, `(document.body.innerText.match(/\[[a-z 0-9%]+\]|undefined|null|NaN/) ?? [""])[0]`); missing != "" {
				t.Errorf("%s, %s: %q on the page", lang, step, missing)
			}
			for _, width := range []int64{820, 1024, 1280, 1800} {
				p.do("width", chromedp.EmulateViewport(width, 800))
				if over := value[int](p, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); over > 0 {
					t.Errorf("%s, %s: %d px wider than a window of %d px", lang, step, over, width)
				}
			}
		}
	}
}

// TestDeskIsNamed asks the browser for what it tells a screen reader: every control of every step has
// a role and a name, and the page's parts have theirs.
func TestDeskIsNamed(t *testing.T) {
	p := quickPage(t, t.TempDir())
	controls := map[string]bool{"button": true, "textbox": true, "combobox": true, "slider": true, "radio": true, "link": true, "image": true, "group": true, "navigation": true, "complementary": true, "progressbar": true, "DisclosureTriangle": true}
	for _, step := range deskSteps {
		p.opened(step)
		found := 0
		p.do("the accessibility tree", chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
			tree, err := cdp.Call(ctx, target, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
			if err != nil {
				return err
			}
			for _, n := range tree.Nodes {
				role := axValue(n.Role)
				if n.Ignored || !controls[role] {
					continue
				}
				found++
				if axValue(n.Name) == "" {
					t.Errorf("%s: a %s without a name", step, role)
				}
			}
			return nil
		}))
		if found < 8 {
			t.Errorf("%s: only %d controls", step, found)
		}
		if lost := value[string](p, `[...document.querySelectorAll("[role=button], [role=slider]")].filter(e => e.tabIndex < 0 && !e.closest("[role=group].arch")).map(e => e.id).join("; ")`); lost != "" {
			t.Errorf("%s: not reached by keys: %s", step, lost)
		}
	}
	// What is written can be read: WCAG 2.2, 1.4.3, 4.5 to 1 at least; what cannot be used is exempt.
	for _, step := range deskSteps {
		p.opened(step)
		if faint := value[string](p, contrastScript); faint != "" {
			t.Errorf("%s: hardly to be read: %s", step, faint)
		}
	}
	// The arch is one stop, in which arrow keys go from tooth to tooth and Enter picks.
	p.do("the arch", chromedp.Click("#go-measure"))
	if stops := value[int](p, `[...document.querySelectorAll(".arch [role=button]")].filter(e => e.tabIndex === 0).length`); stops != 1 {
		t.Errorf("the arch has %d stops for Tab, want 1", stops)
	}
	p.do("along the arch", chromedp.Focus("#tooth-37"), chromedp.KeyEvent(kb.ArrowLeft), chromedp.KeyEvent(kb.ArrowLeft))
	if at := value[string](p, `document.activeElement.id`); at != "tooth-35" {
		t.Errorf("two to the left of 37 is %s", at)
	}
	p.do("picking by Enter", chromedp.KeyEvent(kb.Enter))
	p.until(`document.getElementById("tooth-35").getAttribute("aria-pressed") === "true"`)
	// Of one tooth nothing is said that is true of two.
	if text := value[string](p, `document.querySelector("#measure [role=status]").textContent`); text != "" {
		t.Errorf("with one tooth picked the page says %q", text)
	}
}

func axValue(v *accessibility.Value) string {
	if v == nil {
		return ""
	}
	var text string
	if err := json.Unmarshal([]byte(v.Value), &text); err != nil {
		return ""
	}
	return text
}

// contrastScript lists what is written with less than 4.5 to 1 of contrast to what is behind it.
const contrastScript = `(() => {
	const channels = c => c.match(/[\d.]+/g).map(Number);
	const linear = v => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
	const light = c => { const [r, g, b] = channels(c).map(linear); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
	const behind = e => { for (; e; e = e.parentElement) { const c = getComputedStyle(e).backgroundColor, n = channels(c); if (n.length === 3 || n[3] === 1) return c; } return "rgb(255, 255, 255)"; };
	const faint = new Set();
	for (const e of document.querySelectorAll("body *")) {
		const own = [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim());
		if (!own || !e.checkVisibility() || e.disabled || e.closest("option, select, title")) continue;
		const svg = e.namespaceURI.endsWith("svg"), a = light(svg ? getComputedStyle(e).fill : getComputedStyle(e).color);
		const under = svg && e.closest("g.active")?.querySelector("circle");
		const b = light(under ? getComputedStyle(under).fill : behind(e));
		if ((Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05) < 4.5) faint.add(e.textContent.trim().slice(0, 40));
	}
	return [...faint].join("; ");
})()`
