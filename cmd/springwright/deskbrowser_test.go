package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"springwright/cmd/springwright/desk"
	"springwright/presets"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// stopBrowser ends the browser, if one was started.
var stopBrowser = func() {}

// theBrowser is one real browser for all tests: a start of it takes a second of a processor or two.
var theBrowser = sync.OnceValues(func() (context.Context, error) {
	path, err := exec.LookPath("chromium")
	if err != nil {
		return nil, err
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.WindowSize(1280, 900))
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, stopPage := chromedp.NewContext(allocator)
	stopBrowser = func() { stopPage(); stop() }
	return ctx, chromedp.Do(ctx)
})

// browser opens a page of its own in a real browser, with what the browser keeps of a site apart from that of other
// tests, or skips aloud where there is none; on CI there has to be one.
func browser(t *testing.T) context.Context {
	t.Helper()
	started, err := theBrowser()
	if errors.Is(err, exec.ErrNotFound) && os.Getenv("CI") != "true" {
		t.Skip("SKIPPED: chromium is missing, the page is not tested in a browser")
	}
	if err != nil {
		t.Fatal(err)
	}
	ctx, stopPage := chromedp.NewContext(started, chromedp.WithNewBrowserContext())
	t.Cleanup(stopPage)
	focused := chromedp.Func(func(ctx context.Context, target *chromedp.Target) error { // other pages are open as well
		_, err := cdp.Call(ctx, target, emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: true})
		return err
	})
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(1280, 900), focused); err != nil {
		t.Fatal(err)
	}
	return ctx
}

// viewed waits until the browser shows what is asked for in a window that the page has opened.
func (p page) viewed(what string, is func(at *target.Info) bool) {
	p.t.Helper()
	for range 200 {
		targets, err := chromedp.Targets(p.ctx)
		if err != nil {
			p.t.Fatal(err)
		}
		for _, at := range targets {
			if at.BrowserContextID == chromedp.FromContext(p.ctx).BrowserContextID && is(at) {
				return
			}
		}
		time.Sleep(50 * time.Millisecond)
	}
	p.t.Errorf("no viewer shows %q", what)
}

// served is a desk of a folder; its address has the token.
func served(t *testing.T, folder string) (address string, stop context.CancelFunc) {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	opened, done := make(chan string, 1), make(chan error, 1)
	go func() {
		done <- desk.Serve(ctx, desk.Options{Folder: folder, Version: version, IdleAfter: time.Minute, Keeper: deskKeeper(), Opened: func(address string) error {
			opened <- address
			return nil
		}})
	}()
	t.Cleanup(func() {
		cancel()
		if err := <-done; err != nil {
			t.Error(err)
		}
	})
	select {
	case address = <-opened:
	case err := <-done:
		done <- err
		t.Fatal(err)
	}
	return address, cancel
}

// page does one thing after the other on a page, each within a generous time: a busy machine is no
// fault of the page.
type page struct {
	t   *testing.T
	ctx context.Context
}

func (p page) do(what string, steps ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, time.Minute)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		p.t.Fatalf("%s: %v", what, err)
	}
}

// value evaluates JavaScript.
func value[T any](p page, script string) T {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, time.Minute)
	defer cancel()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		p.t.Fatalf("%s: %v", script, err)
	}
	return v
}

// until waits for a condition in JavaScript.
func (p page) until(condition string) {
	p.t.Helper()
	const longest = 2 * time.Minute // a search on a busy machine
	ctx, cancel := context.WithTimeout(p.ctx, longest)
	defer cancel()
	if _, err := chromedp.Run(ctx, chromedp.Poll[bool](condition, chromedp.WithPollingInterval(20*time.Millisecond), chromedp.WithPollingTimeout(longest))); err != nil {
		looked, stop := context.WithTimeout(p.ctx, 5*time.Second)
		defer stop()
		shown, _ := chromedp.Run(looked, chromedp.Evaluate[string](`location.href + "\n" + document.body.innerText.slice(0, 400)`))
		p.t.Fatalf("waiting for %s: %v, at\n%s", condition, err, shown)
	}
}

// typed puts a text into a field as a hand does, which sends it when the field is left.
func (p page) typed(id, text string) {
	p.t.Helper()
	before := value[string](p, `document.body.dataset.forms ?? "0"`)
	field := "#" + id
	p.do("typing into "+id, chromedp.ScrollIntoView(field), chromedp.Clear(field), chromedp.SendKeys(field, text+kb.Tab))
	p.until(`document.body.dataset.forms !== ` + fmt.Sprintf("%q", before))
}

func (p page) chosen(id, option string) {
	p.t.Helper()
	before := value[string](p, `document.body.dataset.forms ?? "0"`)
	p.do("choosing in "+id, chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		script := fmt.Sprintf(`(() => { const e = document.getElementById(%q); e.value = %q; e.dispatchEvent(new Event("change", { bubbles: true })); return e.value; })()`, id, option)
		got, err := chromedp.Evaluate[string](script)(ctx, target)
		if err == nil && got != option {
			err = fmt.Errorf("%s has no %q", id, option)
		}
		return err
	}))
	p.until(`document.body.dataset.forms !== ` + fmt.Sprintf("%q", before))
}

// deskPage is a page on a desk, once the case that it opens with is there.
func deskPage(t *testing.T, address string) page {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes some seconds")
	}
	p := page{t, browser(t)}
	p.do("opening", chromedp.Navigate(address))
	p.until(`window.desk?.form !== null && document.querySelector("#go-measure") !== null`)
	return p
}

// quickPage is a page on a desk of the folder, with the demo in it as the case that is searched in a third of the time:
// tied, from one point, a few springs bent in trial. Its spring is there as a search leaves it, and not yet saved.
func quickPage(t *testing.T, folder string) page {
	t.Helper()
	seatedDemo(t, folder, "demo.toml", tied, tied, quicker)
	address, _ := served(t, folder)
	return searched(t, address)
}

// searched is a page on which the case that it opens with was searched.
func searched(t *testing.T, address string) page {
	t.Helper()
	p := deskPage(t, address)
	p.click("go-result")
	p.click("search")
	p.designed()
	return p
}

// quicker is a case that is searched from one point, and of which a few springs are bent in trial.
func quicker(text string) string {
	return strings.NewReplacer("\nstarts = 0", "\nstarts = 1", "\nsprings = 1000", "\nsprings = 60").Replace(text)
}

// designed waits until a search has ended and all that is to be said of its spring is there.
func (p page) designed() {
	p.t.Helper()
	p.until(`window.desk.search === null && document.querySelector(".headline") !== null && document.querySelector("#about h3") !== null`)
}

// click clicks what an id names, wherever on the page it is. The page may draw it anew meanwhile: then
// it is looked for again.
func (p page) click(id string) {
	p.t.Helper()
	var err error
	for range 3 {
		ctx, cancel := context.WithTimeout(p.ctx, time.Minute)
		err = chromedp.Do(ctx, chromedp.ScrollIntoView("#"+id), chromedp.Click("#"+id))
		cancel()
		if err == nil {
			return
		}
	}
	p.t.Fatalf("clicking %s: %v", id, err)
}

// handle is the index of the bend or leg of a name.
func (p page) handle(name string) int {
	p.t.Helper()
	return value[int](p, fmt.Sprintf(`window.desk.live.handles.find(h => h.label === %q).index`, name))
}

// shows is the number that the page shows for a bend or leg.
func (p page) shows(index int) float64 {
	p.t.Helper()
	return value[float64](p, fmt.Sprintf(`Number(document.getElementById("n-%d").value)`, index))
}

// spotOf is where on the window a handle is.
func (p page) spotOf(index int) (x, y float64) {
	p.t.Helper()
	at := value[[]float64](p, fmt.Sprintf(`(() => { const h = document.getElementById("handle-%d"); h.scrollIntoView({ block: "center" }); const r = h.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; })()`, index))
	return at[0], at[1]
}

// held is a case with more in the tables of its slots: how the wire is seated there.
func held(text, anchor, active string) string {
	return strings.NewReplacer("\n[anchor_slot]\n", "\n[anchor_slot]\n"+anchor+"\n", "\n[active_slot]\n", "\n[active_slot]\n"+active+"\n").Replace(text)
}

// seatedDemo writes the demo into a folder as NAME, its wire seated otherwise; it is changed in other ways, too.
func seatedDemo(t *testing.T, folder, name, anchor, active string, change ...func(string) string) {
	t.Helper()
	text, _, err := presets.Case(presets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	changed := held(string(text), anchor, active)
	for _, f := range change {
		changed = f(changed)
	}
	if err := os.WriteFile(filepath.Join(folder, name), []byte(changed), 0o600); err != nil {
		t.Fatal(err)
	}
}

// tied is a slot that holds the wire as if it were clamped.
const tied = `hold = "tied"`
