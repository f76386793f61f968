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

var deskSteps = []string{"measure", "want", "kind", "result", "sheet"}

// TestDeskSpeaks shows every step in every language: no text of the page may be missing, and none
// may run wider than the window.
func TestDeskSpeaks(t *testing.T) {
	address, _ := served(t, t.TempDir())
	p := deskPage(t, address)
	p.designed()
	for _, lang := range []string{"en", "pt", "es"} {
		p.do("result", chromedp.Click("#go-result"))
		p.chosen("language", lang)
		p.designed()
		for _, step := range deskSteps {
			p.do(step, chromedp.Click("#go-"+step))
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
	address, _ := served(t, t.TempDir())
	p := deskPage(t, address)
	p.designed()
	controls := map[string]bool{"button": true, "textbox": true, "combobox": true, "slider": true, "radio": true, "link": true, "image": true, "group": true, "navigation": true, "complementary": true, "progressbar": true, "DisclosureTriangle": true}
	for _, step := range deskSteps {
		p.do(step, chromedp.Click("#go-"+step))
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
